/* The ground: water that is near, and soil that nobody tested. */
#include "compiler/check/checking.h"

/* ---- near water ---- */

/* The first part still planned that the limit speaks of, or the first done. */
static struct part first_concerned(const struct limit *limit, const struct ledger *ledger,
                                   const struct application **where)
{
    struct part found = {0};
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        struct part lead = limit_first_part(limit, application);
        if (!lead.amount || !limit_concerns(limit, application->supplied))
            continue;
        if (!found.amount || !lead.done) {
            found = lead;
            *where = application;
        }
        if (!lead.done)
            break;
    }
    return found;
}

static void check_zone_water(struct checking *checking, const struct limit *limit,
                             const struct ledger *ledger)
{
    const struct zone *zone = ledger->zone;
    const struct application *application = NULL;
    struct part lead = first_concerned(limit, ledger, &application);
    if (!lead.amount)
        return;
    struct display_pair pair =
        display_pair(checking->arena, checking->model, QUANTITY_LENGTH, zone->water_m, limit->most, NULL);
    struct report *report = limit_finding(
        checking, limit, lead.done ? CHECK_RECORD_NEAR_WATER : CHECK_NEAR_WATER,
        ABOUT(&zone->symbol, &lead.occurrence->treatment->symbol, &lead.amount->product->symbol),
        zone->water_place, "%s lies %s from water and %s treated on %s; %s within %s of water",
        name_string(zone->symbol.name), pair.value, verb_be(lead.done),
        display_date(checking->arena, application->day),
        limit->nutrients.count
            ? text_format(checking->arena, "%s may not go", limit_nutrients_text(checking, limit))
            : "nothing may go",
        pair.bound);
    report_label(checking->model->reports, report, lead.amount->place, "%s treats it",
                 name_string(lead.occurrence->treatment->symbol.name));
    limit_label(checking, report, limit);
    if (!lead.done)
        report_help(checking->model->reports, report,
                    "measure the zone so that it ends %s from water, or leave it out of %s",
                    display_ceiling(checking->arena, checking->model, QUANTITY_LENGTH, limit->most, NULL),
                    name_string(lead.occurrence->treatment->symbol.name));
}

void check_near_water(struct checking *checking)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_WATER, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            if (exceeds(limit->most, ledger->zone->water_m) && limit_binds(limit, ledger->zone))
                check_zone_water(checking, limit, ledger);
        }
}

/* ---- zones never tested ---- */

static bool need_asked(const struct checking *checking, const struct zone *zone)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        if (limit_binds(limit, zone))
            return true;
    return false;
}

/* Up to this share of P2O5 a product is no phosphorus fertilizer to the laws: New York ECL 17-2103, Vermont
 * 10 V.S.A. 1266b. The same share of K2O is a trace too: common practice, no source. */
static const double TRACE = 0.0067;

static bool is_of_it(const struct product *product, const struct nutrient_form *form)
{
    return exceeds(product_share(product, form), TRACE);
}

static const struct application *first_with(const struct ledger *ledger, const struct nutrient_form *form)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        for (size_t j = 0; j < application->amounts.count; j++)
            if (application->amounts.items[j]->supplied[form->nutrient] > 0 &&
                is_of_it(application->amounts.items[j]->product, form))
                return application;
    }
    return NULL;
}

/* What the zone is given of P, or of K where it gets no P. */
struct untested {
    const struct nutrient_form *form;
    struct part lead;
};

static struct report *tell_untested(struct checking *checking, const struct instance *instance)
{
    const struct zone *zone = instance->ledger->zone;
    const struct untested *untested = instance->what;
    const struct part *lead = &untested->lead;
    struct report *report =
        finding_add(checking, CHECK_UNTESTED_ZONE,
                    ABOUT(&zone->symbol, &zone->lawn->symbol, &lead->occurrence->treatment->symbol),
                    zone->symbol.place, "%s %s %s, and no soil test is of it", name_string(zone->symbol.name),
                    lead->done ? "was given" : "is to be given", untested->form->name);
    report_label(checking->model->reports, report, lead->amount->place, "%s",
                 check_supply_text(checking, lead->value, untested->form));
    report_help(checking->model->reports, report, "test its soil first%s",
                untested->form->nutrient == NUTRIENT_P ? "; several states' laws ask for that before P2O5"
                                                       : "");
    return report;
}

static void check_zone_untested(struct checking *checking, struct gathering *gathering,
                                const struct ledger *ledger)
{
    const struct nutrient_form *form = nutrient_trade_form(NUTRIENT_P);
    const struct application *application = first_with(ledger, form);
    struct untested *untested = ARENA_NEW(checking->arena, struct untested);
    if (!application) {
        form = nutrient_trade_form(NUTRIENT_K);
        application = first_with(ledger, form);
    }
    if (!application)
        return;
    *untested = (struct untested){form, application_lead(application, form)};
    struct instance instance = {.place = untested->lead.amount->place,
                                .bound = form->nutrient,
                                .ledger = ledger,
                                .day = DAY_NONE,
                                .what = untested};
    if (finding_allowed(checking, CHECK_UNTESTED_ZONE,
                        ABOUT(&ledger->zone->symbol, &ledger->zone->lawn->symbol,
                              &untested->lead.occurrence->treatment->symbol)))
        tell_untested(checking, &instance);
    else
        gather(checking, gathering, instance);
}

void check_untested(struct checking *checking)
{
    const struct model *model = checking->model;
    struct gathering gathering = {.groups = {0}};
    bool *tested = ARENA_ARRAY(checking->arena, model->zones.count + 1, bool);
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->soil_tests.items[i]->zones.count; j++)
            tested[model->soil_tests.items[i]->zones.items[j]->index] = true;
    for (size_t i = 0; i < model->zones.count; i++)
        if (!tested[i] && !need_asked(checking, model->zones.items[i]))
            check_zone_untested(checking, &gathering, &checking->season->ledgers[i]);
    gathering_tell(checking, &gathering, tell_untested);
}
