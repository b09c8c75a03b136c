/* What is told of a record that passed a limit: nothing can be changed but when more may follow. */
#include "compiler/season/again.h"

#include "compiler/check/checking.h"

static day_number later(day_number a, day_number b)
{
    return a > b ? a : b;
}

static bool limit_speaks(const struct limit *limit, const struct zone *zone, const struct product *product)
{
    return limit_recovers(limit) && limit_binds(limit, zone) &&
           product_supplies(product, limit->nutrient->nutrient);
}

/* The first day on which every limit and the label allow some of the product. Each looks for a day of its
 * own; the latest of them is looked at by all once more, until none moves it. */
static day_number product_again(const struct season *season, const struct zone *zone,
                                const struct product *product, day_number after)
{
    const struct model *model = season->model;
    day_number day = after, next = after + 1;
    while (day < next) {
        day = next;
        for (size_t i = 0; i < model->limits.count; i++)
            if (limit_speaks(model->limits.items[i], zone, product))
                next = later(next, limit_again(season, model->limits.items[i], zone, day - 1));
        for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++)
            if (label_cap_place(product, cap).source)
                next = later(next, label_again(season, product, cap, zone, day - 1));
    }
    return day;
}

static void note_again(struct checking *checking, struct report *report, const char *what, day_number after,
                       day_number day, struct place place)
{
    struct text statement = place_text(place);
    if (day == after + 1) /* it asks for nothing */
        return;
    report_note(checking->model->reports, report, "%s again not before %s by `%.*s`", what,
                display_date(checking->arena, day), (int)statement.length, statement.start);
}

/* An error until the record itself owns up to it: the season is not dated on what nobody has looked at. */
static void admit(struct checking *checking, struct report *report, const struct record *record)
{
    struct reports *reports = checking->model->reports;
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
    const struct season *season = checking->season;
    const struct model *model = checking->model;
    admit(checking, report, record);
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (limit_speaks(limit, zone, product) && limit->kind != LIMIT_PER_APPLICATION)
            note_again(checking, report, limit->nutrient->name, after,
                       limit_again(season, limit, zone, after), limit->place);
    }
    for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++)
        if (label_cap_place(product, cap).source)
            note_again(checking, report, thing_text(checking, &product->thing), after,
                       label_again(season, product, cap, zone, after), label_cap_place(product, cap));
    report_help(checking->model->reports, report,
                "nothing can be changed; by what was done, limits and label let %s onto %s again from %s",
                thing_text(checking, &product->thing), thing_text(checking, &zone->thing),
                display_date(checking->arena, product_again(season, zone, product, after)));
}
