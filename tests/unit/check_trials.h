/* Small plans, each with what one check must say of it: the catalogue that test_checks.c goes through. */
#ifndef PRILL_TESTS_CHECK_TRIALS_H
#define PRILL_TESTS_CHECK_TRIALS_H

#include "compiler/check/check.h"
#include "tests/unit/season_text.h"

/* `sentence` is the report's, whole; NULL: the check must not fire. Figures in it are worked out by hand,
 * from plans made so that this is easy: 1000 sqft, 20-0-10. `help` NULL: not looked at. */
struct check_trial {
    const char *check;
    const char *plan;
    const char *sentence;
    const char *help;
};

extern const struct check_trial APPLIED_TRIALS[], LABEL_TRIALS[], DAY_TRIALS[], GROUND_TRIALS[],
    THING_TRIALS[], RECORD_TRIALS[], SCALE_TRIALS[], LIMIT_TRIALS[],
    ASSUMED_TRIALS[]; /* each ended by a row without a check */

/* The head of every trial, one zone and one granular product: 5 lb of feed are 1 lb of N. */
#define HEAD "edition 1 on 2027-01-10\nseason 2027-03-01 to 2027-11-30\n"
#define GREEN "lawn green {\nzone a area 1000 sqft\n}\n"
#define TWO_ZONES "lawn green {\nzone a area 1000 sqft\nzone b area 500 sqft\n}\n"
#define FEED "product feed {\ngrade 20-0-10 granular\nslow 30% of N\n}\n"
#define LIMIT(text) "limits {\n" text "\n}\n"
/* A treatment of zone a with feed. */
#define APPLY(name, day, rate) APPLY_OF(name, day, rate, "feed")
#define APPLY_OF(name, day, rate, product)                                                                   \
    "apply " name " {\nto a\nwhen on " day "\nrate " rate " per 1000 sqft of " product "\n}\n"
#define SUPPLY(name, day, supply)                                                                            \
    "apply " name " {\nto a\nwhen on " day "\nsupply " supply " per 1000 sqft from feed\n}\n"
#define DID(name, day) "done " name " " day " { note \"done\" }\n"
#define DONE(name, day, used) "done " name " " day " {\nused " used "\n}\n"

/* Reads the plan, errors or not, and runs the checks; to be freed by season_text_free. */
void checks_of(struct season_text *read, const char *plan);
const struct report *report_of(const struct season_text *read,
                               const char *check);                  /* the first; NULL without */
size_t count_of(const struct season_text *read, const char *check); /* those not allowed */
void assert_says(const struct season_text *read, const char *check, const char *sentence); /* of the first */
/* The text it points at, then "TEXT: LABEL" for each label, then "note: NOTE". */
const char *parts_of(struct season_text *read, const char *check);

#endif
