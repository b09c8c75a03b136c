/* The forms of statements, and the reading of a statement by them.
 *
 * A form is a row of statement.def. Reading tries the forms that begin with the statement's word; where none
 * fits, the report tells what was expected at the furthest place that any of them reached. */
#ifndef PRILL_MODEL_FORM_H
#define PRILL_MODEL_FORM_H

#include "compiler/model/date.h"
#include "compiler/model/nutrient.h"
#include "compiler/model/rating.h"
#include "compiler/model/shape.h"
#include "compiler/model/unit.h"
#include "parser/tree.h"

enum block_kind {
    BLOCK_NONE,
    BLOCK_PLAN,
    BLOCK_LAWN,
    BLOCK_SOIL_TEST,
    BLOCK_RESULTS,
    BLOCK_SOIL_FILE,
    BLOCK_PRODUCT,
    BLOCK_SPREADER,
    BLOCK_SPRAYER,
    BLOCK_SPRINKLER,
    BLOCK_WEATHER,
    BLOCK_NORMALS,
    BLOCK_SERIES,
    BLOCK_LIMITS,
    BLOCK_APPLY,
    BLOCK_TASK,
    BLOCK_DONE,
    BLOCK_CORRECT,
    BLOCK_BLEND,
    BLOCK_GRASS,
    BLOCK_SCALE,
    BLOCK_CONVERSION,
    BLOCK_LIME,
    BLOCK_SOURCE,
    BLOCK_USUAL,
    BLOCK_CAUTION,
    BLOCK_KIND_COUNT
};

struct model;
struct clause;

/* What a form's reader is given. */
struct stated {
    struct model *model;
    const struct clause *clause;
    void *subject; /* what the block describes: an object that begins with its symbol, or the model itself */
};

typedef void reader_function(const struct stated *stated);

/* The member that a form's first value is kept in, by the member's type. */
enum field_kind {
    FIELD_NONE,
    FIELD_NUMBER,   /* double */
    FIELD_COUNT,    /* int */
    FIELD_FLAG,     /* bool: of the second of two words, or of a form without a slot */
    FIELD_CHOICE,   /* an enum that has one value for each word, in their order, after one for "not stated" */
    FIELD_TEXT,     /* const char * */
    FIELD_DURATION, /* rounded up: a wait is never too short */
    FIELD_NAME,
    FIELD_GRASS, /* this and the next three are symbols */
    FIELD_SOURCE,
    FIELD_LIME,
    FIELD_MACHINE, /* as of a list: one that is not there breaks the object */
    FIELD_GRADE,   /* double[3] */
    FIELD_NAMES,
    FIELD_ZONES,    /* what is listed and not there breaks the object, here and below */
    FIELD_PRODUCTS, /* each once */
    FIELD_GRASSES
};

struct field {
    enum field_kind kind;
    size_t offset; /* in what the block describes */
    size_t place;  /* of the member that keeps where it was stated; 0: none does */
};

struct form {
    enum block_kind block;
    const char *pattern;
    enum block_kind opens;
    bool once; /* may stand once in its block */
    reader_function *read;
    int which; /* of the forms that share a reader, in the reader's own terms */
    struct field field;
    const char *meaning;
    const char *example;
    const char *stands_for; /* pattern of the form that this is another way of writing; NULL: it is none */
};

/* What is in a form's slot. Quantities are SI: kg, m, m2, m3, s, K, kg/m2, m3/m2, kg/m3; percents 0 to 1. */
struct value {
    const char *slot; /* its name, in the pattern */
    struct place place;
    double number; /* by the slot's type: a quantity in SI, a count, a share, the index of the word chosen
                      (from 0), minutes since midnight, seconds or calendar months of a time */
    double high;   /* the upper end of a range; equals `number` where one value was written */
    const struct nutrient_form *nutrient;
    const struct unit *unit; /* the first unit written; NULL without */
    double per;              /* what a rate is per, SI: m2 of "per 1000 sqft"; 1 without */
    const struct name *name;
    struct text text;
    struct civil_date date; /* year 0: no year was written */
    bool volume;            /* of an amount or rate that is by volume (m3, m3/m2) and not by mass */
    bool index;             /* of a level: an index without a unit */
    bool calendar;          /* of a time: `number` counts calendar months, not seconds */
    uint8_t slot_length;
    struct shape *shape;
    struct value *items; /* of lists; of a grade its three shares */
    size_t count;
};

enum { SLOT_LIMIT = 8 };

/* A statement, or a part of one after a comma, that fits a form. */
struct clause {
    const struct form *form;
    const struct statement *statement;
    const struct tree *tree;
    struct place place;
    size_t value_count;
    struct value *values; /* while it is read: room for SLOT_LIMIT */
};

/* The value in a slot of the form, whose name has that length; NULL where an optional part was left out. */
const struct value *slot_look(const struct stated *stated, const char *slot, size_t length);
static inline const struct value *slot_value(const struct stated *stated, const char *slot)
{
    return slot_look(stated, slot, strlen(slot)); /* which the compiler knows */
}

/* Reads the statements of a block by the forms of its kind and hands each clause to its form's reader.
 * `subject` is what the block describes. False where anything in the block itself was in error. */
bool block_read(struct model *model, const struct tree *tree, const struct block *block, enum block_kind kind,
                void *subject);

/* The table, for documentation, completion and tests; row by row, those of one block stand together. */
size_t form_count(void);
const struct form *form_at(size_t index);
const char *block_kind_name(enum block_kind kind); /* "lawn", "soil-test" */

/* The rows of one block: form_first(kind), then form_next until NULL. NULL where a block has none. */
const struct form *form_first(enum block_kind kind);
const struct form *form_next(const struct form *form);
/* The first row of a block that begins with this word; NULL without one. */
const struct form *form_find(enum block_kind kind, struct text word);
bool form_begins(const struct form *form, struct text word);
struct text form_head(const struct form *form);
/* Whether these bare words are in its pattern: `no fertilizer from <first:day> ...`. */
bool form_says(const struct form *form, const char *words);
/* Whether it gives its second word to what it declares as a name: `zone north ...`. */
bool form_declares(const struct form *form);
/* The kind a block of this first word has within a block of kind `outer`; BLOCK_NONE if unknown. Where forms
 * with one first word open different blocks, their second word tells, such as `results from "lab.csv"`. */
enum block_kind block_kind_of(enum block_kind outer, struct text head, struct text second);

/* Rows of numbers under a row of column names. */
struct table_column {
    int kind; /* the caller's */
    const struct nutrient_form *nutrient;
    bool index;                     /* values are an index without a unit */
    double factor, offset;          /* value_si = factor * written + offset */
    const char *unit_text;          /* as written; "" without */
    const struct column_form *form; /* NULL for a nutrient */
    struct place place;
};

struct table_cell {
    double number;           /* SI by its column; NAN where `none` is written */
    bool below;              /* `< 0.5`: below what the laboratory can see */
    bool above;              /* `> 200`: above what it measures */
    enum rating rating;      /* the laboratory's own, beside the figure */
    const char *rating_text; /* as written; NULL without */
    struct place place;
};

struct table_row {
    const struct name *name; /* first cell: a word, quoted text or a number as written */
    struct place place;
    struct table_cell *cells; /* one a column, the first left out */
};

struct table {
    struct table_column *columns; /* the first column left out */
    size_t column_count;
    struct table_row *rows;
    size_t row_count;
};

/* One of the columns a table may have. `dimension` is what its unit must be; in `other` it may be too, and is
 * then of another kind. */
struct column_form {
    const char *name;
    double most; /* of a value as written; 0: it has no end */
    int kind;
    int other_kind; /* 0: there is no other */
    struct dimension dimension, other;
    bool needs_unit;
    bool exact; /* is always measured: neither 0 nor below what can be seen */
};

/* Reads a block of rows. `first` is what the first column is called ("spot", "month"); a column is one of
 * `forms` (ended by a NULL name) or, where `nutrient_kind` >= 0, a nutrient in a mass fraction. */
bool table_read(struct model *model, const struct tree *tree, const struct block *block, const char *first,
                const struct column_form *forms, int nutrient_kind, struct table *table);

/* Whether the value is one that the column can have; false after a report at the cell. `written` is the
 * number as it stands there. */
bool table_value_possible(struct model *model, const struct table_column *column,
                          const struct table_cell *cell, double written);

#endif
