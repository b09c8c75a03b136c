/* What is said in one plan and otherwise, or not at all, in another: facts that belong to each other, beside
 * each other. */
#ifndef PRILL_RESULT_FACT_DIFF_H
#define PRILL_RESULT_FACT_DIFF_H

#include "lexer/text.h"

enum { FACT_KEYS = 3 };

struct fact {
    const char *subject; /* "north", "feed", the name of a set of limits; NULL where the words need none */
    const char *words;   /* as a person reads them */
    double si;           /* the figure, where it has one; NAN otherwise */
    /* By which it finds its like, the surest first: of two plans those with an equal first key belong
     * together, of what is then left those with an equal second, and so on. NULL: by no more. */
    const char *keys[FACT_KEYS];
};

struct facts {
    struct fact *items;
    size_t count, capacity;
};

/* One of the two may be NULL; otherwise they differ in words or figure. */
struct fact_change {
    const struct fact *old, *new;
};

struct fact_changes {
    struct fact_change *items;
    size_t count, capacity;
};

/* In the order of the new facts, then what only the old ones have, in theirs. It points into both. */
struct fact_changes facts_compare(struct arena *arena, const struct facts *old, const struct facts *new);

#endif
