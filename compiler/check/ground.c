/* The ground: water that is near, and soil that nobody tested. */
#include "compiler/check/checking.h"

/* ---- near water ---- */

/* The first application still planned that the limit speaks of, or else the first done. */
static void check_zone_water(struct checking *checking, const struct limit *limit,
                             const struct ledger *ledger)
{
    struct reports *reports = checking->model->reports;
    const struct zone *zone = ledger->zone;
    const struct application *application = NULL;
    struct part lead = {0};
    for (size_t i = 0; i < ledger->applications.count && (!lead.amount || lead.done); i++) {
        struct part part = limit_first_part(limit, &ledger->applications.items[i]);
        if (!part.amount || !limit_concerns(limit, ledger->applications.items[i].supplied) ||
            (lead.amount && part.done))
            continue;
        lead = part;
        application = &ledger->applications.items[i];
    }
    if (!lead.amount)
        return;
    const char *lies = display_pair(checking->arena, checking->model, QUANTITY_LENGTH, zone->water_m,
                                    limit->distance_m, NULL)
                           .value,
               *strip = display_distance(checking->arena, checking->model, limit->distance_m);
    const char *treatment = name_string(lead.occurrence->treatment->symbol.name);
    /* "north lies 5 ft from water and is treated on Sat 2027-04-10; N may not go within 10 ft of water" */
    struct buffer text = {.arena = checking->arena};
    buffer_format(&text, "%s lies %s from water and %s treated on %s; ", name_string(zone->symbol.name), lies,
                  verb_be(lead.done), display_date(checking->arena, application->day));
    buffer_format(&text, "%s may%s go within %s of water",
                  limit->nutrients.count ? limit_nutrients_text(checking, limit) : "nothing",
                  limit->nutrients.count ? " not" : "", strip);
    struct report *report = limit_finding(
        checking, limit, lead.done ? CHECK_RECORD_NEAR_WATER : CHECK_NEAR_WATER,
        ABOUT(&zone->symbol, &lead.occurrence->treatment->symbol, &lead.amount->product->symbol),
        zone->water_place, "%s", buffer_string(&text));
    report_label(reports, report, lead.amount->place, "%s treats it", treatment);
    limit_label(checking, report, limit);
    if (!lead.done)
        report_help(reports, report, "measure the zone so that it ends %s from water, or leave it out of %s",
                    strip, treatment);
}

void check_near_water(struct checking *checking)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_WATER, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            if (exceeds(limit->distance_m, ledger->zone->water_m) && limit_binds(limit, ledger->zone))
                check_zone_water(checking, limit, ledger);
        }
}

/* ---- zones never tested ---- */

/* Up to this share of P2O5 a product is no phosphorus fertilizer to the laws: New York ECL 17-2103, Vermont
 * 10 V.S.A. 1266b. The same share of K2O is a trace too: common practice, no source. */
static const double TRACE = 0.0067;

/* The first with a product that is no mere trace of it; NULL where there is none. */
static const struct application *first_with(const struct ledger *ledger, const struct nutrient_form *form)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        for (size_t j = 0; j < application->amounts.count; j++) {
            const struct amount *amount = application->amounts.items[j];
            if (amount->supplied[form->nutrient] > 0 && exceeds(product_share(amount->product, form), TRACE))
                return application;
        }
    }
    return NULL;
}

/* What the zone is given of P, or of K where it gets no P. */
struct untested {
    const struct nutrient_form *form;
    struct part lead;
};

/* Phosphate has laws of its own, so its help says so. */
static struct report *tell_untested(struct checking *checking, const struct instance *instance)
{
    const struct zone *zone = instance->ledger->zone;
    const struct untested *untested = instance->what;
    const struct part *lead = &untested->lead;
    struct report *report =
        finding_add(checking, CHECK_UNTESTED_ZONE,
                    ABOUT(&zone->symbol, &zone->lawn->symbol, &lead->occurrence->treatment->symbol),
                    zone->symbol.place, "%s %s %s, but has no soil test", name_string(zone->symbol.name),
                    lead->done ? "got" : "gets", untested->form->name);
    report_label(checking->model->reports, report, lead->amount->place, "%s",
                 check_supply_text(checking, lead->value, untested->form));
    report_help(checking->model->reports, report, "test the soil first%s",
                untested->form->nutrient == NUTRIENT_P ? "; several states' laws require that before P2O5"
                                                       : "");
    return report;
}

/* Phosphate comes before potash: one report a zone. */
static void check_zone_untested(struct checking *checking, struct gathering *gathering,
                                const struct ledger *ledger)
{
    const struct nutrient_form *form = nutrient_trade_form(NUTRIENT_P);
    const struct application *application = first_with(ledger, form);
    if (!application) {
        form = nutrient_trade_form(NUTRIENT_K);
        application = first_with(ledger, form);
    }
    if (!application)
        return;
    struct untested *untested = ARENA_NEW(checking->arena, struct untested);
    *untested = (struct untested){form, application_lead(application, form)};
    struct instance instance = {.place = untested->lead.amount->place,
                                .bound = form->nutrient,
                                .ledger = ledger,
                                .day = DAY_NONE,
                                .what = untested};
    gather_unless_allowed(checking, gathering, instance, CHECK_UNTESTED_ZONE,
                          ABOUT(&ledger->zone->symbol, &ledger->zone->lawn->symbol,
                                &untested->lead.occurrence->treatment->symbol),
                          tell_untested);
}

/* Where a limit requires a need, no-need says the same of a zone without a test. */
void check_untested(struct checking *checking)
{
    const struct model *model = checking->model;
    struct gathering gathering = {.groups = {0}};
    bool *tested = ARENA_ARRAY(checking->arena, model->zones.count + 1, bool);
    const struct limit *limit;
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->soil_tests.items[i]->zones.count; j++)
            tested[model->soil_tests.items[i]->zones.items[j]->index] = true;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        for (size_t i = 0; i < model->zones.count; i++)
            tested[i] = tested[i] || limit_binds(limit, model->zones.items[i]);
    for (size_t i = 0; i < model->zones.count; i++)
        if (!tested[i])
            check_zone_untested(checking, &gathering, &checking->season->ledgers[i]);
    gathering_tell(checking, &gathering, tell_untested);
}
