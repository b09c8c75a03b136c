/* What is missing of a need, what holds it back, and what else there is to say of a choice. */
#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "compiler/solve/cause.h"
#include "compiler/solve/solving.h"

#include <string.h>

enum { HOLDING_SAID = 4, ZONES_SAID = 6 };

/* ---- of one nutrient ---- */

/* What a nutrient is short of, over the zones. */
struct lack {
    const struct nutrient_form *nutrient;
    const struct zone_choice *zone; /* where most is missing */
    const struct wanted *wanted;
    size_t want, zones;
};

/* The want of a nutrient that the zone is short of by enough to matter: less is told by `rates` alone. What
 * nothing supplies always is. NULL without one. */
static const struct wanted *wanted_short(const struct season *season, const struct zone_choice *zone,
                                         enum nutrient nutrient, size_t *at)
{
    for (*at = 0; *at < zone->want_count; ++*at) {
        const struct wanted *wanted = &zone->wants[*at];
        if (wanted->nutrient->nutrient == nutrient)
            return wanted->missing > 0 && exceeds(wanted->missing, wanted->need * model_within(season->model))
                       ? wanted
                       : NULL;
    }
    return NULL;
}

/* ---- what holds it back ---- */

/* The statements whose easing would help this nutrient, those that help most first: what each is, and what
 * moving it would leave; a label or law is never said to move. */
static void label_holding(struct season *season, struct report *report, const struct lack *lack)
{
    struct reports *reports = season->model->reports;
    size_t said = 0;
    for (size_t i = 0; i < lack->zone->easings.count && said < HOLDING_SAID; i++) {
        const struct easing *easing = &lack->zone->easings.items[i];
        double left = easing->missing[lack->want];
        if (left > lack->wanted->missing - 1e-7 * lack->wanted->need)
            continue;
        struct buffer text = {.arena = season->arena};
        const char *by = cause_fixed_by(easing->cause);
        buffer_format(&text, "%s; ", cause_words(season->model, easing->cause, easing->zone));
        if (by && easing->cause->limit) /* a label says so in its own words */
            buffer_add_string(&text, strcmp(by, "law") == 0 ? "fixed by the law: " : "fixed by the label: ");
        if (by)
            buffer_add_string(&text, cause_ways_round(easing->cause, lack->nutrient->nutrient));
        else if (easing->measured)
            buffer_format(&text, "with %s here",
                          cause_bound_words(season->model, easing->cause, easing->bound));
        else
            buffer_add_string(&text, "without it");
        if (!by && left > 1e-7 * lack->wanted->need)
            buffer_format(&text, ", %s would still be short", say_supply(season, left, lack->nutrient));
        else if (!by)
            buffer_add_string(&text, ", nothing would be short");
        report_label(reports, report, easing->cause->place, "%s", buffer_string(&text));
        said++;
    }
    bool steps = !exceeds(lack->wanted->exact_missing, 0); /* with exact rates nothing is */
    if (said == 0 && lack->wanted->offered)
        report_note(reports, report,
                    steps ? "the steps of the rates are too coarse for it: a machine may state a smaller step"
                    : lack->zone->followed ? "no one statement is to blame: add a product or an application"
                                           : "the search for what holds it back ended early");
}

/* The plainest of four sentences that is true: nothing supplies it, nothing comes of it, less than half, or
 * so much is short. */
static struct report *lack_report(struct season *season, const struct rates_answer *choice,
                                  const struct lack *lack)
{
    const struct symbol *const about[] = {choice_symbol(choice), &lack->wanted->zone->symbol, NULL};
    const char *missing = say_supply(season, lack->wanted->missing, lack->nutrient);
    const char *need = say_supply(season, lack->wanted->need, lack->nutrient);
    enum rates_rule rule = choice->match ? RULE_MATCH_SHORT : RULE_RATES_SHORT;
    if (!lack->wanted->offered)
        return say(season, rule, about, lack->wanted->place, "no listed product has %s: %s ends %s short",
                   lack->nutrient->name, name_string(lack->wanted->zone->symbol.name), missing);
    const char *zone = name_string(lack->wanted->zone->symbol.name);
    const char *whose = choice->match ? "the grade supplies" : "it needs";
    double share = lack->wanted->missing / lack->wanted->need;
    if (!exceeds(1, share))
        return say(season, rule, about, lack->wanted->place, "%s gets none of the %s %s", zone, need, whose);
    if (exceeds(share, 0.5))
        return say(season, rule, about, lack->wanted->place, "%s gets less than half of the %s %s: %s short",
                   zone, need, whose, missing);
    return say(season, rule, about, lack->wanted->place, "%s ends %s short of the %s %s", zone, missing, need,
               whose);
}

/* Told once for each nutrient; of a match only at the first time of its application. */
void say_shortfalls(struct season *season, const struct rates_answer *choice)
{
    if (choice->match && choice->occurrence->time > 1)
        return;
    for (enum nutrient nutrient = NUTRIENT_N; nutrient < NUTRIENT_COUNT; nutrient++) {
        /* On how many zones, and where most is short; how much each is, as far as a line holds. */
        struct lack lack = {.nutrient = nutrient_trade_form(nutrient)};
        const struct wanted *shorts[ZONES_SAID];
        for (size_t i = 0; i < choice->zone_count; i++) {
            size_t at;
            const struct wanted *wanted = wanted_short(season, &choice->zones[i], nutrient, &at);
            if (!wanted)
                continue;
            if (lack.zones < ZONES_SAID)
                shorts[lack.zones] = wanted;
            lack.zones++;
            if (!lack.wanted || exceeds(wanted->missing, lack.wanted->missing)) {
                lack.wanted = wanted;
                lack.nutrient = wanted->nutrient;
                lack.zone = &choice->zones[i];
                lack.want = at;
            }
        }
        if (!lack.wanted)
            continue;
        struct report *report = lack_report(season, choice, &lack);
        label_holding(season, report, &lack);
        const char *zones[ZONES_SAID + 1];
        size_t said = 0;
        for (; said < lack.zones && said < ZONES_SAID; said++)
            zones[said] = text_format(season->arena, "%s %s", name_string(shorts[said]->zone->symbol.name),
                                      say_supply(season, shorts[said]->missing, lack.nutrient));
        if (lack.zones > ZONES_SAID)
            zones[said++] = text_format(season->arena, "and %zu more", lack.zones - ZONES_SAID);
        if (lack.zones > 1)
            report_note(season->model->reports, report, "short: %s",
                        list_text(season->arena, zones, said, NULL));
        if (choice->correct)
            report_note(season->model->reports, report,
                        nutrient_carries_over(nutrient) ? "the shortfall is left for next year"
                                                        : "the shortfall is not met this season");
    }
}

/* ---- what else there is to say ---- */

/* A list with a product of no price is chosen from by mass, which is said of more than one product. */
void say_choice(struct season *season, const struct rates_answer *choice)
{
    const struct correct *correct = choice->correct;
    const struct product *unpriced = NULL;
    bool missing = false;
    for (size_t i = 0; i < choice->zone_count; i++)
        for (size_t j = 0; j < choice->zones[i].want_count; j++)
            missing = missing || choice->zones[i].wants[j].missing > 0;
    if (!choice->solved || !correct)
        return;
    for (size_t i = 0; i < correct->products.count && !unpriced; i++) {
        unpriced = correct->products.items[i];
        for (size_t j = 0; j < correct->products.items[i]->packs.count; j++)
            if (!isnan(correct->products.items[i]->packs.items[j].price))
                unpriced = NULL;
    }
    const struct symbol *const about[] = {&correct->symbol, NULL};
    if (!choice->bought.count && !missing)
        say(season, RULE_RATES_NOTHING, about, correct->symbol.place,
            "%s has nothing to correct: no need is short", name_string(correct->symbol.name));
    if (unpriced && !choice->priced && choice->bought.count && correct->products.count > 1)
        say(season, RULE_RATES_UNPRICED, about, correct->products_place,
            "%s has no price, so these rates use the least mass, not the least cost",
            name_string(unpriced->symbol.name));
    if (!choice->proven) {
        struct report *report =
            say(season, RULE_RATES_UNPROVEN, about, correct->symbol.place,
                "these rates keep every limit, but the search ended before it proved them the best");
        double gap = choice->exact_goals[GOAL_WORST] - choice->least_worst;
        if (gap > 0.0005)
            report_note(season->model->reports, report,
                        "their worst shortfalls of all zones add up to %s of a need; no rates get below %s",
                        display_share(season->arena, choice->exact_goals[GOAL_WORST]),
                        display_share(season->arena, choice->least_worst));
        else
            report_note(season->model->reports, report,
                        "no rates have a smaller worst shortfall; other shortfalls and the cost may still be "
                        "too high");
    }
}

/* ---- questions of the plan ---- */

static const struct symbol NOTHING_NAMED;

/* Of each part that is short: the product that would close the gap, or why none is offered. */
void say_match(struct season *season, const struct match_answer *made)
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    const struct symbol *const about[] = {&NOTHING_NAMED, NULL};

    /* Labels and limits may let one application bring a part only. */
    if (made->solved && made->share < 1) {
        struct report *report =
            say(season, RULE_MATCH_SHORT, about, made->match->place,
                "labels and limits allow %s of this in one application",
                made->share > 0 ? display_share(season->arena, floor(made->share * 1000 + 1e-9) / 1000)
                                : "nothing");
        for (size_t i = 0; i < made->holding.count && i < HOLDING_SAID; i++) {
            const struct cause *cause = &made->holding.items[i];
            const char *fixed = cause_fixed_by(cause);
            report_label(season->model->reports, report, cause->place, "reached in one application%s%s",
                         fixed ? "; fixed by the " : "", fixed ? fixed : "");
        }
        if (made->times)
            report_help(season->model->reports, report, "%u equal applications supply the full amount",
                        made->times);
        else
            report_help(season->model->reports, report, "use another product, or match a lower amount");
    }
    for (size_t i = 0; i < made->helps.count; i++) {
        const struct match_help *help = &made->helps.items[i];
        int part = help->nutrient->nutrient == parts[0] ? 0 : help->nutrient->nutrient == parts[1] ? 1 : 2;
        struct report *report = say(season, RULE_MATCH_SHORT, about, made->match->place,
                                    "these products supply %s of the %s that the grade calls for",
                                    say_supply(season, made->supplied[part], help->nutrient),
                                    say_supply(season, made->wanted[part], help->nutrient));
        if (help->product)
            report_help(season->model->reports, report, "add %s to close the gap",
                        name_string(help->product->symbol.name));
        else if (help->by_need)
            report_help(season->model->reports, report,
                        "%s is allowed only where a soil test shows a need: match a grade without it",
                        help->nutrient->name);
        else
            report_help(season->model->reports, report,
                        "no product in the plan closes the gap; one that is mostly %s would",
                        help->nutrient->name);
        if (help->by_need)
            report_label(season->model->reports, report, help->by_need->place, "this limit");
    }
}

/* A grade is met when each part of it is right to half a hundredth of a percent. */
void say_blend(struct season *season, const struct blend_answer *made)
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct reports *reports = season->model->reports;
    const struct blend *blend = made->blend;
    const struct symbol *const about[] = {&blend->symbol, NULL};
    const char *grade[3];
    bool off = false;
    for (int part = 0; part < 3; part++) {
        off = off || fabs(made->reached[part] - blend->grade[part]) > 5e-5;
        grade[part] = number_short(season->arena, made->reached[part] * 100);
    }
    if (!made->solved)
        say(season, RULE_BLEND_SHORT, about, blend->grade_place, "these materials cannot make a blend");
    else if (off) {
        struct report *report =
            say(season, RULE_BLEND_SHORT, about, blend->grade_place,
                "the nearest blend of these materials is %s-%s-%s", grade[0], grade[1], grade[2]);
        /* Which part no material is rich enough for, and whether there was any mass left to fill. */
        for (int part = 0; part < 3; part++) {
            const struct nutrient_form *form = nutrient_trade_form(parts[part]);
            double most = 0;
            for (size_t i = 0; i < blend->products.count; i++)
                most = fmax(most, product_share(blend->products.items[i], form));
            if (blend->grade[part] > 0 && !(most > 0))
                report_note(reports, report, "no material has %s", form->name);
            else if (exceeds(blend->grade[part], most))
                report_note(reports, report, "no material has more than %s%% %s",
                            number_short(season->arena, most * 100), form->name);
        }
        if (!(made->filler > 0))
            report_note(reports, report, "the materials take up the whole mass: use richer ones");
    }
    for (size_t i = 0; i < made->warnings.count; i++) {
        const struct mix_warning *warning = &made->warnings.items[i];
        if (warning->mixing->verdict != MIXING_NEVER)
            continue;
        struct report *report =
            say(season, RULE_BLEND_APART, about, blend->products_place, "%s and %s must not be mixed",
                name_string(warning->first->symbol.name), name_string(warning->second->symbol.name));
        report_label(reports, report, warning->mixing->place, "this says so");
    }
}
