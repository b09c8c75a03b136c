/* The season: every treatment with its days, rates, amounts and nutrients. All checks and outputs read this.
 *
 * It is computed from the model alone, by dates.c (days), amounts.c (rates and amounts) and ledger.c (what each
 * zone received when). Quantities are SI. */
#ifndef PRILL_SEASON_SEASON_H
#define PRILL_SEASON_SEASON_H

#include "compiler/model/model.h"
#include "compiler/season/timetable.h"

/* One product on one zone in one occurrence. */
struct amount {
    const struct dressing *dressing; /* NULL for a record's use of a product the plan did not foresee */
    struct product *product;
    struct zone *zone;
    bool volume;       /* rate and total are m3/m2 and m3; otherwise kg/m2 and kg */
    double rate;       /* of product */
    double total;      /* rate x area of the zone */
    double mass_rate;  /* kg/m2 of product; NAN where a volume has no stated density */
    double mass_total; /* kg */
    double supplied[NUTRIENT_COUNT]; /* kg/m2 of the element; all 0 where mass_rate is NAN */
    bool recorded;     /* what was really used, not what is planned */
    struct place place; /* of the dressing or the use */
};

struct occurrence {
    struct treatment *treatment;
    uint32_t index; /* in season->occurrences, in the order of treatments and times */
    int time, times; /* 1 of 1; 2 of 3 */
    bool dated;      /* false when its days contradict each other, or its statements are broken */
    bool done, skipped;
    const struct record *record; /* of done and skipped */
    day_number day;              /* planned earliest, or recorded */
    day_number planned;          /* where the plan alone would have put it, records left aside; equals `day` mostly */
    day_number latest;           /* if all that depends on it may slip too */
    day_number slip_alone;       /* if nothing else moves; day <= slip_alone <= latest */
    uint32_t day_rank;           /* order within its day, from 0 */
    VECTOR(struct amount) amounts; /* by dressing, then zone in the order the plan names them */
};

/* All that reached a zone on one day: one application. */
struct application {
    day_number day;
    double supplied[NUTRIENT_COUNT]; /* kg/m2 */
    VECTOR(const struct amount *) amounts;
    VECTOR(const struct occurrence *) occurrences;
};

struct ledger { /* of one zone, by day */
    struct zone *zone;
    VECTOR(struct application) applications;
};

/* A statement behind a bound on a day; what timetable causes stand for. */
enum bound_kind {
    BOUND_SEASON,     /* within the season */
    BOUND_WHEN,       /* a `when` of the plan */
    BOUND_LABEL_WAIT, /* a product's interval */
    BOUND_LIMIT_WAIT, /* at least ... between ... applications */
    BOUND_CLOSED,     /* closed days of a limit */
    BOUND_WEEKDAYS,
    BOUND_HEAT,       /* reserved for weather */
    BOUND_ORDER       /* two treatments that must lie apart, with no order stated: by earliest day, then by text */
};

struct bound {
    enum bound_kind kind;
    struct place place;
    const struct when *when;       /* BOUND_WHEN */
    const struct limit *limit;     /* BOUND_LIMIT_WAIT, BOUND_CLOSED, BOUND_WEEKDAYS */
    const struct product *product; /* BOUND_LABEL_WAIT */
    const struct zone *zone;       /* of the waits: where both fall */
    int days;                      /* of the waits */
};

struct season {
    struct model *model;
    struct arena *arena;
    VECTOR(struct occurrence) occurrences; /* by treatment in the order of the text, then time */
    struct occurrence **calendar;          /* the dated ones by day, then day_rank */
    size_t calendar_count;
    struct ledger *ledgers;                /* one a zone, model->zones order */
    bool dated;                            /* every sound occurrence has a day */

    /* The timetable behind the days: node i is the group of occurrences with node == i. */
    struct timetable_node *nodes;
    uint32_t node_count;
    VECTOR(struct timetable_edge) edges; /* cause: index into bounds */
    VECTOR(struct bound) bounds;
    uint32_t *node_of;                   /* by occurrence index; groups of `same day` share a node */
    struct timetable_result timetable;   /* holds the contradictions */
};

struct season *season_build(struct model *model);

/* kg/m2 of what `form` names (P2O5, not P) in something supplied. */
double supplied_as(const double supplied[NUTRIENT_COUNT], const struct nutrient_form *form);

/* The limits that bind a zone: set->bound, and its places (if any) name the zone. */
bool limit_binds(const struct limit *limit, const struct zone *zone);
/* Whether an application with this supply is one the limit's nutrients speak of (any one above 0; none: all). */
bool limit_concerns(const struct limit *limit, const double supplied[NUTRIENT_COUNT]);

/* Mean daily high of the day's month in K; NAN where the plan states none. */
double season_normal_high(const struct season *season, day_number day);

/* What each zone's soil test says of a nutrient. */
enum need { NEED_UNKNOWN, NEED_NONE, NEED_LOW };
struct soil_reading {
    const struct soil_test *test;
    const struct level *level;  /* the minimum, or the class the result fell in; NULL when no scale reads it */
    const struct nutrient_form *nutrient; /* as the results name it */
    double mean, lowest, highest; /* mass fraction of soil, of what `nutrient` names; pH etc. as numbers */
    size_t spots;
    size_t below_detection;
    enum need need;
    bool disagree; /* spots differ from the mean by more than the scale allows */
};
/* The newest test of the zone that holds the nutrient; false when there is none. */
bool soil_reading_of(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                     struct soil_reading *reading);

#endif
