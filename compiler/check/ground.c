/* The ground: water that is near, and soil that nobody tested. */
#include "compiler/check/checking.h"

/* ---- near water ---- */

/* At the first application still planned that the limit speaks of, or else the first done. */
void check_near_water(struct checking *checking)
{
    struct reports *reports = checking->model->reports;
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_WATER, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            const struct zone *zone = ledger->zone;
            bool near = exceeds(limit->distance_m, zone->water_m) && limit_binds(limit, zone);
            day_number day = DAY_NONE;
            struct part lead = {0};
            for (size_t j = 0; near && j < ledger->applications.count && (!lead.amount || lead.done); j++) {
                const struct application *application = &ledger->applications.items[j];
                struct part part = limit_first_part(limit, application);
                if (!part.amount || !limit_concerns(limit, application->supplied) ||
                    (lead.amount && part.done))
                    continue;
                lead = part;
                day = application->day;
            }
            if (!lead.amount)
                continue;
            const char *strip = display_distance(checking->arena, checking->model, limit->distance_m);
            struct display_pair pair = display_pair(checking->arena, checking->model, QUANTITY_LENGTH,
                                                    zone->water_m, limit->distance_m, NULL);
            const struct treatment *treatment = lead.occurrence->treatment;
            bool named = limit->nutrients.count > 0;
            /* "north lies 5 ft from water and is treated on Sat 2027-04-10; N may not go within 10 ft of
             * water" */
            struct buffer text = {.arena = checking->arena};
            buffer_format(&text, "%s lies %s from water and %s treated on %s; ",
                          name_string(zone->symbol.name), pair.value, verb_be(lead.done),
                          display_date(checking->arena, day));
            buffer_format(&text, "%s may%s go within %s of water",
                          named ? limit_nutrients_text(checking, limit) : "nothing", named ? " not" : "",
                          strip);
            struct report *report =
                limit_finding(checking, limit, lead.done ? CHECK_RECORD_NEAR_WATER : CHECK_NEAR_WATER,
                              ABOUT(&zone->symbol, &treatment->symbol, &lead.amount->product->symbol),
                              zone->water_place, "%s", buffer_string(&text));
            report_label(reports, report, lead.amount->place, "%s treats it",
                         name_string(treatment->symbol.name));
            limit_label(checking, report, limit);
            if (!lead.done)
                report_help(reports, report,
                            "measure the zone so that it ends %s from water, or leave it out of %s", strip,
                            name_string(treatment->symbol.name));
        }
}

/* ---- zones never tested ---- */

/* Up to this share of P2O5 a product is no phosphorus fertilizer to the laws: New York ECL 17-2103, Vermont
 * 10 V.S.A. 1266b. The same share of K2O is a trace too: common practice, no source. */
static const double TRACE = 0.0067;

/* What the zone is given of P, or of K where it gets no P. */
struct untested {
    const struct nutrient_form *form;
    struct part lead;
};

/* Phosphate has laws of its own, so its help says so. Of a large plan most zones are counted only, and what
 * is not kept needs no words. */
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
    struct reports *reports = checking->model->reports;
    if (report == reports->scratch)
        return report;
    report_label(reports, report, lead->amount->place, "%s",
                 check_supply_text(checking, lead->value, untested->form));
    report_help(reports, report, "test the soil first%s",
                untested->form->nutrient == NUTRIENT_P ? "; several states' laws require that before P2O5"
                                                       : "");
    return report;
}

/* Where a limit requires a need, no-need says the same of a zone without a test. Phosphate comes before
 * potash: one report a zone, at the first product that brings more than a trace. */
void check_untested(struct checking *checking)
{
    const struct model *model = checking->model;
    const struct nutrient_form *const forms[] = {nutrient_trade_form(NUTRIENT_P),
                                                 nutrient_trade_form(NUTRIENT_K)};
    struct gathering gathering = {.groups = {0}};
    bool *tested = ARENA_ARRAY(checking->arena, model->zones.count + 1, bool);
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->soil_tests.items[i]->zones.count; j++)
            tested[model->soil_tests.items[i]->zones.items[j]->index] = true;
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        for (size_t i = 0; i < model->zones.count; i++)
            tested[i] = tested[i] || limit_binds(limit, model->zones.items[i]);
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        const struct zone *zone = ledger->zone;
        struct untested found = {.form = NULL};
        size_t applications = tested[i] ? 0 : ledger->applications.count;
        for (size_t j = 0; j < 2 * applications && !found.form; j++) {
            const struct application *application = &ledger->applications.items[j % applications];
            const struct nutrient_form *form = forms[j / applications];
            bool any = false;
            for (size_t k = 0; k < application->amounts.count && !any; k++) {
                const struct amount *amount = application->amounts.items[k];
                any = amount->supplied[form->nutrient] > 0 &&
                      exceeds(product_share(amount->product, form), TRACE);
            }
            if (any) {
                found.form = form;
                found.lead = application_lead(application, form);
            }
        }
        if (!found.form)
            continue;
        struct untested *untested = ARENA_NEW(checking->arena, struct untested);
        *untested = found;
        struct instance instance = {.place = found.lead.amount->place,
                                    .bound = found.form->nutrient,
                                    .ledger = ledger,
                                    .day = DAY_NONE,
                                    .what = untested};
        gather_unless_allowed(
            checking, &gathering, instance, CHECK_UNTESTED_ZONE,
            ABOUT(&zone->symbol, &zone->lawn->symbol, &found.lead.occurrence->treatment->symbol),
            tell_untested);
    }
    gathering_tell(checking, &gathering, tell_untested);
}
