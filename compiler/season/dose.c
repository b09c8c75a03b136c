#include "compiler/season/dose.h"

#include "compiler/model/tolerance.h"

#include <assert.h>
#include <stdlib.h>

/* ---- what is counted ---- */

/* A switch without a default: a new measure of doses has to say here what it counts. */
double amount_measured(const struct amount *amount, const struct yardstick *yardstick)
{
    if (yardstick->form)
        return supplied_as(amount->supplied, yardstick->form);
    if (amount->product != yardstick->product)
        return 0;
    switch (yardstick->measure) {
    case DOSE_BY_MASS:
    case DOSE_BY_VOLUME:
        return amount_rate_as(amount, yardstick->measure == DOSE_BY_VOLUME);
    case DOSE_BY_TIMES:
        return amount->rate > 0;
    }
    return 0;
}

/* ---- what has happened ---- */

/* By address, since an occurrence may hold ten thousand amounts. */
const struct occurrence *application_owner(const struct application *application, const struct amount *amount)
{
    for (size_t i = 0; i < application->occurrences.count; i++) {
        const struct occurrence *occurrence = application->occurrences.items[i];
        uintptr_t first = (uintptr_t)occurrence->amounts.items;
        uintptr_t end = first + occurrence->amounts.count * sizeof *amount;
        if ((uintptr_t)amount >= first && (uintptr_t)amount < end)
            return occurrence;
    }
    assert(0 && "an application holds the occurrences of its amounts");
    abort();
}

bool amount_done(const struct application *application, const struct amount *amount)
{
    return amount->recorded || application_owner(application, amount)->done;
}

bool application_done(const struct application *application, const struct nutrient_form *form)
{
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        if ((!form || amount->supplied[form->nutrient] > 0) && !amount_done(application, amount))
            return false;
    }
    return true;
}

/* ---- doses ---- */

/* The sums of nutrients are the application's own, so that none differs from another by its rounding. */
struct doses doses_of(struct arena *arena, const struct ledger *ledger, const struct yardstick *yardstick,
                      bool done_only)
{
    struct doses doses = {0};
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        struct dose dose = {.application = application, .day = application->day, .done = true};
        if (yardstick->form && !(application->supplied[yardstick->form->nutrient] > 0))
            continue;
        for (size_t j = 0; j < application->amounts.count; j++) {
            const struct amount *amount = application->amounts.items[j];
            double value = amount_measured(amount, yardstick);
            if (!(value > 0))
                continue;
            bool done = amount_done(application, amount);
            dose.done = dose.done && (done || done_only);
            if (done_only && !done)
                continue;
            dose.value = yardstick->measure == DOSE_BY_TIMES ? 1 : dose.value + value;
        }
        if (yardstick->form && !done_only)
            dose.value = supplied_as(application->supplied, yardstick->form);
        if (!(dose.value > 0))
            continue;
        if (!doses.items) { /* most applications have some */
            doses.capacity = ledger->applications.count - i;
            doses.items = ARENA_ARRAY(arena, doses.capacity, struct dose);
        }
        doses.items[doses.count++] = dose;
    }
    return doses;
}

/* ---- what counts together ---- */

/* What is counted by no span of its own counts by the day. */
struct dose_span limit_span(const struct limit *limit)
{
    switch (limit->kind) {
    case LIMIT_PER_YEAR:
        return (struct dose_span){.kind = SPAN_YEAR};
    case LIMIT_PER_PERIOD:
        return (struct dose_span){.kind = SPAN_DAYS, .time = limit->time};
    case LIMIT_PER_WINDOW:
        return (struct dose_span){.kind = SPAN_WINDOW, .limit = limit};
    case LIMIT_PER_APPLICATION:
    case LIMIT_SLOW_SHARE:
    case LIMIT_WAIT:
    case LIMIT_WAIT_BETWEEN:
    case LIMIT_FOLLOW:
    case LIMIT_ORDER:
    case LIMIT_CLOSED:
    case LIMIT_CLOSED_DAYS:
    case LIMIT_NEED:
    case LIMIT_CONTENT:
    case LIMIT_HEAT:
    case LIMIT_WEATHER:
    case LIMIT_DORMANT:
    case LIMIT_WATER:
    case LIMIT_WEEKDAYS:
        break;
    }
    return (struct dose_span){.kind = SPAN_DAYS, .time = {.days = 1}};
}

static int month_day(struct civil_date date)
{
    return date.month * 32 + date.day;
}

bool dose_window_holds(const struct limit *limit, day_number day)
{
    struct civil_date first = limit->closed_first, last = limit->closed_last;
    if (first.year && last.year)
        return day >= day_of_date(first) && day <= day_of_date(last);
    if (first.year || last.year)
        return false; /* reported where it was read */
    int from = month_day(first), to = month_day(last), at = month_day(date_of_day(day));
    return from <= to ? at >= from && at <= to : at >= from || at <= to;
}

int dose_window_year(const struct limit *limit, day_number day)
{
    struct civil_date first = limit->closed_first, date = date_of_day(day);
    bool over_new_year = month_day(first) > month_day(limit->closed_last);
    return date.year - (!first.year && over_new_year && month_day(date) < month_day(first));
}

/* The first day that no longer counts with `first`; `first` itself where it counts with none. */
static day_number span_end(const struct dose_span *span, day_number first)
{
    switch (span->kind) {
    case SPAN_DAYS:
        return day_after(first, span->time);
    case SPAN_YEAR:
        return day_of_date((struct civil_date){date_of_day(first).year + 1, 1, 1});
    case SPAN_WINDOW:
        break;
    }
    if (!dose_window_holds(span->limit, first))
        return first;
    struct civil_date last = span->limit->closed_last;
    if (!last.year) {
        last.year =
            dose_window_year(span->limit, first) + (month_day(span->limit->closed_first) > month_day(last));
        last.day =
            last.day < days_in_month(last.year, last.month) ? last.day : days_in_month(last.year, last.month);
    }
    return day_of_date(last) + 1;
}

bool dose_run_complete(const struct dose_run *run, const struct doses *doses)
{
    return run->end == doses->count || doses->items[run->end].day >= run->until;
}

/* What leaves a run is taken off its sum, which is begun anew when the run has been emptied: so it is off by
 * no more than rounding over one run. */
bool dose_run_next(struct dose_run *run, const struct doses *doses, const struct dose_span *span)
{
    while (span->kind == SPAN_WINDOW && run->end < doses->count &&
           !dose_window_holds(span->limit, doses->items[run->end].day))
        *run = (struct dose_run){.first = run->end + 1, .end = run->end + 1};
    if (run->end == doses->count)
        return false;
    const struct dose *last = &doses->items[run->end];
    while (run->first < run->end && last->day >= run->until) {
        run->total -= doses->items[run->first].value;
        run->planned -= !doses->items[run->first].done;
        run->first++;
        run->until = span_end(span, doses->items[run->first].day);
    }
    if (run->end == run->first)
        run->until = span_end(span, last->day);
    if (run->first == run->end)
        run->total = 0;
    run->total += last->value;
    run->planned += !last->done;
    run->end++;
    return true;
}

/* A run is full where its doses leave nothing of `most`. Doses `first` to `last` fill one when they count
 * together; every run that holds them both is full, so the days shut are those that `last` still counts with,
 * and those before the end of what counts with `first`. Both grow with `first`, so that one pass does. */
day_number doses_leave_room(const struct doses *doses, const struct dose_span *span, double most,
                            day_number after)
{
    day_number day = after + 1;
    for (size_t first = 0; first < doses->count; first++) {
        day_number end = span_end(span, doses->items[first].day), filled = DAY_NEVER;
        double sum = 0;
        for (size_t i = first; i < doses->count && doses->items[i].day < end && filled == DAY_NEVER; i++) {
            sum += doses->items[i].value;
            if (!exceeds(most, sum))
                filled = doses->items[i].day;
        }
        if (filled != DAY_NEVER && span_end(span, day) > filled && day < end)
            day = end;
    }
    return day;
}
