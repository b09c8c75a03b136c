/* What is told of a record that passed a limit: nothing can be changed but when more may follow. */
#include "compiler/season/next_allowed.h"

#include "compiler/check/checking.h"

static day_number later(day_number a, day_number b)
{
    return a > b ? a : b;
}

/* Advice forbids nothing, nor does what an `allow` lifts for the zone and product. */
static bool limit_forbids(const struct model *model, const struct limit *limit, const struct zone *zone,
                          const struct product *product)
{
    const struct symbol *const about[] = {&zone->symbol, &product->symbol, NULL};
    return limit_binds(limit, zone) && limit->set->basis != BASIS_ADVICE &&
           !limit_lifted(model, limit, about);
}

static bool limit_speaks(const struct model *model, const struct limit *limit, const struct zone *zone,
                         const struct product *product)
{
    return limit_recovers(limit) && limit_forbids(model, limit, zone, product) &&
           product_supplies(product, limit->nutrient->nutrient);
}

/* Nothing more can be put down before what was done last. */
static day_number last_done(const struct season *season, day_number day)
{
    for (size_t i = 0; i < season->calendar_count; i++)
        if (season->calendar[i]->done)
            day = later(day, season->calendar[i]->day);
    return day;
}

/* The first day from `day` on that no limit on days bars; DAY_NEVER where three years have none. */
static day_number day_open(const struct model *model, const struct zone *zone, const struct product *product,
                           day_number day)
{
    enum { LOOKED_AT = 3 * 366 };
    for (day_number at = day; at < day + LOOKED_AT; at++) {
        bool barred = false;
        for (size_t i = 0; i < model->limits.count && !barred; i++)
            barred = limit_forbids(model, model->limits.items[i], zone, product) &&
                     limit_bars_product(model->limits.items[i], product, zone, at);
        if (!barred)
            return at;
    }
    return DAY_NEVER;
}

/* The first day on which every limit and the label allow some of the product. Each looks for a day of its
 * own; the latest of them is looked at by all once more, until none moves it. */
static day_number product_again(const struct season *season, const struct zone *zone,
                                const struct product *product, day_number after)
{
    const struct model *model = season->model;
    day_number day = after, next = after + 1;
    while (day < next && next != DAY_NEVER) {
        day = next;
        for (size_t i = 0; i < model->limits.count; i++)
            if (limit_speaks(model, model->limits.items[i], zone, product))
                next = later(next, limit_again(season, model->limits.items[i], zone, day - 1));
            else if (limit_forbids(model, model->limits.items[i], zone, product))
                next = later(next, between_again(season, model->limits.items[i], product, zone, day - 1));
        for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++)
            if (label_cap_place(product, cap).source)
                next = later(next, label_again(season, product, cap, zone, day - 1));
        next = day_open(model, zone, product, next);
    }
    return next;
}

/* What is told of a product on a zone, the same for every record: worked out once for those in a row. */
struct recovery {
    const struct zone *zone;
    const struct product *product;
    day_number after;
    VECTOR(struct again {
        const char *what;
        struct place place;
        day_number day;
    })
    each; /* limit and bound of the label */
    day_number all;
};

static void again_add(struct checking *checking, struct recovery *recovery, const char *what, day_number day,
                      struct place place)
{
    struct again again = {what, place, day};
    if (day > recovery->after + 1) /* otherwise it asks for nothing */
        VECTOR_PUSH(checking->arena, &recovery->each, again);
}

static void recovery_work_out(struct checking *checking, struct recovery *recovery)
{
    const struct season *season = checking->season;
    const struct model *model = checking->model;
    const struct zone *zone = recovery->zone;
    const struct product *product = recovery->product;
    const char *name = name_string(product->symbol.name);
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (limit_speaks(model, limit, zone, product) && limit->kind != LIMIT_PER_APPLICATION)
            again_add(checking, recovery, limit->nutrient->name,
                      limit_again(season, limit, zone, recovery->after), limit->place);
        else if (limit_forbids(model, limit, zone, product))
            again_add(checking, recovery, name, between_again(season, limit, product, zone, recovery->after),
                      limit->place);
    }
    for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++)
        if (label_cap_place(product, cap).source)
            again_add(checking, recovery, name, label_again(season, product, cap, zone, recovery->after),
                      label_cap_place(product, cap));
    recovery->all = product_again(season, zone, product, recovery->after);
}

static const struct recovery *recovery_of(struct checking *checking, const struct zone *zone,
                                          const struct product *product, day_number after)
{
    struct recovery *last = checking->recovery;
    if (!last || last->zone != zone || last->product != product || last->after != after) {
        last = checking->recovery = ARENA_NEW(checking->arena, struct recovery);
        *last = (struct recovery){.zone = zone, .product = product, .after = after};
        recovery_work_out(checking, last);
    }
    return last;
}

/* An error until the record itself owns up to it: the season is not dated on what nobody has looked at. */
static void admit(struct checking *checking, struct report *report, const struct record *record)
{
    struct reports *reports = checking->model->reports;
    if (report->severity < SEVERITY_ERROR || report->allowed_because)
        return; /* nothing to own up to */
    if (!record || !record->admitted) {
        report_note(reports, report,
                    "the season is dated again once the record says: admit \"why it happened\"");
        return;
    }
    report_soften(reports, report);
    report_note(reports, report, "admitted: %s", record->admitted);
}

void note_recovery(struct checking *checking, struct report *report, const struct record *record,
                   const struct zone *zone, const struct product *product, day_number after)
{
    struct reports *reports = checking->model->reports;
    admit(checking, report, record);
    const struct recovery *recovery =
        recovery_of(checking, zone, product, last_done(checking->season, after));
    for (size_t i = 0; i < recovery->each.count; i++) {
        const struct again *again = &recovery->each.items[i];
        struct text statement = place_text(again->place);
        report_note(reports, report, "%s again not before %s by `%.*s`", again->what,
                    display_date(checking->arena, again->day), (int)statement.length, statement.start);
    }
    bool never = recovery->all == DAY_NEVER;
    report_help(reports, report,
                "nothing can be changed; by what was done, limits and label let %s onto %s again %s%s",
                name_string(product->symbol.name), name_string(zone->symbol.name),
                never ? "on no day of three years" : "from ",
                never ? "" : display_date(checking->arena, recovery->all));
}
