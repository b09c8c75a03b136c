/* When more may follow what was done: by each limit and label that what was done uses up. */
#include "compiler/result/explanation.h"
#include "compiler/season/next_allowed.h"

/* Whether nothing was done on the zone after the day. */
static bool last_done(const struct ledger *ledger, day_number day)
{
    for (size_t i = ledger->applications.count; i-- > 0 && ledger->applications.items[i].day > day;)
        for (size_t j = 0; j < ledger->applications.items[i].occurrences.count; j++)
            if (ledger->applications.items[i].occurrences.items[j]->done)
                return false;
    return true;
}

/* Zones with one and the same day stand in one line. */
struct telling {
    struct explanation *explanation;
    const char *what; /* N, starter */
    struct place place;
    struct buffer zones;
    day_number day;
};

static void telling_end(struct telling *telling)
{
    if (telling->zones.length)
        explain_line(telling->explanation, 3, "%s again on %s from %s: %s", telling->what,
                     buffer_string(&telling->zones), display_date(telling->explanation->arena, telling->day),
                     explain_statement(telling->explanation, telling->place));
    telling->zones = (struct buffer){.arena = telling->explanation->arena};
}

static void telling_add(struct telling *telling, const struct zone *zone, day_number day)
{
    if (telling->zones.length && day != telling->day)
        telling_end(telling);
    telling->day = day;
    buffer_format(&telling->zones, "%s%s", telling->zones.length ? ", " : "", name_string(zone->symbol.name));
}

static bool zone_before(const struct occurrence *occurrence, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (occurrence->amounts.items[i].zone == occurrence->amounts.items[index].zone)
            return true;
    return false;
}

static void explain_limit_again(struct explanation *explanation, const struct occurrence *occurrence,
                                const struct limit *limit)
{
    struct telling telling = {
        explanation, limit->nutrient->name, limit->place, {.arena = explanation->arena}, 0};
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct zone *zone = occurrence->amounts.items[i].zone;
        day_number day;
        if (!limit_binds(limit, zone) || zone_before(occurrence, i) ||
            !last_done(&explanation->season->ledgers[zone->index], occurrence->day))
            continue;
        day = limit_again(explanation->season, limit, zone, occurrence->day);
        if (day > occurrence->day + 1)
            telling_add(&telling, zone, day);
    }
    telling_end(&telling);
}

static void explain_label_again(struct explanation *explanation, const struct occurrence *occurrence,
                                const struct product *product, enum label_cap cap)
{
    struct telling telling = {explanation,
                              name_string(product->symbol.name),
                              label_cap_place(product, cap),
                              {.arena = explanation->arena},
                              0};
    for (size_t i = 0; i < occurrence->amounts.count && telling.place.source; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        day_number day;
        if (amount->product != product ||
            !last_done(&explanation->season->ledgers[amount->zone->index], occurrence->day))
            continue;
        day = label_again(explanation->season, product, cap, amount->zone, occurrence->day);
        if (day > occurrence->day + 1)
            telling_add(&telling, amount->zone, day);
    }
    telling_end(&telling);
}

static void explain_between_again(struct explanation *explanation, const struct occurrence *occurrence,
                                  const struct product *product, const struct limit *limit)
{
    struct telling telling = {
        explanation, name_string(product->symbol.name), limit->place, {.arena = explanation->arena}, 0};
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        day_number day;
        if (amount->product != product || !limit_binds(limit, amount->zone) ||
            !last_done(&explanation->season->ledgers[amount->zone->index], occurrence->day))
            continue;
        day = between_again(explanation->season, limit, product, amount->zone, occurrence->day);
        if (day > occurrence->day + 1)
            telling_add(&telling, amount->zone, day);
    }
    telling_end(&telling);
}

static bool product_before(const struct occurrence *occurrence, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (occurrence->amounts.items[i].product == occurrence->amounts.items[index].product)
            return true;
    return false;
}

void explain_again(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct model *model = explanation->model;
    size_t begin = explanation->out->length;
    explain_line(explanation, 2, "By what was done so far, more may follow:");
    size_t title = explanation->out->length;
    for (size_t i = 0; i < model->limits.count; i++)
        if (model->limits.items[i]->set->bound && limit_recovers(model->limits.items[i]))
            explain_limit_again(explanation, occurrence, model->limits.items[i]);
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        for (size_t j = 0; j < model->limits.count && !product_before(occurrence, i); j++)
            explain_between_again(explanation, occurrence, occurrence->amounts.items[i].product,
                                  model->limits.items[j]);
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR && !product_before(occurrence, i); cap++)
            explain_label_again(explanation, occurrence, occurrence->amounts.items[i].product, cap);
    if (explanation->out->length == title) /* nothing stands against it */
        explanation->out->length = begin;
}
