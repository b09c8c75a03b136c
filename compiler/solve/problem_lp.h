/* Inside the room: a problem's plots as a linear programme. Rates are counted in lb per 1000 sqft and wants
 * as shares, so that all figures are of the order of 1. */
#ifndef PRILL_SOLVE_PROBLEM_LP_H
#define PRILL_SOLVE_PROBLEM_LP_H

#include "compiler/solve/problem.h"

/* kg/m2 of 1 lb per 1000 sqft: the unit of rates in a programme. */
#define RATE_UNIT (0.45359237 / 92.90304)

/* Where a plot's figures are in the programme; NO_COLUMN where they have none. */
#define NO_COLUMN UINT32_MAX
struct plot_columns {
    const struct plot *plot;
    uint32_t *rate;      /* by choice */
    uint32_t *shortfall; /* by want; none for what nothing can meet */
    uint32_t *excess;    /* by want; none for what nothing brings */
    double *ceiling;     /* by choice; see plot_ceilings */
    uint32_t worst;
};

struct problem_row { /* a row, or a column's bound, that a cause stands behind */
    uint32_t at, cause;
    bool column;
};

struct use_link { /* column `use` is 1 where column `rate` is above 0 */
    uint32_t use, rate;
};

struct programme {
    struct arena *arena;
    const struct problem *problem;
    struct variation variation;
    struct lp *lp;
    struct plot_columns *plots;
    size_t plot_count;
    uint32_t distance; /* of what is eased */
    uint32_t **packs;  /* columns by product and size; NULL */
    VECTOR(struct problem_row) behind;
    VECTOR(struct use_link) links;
};

/* Rates, demands and wants of the plots. */
struct programme *programme_new(const struct problem *problem, const struct plot *const *plots, size_t count,
                                struct variation variation);

/* The goals that are of wants, from GOAL_WORST to `last`: GOAL_SHORT or GOAL_EXCESS. */
void programme_goals(struct programme *programme, enum problem_goal last);
/* Goals by their numbers in the programme. */
void programme_goal_packs(struct programme *programme, uint32_t goal, bool priced);
void programme_goal_products(struct programme *programme, uint32_t goal);
void programme_goal_unique(struct programme *programme, uint32_t goal);
/* Only settles which corner a relaxation takes. */
void programme_goal_corner(struct programme *programme, uint32_t goal);

/* Whether the variation leaves the cause as it is; whether it moves it. */
bool cause_in_force(struct variation variation, uint32_t cause);
bool programme_eases(const struct programme *programme, uint32_t cause);
/* At most a sum of rates that only grows by each of them. */
bool demand_adds_up(const struct demand *demand);

/* ---- what is used at all ---- */

/* Whole numbers that are 1 where any rate of a set is above 0: one for each set, whichever demands ask. */
struct uses *uses_new(struct programme *programme, const struct plot_columns *columns);
/* DEMAND_TIMES at once; DEMAND_APART is kept until uses_close, which writes those that exclude each other in
 * one row. */
void uses_add(struct uses *uses, const struct demand *demand);
void uses_close(struct uses *uses);

/* The rate is 0 unless `use`, a whole number, is 1: by a row of its own, unless others have it `held`. */
void programme_link(struct programme *programme, const struct plot_columns *columns, uint32_t choice,
                    uint32_t use, bool held);

/* Lets the search try, before it divides a rate's gap, whether the totals can be spread so that all gaps are
 * kept. */
void programme_guess(struct programme *programme);

/* What a want's figures are a share of, kg/m2 of the element. */
double want_unit(const struct want *want);

/* By choice: what the rate cannot pass, kg/m2, by its label and each demand alone; 0 where its least rate
 * lies above that. Always finite. */
double *plot_ceilings(const struct problem *problem, const struct plot *plot, struct variation variation);

/* ---- rates that are given ---- */

enum { KIND_GOALS = GOAL_COST + 1 };

/* By how much the rates (by choice) pass what the plot demands, as shares of its sums; 0 where they keep it.
 */
double plot_breach(const struct plot *plot, const double *rates);
/* What fits into a choice beside the other rates, by its label and every sum that only grows; kg/m2, from 0.
 */
double choice_room(const struct plot *plot, const double *rates, uint32_t at);

/* kg/m2 of the element that the zone gets at these rates; whether any product supplies it. */
double want_got(const struct problem *problem, const struct plot *plot, const struct want *want,
                const double *rates, bool *offered);
struct want_shares { /* of want_unit; both 0 of what nothing supplies */
    double missing, excess;
};
struct want_shares want_shares(const struct problem *problem, const struct plot *plot, size_t at,
                               const double *rates);

/* The goals of one plot; the cost in rate units on 1 m2, as struct plot_kind has it. */
void plot_goals(const struct problem *problem, const struct plot *plot, const double *rates, bool priced,
                double goals[KIND_GOALS]);

/* Which rates are better: those that pass less, then by the goals in their order, then the more even ones (a
 * smaller sum of squares). */
struct plot_score {
    double breach, goals[KIND_GOALS], squares;
};
struct plot_score plot_score(const struct problem *problem, const struct plot *plot, const double *rates,
                             bool priced);
bool score_better(const struct plot_score *a, const struct plot_score *b);

/* Parts of demands and wants that are looked at for one step of work (arena.h). */
enum { TURNS_A_STEP = 8 };

/* Better rates by no search at all, from those given on: 0, or some that keep the demands. False where they
 * do not keep them then; those of 0 mostly do. `allowed`: work, after which none is raised any more. */
bool plot_greedy(const struct problem *problem, const struct plot *plot, bool priced, uint64_t allowed,
                 double *rates);

/* The cheapest kg, or 1 where mass is counted; INFINITY without a price. */
double product_price(const struct problem_product *product, bool priced);

/* ---- plots by kind, and the steps of solving ---- */

struct plot_kind {
    struct plot plot; /* its area: of all plots of the kind */
    uint32_t first, plots;
    enum lp_outcome outcome;
    bool proven;
    double *rates;            /* by choice */
    double goals[KIND_GOALS]; /* of one plot; the cost in rate units on 1 m2 */
    double least_worst;       /* no rates have a GOAL_WORST below this */
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

/* Rates that people can set in place of exact ones, on all plots together. */
void kinds_step(const struct problem *problem, struct plot_kinds *kinds, struct problem_answer *answer);

/* Spreads each product's total over the applications as evenly as the demands allow. */
void plot_even(const struct problem *problem, const struct plot *plot, double *rates);

#endif
