/* What is told of a record that passed a limit: nothing can be changed but when more may follow. */
#include "compiler/season/next_allowed.h"

#include "compiler/check/checking.h"

/* Advice forbids nothing, nor does what an `allow` lifts for the zone and product. */
static bool limit_forbids(const struct model *model, const struct limit *limit, const struct zone *zone,
                          const struct product *product)
{
    const struct symbol *const about[] = {&zone->symbol, &product->symbol, NULL};
    return limit_binds(limit, zone) && limit->set->basis != BASIS_ADVICE &&
           !limit_allowance(model, limit, about);
}

/* The day from which the limit allows any of the product; *uses_up: it is used up by what was done of its
 * nutrient. after + 1 where it has nothing to say. */
static day_number limit_next_day(const struct season *season, const struct limit *limit,
                                 const struct zone *zone, const struct product *product, day_number after,
                                 bool *uses_up)
{
    *uses_up = false;
    if (!limit_forbids(season->model, limit, zone, product))
        return after + 1;
    *uses_up = limit_recovers(limit) && product_supplies(product, limit->nutrient->nutrient);
    return *uses_up ? limit_again(season, limit, zone, after)
                    : between_again(season, limit, product, zone, after);
}

/* The first day on which every limit and the label allow some of the product; DAY_NEVER where three years
 * have none. Each looks for a day of its own, limits on days last; the latest of them is looked at by all
 * once more, until none moves it. */
static day_number product_again(const struct season *season, const struct zone *zone,
                                const struct product *product, day_number after)
{
    enum { LOOKED_AT = 3 * 366 };
    const struct model *model = season->model;
    day_number day = after, next = after + 1;
    bool uses_up;
    while (day < next && next != DAY_NEVER) {
        day = next;
        for (size_t i = 0; i < model->limits.count; i++) {
            day_number from =
                limit_next_day(season, model->limits.items[i], zone, product, day - 1, &uses_up);
            next = from > next ? from : next;
        }
        for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++)
            if (label_cap_place(product, cap).source) {
                day_number from = label_again(season, product, cap, zone, day - 1);
                next = from > next ? from : next;
            }
        day_number open = next;
        bool barred = true;
        while (barred && open < next + LOOKED_AT) {
            barred = false;
            for (size_t i = 0; i < model->limits.count && !barred; i++)
                barred = limit_forbids(model, model->limits.items[i], zone, product) &&
                         limit_bars_product(model->limits.items[i], product, zone, open);
            open += barred;
        }
        next = barred ? DAY_NEVER : open;
    }
    return next;
}

/* What is told of a product on a zone, the same for every record: worked out once for those in a row. */
struct recovery {
    const struct zone *zone;
    const struct product *product;
    day_number after;
    VECTOR(struct next_use {
        const char *what;
        struct place place;
        day_number day;
    })
    each; /* limit and bound of the label */
    day_number all;
};

static void next_use_add(struct checking *checking, struct recovery *recovery, const char *what,
                         day_number day, struct place place)
{
    struct next_use next_use = {what, place, day};
    if (day > recovery->after + 1) /* otherwise it asks for nothing */
        VECTOR_PUSH(checking->arena, &recovery->each, next_use);
}

/* Worked out once for records in a row. */
static const struct recovery *recovery_of(struct checking *checking, const struct zone *zone,
                                          const struct product *product, day_number after)
{
    const struct season *season = checking->season;
    const struct model *model = checking->model;
    struct recovery *recovery = checking->recovery;
    if (recovery && recovery->zone == zone && recovery->product == product && recovery->after == after)
        return recovery;
    recovery = checking->recovery = ARENA_NEW(checking->arena, struct recovery);
    *recovery = (struct recovery){.zone = zone, .product = product, .after = after};
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        bool uses_up;
        day_number day = limit_next_day(season, limit, zone, product, after, &uses_up);
        if (!uses_up || limit->kind != LIMIT_PER_APPLICATION)
            next_use_add(checking, recovery,
                         uses_up ? limit->nutrient->name : name_string(product->symbol.name), day,
                         limit->place);
    }
    for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++)
        if (label_cap_place(product, cap).source)
            next_use_add(checking, recovery, name_string(product->symbol.name),
                         label_again(season, product, cap, zone, after), label_cap_place(product, cap));
    recovery->all = product_again(season, zone, product, after);
    return recovery;
}

/* Nothing more can be put down before what was done last. */
void note_recovery(struct checking *checking, struct report *report, const struct record *record,
                   const struct zone *zone, const struct product *product, day_number after)
{
    struct reports *reports = checking->model->reports;
    const struct season *season = checking->season;
    /* An error until the record says `admit` and why: dates would follow from what nobody has looked at. */
    bool open = report->severity >= SEVERITY_ERROR && !report->allowed_because;
    if (open && record && record->admitted) {
        report_soften(reports, report);
        report_note(reports, report, "admitted: %s", record->admitted);
    } else if (open)
        report_note(reports, report,
                    "to date the season again, write in the record: admit \"why it happened\"");
    for (size_t i = 0; i < season->calendar_count; i++)
        if (season->calendar[i]->done && season->calendar[i]->day > after)
            after = season->calendar[i]->day;
    const struct recovery *recovery = recovery_of(checking, zone, product, after);
    for (size_t i = 0; i < recovery->each.count; i++) {
        const struct next_use *next_use = &recovery->each.items[i];
        struct text statement = place_text(next_use->place);
        report_note(reports, report, "no %s before %s: `%.*s`", next_use->what,
                    display_date(checking->arena, next_use->day), (int)statement.length, statement.start);
    }
    bool never = recovery->all == DAY_NEVER;
    const char *name = name_string(product->symbol.name), *where = name_string(zone->symbol.name);
    if (never)
        report_help(reports, report,
                    "this cannot be undone; this plan and the label forbid %s on %s for the next three years",
                    name, where);
    else
        report_help(reports, report,
                    "this cannot be undone; nothing in this plan or on the label forbids %s on %s from %s",
                    name, where, display_date(checking->arena, recovery->all));
}
