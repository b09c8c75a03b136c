#include "compiler/season/next_allowed.h"

#include "compiler/season/dose.h"

/* The doses come in order of their days, and the day only rises. */
static day_number after_wait(const struct doses *doses, struct duration wait, day_number after)
{
    day_number day = after + 1;
    for (size_t i = 0; i < doses->count; i++) {
        day_number done = doses->items[i].day;
        if (day_after(day, wait) > done && day < day_after(done, wait))
            day = day_after(done, wait);
    }
    return day;
}

/* ---- days between kinds ---- */

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
        /* Work that names neither zones nor amounts was done everywhere. */
        bool here = occurrence->amounts.count + occurrence->zones.count == 0;
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            here = here || occurrence->amounts.items[j].zone == zone;
        for (size_t j = 0; j < occurrence->zones.count && occurrence->amounts.count == 0; j++)
            here = here || occurrence->zones.items[j] == zone;
        if (!occurrence->done || !here)
            continue;
        day_number done = occurrence->day, end = day_after(done, limit->time);
        /* Of a class by what was planned, or by a product that was used here nevertheless. */
        bool of_first = occurrence_in_class(occurrence, &limit->first);
        bool of_second = occurrence_in_class(occurrence, &limit->second);
        for (size_t j = 0; j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            of_first |= amount->zone == zone && product_in_class(amount->product, &limit->first);
            of_second |= amount->zone == zone && product_in_class(amount->product, &limit->second);
        }
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
    struct yardstick yardstick = {.form = limit->nutrient};
    struct doses doses = doses_of(season->arena, &season->ledgers[zone->index], &yardstick, true);
    if (limit->kind == LIMIT_WAIT)
        return after_wait(&doses, limit->time, after);
    struct dose_span span = limit_span(limit);
    return doses_leave_room(&doses, &span, limit->most, after);
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

/* An interval is waited for; times and amounts of a year must leave room for one more. */
day_number label_again(const struct season *season, const struct product *product, enum label_cap cap,
                       const struct zone *zone, day_number after)
{
    const struct product_label *label = &product->label;
    struct yardstick yardstick = {.product = product,
                                  .measure = label->year_volume ? DOSE_BY_VOLUME : DOSE_BY_MASS};
    if (cap != LABEL_YEAR)
        yardstick.measure = DOSE_BY_TIMES;
    struct doses doses = doses_of(season->arena, &season->ledgers[zone->index], &yardstick, true);
    if (cap == LABEL_INTERVAL)
        return after_wait(&doses, label->interval, after);
    struct dose_span year = {.kind = SPAN_YEAR};
    return doses_leave_room(&doses, &year, cap == LABEL_TIMES ? label->times_a_year : label->year_most,
                            after);
}
