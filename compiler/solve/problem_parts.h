/* Inside the room: plots by kind, and the steps of solving. */
#ifndef PRILL_SOLVE_PROBLEM_PARTS_H
#define PRILL_SOLVE_PROBLEM_PARTS_H

#include "compiler/solve/problem_lp.h"

enum { KIND_GOALS = GOAL_COST + 1 };

struct plot_kind {
    struct plot plot; /* its area: of all plots of the kind */
    uint32_t first, plots;
    enum lp_outcome outcome;
    bool proven;
    double *rates;            /* by choice */
    double goals[KIND_GOALS]; /* of one plot; the cost in rate units on 1 m2 */
};

struct plot_kinds {
    struct plot_kind *items;
    size_t count;
    uint32_t *of; /* by plot of the problem */
};

/* Solves one kind alone, without the products barred (NULL: none), for goals of at most these (NULL: any);
 * false where there is no answer. */
bool kind_solve(const struct problem *problem, struct plot_kind *kind, const bool *barred, const double *most,
                bool priced);

/* Fewer products, where the goals before leave a choice of them. */
void kinds_fewest(const struct problem *problem, struct plot_kinds *kinds, struct problem_answer *answer);

/* Spreads each product's total over the applications as evenly as the demands allow. */
void plot_spread(const struct problem *problem, const struct plot *plot, double *rates);

#endif
