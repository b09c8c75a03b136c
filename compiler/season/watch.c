#include "compiler/season/watch.h"

#include "compiler/model/tolerance.h"
#include "compiler/season/degree_sum.h"

#include <stdlib.h>

struct watch {
    const struct climate *climate;
    const struct weather_condition *condition;
    const struct degree_sum *sums; /* NULL but for degree days */
    int first_year, last_year;     /* of the history; first > last without */
    int midsummer;                 /* month, for frost */
};

const struct watch *watch_make(struct arena *arena, const struct climate *climate,
                               const struct weather_condition *condition)
{
    struct watch *watch = ARENA_NEW(arena, struct watch);
    struct degree_rule rule = {condition->base, condition->cap, condition->clipped};
    *watch = (struct watch){.climate = climate, .condition = condition, .first_year = 1};
    climate_years(climate, &watch->first_year, &watch->last_year);
    if (condition->frost)
        watch->midsummer = climate_hottest_month(climate);
    if (condition->quantity == WEATHER_DEGREE_DAYS)
        watch->sums = degree_sums_make(arena, climate, &rule, condition->start);
    return watch;
}

const struct weather_condition *watch_condition(const struct watch *watch)
{
    return watch->condition;
}

/* ---- one value ---- */

static bool kept_by(const struct weather_condition *condition, double value)
{
    switch (condition->side) {
    case SIDE_BELOW:
        return exceeds(condition->limit, value);
    case SIDE_ABOVE:
        return exceeds(value, condition->limit);
    case SIDE_AT_MOST:
        return !exceeds(value, condition->limit);
    case SIDE_AT_LEAST:
        return !exceeds(condition->limit, value);
    }
    return false;
}

/* The days that the condition looks at, counted from the day. After midsummer the last frost has long been,
 * and before it the first one has not come: then the day speaks for itself. */
void watch_span(const struct watch *watch, day_number day, int *from, int *to)
{
    const struct weather_condition *condition = watch->condition;
    *from = condition->from;
    *to = condition->to;
    if (condition->frost == FROST_NONE)
        return;
    /* The middle of the hottest month nearest to the day, so that the frosts of a winter belong to the spring
     * that ends it or the autumn that begins it, on either side of the equator. */
    int year = date_of_day(day).year;
    day_number nearest = day_of_date((struct civil_date){year - 1, watch->midsummer, 15});
    for (int next = year; next <= year + 1; next++) {
        day_number other = day_of_date((struct civil_date){next, watch->midsummer, 15});
        if (abs(other - day) < abs(nearest - day))
            nearest = other;
    }
    int midsummer = nearest - day;
    *from = condition->frost == FROST_FIRST && midsummer < 0 ? midsummer : 0;
    *to = condition->frost == FROST_LAST && midsummer > 0 ? midsummer : 0;
}

/* The readings of the days that the condition looks at. With some days not known, what is known may break
 * the condition already; but it cannot keep it, and a mean tells nothing. Rain, the only sum, is never below
 * zero. */
static struct weather_look look_at_readings(const struct watch *watch, day_number day)
{
    const struct weather_condition *condition = watch->condition;
    int from, to;
    watch_span(watch, day, &from, &to);
    struct weather_summary summary =
        climate_summary(watch->climate, condition->quantity, day + from, day + to);
    struct weather_look look = {.value = NAN, .origin = summary.origin, .estimated = summary.estimated};
    if (!summary.known)
        return look;
    switch (condition->way) {
    case WAY_EACH: { /* each of the days by the one nearest to breaking the condition */
        bool below = condition->side == SIDE_BELOW || condition->side == SIDE_AT_MOST;
        look.value = below ? summary.highest : summary.lowest;
        break;
    }
    case WAY_MEAN:
        look.value = summary.sum / summary.known;
        break;
    case WAY_SUM:
        look.value = summary.sum;
        break;
    }
    bool kept = kept_by(condition, look.value);
    if (summary.known == to - from + 1)
        look.verdict = kept ? VERDICT_KEPT : VERDICT_BROKEN;
    else if (!kept && condition->way != WAY_MEAN)
        look.verdict = VERDICT_BROKEN;
    return look;
}

/* NULL outside the days of the climate. */
static const struct degree_sum *sum_on(const struct watch *watch, day_number day)
{
    if (day < watch->climate->first || day > watch->climate->last)
        return NULL;
    return &watch->sums[day - watch->climate->first];
}

/* ---- years ---- */

/* A sum with more than a tenth of its days unmeasured says nothing of that year. */
enum verdict watch_year(const struct watch *watch, day_number day, int year)
{
    struct civil_date date = date_of_day(day);
    int length = days_in_month(year, date.month);
    day_number then =
        day_of_date((struct civil_date){year, date.month, date.day < length ? date.day : length});
    if (!watch->sums) {
        struct weather_look look = look_at_readings(watch, then);
        return look.origin == READING_MEASURED ? look.verdict : VERDICT_UNKNOWN;
    }
    const struct degree_sum *sum = sum_on(watch, then);
    if (day < watch->condition->start)
        return VERDICT_BROKEN;
    if (!sum || isnan(sum->sum) || sum->doubts * 10 > sum->days)
        return VERDICT_UNKNOWN;
    return kept_by(watch->condition, sum->sum) ? VERDICT_KEPT : VERDICT_BROKEN;
}

struct weather_odds watch_odds(const struct watch *watch, day_number day)
{
    struct weather_odds odds = {0};
    for (int year = watch->first_year; year <= watch->last_year; year++) {
        enum verdict verdict = watch_year(watch, day, year);
        odds.kept += verdict == VERDICT_KEPT;
        odds.known += verdict != VERDICT_UNKNOWN;
    }
    return odds;
}

/* ---- days ---- */

/* A day that is measured or forecast speaks for itself; else so many years in so many do, where the condition
 * says so. */
struct weather_look watch_day(const struct watch *watch, day_number day)
{
    const struct weather_condition *condition = watch->condition;
    struct weather_look look = {.value = NAN};
    if (!watch->sums) {
        look = look_at_readings(watch, day);
    } else if (day < condition->start) {
        look = (struct weather_look){.verdict = VERDICT_BROKEN, .value = 0, .origin = READING_MEASURED};
    } else {
        const struct degree_sum *sum = sum_on(watch, day);
        if (sum && !isnan(sum->sum))
            look =
                (struct weather_look){.verdict = kept_by(condition, sum->sum) ? VERDICT_KEPT : VERDICT_BROKEN,
                                      .value = sum->sum,
                                      .origin = sum->doubts ? READING_EXPECTED : READING_MEASURED};
    }
    bool settled = look.verdict != VERDICT_UNKNOWN && look.origin >= READING_FORECAST;
    if (condition->years == 0 || settled)
        return look;
    struct weather_odds odds = watch_odds(watch, day);
    struct weather_look years = {.value = NAN, .origin = READING_MEASURED, .by_years = true, .odds = odds};
    if (odds.known)
        years.verdict = (int64_t)odds.kept * condition->of >= (int64_t)condition->years * odds.known
                            ? VERDICT_KEPT
                            : VERDICT_BROKEN;
    return condition->frost && years.verdict == VERDICT_UNKNOWN ? look : years;
}

static bool not_broken(day_number day, const void *context)
{
    return watch_day(context, day).verdict != VERDICT_BROKEN;
}

const struct day_set *watch_open(struct arena *arena, const struct watch *watch, const struct day_set *all)
{
    return day_set_keep_if(arena, all, not_broken, watch);
}
