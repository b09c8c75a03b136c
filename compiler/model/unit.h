/* The units a plan may be written in, and what they measure.
 * One table (unit_table.c) holds every unit with its spellings; a new unit is a new row there. */
#ifndef PRILL_MODEL_UNIT_H
#define PRILL_MODEL_UNIT_H

#include "lexer/text.h"

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

#define DIMENSION_NUMBER ((struct dimension){0})
#define DIMENSION_MASS ((struct dimension){.mass = 1})
#define DIMENSION_LENGTH ((struct dimension){.length = 1})
#define DIMENSION_AREA ((struct dimension){.length = 2})
#define DIMENSION_VOLUME ((struct dimension){.length = 3})
#define DIMENSION_TIME ((struct dimension){.time = 1})
#define DIMENSION_MONTH ((struct dimension){.month = 1})
#define DIMENSION_TEMPERATURE ((struct dimension){.temperature = 1})
#define DIMENSION_CHARGE ((struct dimension){.charge = 1})
#define DIMENSION_SPEED ((struct dimension){.length = 1, .time = -1})
#define DIMENSION_MASS_PER_AREA ((struct dimension){.mass = 1, .length = -2})
#define DIMENSION_VOLUME_PER_AREA DIMENSION_LENGTH /* gal per 1000 sq ft; so is 0.25 in of water */
#define DIMENSION_DENSITY ((struct dimension){.mass = 1, .length = -3})
#define DIMENSION_CHARGE_PER_MASS ((struct dimension){.mass = -1, .charge = 1})

bool dimension_equal(struct dimension a, struct dimension b);
struct dimension dimension_product(struct dimension a, struct dimension b);
struct dimension dimension_quotient(struct dimension a, struct dimension b);

/* "a mass per area", for sentences to users, with an example of how to write one ("4 lb per 1000 sqft").
 * "a quantity" and NULL for a dimension that no plan has a word for. */
const char *dimension_name(struct dimension dimension);
const char *dimension_example(struct dimension dimension);

enum unit_system { UNIT_US, UNIT_METRIC, UNIT_BOTH };

enum { UNIT_SYMBOLS = 6, UNIT_WORDS = 8 };

struct unit {
    const char *name;   /* as results print it: "lb", "sq ft", "day" */
    const char *plural; /* as results print any number of it but one: "lb", "sq ft", "days" */
    struct dimension dimension;
    enum unit_system system;
    double factor; /* exact, to SI: kg, m, s, month, K, mol; SI = (value + zero) * factor */
    double zero;   /* 459.67 for F, 273.15 for C, 0 for every other unit */
    const char *symbols[UNIT_SYMBOLS]; /* read in this case of letters only: a Mg is not a mg; ends in NULL */
    const char *words[UNIT_WORDS];     /* read in any case of letters; ends in NULL */
    const char *gnu_name;              /* what the program GNU units calls it, for the reference check */
};

/* The unit that the first of `words` spell, and how many of them do so: the longest spelling counts ("sq ft"
 * before "sq"). A spelling with a slash is found in one word and in its parts ("km/h" and "km", "/", "h").
 * NULL when they spell none; `taken` is then 0.
 * C, F and others also name nutrients, and "are" is a verb: look only where a unit is expected. */
const struct unit *unit_find(const struct text *words, size_t count, size_t *taken);

/* The spelling nearest to a word that is no unit; empty when none is near enough or the word is too short to tell
 * (under three bytes). */
struct text unit_nearest(struct text word);

/* The unit of this name, which is in the table (asserted). */
const struct unit *unit_named(const char *name);

/* A value (a temperature: a reading of the thermometer) to SI and back. */
double unit_to_si(const struct unit *unit, double value);
double unit_from_si(const struct unit *unit, double si);

/* The same for a difference: 9 F of warming are 5 K. Differs from the above for F and C only. */
double unit_difference_to_si(const struct unit *unit, double difference);
double unit_difference_from_si(const struct unit *unit, double si);

/* "day" for 1 and -1, "days" for any other number. */
const char *unit_name_for(const struct unit *unit, double value);

/* The table from its first row on: unit_next(NULL) is the first, NULL follows the last. */
const struct unit *unit_next(const struct unit *unit);

/* The rows themselves, ended by one without a name. */
extern const struct unit UNIT_TABLE[];

#endif
