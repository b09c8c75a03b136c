/* Inside the room: a correction or match as a problem, with what its products, applications, plots and causes
 * are in the plan. */
#ifndef PRILL_SOLVE_QUESTION_H
#define PRILL_SOLVE_QUESTION_H

#include "compiler/solve/solution.h"

struct fact { /* what a zone gets besides what is chosen */
    day_number day;
    const struct amount *amount; /* NULL for a task */
    const struct occurrence *occurrence;
};

struct plot_place { /* of one zone */
    const struct zone *zone;
    VECTOR(struct fact) facts;   /* by day */
    VECTOR(struct wanted) wants; /* as the plot's */
};

/* Needs of one soil test that are to be met and are not known: one report. */
struct unknown_need {
    const struct soil_test *test; /* NULL without one */
    bool stated;                  /* by `need`; otherwise what the test finds low */
    struct place place;
    const char *lack; /* of the first */
    VECTOR(const struct zone *) zones;
    unsigned nutrients; /* bit enum nutrient */
};

struct question {
    struct arena *arena;
    struct season *season;
    const struct model *model;
    bool apart; /* dates do not see to waits and closed days of what is chosen */
    struct problem *problem;
    const struct product **products; /* by the problem's products: in order of name */
    VECTOR(struct slot) slots;
    VECTOR(struct plot_place) places; /* by plot */
    VECTOR(struct unknown_need) unknowns;
    VECTOR(struct cause) causes;
    uint32_t *limit_cause; /* by the model's limits; NO_CAUSE until wanted */
    uint32_t *label_cause; /* by `products` and LABEL_PARTS */
};

struct question *question_new(struct season *season, bool apart, const struct product *const *products,
                              size_t count);

/* An application whose rates are chosen, unless it is done, skipped or without a day; and all times of one.
 */
void question_apply(struct question *question, struct occurrence *occurrence);
void question_apply_all(struct question *question, const struct treatment *treatment);

/* Why the product cannot go into the application, for its machine or its label's measure; NULL where it can.
 */
const char *product_unfit(const struct treatment *treatment, const struct product *product);
/* Plots for the zones, with a choice for each product that may go there, and the demands of limits and
 * labels. `zones` NULL: all that the applications treat. */
void question_plots(struct question *question, const struct zone *const *zones, size_t count);

uint32_t question_cause(struct question *question, struct cause cause);
uint32_t question_limit(struct question *question, const struct limit *limit);
uint32_t question_label(struct question *question, const struct product *product, enum cause_kind part);

/* ---- demands; `at`: the plot ---- */

struct demand question_demand(enum demand_kind kind, uint32_t cause, double bound);
void demand_part_add(struct question *question, struct demand *demand, uint32_t choice, double factor);
/* Nothing where the demand names no rate and asks for none. */
void demand_keep(struct question *question, struct plot *plot, const struct demand *demand);

void plot_limits(struct question *question, uint32_t at);
void plot_labels(struct question *question, uint32_t at);
/* Waits and closed days, where the dates do not see to them. */
void plot_waits(struct question *question, uint32_t at);
void plot_closings(struct question *question, uint32_t at);

/* ---- what is known ---- */

const struct slot *choice_slot(const struct question *question, const struct choice *choice);
day_number choice_day(const struct question *question, const struct choice *choice);
const struct product *choice_product(const struct question *question, const struct choice *choice);

/* kg/m2 of the element that the zone gets within these days besides. */
double facts_sum(const struct plot_place *place, day_number first, day_number last, enum nutrient nutrient);

#endif
