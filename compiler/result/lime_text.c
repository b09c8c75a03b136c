/* What the pH asks, and what the season does to it, in words. */
#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/need_text.h"
#include "compiler/result/plan_notes.h"

#include <assert.h>

static const char *grass_of(const struct lime_need *need)
{
    return need->zone->lawn->grass ? name_string(need->zone->lawn->grass->symbol.name) : "the grass";
}

const char *lime_cell(const struct need_words *words, const struct lime_need *need)
{
    if (need->verdict == PH_UNKNOWN)
        return "?";
    if (need->lack != LIME_LACK_NOTHING)
        return "too low";
    return need->kg_per_m2 > 0 ? words_number(words->arena, need->kg_per_m2 / words_unit(words)) : "none";
}

static const char *range_words(const struct need_words *words, const struct lime_need *need)
{
    if (need->goal_stated)
        return text_format(
            words->arena, "Goal pH %s for %s (%s)", number_short(words->arena, need->zone->lawn->goal_ph),
            name_string(need->zone->lawn->symbol.name), words_at(words, need->zone->lawn->goal_place));
    return text_format(words->arena, "Good pH for %s: %s to %s%s", grass_of(need),
                       number_fixed(words->arena, need->range->low, 1),
                       number_fixed(words->arena, need->range->high, 1),
                       words_cited(words, need->range->source, need->range->place));
}

/* ", in 2 applications of 50": equal parts, printed down like the cap that they keep; "" where none is
 * known. */
static const char *split_words(const struct need_words *words, const struct lime_need *need,
                               const struct product *product)
{
    int times = lime_times(need, product);
    if (times < 2)
        return times ? ", in one application" : "";
    double material = product ? lime_material(product, need->kg_per_m2) : need->kg_per_m2;
    return text_format(words->arena, ", in %d applications of %s", times,
                       words_number(words->arena, words_floor(words, material / times) / words_unit(words)));
}

const char *lime_given(const struct need_words *words, const struct lime_need *need)
{
    if (need->verdict != PH_LOW || need->lack != LIME_LACK_NOTHING || !(need->given > 0))
        return "";
    return text_format(
        words->arena, "The season applies %s since the test: %s.", words_rate(words, need->given, "lime"),
        need->left > 0
            ? text_format(words->arena, "%s left", words_number(words->arena, need->left / words_unit(words)))
            : "enough");
}

/* The good range, on which side of it the pH is, and what to do. */
const char *lime_sentence(const struct need_words *words, const struct lime_need *need)
{
    struct arena *arena = words->arena;
    switch (need->verdict) {
    case PH_UNKNOWN:
        return need->test
                   ? text_format(arena, "No good pH is stated for %s on %s.", grass_of(need),
                                 name_string(need->zone->lawn->symbol.name))
                   : text_format(arena, "No soil test of %s has a pH.", name_string(need->zone->symbol.name));
    case PH_FINE:
        return text_format(arena, "%s. No lime needed.", range_words(words, need));
    case PH_HIGH:
        return text_format(
            arena,
            "%s. The pH is too high. No lime; ask the laboratory before applying anything to lower "
            "it.",
            range_words(words, need));
    case PH_LOW:
        if (need->lack != LIME_LACK_NOTHING)
            return text_format(arena, "%s. The pH is too low, so lime is needed; the amount is not known.",
                               range_words(words, need));
        break;
    }
    const struct lime_table *table = need->table;
    struct buffer text = {.arena = arena};
    buffer_format(&text, "%s. The pH is too low. Needs %s, counted as calcium carbonate.",
                  range_words(words, need), words_rate(words, need->kg_per_m2, "lime"));
    if (isnan(need->most_at_once)) {
        buffer_format(&text, " %s does not say how much may go on at once.", name_string(table->symbol.name));
        return text.string;
    }
    buffer_format(&text, " Apply at most %s (as weighed) at a time",
                  words_rate(words, words_floor(words, need->most_at_once), "of material"));
    if (duration_any(need->interval))
        buffer_format(&text, ", at least %s apart", table->interval_text);
    buffer_format(&text, "%s.", words_mark(words, table->cap_source));
    return text.string;
}

/* The figure of the report that the table is read at. */
static const char *measure_words(const struct need_words *words, const struct lime_need *need)
{
    assert(need->table);
    switch (need->measure) {
    case LIME_BY_ACIDITY:
        return text_format(words->arena, "acidity %s meq per 100 g",
                           number_short(words->arena, need->measured * 100));
    case LIME_BY_ACIDITY_OF_VOLUME:
        return text_format(words->arena, "acidity %s meq per 100 mL",
                           number_short(words->arena, need->measured / 10));
    case LIME_BY_BUFFER_PH:
        if (!need->table->rows.count)
            return text_format(words->arena, "acidity %s meq per 100 mL, as the buffer pH shows it",
                               number_short(words->arena, need->measured / 10));
        return text_format(words->arena, "buffer pH %s", number_short(words->arena, need->measured));
    }
    return "";
}

/* By which table, figure and goal the amount was found, and what it is of each material of the plan. */
static const char *lime_found(const struct need_words *words, const struct lime_need *need)
{
    const struct lime_table *table = need->table;
    struct arena *arena = words->arena;
    struct buffer text = {.arena = arena};
    assert(table);
    buffer_format(&text, "By %s: %s, goal pH %s", name_string(table->symbol.name), measure_words(words, need),
                  number_short(arena, need->goal));
    if (!need->goal_stated)
        buffer_format(
            &text, ", %sthe middle of the range; `goal pH` in the lawn sets another",
            differs(need->goal, (need->range->low + need->range->high) / 2) ? "the table's nearest to " : "");
    if (need->row)
        buffer_format(&text, "; the row of %s", need->row->text);
    else
        buffer_format(&text, "; %s of the way to pH %s", display_share(arena, need->way),
                      number_short(arena, table->way_end));
    buffer_format(&text, "%s.",
                  words_cited(words, table->source, need->row ? need->row->place : table->way_place));
    if (table->neutralizing < 1 || table->neutralizing > 1)
        buffer_format(&text, " The table counts in lime of %s.", display_share(arena, table->neutralizing));
    if (need->buffer_assumed)
        buffer_format(&text, " The laboratory's buffer is not stated; the table's, %s, is assumed.",
                      name_string(table->buffer));
    /* " As chalk (80%): 200 lb of it per 1000 sqft, in 2 applications of 100.", of each liming material of
     * the plan: it is weighed, not the calcium carbonate, and each is split by its own weight. */
    struct buffer line = {.arena = words->arena};
    for (size_t i = 0; i < words->model->products.count; i++) {
        const struct product *product = words->model->products.items[i];
        double material = lime_material(product, need->kg_per_m2);
        if (!isnan(material))
            buffer_format(&line, " As %s (%s): %s%s.", name_string(product->symbol.name),
                          display_share(words->arena, product->neutralizing),
                          words_rate(words, material, NULL), split_words(words, need, product));
    }
    if (!line.length && lime_times(need, NULL) > 0)
        buffer_format(&line, " As pure calcium carbonate: %s%s.", words_rate(words, need->kg_per_m2, NULL),
                      split_words(words, need, NULL));
    buffer_add_string(&text, buffer_string(&line));
    const char *note = note_sentence(arena, &table->symbol);
    if (note)
        buffer_format(&text, " %s", note);
    return text.string;
}

/* What the plan lets go on at once and in a year: no table says how much sulfur a soil takes. */
static const char *sulfur_words(const struct need_words *words, const struct lime_need *need)
{
    const struct model *model = words->model;
    struct buffer text = {.arena = words->arena};
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (!limit->nutrient || limit->nutrient->nutrient != NUTRIENT_S || !limit_binds(limit, need->zone))
            continue;
        buffer_format(&text, "%s%s%s", text.length ? ", " : "Sulfur limits in this plan: ",
                      text_string(words->arena, place_text(limit->place)),
                      words_cited(words, limit->set->source, limit->place));
    }
    return text.length ? text_format(words->arena, "%s.", text.string)
                       : "No limit of this plan says how much sulfur turf tolerates.";
}

/* Why so much or, where that is not known, what is missing and which statement would help. */
const char *lime_reason(const struct need_words *words, const struct lime_need *need)
{
    struct arena *arena = words->arena;
    const char *table = need->table ? name_string(need->table->symbol.name) : "";
    switch (need->lack) {
    case LIME_LACK_NOTHING:
        return need->verdict == PH_HIGH                         ? sulfur_words(words, need)
               : need->verdict == PH_LOW && need->kg_per_m2 > 0 ? lime_found(words, need)
                                                                : "";
    case LIME_LACK_PH:
    case LIME_LACK_RANGE:
        return "";
    case LIME_LACK_TABLE:
        return "The soil test names no lime table: write `lime NAME` in it, or use the laboratory's own "
               "recommendation.";
    case LIME_LACK_UNIT:
        return text_format(
            arena,
            "The acidity is by %s of the soil, and %s uses the other: they do not compare without the "
            "density of the soil.",
            need->measure == LIME_BY_ACIDITY ? "mass" : "volume", table);
    case LIME_LACK_FIGURE:
        assert(need->table);
        return text_format(arena, "The report lacks what %s needs: %s.", table,
                           need->table->rows.count && need->table->rows.items[0].measure == LIME_BY_BUFFER_PH
                               ? "buffer pH"
                               : "exchangeable acidity, or a buffer pH where the table says what it shows");
    case LIME_LACK_BUFFER:
        assert(need->test && need->table);
        return text_format(arena, "The laboratory used the buffer %s; %s is for %s.",
                           name_string(need->test->buffer), table, name_string(need->table->buffer));
    case LIME_LACK_GOAL:
        return text_format(arena, "%s does not go up to the goal.", table);
    case LIME_LACK_ROW:
        return text_format(arena, "%s is outside the rows of %s.", measure_words(words, need), table);
    }
    return "";
}

/* ---- acid ---- */

/* What the products make against what limes; a product of unknown acidity makes the sum a least one. */
const char *acid_sentence(const struct need_words *words, const struct acid_balance *balance)
{
    struct buffer text = {.arena = words->arena};
    double left = balance->acid - balance->lime;
    if (balance->acid > 0) {
        buffer_format(&text, "products make acid that takes %s to neutralize",
                      words_rate(words, balance->acid, "lime"));
        if (!(balance->lime > 0))
            buffer_add_string(&text, "; no lime is applied");
        else
            buffer_format(&text, "; lime and basic products supply %s: %s %s",
                          words_number(words->arena, balance->lime / words_unit(words)),
                          words_number(words->arena, fabs(left) / words_unit(words)),
                          left > 0 ? "of acid is left" : "more than that");
    }
    if (balance->unknown)
        buffer_format(
            &text, "%s%s%s `acidity` in the product",
            text.length ? ". Not counted: " : "not counted: ", name_string(balance->unknown->symbol.name),
            balance->others ? " and others; state their" : "; state its");
    return buffer_string(&text);
}
