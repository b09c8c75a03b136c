#include "compiler/season/climate.h"

#include "compiler/season/soil_temperature.h"

#include <assert.h>
#include <math.h>

/* The days of one quantity, worked out when they are first asked for: most plans use one or two.
 * Their memory is set aside from the beginning, since who asks may give back what was taken meanwhile. */
struct quantity_days {
    struct reading *readings; /* by day - first */
    /* Long runs of days are summed up from blocks of days, and halves of halves of those. Of n blocks the
     * summary of block i is at n + i, and each below n is of the two at twice its place. */
    struct weather_summary *summaries;
    bool filled, summed;
};

bool climate_years(const struct climate *climate, int *first, int *last)
{
    const struct weather_series *history = &climate->weather->history;
    if (history->rows.count == 0)
        return false;
    *first = date_of_day(history->rows.items[0].day).year;
    *last = date_of_day(history->rows.items[history->rows.count - 1].day).year;
    return true;
}

/* ---- what a day is expected to be like ---- */

/* Means and degree days are no column of a file. */
static double row_value(const struct weather_row *row, enum weather_quantity quantity)
{
    switch (quantity) {
    case WEATHER_HIGH:
        return row->high;
    case WEATHER_LOW:
        return row->low;
    case WEATHER_SOIL:
        return row->soil;
    case WEATHER_RAIN:
        return row->rain;
    case WEATHER_MEAN:
    case WEATHER_DEGREE_DAYS:
        return NAN;
    }
    return NAN;
}

enum { FEB_29 = 31 + 28 }; /* as a day of the year, from 0 */

int climate_day_of_year(day_number day)
{
    int gone = day_of_year(day) - 1;
    return gone + (gone >= FEB_29 && days_in_month(date_of_day(day).year, 2) < 29);
}

/* The normals stated, or else the means of the history, month by month; [leap year], by day of the year from
 * 0. Most seasons see no leap year: then its days need not be smoothed. */
static void expect(const struct climate *climate, enum weather_quantity quantity,
                   double expected[2][YEAR_DAYS])
{
    const struct weather *weather = climate->weather;
    const double *const normals[WEATHER_QUANTITY_COUNT] = {
        [WEATHER_HIGH] = weather->high, [WEATHER_LOW] = weather->low, [WEATHER_SOIL] = weather->soil};
    const double *stated = normals[quantity]; /* by month 1 to 12; of rain and means none */
    double means[13];
    bool known = false, reaches[2] = {false, false};
    /* Where no normals are stated, the means of the history stand in. */
    double sums[13] = {0};
    int days[13] = {0};
    for (size_t i = 0; i < climate->weather->history.rows.count; i++) {
        double value = row_value(&climate->weather->history.rows.items[i], quantity);
        int month = date_of_day(climate->weather->history.rows.items[i].day).month;
        sums[month] += isnan(value) ? 0 : value;
        days[month] += !isnan(value);
    }
    for (int month = 1; month <= 12; month++)
        means[month] = days[month] >= MONTH_DAYS ? sums[month] / days[month] : NAN;
    for (int month = 1; month <= 12; month++) {
        if (stated && !isnan(stated[month]))
            means[month] = stated[month];
        known = known || !isnan(means[month]);
    }
    for (int year = date_of_day(climate->first).year; year <= date_of_day(climate->last).year; year++)
        reaches[days_in_month(year, 2) == 29] = true;
    for (int leap = 0; leap <= 1; leap++)
        if (known && reaches[leap])
            normals_daily(means, leap, expected[leap]);
        else
            for (int day = 0; day < YEAR_DAYS; day++)
                expected[leap][day] = NAN;
}

/* ---- the days ---- */

/* Means come of the high and the low, the soil's temperature of the means. */
static const struct reading *readings_of(const struct climate *climate, enum weather_quantity quantity)
{
    struct quantity_days *days = &climate->quantities[quantity];
    if (days->filled)
        return days->readings;
    if (quantity == WEATHER_MEAN) {
        const struct reading *highs = readings_of(climate, WEATHER_HIGH);
        const struct reading *lows = readings_of(climate, WEATHER_LOW);
        for (size_t i = 0; i < climate->count; i++) {
            enum reading_origin origin = highs[i].origin < lows[i].origin ? highs[i].origin : lows[i].origin;
            days->readings[i] = (struct reading){(highs[i].value + lows[i].value) / 2, origin, false};
        }
    } else {
        /* What is expected first, then the forecast over it, then what was measured. */
        double expected[2][YEAR_DAYS];
        expect(climate, quantity, expected);
        for (size_t i = 0; i < climate->count;) { /* year by year */
            int year = date_of_day(climate->first + (day_number)i).year, leap = days_in_month(year, 2) == 29;
            int gone = climate->first + (day_number)i - day_of_date((struct civil_date){year, 1, 1});
            for (; gone < YEAR_DAYS - !leap && i < climate->count; gone++, i++) {
                double value = expected[leap][gone];
                days->readings[i] =
                    (struct reading){value, isnan(value) ? READING_NONE : READING_EXPECTED, false};
            }
        }
        const struct weather_series *surer[] = {&climate->weather->forecast, &climate->weather->history};
        for (int k = 0; k < 2; k++)
            for (size_t i = 0; i < surer[k]->rows.count; i++) {
                const struct weather_row *row = &surer[k]->rows.items[i];
                struct reading reading = {row_value(row, quantity), k ? READING_MEASURED : READING_FORECAST,
                                          false};
                if (!isnan(reading.value))
                    days->readings[row->day - climate->first] = reading;
            }
    }
    if (quantity == WEATHER_SOIL) {
        /* A reading of the soil stays; what is only expected of it gives way to surer air. */
        const struct reading *airs = readings_of(climate, WEATHER_MEAN);
        struct arena *scratch = arena_scratch(climate->arena);
        struct arena_mark mark = arena_mark(scratch);
        double *mean = ARENA_ARRAY(scratch, climate->count, double);
        double *soil = ARENA_ARRAY(scratch, climate->count, double);
        for (size_t i = 0; i < climate->count; i++)
            mean[i] = airs[i].value;
        soil_estimate(mean, climate->count, soil);
        for (size_t i = 0; i < climate->count; i++) {
            /* An estimate is as sure as the least sure of the days of air that it rests on. */
            enum reading_origin origin = READING_MEASURED;
            for (size_t back = 0; back < SOIL_DAYS && back <= i; back++) {
                enum reading_origin air = airs[i - back].origin;
                if (air == READING_NONE)
                    break;
                origin = air < origin ? air : origin;
            }
            if (!isnan(soil[i]) && days->readings[i].origin <= READING_EXPECTED &&
                origin > days->readings[i].origin)
                days->readings[i] = (struct reading){soil[i], origin, true};
        }
        arena_rewind(scratch, mark);
    }
    days->filled = true;
    return days->readings;
}

struct reading climate_reading(const struct climate *climate, enum weather_quantity quantity, day_number day)
{
    assert(quantity < WEATHER_QUANTITY_COUNT);
    if (day < climate->first || day > climate->last)
        return (struct reading){.value = NAN};
    return readings_of(climate, quantity)[day - climate->first];
}

/* ---- runs of days ---- */

static struct weather_summary summary_join(struct weather_summary a, struct weather_summary b)
{
    if (!a.known || !b.known)
        return a.known ? a : b;
    return (struct weather_summary){.lowest = a.lowest < b.lowest ? a.lowest : b.lowest,
                                    .highest = a.highest > b.highest ? a.highest : b.highest,
                                    .sum = a.sum + b.sum,
                                    .known = a.known + b.known,
                                    .origin = a.origin < b.origin ? a.origin : b.origin,
                                    .estimated = a.estimated || b.estimated};
}

enum { BLOCK = 32, LONG_RUN = 64 }; /* days; of shorter runs each day is looked at */

/* From the summary of the days before it. */
static struct weather_summary summary_add_days(struct weather_summary sum, const struct reading *readings,
                                               size_t from, size_t end)
{
    for (size_t i = from; i < end; i++) {
        double value = readings[i].value;
        struct weather_summary day = {value, value, value, 1, readings[i].origin, readings[i].estimated};
        if (day.origin != READING_NONE)
            sum = summary_join(sum, day);
    }
    return sum;
}

/* A short run is added up day by day; a long one takes the sums of powers of two that were made once. */
struct weather_summary climate_summary(const struct climate *climate, enum weather_quantity quantity,
                                       day_number first, day_number last)
{
    struct weather_summary sum = {.lowest = INFINITY, .highest = -INFINITY};
    first = first > climate->first ? first : climate->first;
    last = last < climate->last ? last : climate->last;
    if (last < first)
        return sum;
    size_t from = (size_t)(first - climate->first), end = (size_t)(last - climate->first) + 1;
    const struct reading *readings = readings_of(climate, quantity);
    if (end - from < LONG_RUN)
        return summary_add_days(sum, readings, from, end);
    /* Of the blocks first, then of the halves. */
    struct quantity_days *days = &climate->quantities[quantity];
    struct weather_summary *sums = days->summaries;
    size_t count = climate->blocks;
    for (size_t i = 0; i < count && !days->summed; i++)
        sums[count + i] = summary_add_days(sum, readings, i * BLOCK, (i + 1) * BLOCK);
    for (size_t i = count; i-- > 1 && !days->summed;)
        sums[i] = summary_join(sums[2 * i], sums[2 * i + 1]);
    days->summed = true;
    size_t first_block = (from + BLOCK - 1) / BLOCK, end_block = end / BLOCK;
    sum = summary_add_days(sum, readings, from, first_block * BLOCK);
    sum = summary_add_days(sum, readings, end_block * BLOCK, end);
    for (from = first_block + climate->blocks, end = end_block + climate->blocks; from < end;
         from /= 2, end /= 2) {
        if (from % 2)
            sum = summary_join(sum, sums[from++]);
        if (end % 2)
            sum = summary_join(sum, sums[--end]);
    }
    return sum;
}

/* By the lows of the middle of each month, of either kind of year. */
int climate_hottest_month(const struct climate *climate)
{
    int hottest = 7;
    double most = -INFINITY, expected[2][YEAR_DAYS];
    expect(climate, WEATHER_LOW, expected);
    for (int month = 1; month <= 12; month++)
        for (int leap = 0; leap <= 1; leap++) {
            day_number middle = day_of_date((struct civil_date){leap ? 2000 : 2001, month, 15});
            double low = expected[leap][day_of_year(middle) - 1];
            if (low > most) {
                most = low;
                hottest = month;
            }
        }
    return hottest;
}

/* Soil is estimated from days before, so that the first ones rest on as many as the others. */
const struct climate *climate_make(struct arena *arena, const struct weather *weather, day_number first,
                                   day_number last)
{
    struct climate *climate = ARENA_NEW(arena, struct climate);
    const struct weather_series *files[] = {&weather->history, &weather->forecast};
    for (int i = 0; i < 2; i++)
        if (files[i]->rows.count) {
            day_number begins = files[i]->rows.items[0].day;
            day_number ends = files[i]->rows.items[files[i]->rows.count - 1].day;
            first = begins < first ? begins : first;
            last = ends > last ? ends : last;
        }
    *climate =
        (struct climate){.arena = arena,
                         .weather = weather,
                         .first = first - SOIL_DAYS,
                         .last = last,
                         .count = (size_t)(last - first) + 1 + SOIL_DAYS,
                         .quantities = ARENA_ARRAY(arena, WEATHER_QUANTITY_COUNT, struct quantity_days)};
    climate->blocks = climate->count / BLOCK;
    for (int quantity = 0; quantity < WEATHER_QUANTITY_COUNT; quantity++)
        climate->quantities[quantity] = (struct quantity_days){
            .readings = ARENA_ARRAY(arena, climate->count, struct reading),
            .summaries = ARENA_ARRAY(arena, 2 * climate->blocks, struct weather_summary)};
    return climate;
}
