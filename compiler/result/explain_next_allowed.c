/* When more may follow what was done: by each limit and label that what was done uses up. */
#include "compiler/result/explanation.h"
#include "compiler/season/next_allowed.h"

#include <assert.h>

/* One limit or one part of a label, on what was done. */
struct use_up {
    const struct limit *limit;     /* NULL of a label */
    const struct product *product; /* NULL of a limit on a nutrient */
    enum label_cap cap;            /* of a label */
};

/* The first day on which the zone may get more than it got on `done`; no later than the day after where
 * nothing forbids that, nor where something was done on it later: of that the later record says it. */
static day_number next_day(const struct season *season, const struct use_up *use_up, const struct zone *zone,
                           day_number done)
{
    const struct ledger *ledger = &season->ledgers[zone->index];
    for (size_t i = ledger->applications.count; i-- > 0 && ledger->applications.items[i].day > done;)
        for (size_t j = 0; j < ledger->applications.items[i].occurrences.count; j++)
            if (ledger->applications.items[i].occurrences.items[j]->done)
                return done;
    if (!use_up->limit)
        return label_again(season, use_up->product, use_up->cap, zone, done);
    if (use_up->product)
        return between_again(season, use_up->limit, use_up->product, zone, done);
    return limit_again(season, use_up->limit, zone, done);
}

/* A line for each run of zones with one and the same day. */
static void explain_use_up(struct explanation *explanation, const struct occurrence *occurrence,
                           const struct use_up *use_up)
{
    assert(use_up->product || use_up->limit);
    const struct amount *amounts = occurrence->amounts.items;
    struct place place = use_up->limit ? use_up->limit->place : label_cap_place(use_up->product, use_up->cap);
    struct buffer zones = {.arena = explanation->arena};
    day_number shown = DAY_NEVER;
    for (size_t i = 0; i <= occurrence->amounts.count && place.source; i++) {
        day_number day = DAY_NEVER;
        if (i < occurrence->amounts.count) {
            const struct zone *zone = amounts[i].zone;
            bool before = false; /* a limit on a nutrient speaks of the zone, however many products it got */
            for (size_t j = 0; j < i && !use_up->product; j++)
                before = before || amounts[j].zone == zone;
            if (before || (use_up->product && amounts[i].product != use_up->product) ||
                (use_up->limit && !limit_binds(use_up->limit, zone)))
                continue;
            day = next_day(explanation->season, use_up, zone, occurrence->day);
            if (day <= occurrence->day + 1)
                continue;
        }
        if (zones.length && (i == occurrence->amounts.count || day != shown)) {
            explain_line(
                explanation, 3, "no more %s on %s before %s: %s",
                use_up->product ? name_string(use_up->product->symbol.name) : use_up->limit->nutrient->name,
                zones.string, display_date(explanation->arena, shown), explain_statement(explanation, place));
            zones = (struct buffer){.arena = explanation->arena};
        }
        shown = day;
        if (i < occurrence->amounts.count) {
            buffer_separate(&zones, ", ");
            buffer_add_string(&zones, name_string(amounts[i].zone->symbol.name));
        }
    }
}

/* Whether no amount before it is of the same product. */
static bool first_of_product(const struct occurrence *occurrence, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (occurrence->amounts.items[i].product == occurrence->amounts.items[index].product)
            return false;
    return true;
}

/* Limits on nutrients first, then those between kinds, then the labels of each product. */
void explain_next_allowed(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct model *model = explanation->model;
    struct page *page = explanation->page;
    uint32_t before = page->parts.count;
    explain_line(explanation, 2, "What the records so far use up:");
    for (size_t i = 0; i < model->limits.count; i++)
        if (model->limits.items[i]->set->bound && limit_recovers(model->limits.items[i]))
            explain_use_up(explanation, occurrence, &(struct use_up){.limit = model->limits.items[i]});
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        struct use_up use_up = {.product = occurrence->amounts.items[i].product};
        for (size_t j = 0; j < model->limits.count && first_of_product(occurrence, i); j++) {
            use_up.limit = model->limits.items[j];
            explain_use_up(explanation, occurrence, &use_up);
        }
    }
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        struct use_up use_up = {.product = occurrence->amounts.items[i].product};
        bool first = first_of_product(occurrence, i);
        for (use_up.cap = LABEL_INTERVAL; use_up.cap <= LABEL_YEAR && first; use_up.cap++)
            explain_use_up(explanation, occurrence, &use_up);
    }
    if (page->parts.count == before + 1) /* nothing forbids more */
        page->parts.count = before;
}
