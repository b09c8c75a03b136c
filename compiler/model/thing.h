/* What all things of a model have in common, and where their figures come from. */
#ifndef PRILL_MODEL_THING_H
#define PRILL_MODEL_THING_H

#include "compiler/model/date.h"
#include "lexer/source.h"

/* What every named thing has. The first member of each. */
struct thing {
    const struct name *name;
    struct place place;     /* of the name where it is declared */
    struct place statement; /* the whole first line */
    bool library;
    bool replaces; /* the library has an entry of this kind and name, which does not count */
    bool broken;
    bool used;        /* something refers to it */
    const char *note; /* NULL without */
};

#define VECTOR(type)                                                                                         \
    struct {                                                                                                 \
        type *items;                                                                                         \
        size_t count, capacity;                                                                              \
    }

struct source_entry { /* where a figure comes from */
    struct thing thing;
    const char *title, *by, *at;
    int year;       /* of the text; 0 unknown */
    day_number day; /* on which the text was read; DAY_NONE without */
    enum source_status {
        STATUS_CONFIRMED,
        STATUS_SECOND_HAND,
        STATUS_COMMON_PRACTICE,
        STATUS_FROM_MEMORY,
        STATUS_NOT_READ
    } status;
};

#endif
