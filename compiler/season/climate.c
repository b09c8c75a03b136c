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

struct climate {
    struct arena *arena;
    const struct weather *weather;
    day_number first;
    size_t count;
    size_t blocks; /* whole ones */
    struct quantity_days *quantities;
};

const struct weather *climate_weather(const struct climate *climate)
{
    return climate->weather;
}

day_number climate_first(const struct climate *climate)
{
    return climate->first;
}

day_number climate_last(const struct climate *climate)
{
    return climate->first + (day_number)climate->count - 1;
}

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

static bool is_leap(int year)
{
    return days_in_month(year, 2) == 29;
}

int climate_day_of_year(day_number day)
{
    int gone = day_of_year(day) - 1;
    return gone + (gone >= FEB_29 && !is_leap(date_of_day(day).year));
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
    int last = date_of_day(climate_last(climate)).year;
    for (int year = date_of_day(climate->first).year; year <= last; year++)
        reaches[is_leap(year)] = true;
    for (int leap = 0; leap <= 1; leap++)
        if (known && reaches[leap])
            normals_daily(means, leap, expected[leap]);
        else
            for (int day = 0; day < YEAR_DAYS; day++)
                expected[leap][day] = NAN;
}

/* ---- the days ---- */

static void fill_series(struct reading *readings, const struct climate *climate,
                        enum weather_quantity quantity, const struct weather_series *series,
                        enum reading_origin origin)
{
    for (size_t i = 0; i < series->rows.count; i++) {
        const struct weather_row *row = &series->rows.items[i];
        double value = row_value(row, quantity);
        if (!isnan(value))
            readings[row->day - climate->first] = (struct reading){value, origin, false};
    }
}

static enum reading_origin less_sure(enum reading_origin a, enum reading_origin b)
{
    return a < b ? a : b;
}

/* Means come of the high and the low, the soil's temperature of the means. */
static const struct reading *readings_of(const struct climate *climate, enum weather_quantity quantity)
{
    struct quantity_days *days = &climate->quantities[quantity];
    if (days->filled)
        return days->readings;
    if (quantity == WEATHER_MEAN) {
        const struct reading *highs = readings_of(climate, WEATHER_HIGH);
        const struct reading *lows = readings_of(climate, WEATHER_LOW);
        for (size_t i = 0; i < climate->count; i++)
            days->readings[i] = (struct reading){(highs[i].value + lows[i].value) / 2,
                                                 less_sure(highs[i].origin, lows[i].origin), false};
    } else {
        /* What is expected first, then the forecast over it, then what was measured. */
        double expected[2][YEAR_DAYS];
        expect(climate, quantity, expected);
        for (size_t i = 0; i < climate->count;) { /* year by year */
            int year = date_of_day(climate->first + (day_number)i).year, leap = is_leap(year);
            int gone = climate->first + (day_number)i - day_of_date((struct civil_date){year, 1, 1});
            for (; gone < YEAR_DAYS - !leap && i < climate->count; gone++, i++) {
                double value = expected[leap][gone];
                days->readings[i] =
                    (struct reading){value, isnan(value) ? READING_NONE : READING_EXPECTED, false};
            }
        }
        fill_series(days->readings, climate, quantity, &climate->weather->forecast, READING_FORECAST);
        fill_series(days->readings, climate, quantity, &climate->weather->history, READING_MEASURED);
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
                origin = less_sure(origin, air);
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
    if (day < climate->first || day > climate_last(climate))
        return (struct reading){.value = NAN};
    return readings_of(climate, quantity)[day - climate->first];
}

/* ---- runs of days ---- */

static struct weather_summary summary_of(struct reading reading)
{
    if (reading.origin == READING_NONE)
        return (struct weather_summary){.lowest = INFINITY, .highest = -INFINITY};
    return (struct weather_summary){reading.value,  reading.value,    reading.value, 1,
                                    reading.origin, reading.estimated};
}

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
    for (size_t i = from; i < end; i++)
        sum = summary_join(sum, summary_of(readings[i]));
    return sum;
}

/* A short run is added up day by day; a long one takes the sums of powers of two that were made once. */
struct weather_summary climate_summary(const struct climate *climate, enum weather_quantity quantity,
                                       day_number first, day_number last)
{
    struct weather_summary sum = summary_of((struct reading){.value = NAN});
    first = first > climate->first ? first : climate->first;
    last = last < climate_last(climate) ? last : climate_last(climate);
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

static void reach_series(const struct weather_series *series, day_number *first, day_number *last)
{
    if (series->rows.count == 0)
        return;
    day_number begins = series->rows.items[0].day, ends = series->rows.items[series->rows.count - 1].day;
    *first = begins < *first ? begins : *first;
    *last = ends > *last ? ends : *last;
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
    reach_series(&weather->history, &first, &last);
    reach_series(&weather->forecast, &first, &last);
    *climate =
        (struct climate){.arena = arena,
                         .weather = weather,
                         .first = first - SOIL_DAYS,
                         .count = (size_t)(last - first) + 1 + SOIL_DAYS,
                         .quantities = ARENA_ARRAY(arena, WEATHER_QUANTITY_COUNT, struct quantity_days)};
    climate->blocks = climate->count / BLOCK;
    for (int quantity = 0; quantity < WEATHER_QUANTITY_COUNT; quantity++)
        climate->quantities[quantity] = (struct quantity_days){
            .readings = ARENA_ARRAY(arena, climate->count, struct reading),
            .summaries = ARENA_ARRAY(arena, 2 * climate->blocks, struct weather_summary)};
    return climate;
}
