/* More of a nutrient than the soil test in force shows a need of. A need is an amount: what is given since
 * the day of sampling counts against it, until the next test. */
#include "compiler/check/checking.h"
#include "compiler/season/need.h"

/* What no spreader and no laboratory tells apart from the need: a tenth of it, and where no limit speaks of
 * the need 10 lb per acre at least. docs/method.md, "More than the need", has the sources. */
static const double NEED_SHARE = 0.1;
static const double NEED_SLACK = 10 * 0.45359237 / 4046.8564224; /* kg/m2 of what the trade's form names */
/* Sulfur comes along with nitrogen and potash: what a university recommends for turf at all passes. */
static const double SULFUR_A_YEAR = 3 * 0.45359237 / 92.90304; /* kg/m2 */

double check_need_slack(double need, bool limited)
{
    return fmax(NEED_SHARE * need, limited ? 0 : NEED_SLACK);
}

struct surplus {
    const struct limit *limit; /* that allows the nutrient only where a test shows a need; NULL without */
    const struct nutrient_form *form;
    const struct application *application;
    struct part lead;
    struct zone_need need; /* on the day */
    double given;          /* since the test, this application included; as `form` counts */
};

static enum check_id surplus_id(const struct surplus *surplus)
{
    if (surplus->lead.done)
        return CHECK_RECORD_OVER_NEED;
    return surplus->limit ? CHECK_OVER_NEED : CHECK_MORE_THAN_NEEDED;
}

static double as_form(const struct surplus *surplus, double kg_per_m2)
{
    return kg_per_m2 / surplus->form->element_per_unit;
}

/* With what may still be put down on the day, where something may. */
static struct report *tell_surplus(struct checking *checking, const struct instance *instance)
{
    struct reports *reports = checking->model->reports;
    const struct surplus *surplus = instance->what;
    const struct zone *zone = instance->ledger->zone;
    const struct soil_test *test = surplus->need.reading.test;
    const char *nutrient = surplus->form->name;
    double need = as_form(surplus, surplus->need.most);
    double left = need - (surplus->given - supplied_as(surplus->application->supplied, surplus->form));
    struct display_pair pair = supply_pair(checking, surplus->given, need, surplus->form);
    /* "P2O5 over the need of north, Sat 2027-04-10: 1 lb ... since the soil test of ...; it shows no need" */
    struct buffer text = {.arena = checking->arena};
    buffer_format(&text, "%s over the need of %s, %s", nutrient, name_string(zone->symbol.name),
                  display_date(checking->arena, surplus->application->day));
    buffer_format(&text, ": %s since the soil test of %s; ", pair.value,
                  display_date(checking->arena, test->day));
    if (need > 0)
        buffer_format(&text, "it shows a need of %s", pair.bound);
    else
        buffer_add_string(&text, "it shows no need");
    struct report *report = finding_add(checking, surplus_id(surplus),
                                        ABOUT(&zone->symbol, &surplus->lead.occurrence->treatment->symbol,
                                              &surplus->lead.amount->product->symbol),
                                        surplus->lead.amount->place, "%s", buffer_string(&text));
    report_label(reports, report, test->results_place, "the results");
    if (surplus->limit)
        limit_label(checking, report, surplus->limit);
    if (surplus->lead.done)
        report_help(reports, report, "apply no more %s here until a new soil test shows a need", nutrient);
    else if (left <= need * COMPARE_TOLERANCE)
        report_help(reports, report, "use a product without %s here", nutrient);
    else
        report_help(reports, report, "apply %s or less on this day, or use a product without %s",
                    check_supply_text(checking, left, surplus->form), nutrient);
    return report;
}

/* For each test the first application that leaves more on the zone than it needs, beyond what a test can
 * tell apart: once as done, once as planned. Under a limit a need of nothing belongs to another check. Zones
 * of one soil test share a report. */
static void check_zone_surplus(struct checking *checking, struct gathering *gathering,
                               const struct ledger *ledger, const struct nutrient_form *form,
                               const struct limit *limit)
{
    const struct soil_test *reported[2] = {NULL, NULL};
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        struct surplus found = {.limit = limit, .form = form, .application = application};
        struct zone_need *need = &found.need;
        if (!(application->supplied[form->nutrient] > 0) ||
            !need_on(checking->season, ledger->zone, form->nutrient, application->day, need) ||
            (!need->read && need->rule != NEED_BY_LIME) || (limit && need->reading.shown != NEED_LOW))
            continue;
        double most = as_form(&found, need->most);
        double slack = form->nutrient == NUTRIENT_S && !limit ? SULFUR_A_YEAR * need->years : 0;
        found.given = as_form(&found, need->given);
        found.lead = application_lead(application, form);
        const struct part *lead = &found.lead;
        /* What holds too little to count for the limit passes it. */
        if (!lead->amount ||
            !exceeds(found.given, most + fmax(check_need_slack(most, limit != NULL), slack)) ||
            (limit && !limit_concerns_content(limit, lead->amount->product)) ||
            (limit && limit_spares_new(checking->season, limit, ledger->zone, application->day)) ||
            reported[lead->done] == need->reading.test)
            continue;
        reported[lead->done] = need->reading.test;
        struct surplus *surplus = ARENA_NEW(checking->arena, struct surplus);
        *surplus = found;
        const struct place test = need->reading.test->symbol.statement;
        struct instance instance = {.place = lead->amount->place,
                                    .record = lead->done ? lead->occurrence->record : NULL,
                                    .limit = limit,
                                    .bound = (uint64_t)form->nutrient << 43 |
                                             (uint64_t)test.source->index << 32 | test.start,
                                    .excess = found.given - most,
                                    .ledger = ledger,
                                    .day = DAY_NONE,
                                    .what = surplus};
        gather_unless_allowed(checking, gathering, instance, surplus_id(surplus),
                              ABOUT(&ledger->zone->symbol, &lead->occurrence->treatment->symbol,
                                    &lead->amount->product->symbol),
                              tell_surplus);
    }
}

/* Nutrients that soil keeps are checked even where no limit requires a need, but only those that a test of
 * the zone read; that is no error. */
void check_surplus(struct checking *checking)
{
    struct gathering gathering = {.groups = {0}};
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct zone *zone = checking->model->zones.items[i];
        for (enum nutrient nutrient = NUTRIENT_P; nutrient <= NUTRIENT_LIME && zone->tests.count;
             nutrient++) {
            /* The first limit that binds the zone and requires a need that a soil test shows. */
            const struct limit *limit = NULL, *next;
            for (size_t at = 0; !limit && (next = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
                for (size_t j = 0; j < next->nutrients.count && !limit; j++)
                    if (next->nutrients.items[j]->nutrient == nutrient && limit_binds(next, zone))
                        limit = next;
            bool looked_at = nutrient == NUTRIENT_P || nutrient == NUTRIENT_K || nutrient == NUTRIENT_S ||
                             nutrient == NUTRIENT_LIME;
            if (limit || (looked_at && !checking->tried))
                check_zone_surplus(checking, &gathering, &checking->season->ledgers[i],
                                   nutrient_trade_form(nutrient), limit);
        }
    }
    gathering_tell(checking, &gathering, tell_surplus);
}
