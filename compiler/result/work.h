/* What a person does on a day: every dated occurrence by lawn, with what to weigh, mix and walk.
 *
 * All outputs of the calendar read this, so that they say the same. Members named after a unit are SI;
 * `value` and `sum` are in the material's own unit, rounded for scales and cups (measure.h). */
#ifndef PRILL_RESULT_WORK_H
#define PRILL_RESULT_WORK_H

#include "compiler/model/measure.h"
#include "compiler/result/caution.h"
#include "compiler/season/season.h"

/* One product for one zone. */
struct portion {
    const struct amount *amount;
    double value;              /* what was used as it was written; what is planned rounded as figure.h says */
    const char *text, *number; /* "12.94 lb", "12.94" */
    const char *row;           /* "12.94 lb, 6.47 lb each way" */
    const char *each; /* what each of several passes takes, "6.47 lb", so many times that is `text`; NULL
                         otherwise */
    int fills;        /* of the hopper, for one pass; 0 where its size is not stated */
};

/* One product for all zones of the work. */
struct material {
    const struct product *product;
    const struct dressing *dressing; /* NULL for what a record used and the plan did not foresee */
    bool volume, recorded;
    double rate;                  /* kg/m2, or m3/m2 where `volume`; NAN where the zones differ */
    struct leeway leeway;         /* of all its amounts */
    const struct unit *unit;      /* of the portions and the sum */
    const struct unit *tank_unit; /* of what goes into each of several tanks */
    VECTOR(struct portion) portions;
    double sum;       /* of the portions' values, so that a column adds up */
    double sum_exact; /* kg, or m3 where `volume`; before rounding */
    const char *sum_text, *sum_number;
    /* What goes into each full tank and into the last one, in `tank_unit`: so many times the one and the
     * other add up to the sum. NULL where one tank takes it all, or none is used. */
    const char *tank_text, *last_text;
    double tank_value, last_value;
};

/* One material of a layer, for all zones of the work. */
struct heap {
    const struct name *material;
    double m3;
    const char *text; /* "1.31 cu yd", rounded up */
};

/* Tanks to mix: `full` of `full_m3` each and, where `rest_m3` is above 0, one more of that. */
struct mix {
    double volume_m3; /* for all zones together; NAN where no sprayer's output is stated */
    size_t full;      /* 0 with full_m3 0 where the tank's size is not stated */
    double full_m3, rest_m3;
};

/* One zone of the work and what all products together bring to it. */
struct work_zone {
    const struct zone *zone;
    double supplied[NUTRIENT_COUNT]; /* kg/m2, as in struct amount */
};

/* What goes on when the work itself is done: watering in, dry hours, keeping off. */
struct duty {
    const char *text;
    day_number last; /* a time that began at any hour of the work's day may end on this one; where
                        none is stated, the last day on which it is shown */
    const struct caution *caution; /* whose text it is; NULL of what the product itself demands */
};

struct work {
    const struct occurrence *occurrence;
    const struct lawn *lawn; /* NULL for a task without zones */
    VECTOR(struct work_zone) zones;
    double area_m2;
    VECTOR(struct material) materials;
    struct mix mix;
    VECTOR(struct heap) heaps;    /* of what is laid */
    struct caution_list cautions; /* of the kinds in use, in the model's order */
    VECTOR(struct duty) duties;   /* those of the products, then those of cautions */
    const char *supply; /* "0.75 lb N (0.52 lb soluble) per 1000 sqft"; NULL where it supplies nothing */
    size_t supply_at;   /* which of the sentences says so */
    VECTOR(const char *) sentences; /* how it is done, in the order of doing; or what came of it */
    const char *headline;           /* "spring-feed on reading-green: starter 19.52 lb" */
    const char *uid;                /* the same over editions, whatever the date */
};

struct work_list {
    struct work *items; /* by day, order within the day, lawn as first named */
    size_t count, capacity;
    struct caution_list cautions; /* of all of them, each once */
};

/* Of a season in which everything has its day (season->dated). What was skipped is left out. */
struct work_list work_list_of(const struct season *season);

/* What was skipped, by treatment in the order of the text: with headline and uid, and the day that the plan
 * alone has for it in occurrence->planned (equal to occurrence->day where it has none). */
struct work_list work_list_skipped(const struct season *season);

/* The steps of making one, in their order (work_list_of takes them): portions, passes, tanks, sums and heaps;
 * what goes on when it is done, from materials and cautions; the sentences, from all of that. */
void work_measure(struct work *work, const struct model *model);
void work_duties(struct work *work, const struct model *model);
void work_sentences(struct work *work, const struct season *season);
void work_machine(struct work *work, const struct model *model);
void work_say(struct work *work, struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The rate that is printed, of the whole or of one pass. */
struct shown_rate material_rate(const struct material *material, const struct work *work);
/* "5.357 lb per 1000 sqft" */
const char *material_rate_text(const struct material *material, const struct work *work,
                               const struct model *model);

/* Of work that is done: whether the day that the season is looked at from lies within the duty. Without such
 * a day it is the last that the plan speaks of as past: of its records and its edition. */
bool duty_in_force(const struct duty *duty, const struct work *work, const struct season *season);
/* "Still in force until Mon 2027-04-19: Keep the lawn dry for 4 h after tonic." */
const char *duty_sentence(struct arena *arena, const struct duty *duty);

/* "Latest Sat 2027-04-10, or Mon 2027-05-10 if later work moves too; a later day breaks `at most ...`."; NULL
 * where slips were not asked for (slip.end is SLIP_NOT_ASKED). Of something still to come. */
const char *slip_sentence(struct arena *arena, const struct occurrence *occurrence);

#endif
