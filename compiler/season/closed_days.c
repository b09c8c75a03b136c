/* Days that limits close to applications: windows of the year, single days, days of the week. */
#include "compiler/season/dating.h"

/* Feb 29 is Mar 1 as a start and Feb 28 as an end where there is none. A window whose end comes before its
 * start in the year goes on into the next one. */
static struct day_span limit_window(const struct limit *limit, int year)
{
    struct civil_date first = limit->closed_first, last = limit->closed_last;
    if (first.year && last.year)
        return (struct day_span){day_of_date(first), day_of_date(last)};
    bool wraps = last.month < first.month || (last.month == first.month && last.day < first.day);
    bool late = first.day > days_in_month(year, first.month);
    bool early = last.day > days_in_month(year + wraps, last.month);
    return (struct day_span){day_of_date((struct civil_date){year, first.month, first.day - late}) + late,
                             day_of_date((struct civil_date){year + wraps, last.month, last.day - early})};
}

struct day_span limit_window_on(const struct limit *limit, day_number day)
{
    int year = date_of_day(day).year;
    struct day_span before = limit_window(limit, year - 1);
    return day <= before.last ? before : limit_window(limit, year);
}

bool limit_window_holds(const struct limit *limit, day_number day)
{
    struct day_span window = limit_window_on(limit, day);
    return day >= window.first && day <= window.last;
}

/* The days a limit leaves open; NULL for limits that close none, or other ones for each lawn (dormancy.c). A
 * window without a year comes back every year, and the one that begins before the first year may reach into
 * it. */
static const struct day_set *open_days(struct dating_rules *rules, uint32_t number)
{
    struct arena *arena = rules->season->arena;
    const struct limit *limit = rules->season->model->limits.items[number];
    const struct day_set *open = rules->all;
    bool dated = limit->closed_first.year && limit->closed_last.year;
    switch (limit->kind) {
    case LIMIT_CLOSED:
        for (int year = date_of_day(rules->first).year - 1, end = date_of_day(rules->last).year; year <= end;
             year = dated ? end + 1 : year + 1) {
            struct day_span window = limit_window(limit, year);
            open = day_set_remove_range(arena, open, window.first, window.last);
        }
        return open;
    case LIMIT_CLOSED_DAYS:
        for (size_t i = 0; i < limit->closed_days.count; i++)
            open =
                day_set_remove_range(arena, open, limit->closed_days.items[i], limit->closed_days.items[i]);
        return open;
    case LIMIT_WEEKDAYS:
        return day_set_keep_weekdays(arena, open, limit->weekdays);
    case LIMIT_HEAT:
    case LIMIT_WEATHER:
        return season_bound(rules->season, rules->limit_cause + number)->open;
    case LIMIT_PER_APPLICATION:
    case LIMIT_PER_YEAR:
    case LIMIT_PER_PERIOD:
    case LIMIT_PER_WINDOW:
    case LIMIT_SLOW_SHARE:
    case LIMIT_WAIT:
    case LIMIT_WAIT_BETWEEN:
    case LIMIT_FOLLOW:
    case LIMIT_ORDER:
    case LIMIT_NEED:
    case LIMIT_CONTENT:
    case LIMIT_DORMANT:
    case LIMIT_WATER:
        return NULL;
    }
    return NULL;
}

struct closure {
    struct dating *dating;
    uint32_t number;      /* of the limit at hand, from 1 */
    bool heat;            /* it is about heat that the plan may take nevertheless */
    uint32_t *zone_bound; /* by zone index: the last limit that binds it */
    uint32_t *last_limit; /* by node: the limit last given to it */
};

/* By an amount with what the limit is on, on ground that it binds; or by the ground alone, where the limit
 * names neither nutrient nor product. */
static bool occurrence_concerned(const struct closure *closure, const struct limit *limit,
                                 const struct occurrence *occurrence)
{
    const bool *products = closure->dating->rules->heat.products;
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        bool concerned = limit->nutrients.count == 0;
        for (size_t j = 0; j < limit->nutrients.count && !concerned; j++)
            concerned = amount_brings(amount, limit->nutrients.items[j]->nutrient);
        if (concerned && closure->zone_bound[amount->zone->index] == closure->number &&
            limit_concerns_product(limit, amount->product) &&
            !(closure->heat && products[amount->product->index]))
            return true;
    }
    struct ground ground = occurrence_ground(closure->dating, occurrence);
    bool any = limit->nutrients.count == 0 && !limit->product_kind;
    for (size_t i = 0; i < ground.count && any; i++)
        if (closure->zone_bound[ground.zones[i]->index] == closure->number)
            return true;
    return false;
}

/* A limit's set of days is made once, for all nodes and both runs. The last is first: see closure_add. */
void closed_days_make(struct dating *dating)
{
    const struct model *model = dating->season->model;
    const struct taken *heat = &dating->rules->heat;
    struct closure closure = {.dating = dating,
                              .zone_bound = ARENA_ARRAY(dating->scratch, model->zones.count, uint32_t),
                              .last_limit = ARENA_ARRAY(dating->scratch, dating->node_count, uint32_t)};
    uint32_t planned = dating->season->first_of[model->treatments.count];
    for (uint32_t number = (uint32_t)model->limits.count; number-- > 0;) {
        const struct limit *limit = model->limits.items[number];
        const struct day_set **open = &dating->rules->open[number];
        if (limit_dates(model, limit) && !*open)
            *open = open_days(dating->rules, number);
        if (!*open)
            continue;
        closure.number = number + 1;
        for (size_t i = 0; i < limit->set->places.count; i++)
            closure.zone_bound[limit->set->places.items[i]->index] = closure.number;
        for (size_t i = 0; i < model->zones.count && limit->set->places.count == 0; i++)
            closure.zone_bound[i] = closure.number;
        /* A law or a label is kept all the same. */
        closure.heat = limit->kind == LIMIT_HEAT && !limit_is_fixed(limit);
        /* All times of a treatment that are whole and still to come have the same amounts, so the first one
         * speaks for them. */
        const struct treatment *looked_at = NULL;
        bool concerned = false;
        for (uint32_t i = 0; i < planned; i++) {
            const struct occurrence *occurrence = &dating->season->occurrences.items[i];
            const struct treatment *treatment = occurrence->treatment;
            uint32_t node = dating->node_of[i];
            if (treatment->task || (closure.heat && (heat->all || heat->treatments[treatment->index])) ||
                node == TIMETABLE_NONE || dating->nodes[node].fixed)
                continue;
            bool rest = dating->records && occurrence->share == SHARE_REST;
            if (!rest && looked_at != treatment) {
                concerned = occurrence_concerned(&closure, limit, occurrence);
                looked_at = treatment;
            }
            if (closure.last_limit[node] == closure.number ||
                (rest ? !occurrence_concerned(&closure, limit, occurrence) : !concerned))
                continue;
            closure.last_limit[node] = closure.number;
            closure_add(dating, node, *open, dating->rules->limit_cause + number);
        }
    }
}
