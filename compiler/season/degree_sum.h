/* Degree days summed up through the year, over all days that the weather is known or expected for. */
#ifndef PRILL_SEASON_DEGREE_SUM_H
#define PRILL_SEASON_DEGREE_SUM_H

#include "compiler/season/climate.h"
#include "compiler/season/degree_days.h"

/* Degree days day by day, summed up anew from the month and day of `start` in every year. */
struct degree_sum {
    double sum;       /* K days, the day itself included; NAN where a day of the sum is not known */
    int days, doubts; /* of the sum; those among them that were not measured */
};

/* One for each day of the climate. What a day to come will bring is taken as the mean of
 * the degree days of that day in the history's years, where there are any: degree days of a mean day are
 * fewer than the mean of days' degree days, near the base by much. Without a history they are those of the
 * expected high and low, and then real years mostly reach a sum earlier. */
const struct degree_sum *degree_sums_make(struct arena *arena, const struct climate *climate,
                                          const struct degree_rule *rule, day_number start);

#endif
