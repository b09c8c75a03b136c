#include "compiler/season/degree_sum.h"

#include <math.h>

enum { FEB_29 = 31 + 28 }; /* as a day of the year, from 0 */

/* Begun anew each year, on Mar 1 for Feb 29 where there is none; before the first time nothing is known. */
const struct degree_sum *degree_sums_make(struct arena *arena, const struct climate *climate,
                                          const struct degree_rule *rule, day_number start)
{
    size_t count = climate->count;
    struct degree_sum *sums = ARENA_ARRAY(arena, count, struct degree_sum);
    struct degree_sum sum = {.sum = NAN};
    struct civil_date begin = date_of_day(start);
    int begins = day_of_year(day_of_date((struct civil_date){2000, begin.month, begin.day})) - 1, before = -1;
    /* What the history's years brought by day of a leap year, from 0. */
    const struct weather_series *history = &climate->weather->history;
    double of_years[YEAR_DAYS] = {0};
    int years[YEAR_DAYS] = {0};
    for (size_t i = 0; i < history->rows.count; i++) {
        const struct weather_row *row = &history->rows.items[i];
        double value = degree_days(rule, row->high, row->low);
        int day = climate_day_of_year(row->day);
        of_years[day] += isnan(value) ? 0 : value;
        years[day] += !isnan(value);
    }
    for (size_t i = 0; i < count; i++) {
        day_number day = climate->first + (day_number)i;
        int at = climate_day_of_year(day);
        if (at == begins || (begins == FEB_29 && at == FEB_29 + 1 && before < FEB_29))
            sum = (struct degree_sum){.sum = 0};
        before = at;
        /* A day that is only expected is taken as the mean of that day's degree days in the history. */
        struct reading high = climate_reading(climate, WEATHER_HIGH, day);
        struct reading low = climate_reading(climate, WEATHER_LOW, day);
        enum reading_origin origin = high.origin < low.origin ? high.origin : low.origin;
        double mean = years[at] ? of_years[at] / years[at] : NAN;
        sum.sum +=
            origin <= READING_EXPECTED && !isnan(mean) ? mean : degree_days(rule, high.value, low.value);
        sum.days++;
        sum.doubts += origin != READING_MEASURED;
        sums[i] = sum;
    }
    return sums;
}
