/* A plan's text in its canonical layout: the same tokens and comments, with the blanks between them made
 * anew. */
#ifndef PRILL_PARSER_FORMAT_H
#define PRILL_PARSER_FORMAT_H

#include "parser/tree.h"

enum block_layout {
    LAYOUT_PLAIN,   /* one blank between terms */
    LAYOUT_ALIGNED, /* what follows the first word of neighbouring statements stands in a column */
    LAYOUT_TABLE    /* every column stands under its name in the first row */
};

/* What the layout has to know of the language. Kinds of block are the caller's own numbers. */
struct format_language {
    int plan; /* the kind of block that the whole plan is */
    int (*block_kind)(int outer, struct text head, struct text second);
    const enum block_layout *block_layouts; /* by kind */
    /* Whether a statement of this first word goes on with a name of its own: `zone north ...`. */
    bool (*declares_name)(int kind, struct text head);
    /* Whether two words at a statement's beginning are read as one: `at most`. */
    bool (*head_goes_on)(struct text word, struct text next);
    /* How many of the words of a table's first row, from the first on, make up one column's name: 1 for `spot
     * pH`, 2 for `P ppm K ppm`. */
    size_t (*column_words)(const struct text *words, size_t count);
};

enum {
    FORMAT_INDENT = 4,
    FORMAT_WRAPPED_INDENT = 8,
    FORMAT_WIDTH = 100 /* of a block kept on one line, in cells */
};

/* Appends the plan. False, with nothing of use appended, when the new text would be larger than SOURCE_LIMIT
 * or does not hold the very tokens of the old: a fault of this program, and a reason to leave the file alone.
 * `tree` is sound (asserted). */
bool format_tree(const struct tree *tree, const struct format_language *language, struct buffer *out);

/* Whether two texts hold the same statements, terms and comments, whatever the blanks and empty lines. */
bool format_keeps_tokens(const struct tokens *before, const struct tokens *after);

#endif
