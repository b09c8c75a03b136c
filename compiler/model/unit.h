/* The units a plan may be written in, and what they measure.
 * One table (unit_table.c) holds every unit with its spellings; a new unit is a new row there. */
#ifndef PRILL_MODEL_UNIT_H
#define PRILL_MODEL_UNIT_H

#include "lexer/text.h"

#include <string.h>

/* Exponents of what a quantity is made of; all zero for a plain number, a percentage or a share such as ppm.
 * Months are a kind of their own: they have no fixed length, and a year is twelve of them. */
struct dimension {
    int8_t mass;        /* kg */
    int8_t length;      /* m */
    int8_t time;        /* s: seconds to weeks */
    int8_t month;       /* calendar months and years */
    int8_t temperature; /* K */
    int8_t charge;      /* mol of charge: what soil can hold in exchange */
};

static inline bool dimension_equal(struct dimension a, struct dimension b)
{
    return memcmp(&a, &b, sizeof a) == 0; /* of bytes, with none between them */
}

/* The product of the two, `sign` 1, or their quotient, -1. */
struct dimension dimension_combined(struct dimension a, struct dimension b, int sign);

/* The dimensions that a plan has words for. */
enum measure {
    MEASURE_NUMBER,
    MEASURE_MASS,
    MEASURE_LENGTH,
    MEASURE_AREA,
    MEASURE_VOLUME,
    MEASURE_TIME,
    MEASURE_MONTHS,
    MEASURE_TEMPERATURE,
    MEASURE_SPEED,
    MEASURE_CHARGE,
    MEASURE_MASS_PER_AREA,
    MEASURE_VOLUME_PER_AREA, /* the same dimension as a length: water is measured either way */
    MEASURE_DENSITY,
    MEASURE_MASS_PER_AREA_AND_MONTH,
    MEASURE_MASS_PER_TIME,
    MEASURE_VOLUME_PER_TIME,
    MEASURE_CHARGE_PER_MASS,
    MEASURE_OTHER, /* none of these */
};

struct measure_row {
    struct dimension dimension; /* MEASURE_OTHER has none */
    const char *name;           /* "a mass per area"; of MEASURE_OTHER "a quantity of its own kind" */
    const char *example;        /* "4 lb per 1000 sqft"; of MEASURE_OTHER "" */
};
extern const struct measure_row measure_rows[];             /* by enum measure */
enum measure dimension_measure(struct dimension dimension); /* the first that fits */

enum unit_system { UNIT_US, UNIT_METRIC, UNIT_BOTH };

/* What areas and rates are printed in: sqft and m2, or acres and ha. */
enum ground_units { PER_LAWN, PER_FIELD };

enum { UNIT_SYMBOLS = 6, UNIT_WORDS = 12 };

struct unit {
    const char *name; /* as results print it: "lb", "sq ft", "day" */
    enum measure measure;
    enum unit_system system;
    double factor;                     /* to SI (kg, m, s, month, K, mol): SI = (value + zero) * factor */
    double zero;                       /* 459.67 for F, 273.15 for C, 0 for every other unit */
    const char *symbols[UNIT_SYMBOLS]; /* read in this case of letters only: a Mg is not a mg; ends in NULL */
    const char *words[UNIT_WORDS];     /* without capitals, read in any case; ends in NULL */
    const char *gnu_name;              /* what the program GNU units calls it, for the reference check */
};

struct unit_found {
    const struct unit *unit; /* NULL: the words spell none */
    size_t taken;            /* how many of them do; 0 of none */
    bool goes_on; /* more words after the first could spell a unit: "fl", "metric", "mg" (of mg/kg) */
};

/* The unit that the first of `words` spell: the longest spelling counts ("sq ft" before "sq"). A spelling
 * with a slash is found in one word and in its parts ("km/h" and "km", "/", "h").
 * C, F and others also name nutrients, and "are" is a verb: look only where a unit is expected. */
struct unit_found unit_find(const struct text *words, size_t count);

/* The spelling nearest to a word that is no unit; empty when none is near enough or the word is too short to
 * tell (under three bytes). *certain: no other unit is as near. */
struct text unit_nearest(struct text word, bool *certain);

/* The unit of this name, which is in the table (asserted). */
const struct unit *unit_named(const char *name);

/* A value (a temperature: a reading of the thermometer) to SI and back. */
double unit_to_si(const struct unit *unit, double value);
double unit_from_si(const struct unit *unit, double si);

/* The same for a difference: 9 F of warming are 5 K. Differs from the above for F and C only. */
double unit_difference_to_si(const struct unit *unit, double difference);
double unit_difference_from_si(const struct unit *unit, double si);

/* The table from its first row on: unit_next(NULL) is the first, NULL follows the last. */
const struct unit *unit_next(const struct unit *unit);

/* The rows themselves, ended by one without a name. */
extern const struct unit UNIT_TABLE[];

#endif
