#include "compiler/result/needs.h"

#include "compiler/model/display.h"
#include "compiler/result/zone_groups.h"

#include <string.h>

static const char *in_unit(const struct need_words *words, const struct soil_change *change,
                           const char *number)
{
    bool spaced = *change->unit && *change->unit != '%';
    return text_format(words->arena, "%s%s%s", number, spaced ? " " : "", change->unit);
}

static const char *figure(const struct need_words *words, const struct soil_change *change, double value)
{
    return in_unit(words, change, words_number(words->arena, value));
}

/* "+6", "-0.3", "0" */
static const char *moved(const struct need_words *words, double value)
{
    return text_format(words->arena, "%s%s", value > 0 ? "+" : "", words_number(words->arena, value));
}

const char *soil_change_noise(const struct need_words *words, const struct soil_change *change)
{
    const struct soil_pairs *pairs = &change->pairs;
    if (change->lack != CHANGE_COMPARED)
        return "";
    if (pairs->count < 2)
        return pairs->count
                   ? "only one spot has the same name in both tests: too few to separate a change from noise"
                   : "no spot has the same name in both tests: too few to separate a change from noise";
    return text_format(
        words->arena, "%s: %zu spots compared one by one changed by %s to %s (19 times in 20)",
        pairs->noise ? "the change is smaller than the noise" : "the change is more than noise", pairs->count,
        moved(words, pairs->low), in_unit(words, change, moved(words, pairs->high)));
}

/* "low", "class medium, low", "enough" */
static const char *verdict(const struct need_words *words, const struct soil_reading *reading)
{
    const struct level *level = reading->level;
    const char *class =
        level && level->name ? text_format(words->arena, "class %s, ", name_string(level->name)) : "";
    switch (reading->need) {
    case NEED_LOW:
        return text_format(words->arena, "%slow", class);
    case NEED_NONE:
        return text_format(words->arena, "%senough", class);
    case NEED_UNKNOWN:
        return level && level->name ? text_format(words->arena, "class %s", name_string(level->name))
                                    : "not read";
    }
    return "";
}

static const char *scale_name(const struct soil_reading *reading)
{
    return reading->scale ? name_string(reading->scale->scale->symbol.name) : "no scale";
}

/* "Applied in between: 1.19 lb P2O5 per 1000 sqft.", "..., 1.05 to 1.08 lb ..." */
static const char *applied_between(const struct need_words *words, const struct soil_change *change)
{
    enum nutrient nutrient = change_nutrient(change);
    if (nutrient == NUTRIENT_COUNT)
        return "";
    if (!(change->most > 0) && nutrient == NUTRIENT_LIME)
        return "No lime was applied in between.";
    if (!(change->most > 0))
        return text_format(words->arena, "Nothing with %s was applied in between.",
                           nutrient_element(nutrient));
    const char *most = need_rate_text(words, change->most, nutrient);
    double unit = words_unit(words) * nutrient_trade_form(nutrient)->element_per_unit;
    const char *least = words_number(words->arena, change->least / unit);
    bool same = text_is(text_of(least), words_number(words->arena, change->most / unit));
    return text_format(words->arena, "Applied in between: %s%s%s.", same ? "" : least, same ? "" : " to ",
                       most);
}

static const char *bar(const struct need_words *words, const struct soil_change *change)
{
    if (change->column->kind == ANALYTE_PH && !isnan(change->was))
        return ph_bar_of(words->arena, change->was, change->is,
                         lawn_range_of(change->zones.items[0]->lawn, GRASS_PH, NUTRIENT_N));
    if (isnan(change->enough) || isnan(change->was))
        return "";
    return bar_of_two(words->arena, change->was, change->is, change->enough);
}

/* Zones of one pair of tests stand under one heading, so the dates are said once. */
void soil_changes_describe(struct page *page, const struct need_words *words, const struct season *season)
{
    enum { FIGURE_CELLS = 34 };
    struct arena *arena = words->arena;
    struct soil_changes changes = soil_changes_of(arena, season);
    struct page_columns *columns = page_columns(page, 3);
    columns->items[2].bar = true;
    columns->items[1].least = FIGURE_CELLS;
    const char *head = "";
    if (!changes.items.count)
        return;
    page_heading(page, 0, "Since the last soil test");
    page_line(page, 1, soil_change_legend);
    for (size_t i = 0; i < changes.items.count; i++) {
        const struct soil_change *change = &changes.items.items[i];
        struct buffer text = {.arena = arena}, zones = {.arena = arena};
        for (size_t j = 0; j < change->zones.count; j++) {
            buffer_separate(&zones, ", ");
            buffer_add_string(&zones, name_string(change->zones.items[j]->symbol.name));
        }
        buffer_format(&text, "Zones %s, from %s to %s", zones.string, display_date(arena, change->first->day),
                      display_date(arena, change->then->day));
        buffer_format(&text,
                      "%s:", change->other_depth ? " (cores of a different depth: compare with care)" : "");
        if (strcmp(head, text.string) != 0) {
            page_gap(page);
            page_heading(page, 1, text.string);
        }
        head = text.string;
        /* The two figures in a row, then how sure the change is and what could have made it. */
        const char *noise = soil_change_noise(words, change);
        const char *line =
            isnan(change->was)
                ? text_format(arena, "now %s", figure(words, change, change->is))
                : text_format(arena, "then %s, now %s (%s)", words_number(arena, change->was),
                              figure(words, change, change->is), moved(words, change->is - change->was));
        static const char *const lacks[] = {
            [CHANGE_COMPARED] = "",
            [CHANGE_METHOD] =
                "The two tests used different extraction methods: their figures cannot be compared.",
            [CHANGE_INDEX] =
                "One test has an index, the other a concentration: their figures cannot be compared.",
        };
        /* "Then low, now enough, by minimum-levels." */
        const struct soil_reading *was = change->was_read, *is = change->is_read;
        const char *verdicts = "";
        if (was && is && text_is(text_of(scale_name(was)), scale_name(is)))
            verdicts = text_format(arena, "Then %s, now %s, by %s.", verdict(words, was), verdict(words, is),
                                   scale_name(is));
        else if (was && is)
            verdicts = text_format(arena, "Then %s by %s, now %s by %s.", verdict(words, was),
                                   scale_name(was), verdict(words, is), scale_name(is));
        const char *lines[] = {lacks[change->lack], *noise ? sentence_of(arena, noise) : "",
                               applied_between(words, change), verdicts};
        page_row(page, 1, columns, (const char *[]){change->name, line, bar(words, change)});
        for (size_t k = 0; k < sizeof lines / sizeof *lines; k++)
            if (*lines[k])
                page_line(page, 3, lines[k]);
    }
    page_gap(page);
}
