/* What of the table of forms is looked up over and over, kept for a compilation: patterns taken apart, and
 * the forms of a first word. */
#ifndef PRILL_MODEL_PATTERN_H
#define PRILL_MODEL_PATTERN_H

#include "compiler/model/model.h"

struct slot_type;

/* A pattern is parts in a row, tried one after the other at the cursor. */
struct part {
    enum part_kind {
        PART_WORD,
        PART_SLOT,
        PART_COMMA,
        PART_COLON,
        PART_OPTION, /* its own parts follow, with a PART_END */
        PART_END
    } kind;
    uint32_t length;              /* of an option: parts from here to the one behind its end */
    struct text text;             /* the word, within the pattern; of a slot its name */
    const struct slot_type *type; /* of a slot; NULL: one of some words */
    struct text type_text;        /* as the pattern has it: "rate", "us|metric" */
};

/* Of the form's pattern, its first word first. */
const struct part *pattern_parts(struct model *model, const struct form *form);

/* As form_find. */
const struct form *pattern_form(struct model *model, enum block_kind kind, struct text word);

#endif
