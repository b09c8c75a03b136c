/* Inside the room: what a programme is made of. */
#ifndef PRILL_SOLVE_LP_PARTS_H
#define PRILL_SOLVE_LP_PARTS_H

#include "compiler/solve/lp.h"

#include <math.h>

struct lp_column {
    enum lp_kind kind;
    double low, high;
    bool first;
};

/* The bounds with its kind set aside. */
static inline double column_low(const struct lp_column *column)
{
    return column->kind == LP_GAP || column->kind == LP_STEPS ? 0 : column->low;
}

static inline double column_high(const struct lp_column *column)
{
    return column->kind == LP_STEPS ? INFINITY : column->high;
}

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
    LP_VECTOR(double) goal_most; /* INFINITY: any */
    const double *beaten;        /* goals that an answer must be better than; NULL: any answer will do */
    uint32_t node_limit;
    struct lp_budget *budget;    /* NULL without */
    uint32_t goal_count, ranked; /* how many goals there are, and are searched for */
    lp_guesser *guess;           /* NULL without */
    void *guess_task;
    bool exact;   /* only whether anything fits is asked, by exact fractions */
    bool unsound; /* a figure that is no number was given: nothing of it may reach the arithmetic */
};

#endif
