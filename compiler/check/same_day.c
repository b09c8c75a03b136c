/* What shares a day and a zone: the order in which it is done, and water that would wash off a spray. */
#include "compiler/check/checking.h"

#include <math.h>

struct owned {
    const struct amount *amount;
    const struct occurrence *occurrence;
};

/* The first spray of the day that must stay dry and is not yet done; amount NULL when there is none. */
static struct owned first_spray(const struct application *application)
{
    struct owned first = {0};
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        if (isnan(amount->product->dry_s) || amount_done(application, amount))
            continue;
        const struct occurrence *occurrence = application_owner(application, amount);
        if (!first.amount || occurrence->day_rank < first.occurrence->day_rank)
            first = (struct owned){amount, occurrence};
    }
    return first;
}

static void report_water_and_dry(struct checking *checking, const struct application *application,
                                 const struct owned *spray, const struct owned *watered)
{
    const char *first = name_string(spray->occurrence->treatment->symbol.name);
    const char *second = name_string(watered->occurrence->treatment->symbol.name);
    struct report *report = finding_add(
        checking, CHECK_WATER_AND_DRY,
        ABOUT(&watered->occurrence->treatment->symbol, &spray->occurrence->treatment->symbol,
              &watered->amount->zone->symbol),
        watered->amount->place,
        "%s is to be watered in on %s, and %s, sprayed before it, must stay dry for %s",
        name_string(watered->amount->product->symbol.name), display_date(checking->arena, application->day),
        name_string(spray->amount->product->symbol.name),
        display_hours(checking->arena, spray->amount->product->dry_s));
    report_label(checking->model->reports, report, spray->amount->place, "sprayed first");
    report_help(
        checking->model->reports, report,
        "spread and water in first, and spray once the leaves are dry: `when same day after %s` in %s",
        second, first);
}

static void check_water_and_dry(struct checking *checking, const struct application *application)
{
    struct owned spray = first_spray(application);
    for (size_t i = 0; spray.amount && i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        if (isnan(amount->product->water_in_m) || amount_done(application, amount))
            continue;
        struct owned watered = {amount, application_owner(application, amount)};
        if (spray.occurrence->day_rank < watered.occurrence->day_rank &&
            finding_once(checking, CHECK_WATER_AND_DRY, amount->place, (uint32_t)application->day))
            report_water_and_dry(checking, application, &spray, &watered);
    }
}

static void report_open_order(struct checking *checking, const struct application *application,
                              const struct occurrence *first, const struct occurrence *second)
{
    const char *before = name_string(first->treatment->symbol.name);
    const char *after = name_string(second->treatment->symbol.name);
    struct report *report = finding_add(
        checking, CHECK_SAME_DAY_ORDER, ABOUT(&second->treatment->symbol, &first->treatment->symbol),
        second->treatment->symbol.place, "%s and %s share %s, and nothing says which goes first", before,
        after, display_date(checking->arena, application->day));
    report_label(checking->model->reports, report, first->treatment->symbol.place,
                 "the calendar puts this first");
    report_help(checking->model->reports, report,
                "where the order matters, write `when same day after %s` in %s", before, after);
}

/* A pair is looked at once, whatever zones it meets on. */
static bool order_open(struct checking *checking, const struct occurrence *first,
                       const struct occurrence *second)
{
    const struct season *season = checking->season;
    uint32_t a = season->node_of[first->index], b = season->node_of[second->index];
    uint64_t pair = (uint64_t)first->index << 32 | second->index;
    if (first->treatment == second->treatment || (first->done && second->done) || a == b ||
        !finding_once(checking, CHECK_SAME_DAY_ORDER, second->treatment->symbol.place, pair))
        return false;
    return !season_order_stated(season, a, b) && !season_order_stated(season, b, a);
}

static void check_open_order(struct checking *checking, const struct application *application)
{
    for (size_t i = 1; i < application->occurrences.count; i++) {
        const struct occurrence *first = application->occurrences.items[i - 1];
        const struct occurrence *second = application->occurrences.items[i];
        if (order_open(checking, first, second))
            report_open_order(checking, application, first, second);
    }
}

void check_same_day(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        for (size_t j = 0; j < ledger->applications.count; j++) {
            check_open_order(checking, &ledger->applications.items[j]);
            check_water_and_dry(checking, &ledger->applications.items[j]);
        }
    }
}
