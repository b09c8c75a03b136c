/* What a plan leaves unsaid and a limit that binds it would have to know, and what of the library a plan puts
 * its own words in the place of. Each is told once, with the statement that would settle it. */
#include "compiler/check/checking.h"
#include "compiler/model/allow.h"
#include "compiler/model/replaced.h"
#include "compiler/season/need.h"

#include <math.h>

/* The first application of the zone that the limit speaks of; NULL without one. */
static const struct application *zone_concerned(const struct limit *limit, const struct ledger *ledger)
{
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        if (limit->nutrient ? supplied_as(application->supplied, limit->nutrient) > 0
                            : limit_concerns(limit, application->supplied))
            return application;
    }
    return NULL;
}

/* Names that one report lists. */
struct listing {
    const char *items[LISTED + 1];
    size_t count; /* of all */
};

static void listing_add(struct listing *names, const char *name)
{
    if (names->count < LISTED)
        names->items[names->count] = name;
    names->count++;
}

/* "a, b and 3 more" */
static const char *listing_text(struct checking *checking, struct listing *names)
{
    if (names->count > LISTED)
        names->items[LISTED] = text_format(checking->arena, "%zu more", names->count - LISTED);
    return list_text(checking->arena, names->items, names->count > LISTED ? LISTED + 1 : names->count,
                     " and ");
}

/* ---- grasses ---- */

/* The first limit that the lawn's grass would have to be known for: one on dormant grass, or for one grass.
 * Its places, grass aside, hold a zone that gets something it speaks of. */
static const struct limit *limit_by_grass(const struct checking *checking, const struct lawn *lawn)
{
    for (size_t i = 0; i < checking->model->limits.count; i++) {
        const struct limit *limit = checking->model->limits.items[i];
        const struct limit_set *set = limit->set;
        bool by_grass = limit->kind == LIMIT_DORMANT ? !lawn_range_of(lawn, GRASS_MONTHS, NUTRIENT_N)
                                                     : limit->grasses.count > 0 && !lawn->grass;
        if (!set->bound || set->symbol.broken || !by_grass)
            continue;
        for (size_t j = 0; j < lawn->zones.count; j++) {
            const struct zone *zone = lawn->zones.items[j];
            bool named = set->places.count == 0;
            for (size_t k = 0; k < set->places.count && !named; k++)
                named = set->places.items[k] == zone;
            if (named && zone_concerned(limit, &checking->season->ledgers[zone->index]))
                return limit;
        }
    }
    return NULL;
}

/* Told once for a lawn. */
void check_grass_known(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct lawn *lawn = model->lawns.items[i];
        const struct limit *limit = lawn->symbol.broken ? NULL : limit_by_grass(checking, lawn);
        if (!limit)
            continue;
        const char *name = name_string(lawn->symbol.name);
        const char *what = limit->kind == LIMIT_DORMANT ? "when it is dormant" : "its grass";
        struct report *report =
            lawn->grass
                ? finding_add(checking, CHECK_GRASS_UNKNOWN, ABOUT(&lawn->symbol, &lawn->grass->symbol),
                              lawn->grass_place,
                              "no statement gives the months in which %s grows on %s, so a limit on dormant "
                              "grass has no effect there",
                              name_string(lawn->grass->symbol.name), name)
                : finding_add(
                      checking, CHECK_GRASS_UNKNOWN, ABOUT(&lawn->symbol), lawn->symbol.place,
                      "%s does not state its grass, so a limit that depends on %s has no effect there", name,
                      what);
        limit_label(checking, report, limit);
        report_help(checking->model->reports, report,
                    lawn->grass ? "add the months to the grass: grows Mar to Nov from common-practice"
                                : "state it in the lawn: grass tall-fescue");
    }
}

/* ---- distances from water ---- */

/* "the limits of maryland-home", "the limits of this plan" */
static struct report *tell_water(struct checking *checking, const struct instance *instance)
{
    const struct zone *zone = instance->ledger->zone;
    const struct limit *limit = instance->what;
    const char *set = name_string(limit->set->symbol.name);
    const char *strip = display_distance(checking->arena, checking->model, limit->distance_m);
    struct report *report = finding_add(checking, CHECK_WATER_UNKNOWN,
                                        ABOUT(&zone->symbol, &zone->lawn->symbol), zone->symbol.place,
                                        "%s does not state its distance from water, so the %s that the "
                                        "limits of %s keep untreated have no effect there",
                                        name_string(zone->symbol.name), strip, *set ? set : "this plan");
    limit_label(checking, report, limit);
    report_help(checking->model->reports, report,
                "add the distance to the nearest pond, stream or drain, such as `, %s from water`; or write: "
                "allow water-unknown \"no water near\"",
                checking->model->metric ? "20 m" : "60 ft");
    return report;
}

/* Gathered under the first limit that speaks of water: the distance settles the others as well. Of advice
 * that binds every plan nothing is said: it speaks where the distance is stated. */
void check_water_known(struct checking *checking)
{
    struct gathering gathering = {.groups = {0}};
    const struct limit *first = NULL;
    for (size_t i = 0; i < checking->model->zones.count; i++) {
        const struct zone *zone = checking->model->zones.items[i];
        const struct ledger *ledger = &checking->season->ledgers[i];
        const struct limit *limit = NULL;
        for (size_t at = 0;
             !isfinite(zone->water_m) && (limit = limit_next(checking, LIMIT_WATER, &at)) != NULL;)
            if (limit->set->basis != BASIS_ADVICE && limit_binds(limit, zone) &&
                zone_concerned(limit, ledger))
                break;
        if (!limit)
            continue;
        first = first ? first : limit;
        struct instance instance = {.place = first->place, .ledger = ledger, .day = DAY_NONE, .what = limit};
        gather_unless_allowed(checking, &gathering, instance, CHECK_WATER_UNKNOWN,
                              ABOUT(&zone->symbol, &zone->lawn->symbol), tell_water);
    }
    gathering_tell(checking, &gathering, tell_water);
}

/* ---- entries that the library has too ---- */

enum { LABELLED = 3 }; /* entries that one report points at */

/* One report for all that count in place of the library's whole entry, and one for those that change only
 * what they state; what an `allow` accepts is told by itself. */
void check_replaced(struct checking *checking)
{
    struct replaced_list entries = model_replaced(checking->model);
    static const struct {
        const char *one, *several, *help;
    } words[] = {{"%s is the plan's own; the library's entry of that name does not count",
                  "%s are the plan's own; the library's entries of those names do not count",
                  "give the plan's own another name, or delete it so that the library's counts"},
                 {"%s is the plan's own; what it states counts in place of the library's",
                  "%s are the plan's own; what they state counts in place of the library's",
                  "delete it so that the library's counts"}};
    for (int in_part = 0; in_part < 2; in_part++) {
        const struct symbol *places[LABELLED] = {NULL};
        struct listing names = {.count = 0};
        for (size_t i = 0; i < entries.count; i++) {
            const struct symbol *symbol = entries.items[i].symbol;
            const char *name =
                text_format(checking->arena, "%s %s", entries.items[i].word, name_string(symbol->name));
            if (entries.items[i].in_part != in_part)
                continue;
            if (allowance_of_rule(checking->model, &CHECKS[CHECK_REPLACES_LIBRARY].rule, ABOUT(symbol),
                                  NULL)) {
                finding_add(checking, CHECK_REPLACES_LIBRARY, ABOUT(symbol), symbol->place,
                            words[in_part].one, name);
                continue;
            }
            if (names.count < LABELLED)
                places[names.count] = symbol;
            listing_add(&names, name);
        }
        if (!names.count)
            continue;
        struct report *report = finding_add(checking, CHECK_REPLACES_LIBRARY, ABOUT(NULL), places[0]->place,
                                            names.count == 1 ? words[in_part].one : words[in_part].several,
                                            listing_text(checking, &names));
        for (size_t i = 1; i < LABELLED && places[i]; i++)
            report_label(checking->model->reports, report, places[i]->place, "this too");
        report_help(checking->model->reports, report, "%s", words[in_part].help);
    }
}

/* ---- needs that nothing meets ---- */

struct unmet {
    const struct nutrient_form *form;
    struct zone_need need;
};

/* The help keeps both ways open: a product that holds it, or the reason why not. */
static struct report *tell_unmet(struct checking *checking, const struct instance *instance)
{
    const struct unmet *unmet = instance->what;
    const struct zone *zone = instance->ledger->zone;
    const struct soil_test *test = unmet->need.reading.test;
    struct report *report = finding_add(
        checking, CHECK_NEED_UNMET, ABOUT(&zone->symbol, &zone->lawn->symbol), instance->place,
        "%s needs %s by the soil test of %s; no application there supplies it",
        name_string(zone->symbol.name),
        check_supply_text(checking, unmet->need.kg_per_m2 / unmet->form->element_per_unit, unmet->form),
        display_date(checking->arena, test->day));
    report_help(checking->model->reports, report,
                "plan a product that holds %s, or say why not: allow need-unmet for %s \"...\"",
                unmet->form->name, name_string(zone->symbol.name));
    return report;
}

/* Asked at the season's end, of zones that get something: a plan that only reads its soil tests is not done.
 * A year's figure that the lawn states without a test counts only where a test is read. */
void check_needs_met(struct checking *checking)
{
    const struct model *model = checking->model;
    struct gathering gathering = {.groups = {0}};
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct ledger *ledger = &checking->season->ledgers[i];
        bool asked = ledger->applications.count && ledger->zone->tests.count;
        for (enum nutrient nutrient = NUTRIENT_P; nutrient <= NUTRIENT_LIME && asked; nutrient++) {
            struct unmet found = {.form = nutrient_trade_form(nutrient)};
            if (!need_on(checking->season, ledger->zone, nutrient, model->season_last, &found.need) ||
                !(found.need.kg_per_m2 > 0) || found.need.given > 0 || !found.need.reading.test)
                continue;
            struct unmet *unmet = ARENA_NEW(checking->arena, struct unmet);
            *unmet = found;
            const struct soil_test *test = unmet->need.reading.test;
            struct instance instance = {.place = test->results_place,
                                        .bound = (uint64_t)nutrient + 1,
                                        .excess = unmet->need.kg_per_m2,
                                        .ledger = ledger,
                                        .day = DAY_NONE,
                                        .what = unmet};
            gather_unless_allowed(checking, &gathering, instance, CHECK_NEED_UNMET,
                                  ABOUT(&ledger->zone->symbol, &ledger->zone->lawn->symbol), tell_unmet);
        }
    }
    gathering_tell(checking, &gathering, tell_unmet);
}

/* ---- labels ---- */

#define ONE_LABEL "the label rate of %s is not stated; its rate is checked against limits only"

/* Told once for all: the first product has the place. */
void check_label_rates_stated(struct checking *checking)
{
    const struct model *model = checking->model;
    struct listing names = {.count = 0};
    const struct symbol *first = NULL;
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        bool put_down = false;
        for (size_t j = 0; j < model->treatments.count && !put_down; j++) {
            const struct dressing_list *dressings =
                &checking->season->dressings[model->treatments.items[j]->index];
            for (size_t k = 0; k < dressings->count; k++)
                put_down = put_down || dressings->items[k]->product == product;
        }
        /* What goes on by the barrow, such as lime or compost, has a bound of its kind, and mostly no
         * label. */
        bool bound = !isnan(product->label.high);
        size_t by_kind = product->usual.count - (product->usual.count > 0 && product->form != FORM_UNKNOWN);
        for (size_t j = 0; j < by_kind; j++)
            bound = bound || product->usual.items[j]->rate[BY_MASS].place.source;
        if (!put_down || product->symbol.broken || bound)
            continue;
        if (allowance_of_rule(checking->model, &CHECKS[CHECK_LABEL_MISSING].rule, ABOUT(&product->symbol),
                              NULL)) {
            finding_add(checking, CHECK_LABEL_MISSING, ABOUT(&product->symbol), product->symbol.place,
                        ONE_LABEL, name_string(product->symbol.name));
            continue;
        }
        first = first ? first : &product->symbol;
        listing_add(&names, name_string(product->symbol.name));
    }
    if (!names.count)
        return;
    struct report *report =
        finding_add(checking, CHECK_LABEL_MISSING, ABOUT(NULL), first->place,
                    names.count == 1
                        ? ONE_LABEL
                        : "the label rates of %s are not stated; their rates are checked against limits only",
                    listing_text(checking, &names));
    /* Figures of the size that labels of granular feeds have, in what the plan is printed in. */
    static const char *const rates[][2] = {
        [PER_LAWN] = {"2 to 4 lb per 1000 sqft", "10 to 20 g per m2"},
        [PER_FIELD] = {"90 to 180 lb per acre", "100 to 200 kg per ha"},
    };
    report_help(model->reports, report, "copy it from the label into the product: label %s",
                rates[model->ground][model->metric]);
}

/* ---- zones without a rate ---- */

/* Rates that a plan states go to all zones; those that were chosen may leave some out. */
void check_zones_left_out(struct checking *checking)
{
    const struct season *season = checking->season;
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        const struct treatment *treatment = occurrence->treatment;
        bool counts =
            treatment->open && !treatment->symbol.broken && !occurrence->done && !occurrence->skipped;
        struct listing names = {.count = 0};
        for (size_t j = 0; counts && j < treatment->zones.count; j++) {
            bool fed = false;
            for (size_t k = 0; k < occurrence->amounts.count && !fed; k++)
                fed = occurrence->amounts.items[k].zone == treatment->zones.items[j] &&
                      occurrence->amounts.items[k].rate > 0;
            if (!fed)
                listing_add(&names, name_string(treatment->zones.items[j]->symbol.name));
        }
        if (!names.count || names.count == treatment->zones.count ||
            !finding_once(checking, CHECK_ZONE_LEFT_OUT, treatment->symbol.place, 0))
            continue;
        struct report *report =
            finding_add(checking, CHECK_ZONE_LEFT_OUT, ABOUT(&treatment->symbol), treatment->symbol.place,
                        "%s puts nothing on %s: no rate was chosen there",
                        name_string(treatment->symbol.name), listing_text(checking, &names));
        report_help(checking->model->reports, report,
                    "run `prill rates` to see what each zone needs and what holds it back");
    }
}
