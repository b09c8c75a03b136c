/* What a zone needs of a nutrient, and of lime, by the soil test in force on a day, and what it was given
 * since that test; with every step of how it was found, so that outputs can put it into words. Solver,
 * checks, budget and outputs all read this.
 *
 * A result is true of the soil from its day of sampling on. What was spread before that day is in the result
 * and is never credited; what is spread on that day or later is credited, until the next test of the
 * nutrient.
 *
 * Figures are SI: kg/m2 of the element, lime in kg/m2 of calcium carbonate. Nothing here is guessed: where a
 * step cannot be made, `lack` says which, and the need is NAN. Formulas and their sources: docs/method.md,
 * "Needs". */
#ifndef PRILL_SEASON_NEED_H
#define PRILL_SEASON_NEED_H

#include "compiler/season/season.h"

/* By what a need was found. */
enum need_rule {
    NEED_BY_NOTHING,
    NEED_BY_CLASS,      /* the amount that the scale gives with the class */
    NEED_BY_EQUATION,   /* a polynomial of the result */
    NEED_BY_MINIMUM,    /* minimum less test, and where the scale says so the grass's use added */
    NEED_BY_ENOUGH,     /* enough by the scale's level: none, though the scale gives no amounts */
    NEED_BY_LABORATORY, /* what the laboratory recommends: the plan follows it, or the scale has no amount */
    NEED_BY_RATING,     /* no scale reads it, and the laboratory rates it enough: none */
    NEED_BY_LAWN,       /* the lawn states what it is to be given: N, and what no test gives an amount of */
    NEED_BY_GRASS,      /* N: no test is asked, the grass's yearly range is */
    NEED_BY_LIME        /* of lime: pH and lime table, once, not anew each year; see lime_need_of */
};

/* Why a need is not known. */
enum need_lack {
    LACK_NOTHING,
    LACK_TEST,       /* no soil test is of the zone */
    LACK_FIGURE,     /* the zone's tests have no figure for it */
    LACK_LATER,      /* the first test with a figure for it was sampled after the day */
    LACK_SCALE,      /* the test names no scale for it */
    LACK_METHOD,     /* the scale reads another extraction method, and no conversion is named */
    LACK_CONVERSION, /* the conversion named does not speak of it, or fits neither test nor scale */
    LACK_LEVEL,      /* the scale says nothing of it, or the result lies outside its classes */
    LACK_INDEX,      /* one of scale and test has an index, the other a concentration */
    LACK_AMOUNT,     /* low, or not said to be enough; the scale gives no amount */
    LACK_DEPTH,      /* a share of the soil is no mass per area without the depth of the cores */
    LACK_DENSITY,    /* ... and without the soil's bulk density */
    LACK_NITROGEN,   /* the use goes by the N given, and the plan gives none and states none */
    LACK_USE,        /* no use of it is known for the grass */
    LACK_GRASS,      /* the lawn names no grass, or the grass has no range for the lawn's region */
    LACK_ABOVE,      /* low as counted, but the laboratory says only that there is more than that */
    LACK_PH,         /* an activity index goes by the pH, and the report has none */
    LACK_LIME        /* of lime: what lime_need_of says */
};

/* Where the N behind a grass's use comes from. */
enum nitrogen_basis {
    NITROGEN_NONE,
    NITROGEN_LAWN, /* the lawn states that of a year */
    NITROGEN_PLAN, /* what the season gives the zone while the test is in force: planned, done and chosen */
    NITROGEN_GRASS /* the middle of the grass's yearly range */
};

struct zone_need {
    const struct zone *zone;
    enum nutrient nutrient;
    enum need_lack lack;
    enum need_rule rule;
    bool low;         /* asks for some: the result is less than enough, or the amount is above 0 */
    double kg_per_m2; /* what meets the recommendation; 0: no need; NAN: unknown */
    double most;      /* the recommendation's upper end, where it is a range; more than that is excess */
    bool read;        /* `reading` holds the figure in force on the day; of lime it is false, and only
                         `reading.test` is set */
    struct soil_reading reading;

    /* What the need is of: from the day of sampling to the day before the next test, or else to the season's
     * end. Without a reading `from` is INT32_MIN. Both days included. */
    day_number from, until;
    bool retested;            /* a newer test takes over after `until` */
    int years;                /* of these years, begun by the day asked about; 1 or more */
    day_number counted_until; /* the last day of these years, or of `until`: N given by then makes the use */
    double given;             /* put on from `from` to the day asked about: planned, done and chosen */
    double left;              /* what is still needed then; NAN unknown */

    /* Where the laboratory recommends something: what the scale alone gives, as `kg_per_m2`, `most` and
     * `lack`. */
    double scale_least, scale_most;
    enum need_lack scale_lack;

    const struct level *level; /* what the need was taken from: class, minimum or equation; may be NULL */
    const struct grass_range *range; /* the use or the yearly range that counted; NULL without */

    /* NEED_BY_MINIMUM: kg_per_m2 = max(0, use + minimum - test), each kg/m2 of the element. */
    double use, minimum, test;
    double depth_m, bulk_density;         /* of the layer; kg/m3 */
    bool density_assumed;                 /* the scale's own figure, since the lawn states none */
    const struct lawn_amount *stated;     /* NEED_BY_LAWN: its statement; NULL otherwise */
    const struct lawn_amount *use_stated; /* the lawn says itself what its grass takes up; NULL mostly */
    const struct scale_use *use_scale;    /* the scale's share of N, where the grass has none; NULL mostly */
    enum nitrogen_basis nitrogen_basis;
    double nitrogen;  /* kg/m2 behind the use, over `years`; NAN without */
    double use_share; /* of that N; 0 where the use does not go by N */
    double operand;   /* NEED_BY_EQUATION: the result in the unit that the equation counts in */
    double
        read_at; /* NEED_BY_EQUATION: the operand, or the place beyond which the equation would rise again */
    double equation; /* NEED_BY_EQUATION: what it gives, kg/m2 of the element; below 0 there is no need */
};

/* Whether the need in force on the day is known. Before the first test there is none. Lime goes by the newest
 * test with a pH; what is put on before its day of sampling does not count. */
bool need_on(const struct season *season, const struct zone *zone, enum nutrient nutrient, day_number day,
             struct zone_need *need);
/* By the newest test, over all its days. */
bool need_of(const struct season *season, const struct zone *zone, enum nutrient nutrient,
             struct zone_need *need);
/* kg/m2 of the element put on the zone within these days, both included. */
double zone_given(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                  day_number first, day_number last);

/* What the grass of a lawn asks for in the lawn's region, or anywhere; NULL where nothing is stated. The
 * nutrient counts for GRASS_YEARLY and GRASS_USE only. */
const struct grass_range *lawn_range_of(const struct lawn *lawn, enum grass_range_kind kind,
                                        enum nutrient nutrient);

/* ---- pH and lime ---- */

enum ph_verdict { PH_UNKNOWN, PH_FINE, PH_LOW, PH_HIGH };

enum lime_lack {
    LIME_LACK_NOTHING,
    LIME_LACK_PH,     /* the zone's tests have no pH */
    LIME_LACK_RANGE,  /* no grass, or no range of pH for it here: nobody says what is too low */
    LIME_LACK_TABLE,  /* the test names no lime table */
    LIME_LACK_UNIT,   /* the acidity counts by mass and the table by volume, or the other way round */
    LIME_LACK_FIGURE, /* the report lacks what the table goes by: exchangeable acidity or buffer pH */
    LIME_LACK_BUFFER, /* another buffer than the table's */
    LIME_LACK_GOAL,   /* the table has no column for the goal */
    LIME_LACK_ROW     /* outside the table's rows */
};

struct lime_need {
    const struct zone *zone;
    enum ph_verdict verdict;
    enum lime_lack lack;
    const struct soil_test *test; /* NULL without a pH */
    double ph;                    /* mean of the spots; NAN without */
    const struct grass_range *range;
    double kg_per_m2;               /* of calcium carbonate; 0 where the pH asks for none; NAN unknown */
    const struct lime_table *table; /* NULL without */
    const struct lime_row *row;     /* the row that was read; NULL without */
    double goal;                    /* pH; NAN without */
    bool goal_stated; /* by the lawn; otherwise the table's nearest to the middle of the grass's range */
    enum lime_measure measure; /* what it went by: */
    double measured;           /* mol/kg, mol/m3 or buffer pH */
    double way;                /* of a formula: the goal's part of the whole way; NAN without */
    bool buffer_assumed;       /* the table's buffer is named, the report's is not */
    double most_at_once;       /* kg/m2, of the material as weighed; NAN where the table has no cap */
    struct duration interval;  /* between two limings; of nothing where the table does not say */
    double given;              /* kg/m2 of calcium carbonate put on since the test: planned, done, chosen */
    double left;               /* what is still needed then; NAN unknown */
};

/* Whether it is known how much lime the zone needs, none included. */
bool lime_need_of(const struct season *season, const struct zone *zone, struct lime_need *need);

/* kg/m2 of a liming material that neutralize as much as this much calcium carbonate; NAN where the product
 * states no neutralizing value. */
double lime_material(const struct product *product, double calcium_carbonate);

/* Applications that the need takes with this material, or with pure calcium carbonate (NULL); 0 where no cap
 * is known or none is needed. The cap is of the material as weighed, and of its calcium carbonate where that
 * is more: tables do not say which they mean, and the stricter is safe. */
int lime_times(const struct lime_need *need, const struct product *product);

#endif
