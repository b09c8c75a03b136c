/* The nutrients of the season by zone and month, and what they are held against: what the soil test asks, the
 * grass's yearly range, what the lawn is to be given, and each limit of a year that binds the zone.
 *
 * Amounts are kg/m2; of the element by month, and of what `form` names in a measure. What was done and what
 * is planned are counted apart. */
#ifndef PRILL_RESULT_BUDGET_H
#define PRILL_RESULT_BUDGET_H

#include "compiler/result/need_text.h"
#include "compiler/season/season_year.h"

struct budget_month { /* in which the zone gets something */
    int year, month;
    double done[NUTRIENT_COUNT], planned[NUTRIENT_COUNT];
};

enum budget_kind {
    BUDGET_NEED,   /* `need`: what the soil test asks */
    BUDGET_RANGE,  /* `range`: what the grass gets in `of_season` */
    BUDGET_STATED, /* `stated`: what the lawn is to be given in `of_season` */
    BUDGET_LIMIT   /* `limit`, in the calendar year `year` */
};

struct budget_measure {
    enum budget_kind kind;
    const struct nutrient_form *form;
    double done,
        planned;        /* since the need's test; otherwise over the season, in its year where there is one */
    double least, most; /* what is asked and allowed; NAN where there is no such bound or it is not known */
    struct zone_need need;
    const struct grass_range *range;
    const struct lawn_amount *stated;
    const struct limit *limit;
    int year;
    struct season_year of_season;
};

struct budget_zone {
    const struct zone *zone;
    VECTOR(struct budget_month) months;
    struct budget_month total;              /* of all months; year and month 0 */
    VECTOR(struct budget_month) years;      /* of each season_year; year and month 0 */
    VECTOR(struct budget_measure) measures; /* by nutrient, then kind */
};

struct budget {
    VECTOR(struct budget_zone) zones; /* model->zones order */
};

struct budget budget_of(const struct season *season);

/* Nutrients that a budget tells, in its order: N, its soluble part, then the others. */
extern const enum nutrient budget_nutrients[];
extern const size_t budget_nutrient_count;

/* Whether the zone gets any of it. */
bool budget_gives(const struct budget_zone *zone, enum nutrient nutrient);

/* Whether it counts over a year of the season, `of_season`. */
bool budget_yearly(const struct budget_measure *measure);

/* "Limit 3.2 lb N per 1000 sqft in 2027 (plan.prill:78); 1.31 lb per 1000 sqft left." */
const char *budget_sentence(const struct need_words *words, const struct budget_measure *measure);

/* "2027-04" */
const char *budget_month_text(struct arena *arena, const struct budget_month *month);

#endif
