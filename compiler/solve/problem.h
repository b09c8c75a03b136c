/* Which rates to choose: products, the applications they may go into, plots of ground with what each wants
 * and may bear. Knows nothing of the plan's text; what a demand comes from is a number, its cause.
 *
 * Figures are SI: kg/m2 of a product, kg/m2 of a nutrient's element. Plots bear on each other only by what is
 * bought for all of them. What is sought, each among what the one before leaves open:
 *
 *   1. the least worst shortfall, as a share of what is wanted: each plot's worst, added up;
 *   2. the least shortfall: the shares of all wants that can be met at all, added up;
 *   3. the least excess: what goes beyond the most wanted, as a share of what is wanted; of a nutrient not
 *      wanted, 1 lb per 1000 sqft as the trade states it counts as a whole share;
 *   4. the least cost, or with a price missing the least mass (of packs where they are to be whole);
 *   5. the fewest products;
 *   6. a sum of all rates with weights that no two answers share (see problem_weights);
 *
 * and what that leaves open is spread over the applications as evenly as the demands allow. */
#ifndef PRILL_SOLVE_PROBLEM_H
#define PRILL_SOLVE_PROBLEM_H

#include "compiler/model/machine.h"
#include "compiler/solve/lp.h"

#define NO_CAUSE UINT32_MAX

struct problem_pack {
    double mass;  /* kg */
    double price; /* NAN without */
};

struct problem_product { /* ordered by name: a problem whose products are listed otherwise is the same problem
                          */
    struct text name;
    double content[NUTRIENT_COUNT]; /* kg of the element in 1 kg */
    VECTOR(struct problem_pack) packs;
    bool alone; /* a pack less in this problem is one less to buy: it has one size, and no other use */
};

/* A rate to be found: of one product, in one application, on the plot. */
struct choice {
    uint32_t product, application;
    double low, high; /* 0, or between these; high INFINITY without a bound */
    uint32_t low_cause, high_cause;
    size_t step_count;        /* 0: any rate will do */
    double steps[RATE_STEPS]; /* kg/m2: rates people can set are multiples of one of these, coarsest first */
};

enum demand_kind {
    DEMAND_MOST,   /* the sum of factor * rate is at most `bound` */
    DEMAND_EITHER, /* the same, or that of other * rate is at most `other_bound` */
    DEMAND_LEAST,  /* at least */
    DEMAND_NONE,   /* every rate named is 0 */
    DEMAND_TIMES,  /* at most `bound` of the rates named are above 0 */
    DEMAND_APART   /* not both: a rate of side 0 above 0, and one of side 1; no rate is on both sides */
};

struct demand_part {
    uint32_t choice; /* of the plot */
    double factor;   /* of DEMAND_APART: the side */
    double other;    /* of DEMAND_EITHER, above 0 */
};

struct demand {
    enum demand_kind kind;
    uint32_t cause;
    double bound, other_bound;
    VECTOR(struct demand_part) parts;
};

/* Where grass uses a nutrient by the N it gets, more of it is wanted with each N that is chosen: the want is
 * bare + per_n * N chosen, or nothing where that is below 0. `amount` is then what is wanted with the N that
 * is asked for: goals count in it, and nothing else. Such a want has no range. */
struct want {
    enum nutrient nutrient;
    double amount; /* 0: not wanted, and to be kept low */
    double most;   /* at least `amount`; what goes beyond is excess */
    double given;  /* comes without any choice */
    double per_n;  /* 0 mostly */
    double bare;   /* with per_n: wanted with no N chosen; may be below 0 */
};

struct plot {
    double area_m2;
    VECTOR(struct choice) choices; /* by product, then application */
    VECTOR(struct demand) demands;
    VECTOR(struct want) wants;
};

struct problem_budget {
    struct lp_budget searches;
    uint64_t before; /* what had been spent when a part began */
    uint64_t whole;  /* no more than this for the problem, however large it is */
};

struct problem {
    struct arena *arena;
    struct problem_budget *budget; /* of all searches made for it; NULL: none has an end but its own */
    uint32_t cause_count, application_count;
    bool whole_packs; /* of what comes in no pack every rate is demanded to be 0 */
    double within;    /* steps may miss a want by this share of it, or go beyond it, more than exact rates */
    VECTOR(struct problem_product) products;
    VECTOR(struct plot) plots;
};

enum problem_goal { GOAL_WORST, GOAL_SHORT, GOAL_EXCESS, GOAL_COST, GOAL_PRODUCTS, GOAL_COUNT };

struct plot_answer {
    double *rates;                          /* by choice */
    double *shortfall;                      /* by want: kg/m2 of the element */
    double *excess;                         /* by want, likewise */
    double *exact_shortfall, *exact_excess; /* by want: with rates in no steps, likewise */
};

struct problem_answer {
    enum lp_outcome outcome;
    bool proven;  /* the search went to its end */
    bool priced;  /* GOAL_COST is money; otherwise kg */
    bool stepped; /* every rate is one that people can set */
    double goals[GOAL_COUNT];
    double exact_goals[GOAL_COUNT]; /* with rates in no steps: the best there are, where `proven` */
    double least_worst;             /* no rates have a GOAL_WORST below this */
    struct plot_answer *plots;
    uint32_t **packs; /* by product, then size, where packs are to be whole; otherwise NULL */
    double *spared;   /* by product: kg before the rates were lowered to need a pack less; 0: they were not */
};

/* Work that a problem of this size may cost, as struct lp_budget counts it: some half a second for a small
 * one, and in proportion to the rates to be found beyond; never more than its part of what the compilation
 * has left. */
uint64_t problem_work(const struct problem *problem);
/* So much more may be spent, whatever was left. */
void problem_allow(const struct problem *problem, uint64_t work);
bool problem_tired(const struct problem *problem); /* nothing is left */
/* Work shared among parts of which some take less than the others: allows the next of `parts`, and when that
 * is done takes off what it took. */
void work_share(const struct problem *problem, uint64_t work, size_t parts);
uint64_t work_rest(const struct problem *problem, uint64_t work);

/* By plot: the first plot that is the same question, area aside. */
const uint32_t *problem_alike(const struct problem *problem);

struct problem_answer problem_solve(const struct problem *problem);
/* What is wanted at these rates (by choice), and from where on there is excess. */
double want_at(const struct problem *problem, const struct plot *plot, const struct want *want,
               const double *rates, double *most);

/* What a problem is like without some of its demands. */
struct variation {
    const bool *dropped; /* by cause; NULL: none */
    const bool *barred;  /* by product: not to be used; NULL: none */
    uint32_t eased;      /* a cause whose bounds may be moved, by one distance for all; NO_CAUSE: none */
};
#define UNCHANGED ((struct variation){NULL, NULL, NO_CAUSE})

/* Whether anything keeps the plot's demands; by exact fractions. Nothing may be eased. */
enum lp_outcome plot_feasible(const struct problem *problem, const struct plot *plot,
                              struct variation variation);
/* The least distance by which what is eased must be moved so that something does. */
enum lp_outcome plot_distance(const struct problem *problem, const struct plot *plot,
                              struct variation variation, double *distance);

/* How little a plot comes short. `distance`, in the unit of the bounds that are eased (times for
 * DEMAND_TIMES), is the least that makes it so little. */
struct plot_outcome {
    enum lp_outcome outcome;
    bool proven;
    double worst, shortfall; /* GOAL_WORST and GOAL_SHORT of this plot */
    double distance;
    double *missing; /* by want: kg/m2 of the element */
};
/* `now` (NULL: nothing) is known to be possible still: it is the outcome where nothing comes less short.
 * `holding` (by cause; NULL: not asked): marks what presses on the plot's shortfall, by the dual values of
 * the answer; what counts or forbids is all marked, since dual values say nothing of it. */
struct plot_outcome plot_varied(const struct problem *problem, const struct plot *plot,
                                struct variation variation, const struct plot_outcome *now, bool *holding);

/* Square roots of the primes in their order. Square roots of primes are linearly independent over the
 * rationals (Besicovitch 1940, J. London Math. Soc. 15; from memory), so no two answers in fractions have the
 * same weighted sum. */
double *problem_weights(struct arena *arena, size_t count);

#endif
