/* The rates that the compiler chose, for other programs. */
#include "compiler/result/result.h"

#include "compiler/model/display.h"
#include "compiler/result/caution.h"
#include "compiler/form/data.h"
#include "compiler/result/rates.h"
#include "compiler/solve/cause.h"

#include <math.h>

/* ---- applications ---- */

static void put_rate(struct data *rates, const struct model *model, const struct amount *amount)
{
    struct shown_rate rate = {amount->rate, amount->volume, amount->leeway, 1};
    enum quantity quantity = amount->volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    struct data *object = data_object(rates, NULL);
    data_name(object, "product", amount->product->symbol.name);
    data_name(object, "zone", amount->zone->symbol.name);
    data_rate(object, "rate", amount->rate, amount->volume,
              display_passes(rates->arena, model, &rate, rate.passes, NULL));
    data_amount(object, "amount", amount->total, amount->volume,
                display_within(rates->arena, model, quantity, amount->total, amount->leeway, NULL));
    data_measure(object, "mass", model, QUANTITY_MASS,
                 amount->volume ? product_mass(amount->product, amount->total, true) : NAN);
}

/* ---- zones ---- */

/* kg/m2 of the element, as the form counts it that the statement named. */
static void put_supply(struct data *parent, const char *key, const struct model *model, double element,
                       const struct nutrient_form *form)
{
    double supplied = element / form->element_per_unit;
    data_rate(parent, key, supplied, false,
              display_of(parent->arena, model, QUANTITY_MASS_RATE, supplied, form->name));
}

/* Figures only of what may be eased: of a label or a law nothing says what it would have to be. */
static void put_easing(struct data *easings, const struct model *model, const struct zone_choice *zone,
                       const struct easing *easing)
{
    struct data *object = data_object(easings, NULL);
    data_text(object, "statement", place_text(easing->cause->place));
    data_place(object, "place", easing->cause->place);
    const char *fixed = cause_fixed_by(easing->cause);
    data_string(object, "fixed_by", fixed);
    if (fixed || !isfinite(easing->bound))
        data_null(object, "would_have_to_be");
    else
        data_rate(object, "would_have_to_be", easing->bound, false,
                  cause_bound_words(model, easing->cause, easing->bound));
    data_number(object, "worst_share_missing_then", fixed ? NAN : easing->worst);
    if (fixed) {
        data_null(object, "missing_then");
        return;
    }
    struct data *missing = data_list(object, "missing_then");
    for (size_t i = 0; i < zone->want_count; i++)
        put_supply(missing, NULL, model, easing->missing[i], zone->wants[i].nutrient);
}

/* ---- a choice ---- */

/* What is bought of a product; its packs only where whole packs are stated. */
static void put_bought(struct data *list, const struct model *model, const struct bought *bought)
{
    struct data *object = data_object(list, NULL);
    data_name(object, "product", bought->product->symbol.name);
    data_amount(object, "mass", bought->mass, false,
                display_rounded(list->arena, model, QUANTITY_MASS, bought->mass, number_ceiling, NULL));
    data_number(object, "cost", bought->cost);
    if (bought->spared > 0)
        data_amount(object, "lowered_from", bought->spared, false,
                    display_rounded(list->arena, model, QUANTITY_MASS, bought->spared, number_ceiling, NULL));
    if (!bought->packs)
        return;
    struct data *packs = data_list_row(object, "packs");
    for (size_t i = 0; i < bought->product->packs.count; i++)
        data_integer(packs, NULL, (long long)bought->packs[i]);
}

static const char *const goal_names[GOAL_COUNT] = {[GOAL_WORST] = "worst_shares_missing",
                                                   [GOAL_SHORT] = "shares_missing",
                                                   [GOAL_EXCESS] = "shares_too_much",
                                                   [GOAL_COST] = "cost",
                                                   [GOAL_PRODUCTS] = "products"};

/* What was aimed at first: only beside its goals does a shortfall say anything. */
static void put_choice(struct data *choices, const struct model *model, const struct rates_answer *choice)
{
    struct data *object = data_object(choices, NULL);
    data_string(object, "kind", choice->correct ? "correct" : "match");
    data_name(object, "name",
              choice->correct ? choice->correct->symbol.name : choice->match->treatment->symbol.name);
    data_boolean(object, "proven", choice->proven);
    struct data *goals = data_object(object, "goals");
    for (int i = 0; i < GOAL_COUNT; i++)
        data_number(goals, goal_names[i], choice->goals[i]);
    data_string(goals, "cost_counted_as", choice->priced ? "money" : "kg");
    struct data *exact = data_object(object, "exact_goals");
    for (int i = 0; i < GOAL_COUNT; i++)
        data_number(exact, goal_names[i], choice->exact_goals[i]);
    data_number(object, "least_worst_shares_missing", choice->least_worst);
    data_boolean(object, "in_steps", choice->stepped);
    struct data *applications = data_list(object, "applications");
    for (size_t i = 0; i < choice->slots.count; i++) {
        const struct occurrence *occurrence = choice->slots.items[i].occurrence;
        struct data *item = data_object(applications, NULL);
        data_name(item, "treatment", occurrence->treatment->symbol.name);
        data_integer(item, "time", occurrence->time);
        data_day(item, "date", occurrence->day);
        struct data *rates = data_list(item, "rates");
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            if (rates_chose(choice, &occurrence->amounts.items[j]))
                put_rate(rates, model, &occurrence->amounts.items[j]);
    }
    struct data *zones = data_list(object, "zones");
    for (size_t i = 0; i < choice->zone_count; i++) {
        struct data *ground = data_object(zones, NULL);
        data_name(ground, "zone", choice->zones[i].zone->symbol.name);
        data_measure(ground, "area", model, QUANTITY_AREA, choice->zones[i].zone->area_m2);
        data_number(ground, "worst_share_missing", choice->zones[i].worst);
        struct data *wants = data_list(ground, "nutrients");
        for (size_t j = 0; j < choice->zones[i].want_count; j++) {
            /* Amounts of one nutrient in the form that the trade names, so that they can be added up. */
            const struct wanted *wanted = &choice->zones[i].wants[j];
            struct data *entry = data_object(wants, NULL);
            data_string(entry, "nutrient", wanted->nutrient->name);
            data_number(entry, "element_share", wanted->nutrient->element_per_unit);
            put_supply(entry, "need", model, wanted->need, wanted->nutrient);
            put_supply(entry, "most", model, fmax(wanted->most, wanted->need), wanted->nutrient);
            put_supply(entry, "given", model, wanted->given, wanted->nutrient);
            put_supply(entry, "chosen", model, wanted->chosen, wanted->nutrient);
            put_supply(entry, "missing", model, wanted->missing, wanted->nutrient);
            put_supply(entry, "too_much", model, wanted->excess, wanted->nutrient);
            put_supply(entry, "exact_missing", model, wanted->exact_missing, wanted->nutrient);
            data_boolean(entry, "offered", wanted->offered);
            data_boolean(entry, "by_soil_test", wanted->test != NULL);
        }
        struct data *easings = data_list(ground, "pressing");
        for (size_t j = 0; j < choice->zones[i].easings.count; j++)
            put_easing(easings, model, &choice->zones[i], &choice->zones[i].easings.items[j]);
    }
    struct data *bought = data_list(object, "to_buy");
    for (size_t i = 0; i < choice->bought.count; i++)
        put_bought(bought, model, &choice->bought.items[i]);
}

/* ---- questions of the plan ---- */

/* N, P2O5 and K2O. */
static void put_three(struct data *object, const char *key, const struct model *model,
                      const double element[3])
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct data *list = data_list(object, key);
    for (int i = 0; i < 3; i++)
        put_supply(list, NULL, model, element[i], nutrient_trade_form(parts[i]));
}

/* Shares of the whole mass; none where the materials cannot make the grade. */
static void put_blend(struct data *blends, const struct blend_answer *made)
{
    struct data *object = data_object(blends, NULL);
    data_name(object, "name", made->blend->symbol.name);
    data_boolean(object, "solved", made->solved);
    struct data *shares = data_list(object, "shares");
    for (size_t i = 0; i < made->blend->products.count && made->solved; i++) {
        struct data *share = data_object(shares, NULL);
        data_name(share, "product", made->blend->products.items[i]->symbol.name);
        data_number(share, "share", made->shares[i]);
    }
    data_number(object, "filler", made->filler);
    struct data *reached = data_list(object, "reached");
    for (int i = 0; i < 3; i++)
        data_number(reached, NULL, made->reached[i]);
    data_number(object, "cost_per_kg", made->cost);
    struct data *mixing = data_list(object, "mixing");
    for (size_t i = 0; i < made->warnings.count; i++) {
        const struct mix_warning *warning = &made->warnings.items[i];
        struct data *item = data_object(mixing, NULL);
        data_name(item, "first", warning->first->symbol.name);
        data_name(item, "second", warning->second->symbol.name);
        data_string(item, "verdict", warning->mixing->verdict == MIXING_NEVER ? "never" : "at-once");
        data_place(item, "place", warning->mixing->place);
    }
    data_boolean(object, "mixing_known", !made->mixing_unknown);
}

/* An answer that was not found is left out, and reported as an error instead. */
void rates_data(struct data *root, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct solution *solution = rates_solution(season);
    data_boolean(root, "dated_with_all_on_the_lists", !solution->apart);
    struct data *choices = data_list(root, "choices");
    for (size_t i = 0; i < solution->choices.count; i++)
        put_choice(choices, season->model, &solution->choices.items[i]);
    struct data *matches = data_list(root, "matches");
    for (size_t i = 0; i < solution->matches.count; i++)
        if (solution->matches.items[i].solved) {
            /* The rates of one application, and what is behind them: no zone is named, so nothing is of a
             * zone. */
            const struct model *model = season->model;
            const struct match_answer *made = &solution->matches.items[i];
            struct data *object = data_object(matches, NULL), *rates = data_list(object, "rates");
            for (size_t j = 0; j < made->match->products.count; j++) {
                struct data *rate = data_object(rates, NULL);
                data_name(rate, "product", made->match->products.items[j]->symbol.name);
                data_rate(rate, "rate", made->rates[j], false,
                          display_rounded(matches->arena, model, QUANTITY_MASS_RATE, made->rates[j],
                                          number_floor, NULL));
            }
            data_number(object, "share_at_once", made->share);
            data_integer(object, "applications", made->times);
            struct data *holding = data_list(object, "held_by");
            for (size_t j = 0; j < made->holding.count; j++) {
                struct data *cause = data_object(holding, NULL);
                data_text(cause, "statement", place_text(made->holding.items[j].place));
                data_place(cause, "place", made->holding.items[j].place);
                data_string(cause, "fixed_by", cause_fixed_by(&made->holding.items[j]));
            }
            put_three(object, "wanted", model, made->wanted);
            put_three(object, "reached", model, made->reached);
            data_number(object, "cost_per_m2", made->cost);
        }
    struct data *blends = data_list(root, "blends");
    for (size_t i = 0; i < solution->blends.count; i++)
        put_blend(blends, &solution->blends.items[i]);
    struct caution_list cautions = rates_cautions(season);
    data_cautions(root, "cautions", &cautions);
}
