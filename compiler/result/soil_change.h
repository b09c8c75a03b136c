/* A re-test read against the test before it: each figure then and now, what was put on in between, and
 * whether the change is more than what spots differ by anyhow. */
#ifndef PRILL_RESULT_SOIL_CHANGE_H
#define PRILL_RESULT_SOIL_CHANGE_H

#include "compiler/season/season.h"

/* Spots with the same name in both tests, each compared with itself. A pair with a result below detection or
 * above the range is left out. docs/method.md, "A re-test", has the rule and its source. */
struct soil_pairs {
    size_t count;
    double mean;      /* change, in the unit of the newer report; NAN without a pair */
    double low, high; /* between these it lies 19 times in 20; NAN below two pairs */
    bool noise;       /* 0 lies between them: the change is no larger than what spots differ by */
};

/* Why two figures cannot be compared. */
enum change_lack {
    CHANGE_COMPARED,
    CHANGE_METHOD, /* other extraction methods */
    CHANGE_INDEX   /* an index and a share of the soil */
};

struct soil_change { /* of one column, on zones that have the same two tests */
    const struct soil_test *first, *then;
    const struct table_column *column; /* of `then` */
    VECTOR(const struct zone *) zones;
    const char *name, *unit; /* of the newer report */
    enum change_lack lack;
    double was, is; /* means in that unit; `was` NAN where they cannot be compared */
    double enough;  /* by the newer test's scale, in that unit; NAN without */
    const struct soil_reading *was_read, *is_read; /* of a nutrient; NULL otherwise */
    double least, most; /* kg/m2 of the element, of pH of lime, put on from the first day of sampling to the
                           day before the second, over the zones; 0 of what nothing is put on for */
    bool other_depth;
    struct soil_pairs pairs;
};

struct soil_changes {
    VECTOR(struct soil_change)
    items; /* by newer test in the order of the text, then column, then older test */
};

/* What is put on to change it: the nutrient, of pH lime; NUTRIENT_COUNT where there is nothing. */
enum nutrient change_nutrient(const struct soil_change *change);

/* Of each zone and column the newest test and the one before it. */
struct soil_changes soil_changes_of(struct arena *arena, const struct season *season);

#endif
