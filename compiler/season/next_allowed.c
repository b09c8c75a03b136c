#include "compiler/season/next_allowed.h"

#include "compiler/model/tolerance.h"

#include <assert.h>

/* What was done of one thing on one zone, by day: kg/m2 of a nutrient, or of a product as its label measures
 * it.
 */
struct dose {
    day_number day;
    double amount;
};

struct doses {
    struct dose *items;
    size_t count, capacity;
};

static void dose_add(const struct season *season, struct doses *doses, day_number day, double amount)
{
    struct dose dose = {day, 0};
    if (!(amount > 0))
        return;
    if (doses->count == 0 || doses->items[doses->count - 1].day != day)
        VECTOR_PUSH(season->arena, doses, dose);
    doses->items[doses->count - 1].amount += amount;
}

/* kg/m2 of what the nutrient's form names; or where there is none, kg/m2 or m3/m2 of the product. */
static double amount_of(const struct amount *amount, const struct nutrient_form *form,
                        const struct product *product)
{
    if (form)
        return supplied_as(amount->supplied, form);
    assert(product);
    if (amount->product != product)
        return 0;
    bool volume = product->label.year_volume;
    if (amount->volume == volume)
        return amount->rate;
    return volume ? amount->mass_rate / product->density : amount->mass_rate;
}

/* The calendar is in order of days. */
static struct doses doses_done(const struct season *season, const struct zone *zone,
                               const struct nutrient_form *form, const struct product *product)
{
    const struct ledger *ledger = &season->ledgers[zone->index];
    struct doses doses = {0};
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        for (size_t j = 0; j < application->occurrences.count; j++) {
            const struct occurrence *occurrence = application->occurrences.items[j];
            for (size_t k = 0; occurrence->done && k < occurrence->amounts.count; k++)
                if (occurrence->amounts.items[k].zone == zone)
                    dose_add(season, &doses, application->day,
                             amount_of(&occurrence->amounts.items[k], form, product));
        }
    }
    return doses;
}

/* ---- a wait ---- */

static day_number after_wait(const struct doses *doses, struct duration wait, day_number after)
{
    day_number day = after + 1;
    for (size_t i = 0; i < doses->count; i++) {
        day_number done = doses->items[i].day;
        if (day_after(day, wait) > done && day < day_after(done, wait))
            day = day_after(done, wait); /* the doses come in order of their days */
    }
    return day;
}

/* ---- a calendar year ---- */

static int year_of(day_number day)
{
    return date_of_day(day).year;
}

/* `most` of amounts, or of days where it is counted in days. */
static day_number after_year(const struct doses *doses, double most, bool in_days, day_number after)
{
    day_number day = after + 1;
    double sum = INFINITY;
    while (!exceeds(most, sum)) {
        if (sum < INFINITY)
            day = day_of_date((struct civil_date){year_of(day) + 1, 1, 1});
        sum = 0;
        for (size_t i = 0; i < doses->count; i++)
            if (year_of(doses->items[i].day) == year_of(day))
                sum += in_days ? 1 : doses->items[i].amount;
    }
    return day;
}

/* ---- days of every year ---- */

static day_number after_window(const struct doses *doses, const struct limit *limit, day_number after)
{
    struct day_span window = limit_window_on(limit, after + 1);
    double sum = 0;
    for (size_t i = 0; i < doses->count; i++)
        if (doses->items[i].day >= window.first && doses->items[i].day <= window.last)
            sum += doses->items[i].amount;
    bool full = limit_window_holds(limit, after + 1) && !exceeds(limit->most, sum);
    return full ? window.last + 1 : after + 1;
}

/* ---- any run of days ---- */

/* A run of days is full where the doses in it leave nothing of `most`. Doses `first` to `last` fill one when
 * less than `time` lies between them; every run that holds them both is full, so the days shut are those
 * whose own run holds `last`, and those of the run that begins with `first`. False where no run that begins
 * with `first` is full. */
static bool run_fills(const struct doses *doses, size_t first, struct duration time, double most,
                      size_t *last)
{
    double sum = 0;
    for (*last = first; *last < doses->count; ++*last) {
        if (doses->items[*last].day >= day_after(doses->items[first].day, time))
            return false;
        sum += doses->items[*last].amount;
        if (!exceeds(most, sum))
            return true;
    }
    return false;
}

/* Both ends of the days shut grow with `first`, so that one pass does. */
static day_number after_run(const struct doses *doses, struct duration time, double most, day_number after)
{
    day_number day = after + 1;
    for (size_t first = 0, last; first < doses->count; first++)
        if (run_fills(doses, first, time, most, &last) && day_after(day, time) > doses->items[last].day &&
            day < day_after(doses->items[first].day, time))
            day = day_after(doses->items[first].day, time);
    return day;
}

/* ---- days between kinds ---- */

static bool done_on(const struct occurrence *occurrence, const struct zone *zone)
{
    bool everywhere = occurrence->amounts.count + occurrence->zones.count == 0;
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        if (occurrence->amounts.items[i].zone == zone)
            return true;
    for (size_t i = 0; i < occurrence->zones.count && occurrence->amounts.count == 0; i++)
        if (occurrence->zones.items[i] == zone)
            return true;
    return everywhere;
}

static bool done_in_class(const struct occurrence *occurrence, const struct zone *zone,
                          const struct treatment_class *class)
{
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        if (occurrence->amounts.items[i].zone == zone &&
            product_in_class(occurrence->amounts.items[i].product, class))
            return true;
    return treatment_in_class(occurrence->treatment, class);
}

/* The calendar is in order of days, and the day only rises: what was passed shuts it no more. */
day_number between_again(const struct season *season, const struct limit *limit,
                         const struct product *product, const struct zone *zone, day_number after)
{
    day_number day = after + 1;
    if (limit->kind != LIMIT_WAIT_BETWEEN)
        return day;
    bool first = product_in_class(product, &limit->first), second = product_in_class(product, &limit->second);
    for (size_t i = 0; i < season->calendar_count && (first || second); i++) {
        const struct occurrence *occurrence = season->calendar[i];
        if (!occurrence->done || !done_on(occurrence, zone))
            continue;
        day_number done = occurrence->day, end = day_after(done, limit->time);
        bool of_first = done_in_class(occurrence, zone, &limit->first);
        bool of_second = done_in_class(occurrence, zone, &limit->second);
        bool behind = (second && of_first) || (!limit->directed && first && of_second);
        bool ahead = (first && of_second) || (!limit->directed && second && of_first);
        if (behind && day >= done && day < end)
            day = end;
        if (ahead && day < done && day_after(day, limit->time) > done)
            day = behind ? end : done + 1;
    }
    return day;
}

/* ---- limits and labels ---- */

bool limit_recovers(const struct limit *limit)
{
    return limit->kind == LIMIT_PER_APPLICATION || limit->kind == LIMIT_PER_YEAR ||
           limit->kind == LIMIT_PER_PERIOD || limit->kind == LIMIT_PER_WINDOW || limit->kind == LIMIT_WAIT;
}

day_number limit_again(const struct season *season, const struct limit *limit, const struct zone *zone,
                       day_number after)
{
    struct doses doses = doses_done(season, zone, limit->nutrient, NULL);
    if (limit->kind == LIMIT_WAIT)
        return after_wait(&doses, limit->time, after);
    if (limit->kind == LIMIT_PER_YEAR)
        return after_year(&doses, limit->most, false, after);
    if (limit->kind == LIMIT_PER_WINDOW)
        return after_window(&doses, limit, after);
    struct duration day = {.days = 1};
    return after_run(&doses, limit->kind == LIMIT_PER_PERIOD ? limit->time : day, limit->most, after);
}

struct place label_cap_place(const struct product *product, enum label_cap cap)
{
    const struct product_label *label = &product->label;
    const struct place none = {0};
    switch (cap) {
    case LABEL_INTERVAL:
        return duration_any(label->interval) ? label->interval_place : none;
    case LABEL_TIMES:
        return label->times_a_year > 0 ? label->times_place : none;
    case LABEL_YEAR:
        return isnan(label->year_most) ? none : label->year_place;
    }
    return none;
}

day_number label_again(const struct season *season, const struct product *product, enum label_cap cap,
                       const struct zone *zone, day_number after)
{
    struct doses doses = doses_done(season, zone, NULL, product);
    switch (cap) {
    case LABEL_INTERVAL:
        return after_wait(&doses, product->label.interval, after);
    case LABEL_TIMES:
        return after_year(&doses, product->label.times_a_year, true, after);
    case LABEL_YEAR:
        return after_year(&doses, product->label.year_most, false, after);
    }
    return after + 1;
}
