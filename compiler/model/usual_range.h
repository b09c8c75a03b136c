/* What products of a form or kind usually are, and the steps of what people weigh, measure and set with;
 * entries of the library, which a plan may state anew. SI. */
#ifndef PRILL_MODEL_USUAL_RANGE_H
#define PRILL_MODEL_USUAL_RANGE_H

#include "compiler/model/symbol.h"
#include "compiler/model/unit.h"

struct source_entry;

struct usual_range { /* `place` has no source where it is not stated */
    double low, high;
    const struct source_entry *source;
    struct place place;
};

enum { BY_MASS, BY_VOLUME, MEASURES };

/* What a scale or cup shows, or a rate is set in: multiples of `step`, up to `most`. */
struct usual_step {
    double step, most; /* kg, m3, kg/m2 or m3/m2; `most` INFINITY where it is not stated */
    bool volume;
    const struct unit *unit; /* that it is stated in; NULL of a rate */
    enum unit_system system; /* of that unit */
    struct place place;
};
struct usual_steps {
    struct usual_step *items;
    size_t count, capacity;
};

/* What products of a form or kind usually are. */
struct usual {
    struct symbol symbol;
    struct usual_range rate[MEASURES];  /* kg/m2, m3/m2 */
    struct usual_range pack[MEASURES];  /* kg, m3 */
    struct usual_range density;         /* kg/m3 */
    struct usual_range grade[3];        /* N, P2O5, K2O as fractions */
    struct usual_range prices;          /* high: the dearest against the cheapest */
    struct usual_range loads;           /* of a machine, for one zone on one day; high only */
    struct usual_steps steps;           /* of a scale or cup: amounts */
    struct usual_steps rate_steps;      /* of a machine; the coarsest of a system first */
    struct usual_range least[MEASURES]; /* of a machine: the rate; `low` only */
    struct usual_range within;          /* of a machine: the share by which a rate may be off; `high` only */
};

/* The ranges of an entry, as statements give them. */
enum usual_figure {
    USUAL_RATE,
    USUAL_DENSITY,
    USUAL_PACK,
    USUAL_GRADE,
    USUAL_LOADS,
    USUAL_PRICES,
    USUAL_LEAST,
    USUAL_WITHIN
};

/* What people do the work with; each has an entry of the library, which a plan may state anew. */
enum tool { TOOL_SPREADER, TOOL_SPRAYER, TOOL_SCALE, TOOL_CUP, TOOLS };

#endif
