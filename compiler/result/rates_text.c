#include "compiler/result/rates_text.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/measure.h"
#include "compiler/result/result.h"
#include "compiler/result/closing_lines.h"
#include "compiler/result/footnote.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/rates_caution.h"
#include "compiler/result/shopping.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"
#include "compiler/solve/cause.h"

#include <assert.h>
#include <string.h>

static const enum nutrient PARTS[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};

static const char *grade_text(struct arena *arena, const double grade[3])
{
    return text_format(arena, "%s-%s-%s", number_text(arena, grade[0] * 100, 2),
                       number_text(arena, grade[1] * 100, 2), number_text(arena, grade[2] * 100, 2));
}

/* ---- match ---- */

/* "1 lb N, 0.5 lb P2O5 per 1000 sqft" */
static const char *supplied_text(struct arena *arena, const struct model *model, const double element[3])
{
    struct buffer text = {.arena = arena};
    const char *unit = display_unit(arena, model, QUANTITY_MASS_RATE, 1), *per = strstr(unit, " per ");
    assert(per);
    for (int part = 0; part < 3; part++) {
        const struct nutrient_form *form = nutrient_trade_form(PARTS[part]);
        if (element[part] > 0)
            buffer_format(
                &text, "%s%s %.*s %s", text.length ? ", " : "",
                display_number(arena, model, QUANTITY_MASS_RATE, element[part] / form->element_per_unit),
                (int)(per - unit), unit, form->name);
    }
    return text.length ? text_format(arena, "%s%s", text.string, per) : "nothing";
}

static double lawns_area(const struct model *model)
{
    double area = 0;
    for (size_t i = 0; i < model->zones.count; i++)
        area += model->zones.items[i]->area_m2;
    return area;
}

/* What one application may not bring, what holds it back, and how many would do. */
static void print_share(struct buffer *out, const struct model *model, const struct match_made *made)
{
    struct arena *arena = out->arena;
    double missing[3];
    for (int part = 0; part < 3; part++)
        missing[part] = fmax(0, made->supplied[part] - made->reached[part]);
    paragraph_add(out, "  ", text_format(arena, "Short at once: %s.", supplied_text(arena, model, missing)));
    for (size_t i = 0; i < made->holding.count; i++) {
        const struct cause *cause = &made->holding.items[i];
        const char *fixed = cause_fixed_words(model, cause);
        paragraph_add(out, "    - ",
                      text_format(arena, "`%s` (%s)%s%s.", place_words(arena, cause->place),
                                  place_line(arena, cause->place), fixed ? ": " : "", fixed ? fixed : ""));
    }
    if (made->times)
        paragraph_add(out, "  ",
                      text_format(arena, "%u applications of equal parts supply all of it.", made->times));
    else
        paragraph_add(out, "  ",
                      "No number of applications of equal parts supplies all of it, and no more, within the "
                      "labels and the limits of a year.");
}

void rates_match_print(struct buffer *out, const struct season *season, const struct match_made *made)
{
    struct arena *arena = out->arena;
    const struct model *model = season->model;
    const struct match *match = made->match;
    paragraph_add(out, "",
                  text_format(arena, "As %s of %s would (%s): %s.", display_rate(arena, model, match->rate),
                              grade_text(arena, match->grade), place_line(arena, match->place),
                              supplied_text(arena, model, made->wanted)));
    if (!(made->share > 0)) {
        paragraph_add(out, "  ", "No rate of these products is within their labels and the limits.");
        return;
    }
    if (made->share < 1)
        paragraph_add(out, "  ",
                      text_format(arena, "One application may bring %s of it:",
                                  display_share(arena, floor(made->share * 1000 + 1e-9) / 1000)));
    for (size_t i = 0; i < match->products.count; i++)
        if (made->rates[i] > 0)
            paragraph_add(out, "  ",
                          text_format(arena, "%s of %s",
                                      display_floor(arena, model, QUANTITY_MASS_RATE, made->rates[i], NULL),
                                      name_string(match->products.items[i]->symbol.name)));
    paragraph_add(out, "  ", text_format(arena, "supply %s.", supplied_text(arena, model, made->reached)));
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
        paragraph_add(out, "  ",
                      text_format(arena, "Over the grade: %s.", supplied_text(arena, model, beyond)));
    if (made->share < 1)
        print_share(out, model, made);
    if (less) /* however often they are applied */
        paragraph_add(out, "  ",
                      text_format(arena, "Short of the grade: %s. No rates of these products supply it.",
                                  supplied_text(arena, model, missing)));
    double area = lawns_area(model);
    if (!isnan(made->cost) && area > 0)
        paragraph_add(out, "  ",
                      text_format(arena, "On all %s %s costs %s.", display_area(arena, model, area),
                                  made->share < 1 ? "one application" : "that",
                                  money_text(arena, model, floor(made->cost * area * 100 + 0.5) / 100)));
    paragraph_add(
        out, "  ",
        "Labels are kept, and limits for one application that bind every zone all year; other limits "
        "only where the match stands in an application.");
}

/* ---- blend ---- */

/* Parts of a whole, each what the sum up to it, rounded, grows by: so they add up to the whole. */
struct blend_shown {
    const struct unit *unit; /* of the mass; NULL without */
    double mass;             /* of the whole, in it */
    int decimals;
    double share; /* so far */
};

static struct blend_shown blend_shown_of(struct arena *arena, const struct model *model,
                                         const struct blend *blend)
{
    struct blend_shown shown = {.mass = NAN};
    if (isnan(blend->mass))
        return shown;
    shown.unit = measure_unit(arena, model, blend->mass, false);
    shown.mass = unit_from_si(shown.unit, blend->mass);
    shown.decimals = number_short_decimals(shown.mass) + 1; /* the parts are smaller */
    return shown;
}

static void print_part(struct buffer *out, struct blend_shown *shown, const char *name, double share)
{
    enum { SHARE_DECIMALS = 2 };
    struct arena *arena = out->arena;
    double before = shown->share, after = before + share;
    if (!(share > 0))
        return;
    shown->share = after;
    double percent =
        number_nearest(after * 100, SHARE_DECIMALS) - number_nearest(before * 100, SHARE_DECIMALS);
    const char *of_all = text_format(arena, "%s%%", number_text(arena, percent, SHARE_DECIMALS));
    if (!shown->unit) {
        paragraph_add(out, "  ", text_format(arena, "%s of %s", of_all, name));
        return;
    }
    double mass = number_nearest(after * shown->mass, shown->decimals) -
                  number_nearest(before * shown->mass, shown->decimals);
    paragraph_add(out, "  ",
                  text_format(arena, "%s %s of %s, %s", number_text(arena, mass, shown->decimals),
                              shown->unit->name, name, of_all));
}

/* What is never to be mixed is told before what to weigh, the rest after it. */
static void print_mixing(struct buffer *out, struct footnotes *notes, const struct blend_made *made,
                         bool before)
{
    struct arena *arena = out->arena;
    for (size_t i = 0; i < made->warnings.count; i++) {
        const struct mix_warning *warning = &made->warnings.items[i];
        bool never = warning->mixing->verdict == MIXING_NEVER;
        if (never != before)
            continue;
        paragraph_add(out, "  ",
                      text_format(arena, "%s and %s %s%s (%s).", name_string(warning->first->symbol.name),
                                  name_string(warning->second->symbol.name),
                                  never ? "are not to be mixed"
                                        : "may be mixed if the mix is spread at once, and not stored",
                                  footnote_mark(notes, warning->mixing->source),
                                  place_line(arena, warning->mixing->place)));
    }
    if (made->mixing_unknown && !before)
        paragraph_add(out, "  ",
                      "Whether all of these may be mixed is not known here: state it with `mix`, or ask who "
                      "sells them.");
}

void rates_blend_print(struct buffer *out, const struct season *season, struct footnotes *notes,
                       const struct blend_made *made)
{
    struct arena *arena = out->arena;
    const struct blend *blend = made->blend;
    const char *head = isnan(blend->mass)
                           ? grade_text(arena, blend->grade)
                           : text_format(arena, "%s of %s",
                                         display_of(arena, season->model, QUANTITY_MASS, blend->mass, NULL),
                                         grade_text(arena, blend->grade));
    paragraph_add(out, "",
                  text_format(arena, "%s: %s (%s).", name_string(blend->symbol.name), head,
                              place_line(arena, blend->symbol.place)));
    const char *note = note_sentence(arena, &blend->symbol);
    if (note)
        paragraph_add(out, "  ", note);
    if (!made->solved) {
        paragraph_add(out, "  ", "Nothing can be mixed of these materials.");
        return;
    }
    print_mixing(out, notes, made, true);
    struct blend_shown shown = blend_shown_of(arena, season->model, blend);
    for (size_t i = 0; i < blend->products.count; i++)
        print_part(out, &shown, name_string(blend->products.items[i]->symbol.name), made->shares[i]);
    print_part(out, &shown, blend->filler ? name_string(blend->filler) : "filler", made->filler);
    paragraph_add(out, "  ", text_format(arena, "make %s.", grade_text(arena, made->reached)));
    if (!isnan(made->cost) && !isnan(blend->mass))
        paragraph_add(
            out, "  ",
            text_format(arena, "The materials cost %s%s.",
                        money_text(arena, season->model, floor(made->cost * blend->mass * 100 + 0.5) / 100),
                        made->filler > 0 ? "; what the filler costs is not counted" : ""));
    print_mixing(out, notes, made, false);
}

/* ---- all of it ---- */

static void print_dating(struct buffer *out, const struct solution *solution)
{
    if (solution->apart)
        paragraph_add(
            out, "",
            "No days were left with every product on the lists in every application, so the days come from "
            "the rest of the plan, and what would lie too close, or on closed days, was left out. How far "
            "these days may slip is not known.");
}

/* In few words: who reads a rate is about to weigh it. */
static void print_cautions(struct buffer *out, const struct season *season)
{
    struct caution_list cautions = rates_cautions(season);
    const char *line = cautions_line(out->arena, &cautions);
    if (!line)
        return;
    buffer_add_string(out, "\n");
    paragraph_add(
        out, "",
        text_format(out->arena,
                    "Take care: %s. In full, with sources: `prill explain` with the product's name.", line));
}

void rates_text_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct solution none = {0}, *solution = season->solution ? season->solution : &none;
    paragraph_add(out, "", season->model->title ? season->model->title : "A plan without a name");
    if (!solution->choices.count && !solution->matches.count && !solution->blends.count)
        paragraph_add(out, "", "It leaves no rates to be chosen, and asks for none.");
    print_dating(out, solution);
    for (size_t i = 0; i < solution->choices.count; i++) {
        buffer_add_string(out, "\n");
        rates_choice_print(out, season, &solution->choices.items[i]);
    }
    for (size_t i = 0; i < solution->matches.count; i++) {
        buffer_add_string(out, "\n");
        if (solution->matches.items[i].solved)
            rates_match_print(out, season, &solution->matches.items[i]);
    }
    struct footnotes notes = {.arena = out->arena};
    for (size_t i = 0; i < solution->blends.count; i++) {
        buffer_add_string(out, "\n");
        rates_blend_print(out, season, &notes, &solution->blends.items[i]);
    }
    print_cautions(out, season);
    footnotes_print(out, &notes);
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
