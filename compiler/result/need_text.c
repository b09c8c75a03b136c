#include "compiler/result/need_text.h"

#include "compiler/model/display.h"
#include "compiler/result/zone_groups.h"
#include "compiler/result/need_once.h"
#include "compiler/result/plan_notes.h"
#include "compiler/season/scale_class.h"

#include <assert.h>
#include <string.h>

/* ---- rates, to three digits: a laboratory promises no more ---- */

double words_unit(const struct need_words *words)
{
    return 1 / display_parts(words->model, QUANTITY_MASS_RATE, 1).value;
}

static int words_decimals(double value)
{
    double size = fabs(value);
    return size >= 100 ? 0 : size >= 10 ? 1 : 2;
}

const char *words_number(struct arena *arena, double value)
{
    return number_text(arena, value, words_decimals(value));
}

double words_floor(const struct need_words *words, double kg_per_m2)
{
    double value = kg_per_m2 / words_unit(words);
    return number_floor(value, words_decimals(value)) * words_unit(words);
}

/* "2 to 4" and "N" as "2 to 4 lb N per 1000 sqft". */
static const char *with_unit(const struct need_words *words, const char *number, const char *what)
{
    struct buffer text = {.arena = words->arena};
    buffer_format(&text, "%s %s", number, display_parts(words->model, QUANTITY_MASS_RATE, 0).unit);
    if (what)
        buffer_format(&text, " %s", what);
    buffer_add_string(&text, display_parts(words->model, QUANTITY_MASS_RATE, 0).per);
    return text.string;
}

const char *words_rate(const struct need_words *words, double kg_per_m2, const char *what)
{
    return with_unit(words, words_number(words->arena, kg_per_m2 / words_unit(words)), what);
}

/* Of the trade's form, as bags and limits state it. */
static double as_trade(double kg_per_m2, enum nutrient nutrient)
{
    return kg_per_m2 / nutrient_trade_form(nutrient)->element_per_unit;
}

const char *need_rate_text(const struct need_words *words, double kg_per_m2, enum nutrient nutrient)
{
    return words_rate(words, as_trade(kg_per_m2, nutrient), nutrient_trade_form(nutrient)->name);
}

const char *words_mark(const struct need_words *words, const struct source_entry *source)
{
    return words->notes ? footnote_mark(words->notes, source) : "";
}

const char *words_at(const struct need_words *words, struct place place)
{
    return place_line(words->arena, place);
}

const char *words_cited(const struct need_words *words, const struct source_entry *source, struct place place)
{
    return text_format(words->arena, "%s (%s)", words_mark(words, source), words_at(words, place));
}

/* ---- how much ---- */

static const char *number_cell(const struct need_words *words, double low, double high)
{
    const char *least = words_number(words->arena, low / words_unit(words));
    const char *most = words_number(words->arena, high / words_unit(words));
    return text_is(text_of(least), most) ? least : text_format(words->arena, "%s to %s", least, most);
}

const char *need_cell(const struct need_words *words, const struct zone_need *need)
{
    if (isnan(need->kg_per_m2))
        return need->low ? "low" : "?";
    if (!(need->most > 0))
        return "none";
    return number_cell(words, as_trade(need->kg_per_m2, need->nutrient),
                       as_trade(need->most, need->nutrient));
}

/* "a year", "in 2 years" */
static const char *years_words(const struct need_words *words, const struct zone_need *need)
{
    return need->years > 1 ? text_format(words->arena, "in %d years", need->years) : "a year";
}

/* "a year", "in 2 years", "this season", "in that time" (until the next test). A need of the use that the
 * season's own N makes is of its days; every other is of a year. */
static const char *need_span(const struct need_words *words, const struct zone_need *need)
{
    if (need->rule == NEED_BY_LIME)
        return "once";
    bool by_plan = need->use_share > 0 && need->nitrogen_basis == NITROGEN_PLAN;
    if (by_plan && need->retested)
        return "in that time";
    return by_plan ? "this season" : years_words(words, need);
}

/* Whether it needs any, how much and over what time; where that is not known, whether it is low. */
const char *need_sentence(const struct need_words *words, const struct zone_need *need)
{
    const char *name = nutrient_trade_form(need->nutrient)->name;
    const char *cell = need_cell(words, need);
    if (isnan(need->kg_per_m2))
        return need->low ? "low; the amount needed is not known" : "the need is not known";
    if (!(need->most > 0))
        return "needs none";
    /* Enough now and a need are no contradiction: the grass takes from what there is. */
    const char *used = need->rule == NEED_BY_MINIMUM && need->reading.need == NEED_NONE
                           ? "the grass's use takes it below the minimum: "
                           : "";
    return text_format(words->arena, "%sneeds %s %s", used, with_unit(words, cell, name),
                       need_span(words, need));
}

/* ---- why ---- */

/* Whose N it is decides how sure the use is, so each says where the figure is from. */
const char *need_nitrogen(const struct need_words *words, const struct zone_need *need)
{
    struct arena *arena = words->arena;
    const char *rate = isnan(need->nitrogen) ? "" : words_rate(words, need->nitrogen, "N");
    switch (need->nitrogen_basis) {
    case NITROGEN_NONE:
        return "";
    case NITROGEN_LAWN:
        return text_format(arena, "%s %s, as the lawn states", rate, years_words(words, need));
    case NITROGEN_PLAN:
        return text_format(
            arena, need->retested ? "%s until the next test, as planned" : "%s in the season, as planned",
            rate);
    case NITROGEN_GRASS:
        return text_format(
            arena,
            "%s, the middle of the grass's yearly range, since the plan applies none; set another with "
            "`yearly` in the lawn",
            rate);
    }
    return "";
}

/* The share of N that the grass takes up of it, by its own figures or the scale's; "" where no use counts. */
static const char *use_words(const struct need_words *words, const struct zone_need *need, bool brief)
{
    if (need->use_stated)
        return text_format(words->arena, " Use: as the lawn states (%s).",
                           words_at(words, need->use_stated->place));
    if (!need->range && !need->use_scale)
        return "";
    double share = need->range ? need->range->low : need->use_scale->share;
    struct place place = need->range ? need->range->place : need->use_scale->place;
    const struct source_entry *source = need->range ? need->range->source : need->use_scale->source;
    struct buffer text = {.arena = words->arena};
    buffer_format(&text, " Use: %s as much %s as N%s", display_share(words->arena, share),
                  nutrient_element(need->nutrient), words_cited(words, source, place));
    if (!brief)
        buffer_format(&text, "; N: %s", need_nitrogen(words, need));
    buffer_add_string(&text, ".");
    return text.string;
}

/* Soil is weighed in kg per L in every laboratory. */
const char *need_layer(const struct need_words *words, const struct zone_need *need)
{
    if (need->rule != NEED_BY_MINIMUM)
        return "";
    const struct scale *scale = need->reading.scale->scale;
    return text_format(
        words->arena, "%s of soil at %s kg per L%s", display_depth(words->arena, words->model, need->depth_m),
        number_short(words->arena, need->bulk_density / 1000),
        need->density_assumed
            ? text_format(words->arena, " (the scale's figure%s: the lawn states no bulk-density)",
                          words_mark(words, scale->density_source))
            : "");
}

static const char *part_text(const struct need_words *words, double kg_per_m2, enum nutrient nutrient)
{
    return number_fixed(words->arena, as_trade(kg_per_m2, nutrient) / words_unit(words), 2);
}

/* "Minimum 1.50 + use 0.54 - in the soil 0.86 lb P2O5 [2] (...)." */
static const char *minimum_words(const struct need_words *words, const struct zone_need *need, bool brief)
{
    const struct scale *scale = need->reading.scale->scale;
    struct arena *arena = words->arena;
    struct buffer text = {.arena = arena};
    buffer_format(&text, "Minimum %s", part_text(words, need->minimum, need->nutrient));
    if (scale->sum == SUM_USE_AND_SHORTFALL)
        buffer_format(&text, " + use %s", part_text(words, need->use, need->nutrient));
    buffer_format(&text, " - in the soil %s%s.", part_text(words, need->test, need->nutrient),
                  words_cited(words, scale->sum_source, scale->sum_place));
    if (!brief)
        buffer_format(&text, " Counted: %s.", need_layer(words, need));
    buffer_add_string(&text, use_words(words, need, brief));
    return text.string;
}

const char *words_formula(const struct need_words *words, const struct polynomial *polynomial)
{
    static const char *const powers[POLYNOMIAL_LIMIT] = {"", " x", " x^2", " x^3"};
    struct buffer text = {.arena = words->arena};
    for (size_t i = 0; i < polynomial->count; i++) {
        double term = polynomial->term[i] / polynomial->factor;
        const char *sign = term < 0 ? (i ? " - " : "-") : i ? " + " : "";
        buffer_format(&text, "%s%s%s", sign, number_short(words->arena, fabs(term)), powers[i]);
    }
    buffer_format(&text, " %s", polynomial->text + strspn(polynomial->text, " ,.-/0123456789"));
    return text.string;
}

/* The formula with its numbers, so that it can be worked out by hand. */
static const char *equation_words(const struct need_words *words, const struct zone_need *need)
{
    const struct scale_equation *equation = need->reading.equation;
    struct arena *arena = words->arena;
    struct buffer text = {.arena = arena};
    buffer_format(&text, "%s at x = %s %s", words_formula(words, &equation->need),
                  number_short(arena, need->operand), equation->operand.text);
    if (need->read_at < need->operand)
        buffer_format(&text, " (taken at %s: beyond that the formula rises again)",
                      number_short(arena, need->read_at));
    buffer_format(
        &text, " gives %s",
        words_rate(words, need->equation / equation->nutrient->element_per_unit, equation->nutrient->name));
    buffer_format(&text, "%s.", words_cited(words, equation->source, equation->place));
    return text.string;
}

/* Where test and scale do not speak of the same figure. */
static const char *mismatch_words(const struct need_words *words, const struct zone_need *need,
                                  enum need_lack lack)
{
    const struct soil_test *test = need->reading.test;
    assert(test && need->reading.scale);
    const struct scale *by = need->reading.scale->scale;
    const char *scale = name_string(by->symbol.name);
    const char *made_by = test->method ? name_string(test->method) : "an unstated method";
    const char *read_by = by->method ? name_string(by->method) : "an unstated method";
    struct arena *arena = words->arena;
    if (lack == LACK_METHOD)
        return text_format(
            arena,
            "The test used %s, and %s is for %s: they do not compare without an equation. Add a "
            "`conversion` between them, and name it in the test.",
            made_by, scale, read_by);
    if (lack == LACK_CONVERSION)
        return text_format(arena, "The conversions that the test names do not lead from %s to %s.", made_by,
                           by->method ? read_by : scale);
    return text_format(arena,
                       scale_speaks_of(by, need->nutrient) ? "The result is above the last class of %s."
                                                           : "%s has no figure for this nutrient.",
                       scale);
}

/* What a share of the soil lacks to be a mass per area. */
static const char *layer_words(const struct need_words *words, const struct zone_need *need,
                               enum need_lack lack)
{
    if (lack == LACK_DEPTH)
        return text_format(
            words->arena, "The depth of the cores is missing: write it in the soil test, such as `depth %s`.",
            words->model->metric ? "10 cm" : "4 in");
    return text_format(
        words->arena,
        "The density of the soil is missing: write it in the lawn %s, such as `bulk-density 1.4 kg per "
        "L`.",
        name_string(need->zone->lawn->symbol.name));
}

/* What keeps the need from being known and, where a statement of the plan would help, which. */
static const char *lack_words(const struct need_words *words, const struct zone_need *need,
                              enum need_lack lack)
{
    const struct test_scale *by = need->read ? need->reading.scale : NULL;
    const char *scale = by ? name_string(by->scale->symbol.name) : "";
    const char *zone = name_string(need->zone->symbol.name),
               *lawn = name_string(need->zone->lawn->symbol.name);
    struct arena *arena = words->arena;
    switch (lack) {
    case LACK_NOTHING:
        return "";
    case LACK_TEST:
        return text_format(arena, "%s has no soil test.", zone);
    case LACK_FIGURE:
        return text_format(arena, "No soil test of %s has a figure for this nutrient.", zone);
    case LACK_LATER:
        return text_format(
            arena, "The first soil test of %s with a figure for this nutrient is from a later day.", zone);
    case LACK_SCALE:
        return need->reading.test->scales.count
                   ? text_format(arena, "The soil test names no scale for %s.",
                                 nutrient_element(need->nutrient))
                   : "The soil test names no scale, so nothing says what is low.";
    case LACK_METHOD:
    case LACK_CONVERSION:
    case LACK_LEVEL:
        return mismatch_words(words, need, lack);
    case LACK_INDEX:
        return text_format(
            arena,
            "The result and %s do not compare: one is an index, the other a concentration, and "
            "no equation links them.",
            scale);
    case LACK_AMOUNT:
        return text_format(arena, "%s gives no amount%s.", scale,
                           need->reading.recommended
                               ? ""
                               : "; write the laboratory's own recommendation in the soil test, with "
                                 "`recommends`");
    case LACK_DEPTH:
    case LACK_DENSITY:
        return layer_words(words, need, lack);
    case LACK_NITROGEN:
        return text_format(arena,
                           "The grass's use is worked out from its N, and the plan applies none: write the N "
                           "of a year in the lawn %s, with `yearly`.",
                           lawn);
    case LACK_USE:
        return text_format(
            arena,
            "The grass's yearly use of this nutrient is not stated: write it in the lawn %s, with `uses`.",
            lawn);
    case LACK_GRASS:
        return text_format(arena,
                           need->zone->lawn->grass
                               ? "No yearly range of N is stated for the grass of %s."
                               : "The lawn %s names no grass, so the N it needs is not known: write `grass "
                                 "NAME` there, or the N of a year with `yearly`.",
                           lawn);
    case LACK_ABOVE:
        return text_format(
            arena,
            "The laboratory reports only more than its limit, and %s calls that limit low: ask the "
            "laboratory for the figure itself.",
            scale);
    case LACK_PH:
        return "The scale reads this nutrient with the pH, and the report has no pH.";
    case LACK_LIME:
        return "The soil test gives no amount of lime; `prill needs` shows what is missing.";
    }
    return "";
}

/* "1 to 2 lb P2O5 per 1000 sqft", "none" */
static const char *range_text(const struct need_words *words, double low, double high, enum nutrient nutrient)
{
    if (!(high > 0))
        return "none";
    return with_unit(words, number_cell(words, as_trade(low, nutrient), as_trade(high, nutrient)),
                     nutrient_trade_form(nutrient)->name);
}

/* " The laboratory recommends 1 lb P2O5 per 1000 sqft [6] (plan.prill:30); the plan follows minimum-levels."
 * of a need that is not the laboratory's; "" where it recommends nothing. */
static const char *beside_words(const struct need_words *words, const struct zone_need *need)
{
    const struct recommendation *recommended = need->read ? need->reading.recommended : NULL;
    if (!recommended)
        return "";
    const struct soil_test *test = need->reading.test;
    const char *why = test->follow == FOLLOW_SCALE
                          ? text_format(words->arena, " (%s)", words_at(words, test->follow_place))
                          : ", since it does not say which to follow";
    return text_format(
        words->arena, " The laboratory recommends %s%s; the plan follows %s%s.",
        range_text(words, recommended->low * need->years, recommended->high * need->years, need->nutrient),
        words_cited(words, recommended->source, recommended->place),
        need->rule == NEED_BY_LAWN ? "the lawn's `yearly`"
                                   : name_string(need->reading.scale->scale->symbol.name),
        why);
}

/* "The laboratory rates it L. minimum-levels says nothing of it." */
static const char *rated_words(const struct need_words *words, const struct zone_need *need)
{
    enum need_lack lack = need->lack == LACK_NOTHING ? LACK_LEVEL : need->lack;
    bool scaled = need->reading.scale != NULL;
    return text_format(words->arena, "The laboratory rates it %s. %s", need->reading.rated_text,
                       lack_words(words, need, scaled || lack == LACK_SCALE ? lack : LACK_SCALE));
}

/* The step that the figure comes from, with its place; nothing of a class or a level, which is printed with
 * the result. */
static const char *found_words(const struct need_words *words, const struct zone_need *need, bool brief)
{
    if (need->lack != LACK_NOTHING) {
        const char *once = need_once_text(words, need);
        const char *lack = need->read && need->reading.by_rating ? rated_words(words, need)
                                                                 : lack_words(words, need, need->lack);
        return text_format(words->arena, "%s%s%s", lack, *once ? " " : "", sentence_of(words->arena, once));
    }
    switch (need->rule) {
    case NEED_BY_NOTHING:
    case NEED_BY_CLASS:
    case NEED_BY_ENOUGH:
        return "";
    case NEED_BY_EQUATION:
        return equation_words(words, need);
    case NEED_BY_MINIMUM:
        return minimum_words(words, need, brief);
    case NEED_BY_LABORATORY: {
        /* "As the laboratory recommends [6] (plan.prill:30). minimum-levels gives 1.22 lb P2O5 per 1000 sqft;
         * ..." */
        const struct recommendation *recommended = need->reading.recommended;
        const char *as = text_format(words->arena, "As the laboratory recommends%s.",
                                     words_cited(words, recommended->source, recommended->place));
        if (need->scale_lack != LACK_NOTHING)
            return text_format(words->arena, "%s %s", as, lack_words(words, need, need->scale_lack));
        return text_format(words->arena, "%s %s gives %s; the plan follows the laboratory (%s).", as,
                           name_string(need->reading.scale->scale->symbol.name),
                           range_text(words, need->scale_least, need->scale_most, need->nutrient),
                           words_at(words, need->reading.test->follow_place));
    }
    case NEED_BY_RATING:
        return rated_words(words, need);
    case NEED_BY_LAWN:
        return text_format(words->arena, "As the lawn states (%s).", words_at(words, need->stated->place));
    case NEED_BY_GRASS:
        return text_format(words->arena, "From the grass's yearly range%s.",
                           words_cited(words, need->range->source, need->range->place));
    case NEED_BY_LIME:
        return "From the pH and the lime table; see `prill needs`.";
    }
    return "";
}

const char *need_reason(const struct need_words *words, const struct zone_need *need, bool brief)
{
    const char *found = found_words(words, need, brief);
    const char *beside = need->rule == NEED_BY_LABORATORY ? "" : beside_words(words, need);
    return *found ? text_format(words->arena, "%s%s", found, beside) : beside + (*beside != '\0');
}
