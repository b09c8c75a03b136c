#include "compiler/result/rates.h"

#include "compiler/model/display.h"
#include "compiler/model/measure.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/result.h"
#include "compiler/result/shopping.h"
#include "compiler/result/work.h"
#include "compiler/solve/cause.h"

const char *grade_text(struct arena *arena, const double grade[3])
{
    return text_format(arena, "%s-%s-%s", number_text(arena, grade[0] * 100, 2),
                       number_text(arena, grade[1] * 100, 2), number_text(arena, grade[2] * 100, 2));
}

/* ---- match ---- */

/* "1 lb N, 0.5 lb P2O5 per 1000 sqft" of N, P and K, kg/m2 of the element. */
static const char *supplied_text(struct arena *arena, const struct model *model, const double element[3])
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct buffer text = {.arena = arena};
    for (int i = 0; i < 3; i++) {
        const struct nutrient_form *form = nutrient_trade_form(parts[i]);
        double supplied = element[i] / form->element_per_unit;
        if (!(supplied > 0))
            continue;
        buffer_separate(&text, ", ");
        buffer_format(&text, "%s %s %s", display_number(arena, model, QUANTITY_MASS_RATE, supplied),
                      display_parts(model, QUANTITY_MASS_RATE, 0).unit, form->name);
    }
    if (!text.length)
        return "nothing";
    return text_format(arena, "%s%s", text.string, display_parts(model, QUANTITY_MASS_RATE, 0).per);
}

/* What one application may not supply, what holds it back, and how many would be enough. */
static void describe_share(struct page *page, const struct model *model, const struct match_answer *made)
{
    struct arena *arena = page->arena;
    double missing[3];
    for (int part = 0; part < 3; part++)
        missing[part] = fmax(0, made->supplied[part] - made->reached[part]);
    page_say(page, 1, "Short in one application: %s.", supplied_text(arena, model, missing));
    for (size_t i = 0; i < made->holding.count; i++) {
        const struct cause *cause = &made->holding.items[i];
        const char *fixed = cause_fixed_words(model, cause, NUTRIENT_COUNT);
        page_item(page, 2,
                  text_format(arena, "`%s` (%s)%s%s.", place_words(arena, cause->place),
                              place_line(arena, cause->place), fixed ? ": " : "", fixed ? fixed : ""));
    }
    if (made->times)
        page_say(page, 1, "%u equal applications supply all of that.", made->times);
    else
        page_line(page, 1,
                  "No number of equal applications supplies exactly that within the labels and the yearly "
                  "limits.");
}

/* Rates for any ground of the plan: a match outside of an application names no zone. */
static void match_describe(struct page *page, const struct model *model, const struct match_answer *made)
{
    struct arena *arena = page->arena;
    const struct match *match = made->match;
    double area = 0;
    page_heading(page, 0,
                 text_format(arena, "As %s of %s would (%s): %s.", display_rate(arena, model, match->rate),
                             grade_text(arena, match->grade), place_line(arena, match->place),
                             supplied_text(arena, model, made->wanted)));
    if (!(made->share > 0)) {
        page_line(page, 1, "No rate of these products stays within their labels and the limits.");
        return;
    }
    if (made->share < 1)
        page_say(page, 1, "One application can supply %s of these nutrients:",
                 display_share(arena, floor(made->share * 1000 + 1e-9) / 1000));
    for (size_t i = 0; i < match->products.count; i++)
        if (made->rates[i] > 0)
            page_say(page, 1, "%s of %s",
                     display_rounded(arena, model, QUANTITY_MASS_RATE, made->rates[i], number_floor, NULL),
                     name_string(match->products.items[i]->symbol.name));
    page_say(page, 1, "supply %s.", supplied_text(arena, model, made->reached));
    /* What would match, beside the grade: over it, short of it at once, and short of it however often. */
    double missing[3] = {0}, beyond[3] = {0};
    bool less = false, more = false;
    for (int part = 0; part < 3; part++) {
        if (exceeds(made->wanted[part], made->supplied[part])) {
            missing[part] = made->wanted[part] - made->supplied[part];
            less = true;
        }
        if (exceeds(made->reached[part], made->wanted[part])) {
            beyond[part] = made->reached[part] - made->wanted[part];
            more = true;
        }
    }
    if (more)
        page_say(page, 1, "Over the grade: %s.", supplied_text(page->arena, model, beyond));
    if (made->share < 1)
        describe_share(page, model, made);
    if (less)
        page_say(page, 1, "Short of the grade: %s. No rates of these products supply that.",
                 supplied_text(page->arena, model, missing));
    for (size_t i = 0; i < model->zones.count; i++)
        area += model->zones.items[i]->area_m2;
    if (!isnan(made->cost) && area > 0)
        page_say(page, 1, "Cost %son all %s: %s.", made->share < 1 ? "of one application " : "",
                 display_area(arena, model, area), money_text(arena, model, rates_money(made->cost * area)));
    page_line(page, 1,
              "These rates stay within the labels and within the limits for one application that bind every "
              "zone all year. Other limits count only where the match is in an application.");
}

/* ---- blend ---- */

/* Parts of a whole, each what the sum up to it, rounded, grows by: so they add up to the whole. */
struct blend_shown {
    const struct unit *unit; /* of the mass; NULL where the blend states none */
    double mass;             /* of the whole, in it */
    int decimals;
    double share; /* so far */
};

/* A part of the mass where the blend states one, and its share; nothing of a share of 0. */
static void describe_part(struct page *page, struct blend_shown *shown, const char *name, double share)
{
    enum { SHARE_DECIMALS = 2 };
    double before = shown->share, after = before + share;
    struct buffer text = {.arena = page->arena};
    if (!(share > 0))
        return;
    shown->share = after;
    double percent =
        number_nearest(after * 100, SHARE_DECIMALS) - number_nearest(before * 100, SHARE_DECIMALS);
    double mass = number_nearest(after * shown->mass, shown->decimals) -
                  number_nearest(before * shown->mass, shown->decimals);
    if (shown->unit)
        buffer_format(&text, "%s %s of %s, ", number_text(page->arena, mass, shown->decimals),
                      shown->unit->name, name);
    buffer_format(&text, "%s%%", number_text(page->arena, percent, SHARE_DECIMALS));
    if (!shown->unit)
        buffer_format(&text, " of %s", name);
    page_line(page, 1, text.string);
}

/* What is never to be mixed is said before what to weigh, the rest after it. */
static void describe_mixing(struct page *page, struct footnotes *notes, const struct blend_answer *made,
                            enum mixing_verdict verdict)
{
    const char *rule =
        verdict == MIXING_NEVER ? "must not be mixed" : "may be mixed if spread at once and not stored";
    for (size_t i = 0; i < made->warnings.count; i++) {
        const struct mix_warning *warning = &made->warnings.items[i];
        if ((warning->mixing->verdict == MIXING_NEVER) != (verdict == MIXING_NEVER))
            continue;
        struct buffer text = {.arena = page->arena};
        buffer_format(&text, "%s and %s %s", name_string(warning->first->symbol.name),
                      name_string(warning->second->symbol.name), rule);
        buffer_format(&text, "%s (%s).", footnote_mark(notes, warning->mixing->source),
                      place_line(page->arena, warning->mixing->place));
        page_line(page, 1, text.string);
    }
}

/* What must never be mixed comes before the amounts, so that nobody weighs first and reads later. */
void rates_blend_describe(struct page *page, const struct model *model, struct footnotes *notes,
                          const struct blend_answer *made)
{
    struct arena *arena = page->arena;
    const struct blend *blend = made->blend;
    struct blend_shown shown = {.mass = NAN};
    struct buffer head = {.arena = arena};
    buffer_format(&head, "%s: ", name_string(blend->symbol.name));
    if (!isnan(blend->mass)) {
        shown.unit = measure_unit(model, blend->mass, false);
        shown.mass = unit_from_si(shown.unit, blend->mass);
        shown.decimals = number_short_decimals(shown.mass) + 1; /* the parts are smaller */
        buffer_format(&head, "%s of ", display_of(arena, model, QUANTITY_MASS, blend->mass, NULL));
    }
    buffer_format(&head, "%s (%s).", grade_text(arena, blend->grade), place_line(arena, blend->symbol.place));
    page_heading(page, 0, head.string);
    const char *note = note_sentence(arena, &blend->symbol);
    if (note)
        page_line(page, 1, note);
    if (!made->solved) {
        page_line(page, 1, "These materials cannot make this grade.");
        return;
    }
    describe_mixing(page, notes, made, MIXING_NEVER);
    for (size_t i = 0; i < blend->products.count; i++)
        describe_part(page, &shown, name_string(blend->products.items[i]->symbol.name), made->shares[i]);
    describe_part(page, &shown, blend->filler ? name_string(blend->filler) : "filler", made->filler);
    page_say(page, 1, "make %s.", grade_text(arena, made->reached));
    if (!isnan(made->cost) && !isnan(blend->mass))
        page_say(page, 1, "The materials cost %s%s.",
                 money_text(arena, model, rates_money(made->cost * blend->mass)),
                 made->filler > 0 ? "; the filler is not counted" : "");
    describe_mixing(page, notes, made, MIXING_AT_ONCE);
    if (made->mixing_unknown)
        page_line(page, 1,
                  "Not known whether all of these may be mixed: ask who sells them, and state it with "
                  "`mix`.");
}

/* ---- all of it ---- */

const struct solution *rates_solution(const struct season *season)
{
    static const struct solution none;
    return season->solution ? season->solution : &none;
}

/* Of what some rate or share is above 0: a product that is not used calls for no care. */
struct caution_list rates_cautions(const struct season *season)
{
    const struct solution *solution = rates_solution(season);
    struct {
        const struct product **items;
        size_t count, capacity;
    } chosen = {0};
    for (size_t i = 0; i < solution->choices.count; i++)
        for (size_t j = 0; j < solution->choices.items[i].bought.count; j++)
            VECTOR_PUSH(season->arena, &chosen, solution->choices.items[i].bought.items[j].product);
    for (size_t i = 0; i < solution->matches.count; i++)
        for (size_t j = 0; j < solution->matches.items[i].match->products.count; j++)
            if (solution->matches.items[i].rates && solution->matches.items[i].rates[j] > 0)
                VECTOR_PUSH(season->arena, &chosen, solution->matches.items[i].match->products.items[j]);
    for (size_t i = 0; i < solution->blends.count; i++)
        for (size_t j = 0; j < solution->blends.items[i].blend->products.count; j++)
            if (solution->blends.items[i].shares && solution->blends.items[i].shares[j] > 0)
                VECTOR_PUSH(season->arena, &chosen, solution->blends.items[i].blend->products.items[j]);
    return cautions_of(season->model, chosen.items, chosen.count, STAGES_OF_WORK);
}

/* Corrections and matches of applications first: they are what the plan will do. */
void rates_page(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct solution *solution = rates_solution(season);
    struct caution_list cautions = rates_cautions(season);
    struct footnotes notes = {.arena = page->arena};
    page_plan(page, season->model);
    if (!solution->choices.count && !solution->matches.count && !solution->blends.count)
        page_line(page, 0, "This plan leaves no rates to choose.");
    if (solution->apart)
        page_line(
            page, 0,
            "No days are possible with every listed product in every application. The days come from the "
            "rest of the plan; products that would be too close, or on closed days, were left out. The "
            "latest days are not known.");
    for (size_t i = 0; i < solution->choices.count; i++) {
        page_gap(page);
        rates_choice_describe(page, season, &solution->choices.items[i]);
    }
    for (size_t i = 0; i < solution->matches.count; i++) {
        page_gap(page);
        if (solution->matches.items[i].solved)
            match_describe(page, season->model, &solution->matches.items[i]);
    }
    for (size_t i = 0; i < solution->blends.count; i++) {
        page_gap(page);
        rates_blend_describe(page, season->model, &notes, &solution->blends.items[i]);
    }
    /* In few words: who reads a rate is about to weigh it. */
    const char *care = cautions_line(page->arena, &cautions);
    if (care) {
        page_gap(page);
        page_say(page, 0, "Take care: %s. In full, with sources: `prill explain` with the product's name.",
                 care);
    }
    page_sources(page, &notes);
}
