/* A season from the text of a plan, for tests of days, amounts and readings. */
#ifndef PRILL_TESTS_SEASON_TEXT_H
#define PRILL_TESTS_SEASON_TEXT_H

#include "compiler/season/season.h"

struct season_text {
    struct arena arena;
    struct names names;
    struct reports reports;
    struct model *model;
    struct season *season;
};

/* The plan must be read without an error; otherwise the errors are printed and the test fails. */
void season_text_read(struct season_text *read, const char *plan);
/* The same of a plan in which some errors are meant. */
void season_text_read_faulty(struct season_text *read, const char *plan);
void season_text_free(struct season_text *read);

/* The occurrence of that name and time (from 1), which must be there. */
struct occurrence *season_text_find(struct season_text *read, const char *treatment, int time);
/* "2027-04-17"; "none" where it has no day. */
const char *season_text_day(struct season_text *read, const char *treatment, int time);
day_number text_day(const char *date);

const struct zone *season_text_zone(const struct season_text *read, const char *name);
/* The amount of that product and zone in the occurrence, which must be there. */
const struct amount *season_text_amount(struct season_text *read, const char *treatment, int time,
                                        const char *product, const char *zone);

#define assert_day(read, treatment, time, date)                                                              \
    assert_string_equal(season_text_day(read, treatment, time), date)

/* `value` within a `share` of what is expected. */
#define assert_near(value, expected, share)                                                                  \
    do {                                                                                                     \
        double found_ = (value), expected_ = (expected);                                                     \
        if (!(fabs(found_ - expected_) <= (share)*fabs(expected_)))                                          \
            fail_msg("%s is %.12g, not %.12g", #value, found_, expected_);                                   \
    } while (0)

#endif
