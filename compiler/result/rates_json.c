#include "compiler/result/rates_json.h"

#include "compiler/model/display.h"
#include "compiler/result/caution_json.h"
#include "compiler/result/closing_lines_json.h"
#include "compiler/form/json_values.h"
#include "compiler/result/rates_caution.h"
#include "compiler/result/plan_notes.h"
#include "compiler/solve/cause.h"

#include <math.h>

/* ---- applications ---- */

static void put_rate(struct json_writer *writer, json_t *rates, const struct model *model,
                     const struct amount *amount)
{
    struct shown_rate rate = {amount->rate, amount->volume, amount->leeway, 1};
    enum quantity quantity = amount->volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    json_t *object = json_put_object(writer, rates, NULL);
    json_put_name(writer, object, "product", amount->product->symbol.name);
    json_put_name(writer, object, "zone", amount->zone->symbol.name);
    json_put_product_rate(writer, object, "rate", amount->rate, amount->volume,
                          display_whole_rate(writer->arena, model, &rate, NULL));
    json_put_amount(writer, object, "amount", amount->total, amount->volume,
                    display_within(writer->arena, model, quantity, amount->total, amount->leeway, NULL));
    json_put_mass(writer, object, "mass", model, amount->volume ? amount->mass_total : NAN);
}

static bool amount_of(const struct amount *amount, const struct choice_made *choice)
{
    const struct treatment *treatment = choice->match ? choice->match->treatment : NULL;
    size_t count = treatment ? choice->match->products.count : choice->correct->products.count;
    struct product *const *products =
        treatment ? choice->match->products.items : choice->correct->products.items;
    bool listed = false;
    for (size_t i = 0; i < count; i++)
        listed = listed || products[i] == amount->product;
    return listed && amount->dressing && amount->dressing->open;
}

static void put_application(struct json_writer *writer, json_t *applications, const struct model *model,
                            const struct choice_made *choice, const struct occurrence *occurrence)
{
    json_t *object = json_put_object(writer, applications, NULL);
    json_put_name(writer, object, "treatment", occurrence->treatment->symbol.name);
    json_put_integer(writer, object, "time", occurrence->time);
    json_put_string(writer, object, "day", day_text(writer->arena, occurrence->day));
    json_t *rates = json_put_array(writer, object, "rates");
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        if (amount_of(&occurrence->amounts.items[i], choice))
            put_rate(writer, rates, model, &occurrence->amounts.items[i]);
}

/* ---- zones ---- */

static void put_wanted(struct json_writer *writer, json_t *wants, const struct wanted *wanted)
{
    json_t *object = json_put_object(writer, wants, NULL);
    json_put_string(writer, object, "nutrient", wanted->nutrient->name);
    json_put_string(writer, object, "counted_as", "kg of the element per m2");
    json_put_number(writer, object, "need", wanted->need);
    json_put_number(writer, object, "most", fmax(wanted->most, wanted->need));
    json_put_number(writer, object, "given", wanted->given);
    json_put_number(writer, object, "chosen", wanted->chosen);
    json_put_number(writer, object, "missing", wanted->missing);
    json_put_number(writer, object, "too_much", wanted->excess);
    json_put_boolean(writer, object, "offered", wanted->offered);
    json_put_boolean(writer, object, "by_soil_test", wanted->test != NULL);
}

static void put_easing(struct json_writer *writer, json_t *easings, const struct zone_choice *zone,
                       const struct easing *easing)
{
    json_t *object = json_put_object(writer, easings, NULL);
    json_put_text(writer, object, "statement", place_text(easing->cause->place));
    json_put_place(writer, object, "place", easing->cause->place);
    const char *fixed = cause_fixed_by(easing->cause);
    json_put_string(writer, object, "fixed_by", fixed);
    json_put_figure(writer, object, "would_have_to_be", fixed ? NAN : easing->bound);
    json_put_figure(writer, object, "worst_share_missing_then", fixed ? NAN : easing->worst);
    if (fixed) {
        json_put_null(writer, object, "missing_then");
        return;
    }
    json_t *missing = json_put_array(writer, object, "missing_then");
    for (size_t i = 0; i < zone->want_count; i++)
        json_put_number(writer, missing, NULL, easing->missing[i]);
}

static void put_zone(struct json_writer *writer, json_t *zones, const struct model *model,
                     const struct zone_choice *zone)
{
    json_t *object = json_put_object(writer, zones, NULL);
    json_put_name(writer, object, "zone", zone->zone->symbol.name);
    json_put_area(writer, object, "area", model, zone->zone->area_m2);
    json_put_number(writer, object, "worst_share_missing", zone->worst);
    json_t *wants = json_put_array(writer, object, "nutrients");
    for (size_t i = 0; i < zone->want_count; i++)
        put_wanted(writer, wants, &zone->wants[i]);
    json_t *easings = json_put_array(writer, object, "pressing");
    for (size_t i = 0; i < zone->easings.count; i++)
        put_easing(writer, easings, zone, &zone->easings.items[i]);
}

/* ---- a choice ---- */

static void put_bought(struct json_writer *writer, json_t *list, const struct model *model,
                       const struct bought *bought)
{
    json_t *object = json_put_object(writer, list, NULL);
    json_put_name(writer, object, "product", bought->product->symbol.name);
    json_put_amount(writer, object, "mass", bought->mass, false,
                    display_ceiling(writer->arena, model, QUANTITY_MASS, bought->mass, NULL));
    json_put_figure(writer, object, "cost", bought->cost);
    if (!bought->packs)
        return;
    json_t *packs = json_put_array(writer, object, "packs");
    for (size_t i = 0; i < bought->product->packs.count; i++)
        json_put_integer(writer, packs, NULL, (json_int_t)bought->packs[i]);
}

static void put_goals(struct json_writer *writer, json_t *object, const struct choice_made *choice)
{
    static const char *const names[GOAL_COUNT] = {[GOAL_WORST] = "worst_shares_missing",
                                                  [GOAL_SHORT] = "shares_missing",
                                                  [GOAL_EXCESS] = "shares_too_much",
                                                  [GOAL_COST] = "cost",
                                                  [GOAL_PRODUCTS] = "products"};
    json_t *goals = json_put_object(writer, object, "goals");
    for (int i = 0; i < GOAL_COUNT; i++)
        json_put_number(writer, goals, names[i], choice->goals[i]);
    json_put_string(writer, goals, "cost_counted_as", choice->priced ? "money" : "kg");
}

static void put_choice(struct json_writer *writer, json_t *choices, const struct model *model,
                       const struct choice_made *choice)
{
    json_t *object = json_put_object(writer, choices, NULL);
    json_put_string(writer, object, "kind", choice->correct ? "correct" : "match");
    json_put_name(writer, object, "name",
                  choice->correct ? choice->correct->symbol.name : choice->match->treatment->symbol.name);
    json_put_boolean(writer, object, "proven", choice->proven);
    put_goals(writer, object, choice);
    json_t *applications = json_put_array(writer, object, "applications");
    for (size_t i = 0; i < choice->slots.count; i++)
        put_application(writer, applications, model, choice, choice->slots.items[i].occurrence);
    json_t *zones = json_put_array(writer, object, "zones");
    for (size_t i = 0; i < choice->zone_count; i++)
        put_zone(writer, zones, model, &choice->zones[i]);
    json_t *bought = json_put_array(writer, object, "to_buy");
    for (size_t i = 0; i < choice->bought.count; i++)
        put_bought(writer, bought, model, &choice->bought.items[i]);
}

/* ---- questions of the plan ---- */

static void put_three(struct json_writer *writer, json_t *object, const char *key, const double values[3])
{
    json_t *array = json_put_array(writer, object, key);
    for (int i = 0; i < 3; i++)
        json_put_number(writer, array, NULL, values[i]);
}

static void put_match(struct json_writer *writer, json_t *matches, const struct model *model,
                      const struct match_made *made)
{
    json_t *object = json_put_object(writer, matches, NULL), *rates = json_put_array(writer, object, "rates");
    for (size_t i = 0; i < made->match->products.count; i++) {
        json_t *rate = json_put_object(writer, rates, NULL);
        json_put_name(writer, rate, "product", made->match->products.items[i]->symbol.name);
        json_put_product_rate(writer, rate, "rate", made->rates[i], false,
                              display_floor(writer->arena, model, QUANTITY_MASS_RATE, made->rates[i], NULL));
    }
    json_put_number(writer, object, "share_at_once", made->share);
    json_put_integer(writer, object, "applications", made->times);
    json_t *holding = json_put_array(writer, object, "held_by");
    for (size_t i = 0; i < made->holding.count; i++) {
        json_t *cause = json_put_object(writer, holding, NULL);
        json_put_text(writer, cause, "statement", place_text(made->holding.items[i].place));
        json_put_place(writer, cause, "place", made->holding.items[i].place);
        json_put_string(writer, cause, "fixed_by", cause_fixed_by(&made->holding.items[i]));
    }
    put_three(writer, object, "wanted_kg_of_the_element_per_m2", made->wanted);
    put_three(writer, object, "reached_kg_of_the_element_per_m2", made->reached);
    json_put_figure(writer, object, "cost_per_m2", made->cost);
}

static void put_mixing(struct json_writer *writer, json_t *blend, const struct blend_made *made)
{
    json_t *mixing = json_put_array(writer, blend, "mixing");
    for (size_t i = 0; i < made->warnings.count; i++) {
        const struct mix_warning *warning = &made->warnings.items[i];
        json_t *object = json_put_object(writer, mixing, NULL);
        json_put_name(writer, object, "first", warning->first->symbol.name);
        json_put_name(writer, object, "second", warning->second->symbol.name);
        json_put_string(writer, object, "verdict",
                        warning->mixing->verdict == MIXING_NEVER ? "never" : "at-once");
        json_put_place(writer, object, "place", warning->mixing->place);
    }
    json_put_boolean(writer, blend, "mixing_known", !made->mixing_unknown);
}

static void put_blend(struct json_writer *writer, json_t *blends, const struct blend_made *made)
{
    json_t *object = json_put_object(writer, blends, NULL);
    json_put_name(writer, object, "name", made->blend->symbol.name);
    json_put_boolean(writer, object, "solved", made->solved);
    json_t *shares = json_put_array(writer, object, "shares");
    for (size_t i = 0; i < made->blend->products.count && made->solved; i++) {
        json_t *share = json_put_object(writer, shares, NULL);
        json_put_name(writer, share, "product", made->blend->products.items[i]->symbol.name);
        json_put_number(writer, share, "share", made->shares[i]);
    }
    json_put_number(writer, object, "filler", made->filler);
    put_three(writer, object, "reached", made->reached);
    json_put_figure(writer, object, "cost_per_kg", made->cost);
    put_mixing(writer, object, made);
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct season *season = subject;
    const struct solution none = {0}, *solution = season->solution ? season->solution : &none;
    json_put_string(writer, root, "format", "prill rates 2");
    json_put_plan(writer, root, "plan", season->model);
    json_put_boolean(writer, root, "dated_with_all_on_the_lists", !solution->apart);
    json_t *choices = json_put_array(writer, root, "choices");
    for (size_t i = 0; i < solution->choices.count; i++)
        put_choice(writer, choices, season->model, &solution->choices.items[i]);
    json_t *matches = json_put_array(writer, root, "matches");
    for (size_t i = 0; i < solution->matches.count; i++)
        if (solution->matches.items[i].solved)
            put_match(writer, matches, season->model, &solution->matches.items[i]);
    json_t *blends = json_put_array(writer, root, "blends");
    for (size_t i = 0; i < solution->blends.count; i++)
        put_blend(writer, blends, &solution->blends.items[i]);
    struct caution_list cautions = rates_cautions(season);
    json_put_cautions(writer, root, "cautions", &cautions);
    json_put_closing(writer, root, season->model);
}

void rates_json_print(struct buffer *out, const struct season *season)
{
    json_print(out, true, fill, season);
}
