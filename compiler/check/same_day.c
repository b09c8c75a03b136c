/* What shares a day and a zone: the order in which it is done, and water that would wash off a spray. */
#include "compiler/check/checking.h"

#include <math.h>

/* Against the first spray of the day that must stay dry and is not yet done. Once for a statement and day. */
static void check_water_and_dry(struct checking *checking, const struct application *application)
{
    struct reports *reports = checking->model->reports;
    const struct amount *spray = NULL;
    const struct occurrence *sprayed = NULL;
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        if (isnan(amount->product->dry_s) || amount_done(application, amount))
            continue;
        const struct occurrence *occurrence = application_owner(application, amount);
        if (spray && occurrence->day_rank >= sprayed->day_rank)
            continue;
        spray = amount;
        sprayed = occurrence;
    }
    for (size_t i = 0; spray && i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        if (isnan(amount->product->water_in_m) || amount_done(application, amount))
            continue;
        const struct occurrence *watered = application_owner(application, amount);
        if (sprayed->day_rank >= watered->day_rank ||
            !finding_once_by(checking, CHECK_WATER_AND_DRY, amount->place, (uint32_t)application->day,
                             zone_allowed(checking, CHECK_WATER_AND_DRY, NULL, amount->zone)))
            continue;
        struct report *report = finding_add(
            checking, CHECK_WATER_AND_DRY,
            ABOUT(&watered->treatment->symbol, &sprayed->treatment->symbol, &amount->zone->symbol),
            amount->place, "%s must be watered in on %s, but %s, sprayed before it, must stay dry for %s",
            name_string(amount->product->symbol.name), display_date(checking->arena, application->day),
            name_string(spray->product->symbol.name), display_hours(checking->arena, spray->product->dry_s));
        report_label(reports, report, spray->place, "sprayed first");
        report_help(
            reports, report,
            "spread and water in first, and spray once the leaves are dry: `when same day after %s` in %s",
            name_string(watered->treatment->symbol.name), name_string(sprayed->treatment->symbol.name));
    }
}

/* Of the plan's order nothing is said here: only of days on which several treatments meet a zone. */
void check_same_day(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++) {
            /* Two that share a day with no order stated: a pair is looked at once, whatever zones it meets
             * on. */
            const struct application *application = &ledger->applications.items[j];
            const struct season *season = checking->season;
            for (size_t k = 1; k < application->occurrences.count; k++) {
                const struct occurrence *first = application->occurrences.items[k - 1];
                const struct occurrence *second = application->occurrences.items[k];
                const struct treatment *one = first->treatment, *other = second->treatment;
                uint32_t a = season->node_of[first->index], b = season->node_of[second->index];
                uint64_t pair = (uint64_t)first->index << 32 | second->index;
                if (one == other || (first->done && second->done) || a == b ||
                    !finding_once(checking, CHECK_SAME_DAY_ORDER, other->symbol.place, pair) ||
                    season_order_stated(season, a, b) || season_order_stated(season, b, a))
                    continue;
                const char *before = name_string(one->symbol.name), *after = name_string(other->symbol.name);
                struct report *report =
                    finding_add(checking, CHECK_SAME_DAY_ORDER, ABOUT(&other->symbol, &one->symbol),
                                other->symbol.place, "%s and %s share %s, and nothing says which goes first",
                                before, after, display_date(checking->arena, application->day));
                report_label(checking->model->reports, report, one->symbol.place,
                             "the calendar puts this first");
                report_help(checking->model->reports, report,
                            "where the order matters, write `when same day after %s` in %s", before, after);
            }
            check_water_and_dry(checking, &ledger->applications.items[j]);
        }
    }
}
