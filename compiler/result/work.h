/* What a person does on a day: every dated occurrence by lawn, with what to weigh, mix and walk.
 *
 * All outputs of the calendar read this, so that they say the same. Members named after a unit are SI;
 * `value` and `sum` are in the material's own unit, rounded for scales and cups (measure.h). */
#ifndef PRILL_RESULT_WORK_H
#define PRILL_RESULT_WORK_H

#include "compiler/model/machine.h"
#include "compiler/model/measure.h"
#include "compiler/result/caution.h"
#include "compiler/season/season.h"

/* How one product is spread on one zone, pass by pass; what is exact is kg and m, the texts are rounded so
 * that the fills of a pass add up to what the portion says that it takes. */
struct spreading {
    double pass_kg;     /* what one pass takes */
    double pass_rate;   /* kg/m2 of one pass */
    const char *rate;   /* "2.678 lb per 1000 sqft": of one pass */
    struct loads fills; /* of the hopper, for one pass; one fill where its size is not stated */
    bool once;          /* all passes are made with one fill of passes x pass_kg */
    const char *load;   /* what to put in: "12.94 lb", "a fill of 35 lb, then 2 fills of 20.5 lb"; of one pass
                           unless once */
    double distance_m;  /* to walk in one pass, turns left out; NAN where no width is stated */
    const char *walk;   /* "about 310 ft"; NULL where it is not known */
    /* The check that the setting is right: with the hopper loaded as said, what is left of the load (once: of
     * all passes; otherwise of one fill) when `check_m` are walked. Within the band it is right. */
    enum spreading_check {
        CHECK_AFTER_FIRST_PASS, /* once, of several passes */
        CHECK_HALF_WAY          /* half of the first fill's way; the distance where the width is stated */
    } check;
    double left_kg, least_kg, most_kg, check_m;
    const char *left, *band; /* "6.47 lb", "6.15 to 6.79 lb"; band NULL where the scale does not show one */
    bool shows;              /* `left` is within the band: if not, the scale is too coarse to check by */
    const char *check_walk;  /* "about 160 ft" */
    struct dial_answer dial;
};

/* One product for one zone. */
struct portion {
    const struct amount *amount;
    double value;              /* what was used as it was written; what is planned rounded as figure.h says */
    const char *text, *number; /* "12.94 lb", "12.94" */
    const char *row;           /* "12.94 lb, 6.47 lb each way" */
    const char *each; /* what each of several passes takes, "6.47 lb", so many times that is `text`; NULL
                         otherwise */
    const char *rate; /* "5.357 lb per 1000 sqft" of this zone alone */
    int decimals;     /* of `value`, `text` and `each` */
    struct spreading *spreading; /* NULL but for what a spreader is to put down by mass */
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
    double tank_exact, last_exact; /* kg, or m3 where `volume` */
};

/* One material of a layer, for all zones of the work. */
struct heap {
    const struct name *material;
    double m3;
    const char *text; /* "1.31 cu yd", rounded up */
};

/* Tanks to mix: `full` of `full_m3` each and `rest` more (0 to 2) of `rest_m3` each. */
struct mix {
    double volume_m3; /* for all zones together; NAN where no sprayer's output is stated */
    double tank_m3;   /* what a tank holds; NAN where not stated: then one takes it all */
    size_t full, rest;
    double full_m3, rest_m3; /* 0 where there is none of it */
    double full_m2, rest_m2; /* what one of them covers */
    double full_water_m3,
        rest_water_m3; /* the water in one of them; NAN where a product's volume is not known */
};

/* One zone of the work and what all products together bring to it. */
struct work_zone {
    const struct zone *zone;
    double supplied[NUTRIENT_COUNT]; /* kg/m2, as in struct amount */
    /* Of what a sprayer is to put out: the mix, the way walked, the time; NAN where not known. */
    double spray_m3, spray_m, spray_s;
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
    VECTOR(const char *) sentences;  /* how it is done, in the order of doing; or what came of it */
    VECTOR(const char *) conditions; /* those of them that say what the day must be like: looked at first */
    const char *headline;            /* "spring-feed on reading-green: starter 19.52 lb" */
    const char *uid;                 /* the same over editions, whatever the date */
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
/* "3.65 gal": how much to mix. */
const char *water_text(const struct model *model, double m3);
void work_say(struct work *work, struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The spreading of every portion, and what a sprayer puts out on each zone (work_measure takes them). */
void work_spread(struct work *work, const struct model *model);
void work_spray(struct work *work);

/* Whether a spreader is to put it down: its machine, NULL without. A record says what was used, not how. */
const struct machine *work_spreader(const struct work *work);

/* "0.754 in per hour by 8 cans, of which the driest quarter got 82% of the mean"; of one whose
 * cans are stated. */
const char *sprinkler_text(struct arena *arena, const struct model *model, const struct sprinkler *sprinkler);

/* "100 ft in 23 seconds": a speed as it is timed, in the plan's units. */
const char *pace_text(struct arena *arena, const struct model *model, double m_per_s);

/* The rate that is printed, of the whole or of one pass. */
struct shown_rate material_rate(const struct material *material, const struct work *work);
/* "5.357 lb per 1000 sqft": one of its rates, kg/m2 or m3/m2, its own or where zones differ a portion's. */
const char *material_rate_text(const struct material *material, double rate, const struct work *work,
                               const struct model *model);

/* Of work that is done: whether the day that the season is looked at from lies within the duty. Without such
 * a day it is the last that the plan speaks of as past: of its records and its edition. */
bool duty_in_force(const struct duty *duty, const struct work *work, const struct season *season);
/* "Still in force until Mon 2027-04-19: Keep the lawn dry for 4 h after tonic." */
const char *duty_sentence(struct arena *arena, const struct duty *duty);

/* "Latest Sat 2027-04-10, or Mon 2027-05-10 if later work moves too; a later day breaks `at most ...`."; NULL
 * where slips were not asked for (slip->end is SLIP_NOT_ASKED). Of something still to come. */
const char *slip_sentence(struct arena *arena, const struct occurrence *occurrence);

#endif
