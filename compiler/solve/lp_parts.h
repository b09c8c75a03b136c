/* What a programme is made of: for lp.c and relaxation.c. */
#ifndef PRILL_SOLVE_LP_PARTS_H
#define PRILL_SOLVE_LP_PARTS_H

#include "compiler/solve/lp.h"

struct lp_column {
    enum lp_kind kind;
    double low, high;
};

struct lp_row {
    double low, high;
};

struct lp_term {
    uint32_t row, column; /* `row` of a goal's term: the goal */
    double factor;
};

#define LP_VECTOR(type)                                                                                      \
    struct {                                                                                                 \
        type *items;                                                                                         \
        size_t count, capacity;                                                                              \
    }

struct lp {
    struct arena *arena;
    LP_VECTOR(struct lp_column) columns;
    LP_VECTOR(struct lp_row) rows;
    LP_VECTOR(struct lp_term) terms;
    LP_VECTOR(struct lp_term) goal_terms;
    uint32_t goal_count;
    bool unsound; /* a figure that is no number was given: nothing of it may reach the arithmetic */
};

#endif
