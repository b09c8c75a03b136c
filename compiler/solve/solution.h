/* What the compiler chose where the plan left rates open, and why: for outputs. It hangs on the season. */
#ifndef PRILL_SOLVE_SOLUTION_H
#define PRILL_SOLVE_SOLUTION_H

#include "compiler/season/need.h"
#include "compiler/solve/problem.h"

/* A statement behind a demand: what the causes of a problem stand for. */
enum cause_kind {
    CAUSE_LIMIT,
    CAUSE_LABEL_LEAST, /* the label's least rate */
    CAUSE_LABEL_MOST,
    CAUSE_LABEL_INTERVAL,
    CAUSE_LABEL_TIMES,
    CAUSE_LABEL_YEAR,
    CAUSE_BOUND, /* of a correction */
    CAUSE_HEAT,  /* of a product, as CAUSE_COLD */
    CAUSE_COLD,
    CAUSE_LEAST_RATE, /* of the machine, or what anyone can put down */
    CAUSE_MATCH,      /* the nutrient that a match is stated in is not to be passed */
    CAUSE_PACKS       /* of a correction: what comes in no pack is not bought */
};

struct cause {
    enum cause_kind kind;
    struct place place;
    const struct limit *limit;         /* CAUSE_LIMIT */
    const struct product *product;     /* of labels, heat and cold */
    const struct correct_bound *bound; /* CAUSE_BOUND */
    const struct match *match;         /* CAUSE_MATCH */
};

/* One nutrient on one zone. Figures are kg/m2 of the element. */
struct wanted {
    const struct zone *zone;
    const struct nutrient_form *nutrient;
    double need, most; /* from what on there is no lack, and from what on there is excess; 0: not needed */
    double given;      /* by what the plan, records and earlier choices put down */
    double chosen;     /* by this choice */
    double missing, excess;
    double exact_missing, exact_excess; /* with rates in no steps */
    bool unasked;           /* nobody needs it: as little as can be, and what is chosen is too much */
    bool offered;           /* some product on the list holds it */
    struct zone_need *test; /* how the need was found; NULL where the plan states it */
    struct place place;     /* of the statement that needs it; the correction's where none does */
};

/* What easing a statement would buy, tried by solving again. */
struct easing {
    const struct cause *cause;
    const struct zone *zone;
    bool measured; /* it has a figure that can be moved */
    double bound;  /* what it would have to be, in the statement's own unit (SI); NAN where not `measured` */
    double worst;  /* the zone's worst shortfall then, as a share */
    double *missing; /* by the zone's wants, kg/m2 of the element */
    double bought;   /* of all shares short on the zone, how much it takes away; above 0 */
};

struct zone_choice {
    const struct zone *zone;
    struct wanted *wants;
    size_t want_count;
    double worst;                  /* the greatest share missing of what is offered */
    double exact_worst;            /* with rates in no steps */
    VECTOR(struct easing) easings; /* what buys most first */
    bool followed;                 /* there are no others */
};

/* Statements that no rates keep together, and keep if any one of them is left out. */
struct contradiction {
    const struct zone *zone;
    size_t zones; /* of which the same is true */
    const struct cause **causes;
    size_t count;
    double *eased; /* by cause: what would pass, with the others as they are; NAN where it has no figure */
    bool verified; /* the set fits without any one of them, and not with all */
};

struct slot { /* an application whose rates are chosen */
    struct occurrence *occurrence;
    uint32_t day; /* slots of one day share it; counts up */
};

struct bought { /* of one product, for all zones */
    const struct product *product;
    double mass;     /* kg */
    double cost;     /* of the mass, or of the packs where they are whole; NAN without a price */
    uint32_t *packs; /* by the product's packs, where they are to be whole; NULL */
    double spared;   /* kg before the rates were lowered to need a pack less; 0 where they were not */
};

/* The answer to one correction or match. */
struct rates_answer {
    const struct correct *correct; /* or, one of them NULL, */
    const struct match *match;
    const struct occurrence *occurrence; /* of a match: the time of its application */
    bool solved;
    bool proven; /* the best there is; otherwise the best found before the search was ended */
    bool priced;
    bool stepped;       /* every rate is one that people can set */
    double least_worst; /* no rates have a GOAL_WORST below this; equal to the exact one where `proven` */
    struct zone_choice *zones;
    size_t zone_count;
    VECTOR(struct slot) slots; /* by day */
    VECTOR(struct bought) bought;
    VECTOR(struct contradiction) contradictions; /* where it is not solved: one for each set of statements */
    double goals[GOAL_COUNT];
    double exact_goals[GOAL_COUNT]; /* with rates in no steps */
};

struct match_help {                       /* what would close a match's gap */
    const struct nutrient_form *nutrient; /* that falls short */
    const struct product *product;        /* of the plan, not on the list; NULL where none closes it */
    const struct limit *by_need; /* allows the nutrient only where a soil test shows a need; NULL without */
};

/* The answer to a question of the plan: rates on any ground, for one application, within the products' labels
 * and the limits for one application that bind every zone all year. */
struct match_answer {
    const struct match *match;
    bool solved;
    double share; /* of what these products can supply of the grade, that one application may: above 0 to 1 */
    uint32_t times;   /* applications of equal parts that supply all of it; 0: a year has no room for them */
    double *rates;    /* by the match's products, kg/m2; of the share */
    double wanted[3]; /* N, P, K: kg/m2 of the element */
    double supplied[3]; /* by products of any rate, at most what is wanted */
    double reached[3];
    double cost; /* per m2; NAN with a price missing */
    VECTOR(struct match_help) helps;
    VECTOR(struct cause) holding; /* labels and limits that the rates reach, where the share is below 1 */
};

struct mix_warning {
    const struct mixing *mixing;
    const struct product *first, *second;
};

struct blend_answer {
    const struct blend *blend;
    bool solved;
    double *shares;    /* by the blend's products, of the whole mass */
    double filler;     /* share */
    double reached[3]; /* as the grade states it: N, P2O5, K2O */
    double cost;       /* per kg; NAN */
    VECTOR(struct mix_warning) warnings;
    bool mixing_unknown; /* of some pair nothing is known */
};

struct solution {
    bool apart;                          /* dated as if nothing left open put anything down */
    VECTOR(struct rates_answer) choices; /* matches of applications, then corrections */
    VECTOR(struct match_answer) matches;
    uint32_t help_trials; /* products tried to close the gaps of matches */
    size_t questions;     /* corrections, matches and blends that are still to be worked out */
    VECTOR(struct blend_answer) blends;
};

#endif
