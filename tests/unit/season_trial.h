/* Every assignment of days tried on a small plan: what the dating of a season is held against. It reads the
 * model and the rules of season.h, and shares nothing with the propagation: all pairs, all days, no graph. */
#ifndef PRILL_TESTS_SEASON_TRIAL_H
#define PRILL_TESTS_SEASON_TRIAL_H

#include "tests/unit/season_text.h"

enum { TRIAL_OCCURRENCES = 14, TRIAL_DAYS = 40, TRIAL_CONSTRAINTS = 1000 };

struct trial_constraint { /* day[to] >= day[from] + least */
    int from, to, least;
};

struct trial {
    const struct season *season;
    bool records;
    int count;
    day_number first; /* of the days tried */
    int day_count;
    bool live[TRIAL_OCCURRENCES], fixed[TRIAL_OCCURRENCES], left_out[TRIAL_OCCURRENCES];
    int fixed_day[TRIAL_OCCURRENCES]; /* all days count from `first` */
    bool allowed[TRIAL_OCCURRENCES][TRIAL_DAYS];
    bool grounded[TRIAL_OCCURRENCES];
    int group[TRIAL_OCCURRENCES]; /* the smallest of those on the same day as stated */
    struct trial_constraint constraints[TRIAL_CONSTRAINTS];
    int constraint_count, own_count; /* those before own_count are the plan's own */

    bool found;
    int least[TRIAL_OCCURRENCES], greatest[TRIAL_OCCURRENCES]; /* over all solutions */
    int day[TRIAL_OCCURRENCES];
};

/* Makes the trial of the plan alone or with its records, and runs it. False where the plan's own statements
 * already leave no solution: then no order is known, and nothing more is. */
bool trial_run(struct trial *trial, const struct season *season, bool records, day_number first,
               int day_count);

/* Solutions of the occurrences not left out, once more. */
void trial_again(struct trial *trial);

#endif
