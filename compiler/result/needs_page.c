#include "compiler/result/needs.h"

#include "compiler/model/display.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/result.h"
#include "compiler/result/zone_groups.h"
#include "compiler/season/season_year.h"

/* ---- what a year asks of each zone ---- */

enum { CELLS = NUTRIENT_COUNT + 3 };

/* Zones as rows, nutrients and lime as columns, of which only those are there that something is known of; N
 * always is. */
static void describe_table(struct page *page, const struct season *season)
{
    const struct model *model = season->model;
    const struct need_words words = {page->arena, model, NULL};
    bool in_table[NUTRIENT_COUNT] = {[NUTRIENT_N] = true}, limed = false, low = false, unknown = false;
    const char *cells[CELLS] = {"zone", "area"};
    size_t count = 2;
    for (size_t i = 0; i < model->zones.count; i++) {
        struct lime_need lime;
        lime_need_of(season, model->zones.items[i], &lime);
        limed = limed || lime.test;
        for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
            struct zone_need need;
            need_of(season, model->zones.items[i], n, &need);
            in_table[n] = in_table[n] || (need.read && (need.low || !isnan(need.kg_per_m2)));
        }
    }
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        if (in_table[n])
            cells[count++] = nutrient_trade_form(n)->name;
    if (limed)
        cells[count++] = "lime";
    struct page_columns *columns = page_columns(page, count);
    page_heading(page, 0,
                 text_format(page->arena, "Needed in %s, %s", season_is_long(model) ? "the season" : "a year",
                             display_unit(page->arena, model, QUANTITY_MASS_RATE, 0)));
    page_column_names(page, 1, columns, cells);
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        count = 0;
        cells[count++] = name_string(zone->symbol.name);
        cells[count++] = display_area(page->arena, model, zone->area_m2);
        for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
            struct zone_need need;
            if (!in_table[n])
                continue;
            need_of(season, zone, n, &need);
            cells[count++] = need_cell(&words, &need);
            low = low || (isnan(need.kg_per_m2) && need.low);
            unknown = unknown || (isnan(need.kg_per_m2) && !need.low);
        }
        if (limed) {
            struct lime_need lime;
            lime_need_of(season, zone, &lime);
            cells[count++] = lime_cell(&words, &lime);
            unknown = unknown || lime.verdict == PH_UNKNOWN;
        }
        page_row(page, 1, columns, cells);
    }
    if (low)
        page_line(page, 1, "low: below enough; the amount needed is not known.");
    if (unknown)
        page_line(page, 1, "?: not known; see below for what is missing.");
    page_gap(page);
}

/* ---- acid ---- */

/* ---- what no test says ---- */

/* N, mostly: what the lawn states, or else its grass asks for; and that N is asked for by nobody. */
static void describe_lawn(struct page *page, const struct season *season, const struct need_words *words,
                          const struct lawn *lawn)
{
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        struct zone_need need;
        if (!need_of(season, lawn->zones.items[0], n, &need)) {
            if (n == NUTRIENT_N)
                page_line(page, 0, need_reason(words, &need, false));
        } else if (need.rule == NEED_BY_GRASS) {
            const char *sentence = need_sentence(words, &need);
            page_say(page, 0, "%s on %s %s. %s", name_string(lawn->grass->symbol.name),
                     name_string(lawn->symbol.name), sentence, need_reason(words, &need, false));
        } else if (need.rule == NEED_BY_LAWN && (n == NUTRIENT_N || !need.read)) {
            /* The grass's range is printed beside what the lawn states, so that nobody has to look up whether
             * the figure is usual. */
            const struct grass_range *range = lawn_range_of(lawn, GRASS_YEARLY, need.nutrient);
            struct zone_need usual = need;
            struct buffer text = {.arena = page->arena};
            buffer_format(&text, "%s %s. ", name_string(lawn->symbol.name), need_sentence(words, &need));
            buffer_add_string(&text, need_reason(words, &need, false));
            if (range) {
                usual.kg_per_m2 = range->low;
                usual.most = range->high;
                buffer_format(&text, " For %s %s is usual", name_string(lawn->grass->symbol.name),
                              need_cell(words, &usual));
                buffer_format(&text, "%s.", words_cited(words, range->source, range->place));
            }
            page_line(page, 0, text.string);
        }
    }
}

/* What changed and the table first: most readers want no more. */
void needs_page(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct model *model = season->model;
    struct footnotes notes = {.arena = page->arena};
    const struct need_words words = {page->arena, model, &notes};
    page_plan(page, model);
    page_gap(page);
    soil_changes_describe(page, &words, season);
    if (model->zones.count)
        describe_table(page, season);
    page_line(page, 0, model->soil_tests.count ? soil_bar_legend : "The plan has no soil test.");
    page_gap(page);
    for (size_t i = 0; i < model->soil_tests.count; i++)
        soil_test_describe(page, &words, season, model->soil_tests.items[i]);
    /* Zones with the same balance are named together; one without acid is left out. */
    struct zone_groups groups = {0};
    for (size_t k = 0; k < model->zones.count; k++) {
        struct acid_balance balance = zone_acid(season, model->zones.items[k]);
        const char *text = acid_sentence(&words, &balance);
        if (*text)
            zone_groups_add(page->arena, &groups, model->zones.items[k],
                            (struct zone_group){.sentence = sentence_of(page->arena, text), .reason = ""});
    }
    if (groups.count)
        page_heading(page, 0,
                     "Acid from the season's products, as the calcium carbonate that neutralizes it");
    for (size_t k = 0; k < groups.count; k++)
        page_say(page, 1, "%s: %s", groups.items[k].zones.string, groups.items[k].sentence);
    page_gap(page);
    /* "No soil test covers bank, crown: only the N they need is known." */
    struct buffer names = {.arena = page->arena};
    size_t count = 0;
    for (size_t i = 0; i < model->zones.count; i++) {
        if (model->zones.items[i]->tests.count)
            continue;
        buffer_separate(&names, ", ");
        buffer_add_string(&names, name_string(model->zones.items[i]->symbol.name));
        count++;
    }
    if (count && model->soil_tests.count)
        page_say(page, 0, "No soil test covers %s: only the N %s is known.", names.string,
                 count == 1 ? "it needs" : "they need");
    for (size_t i = 0; i < model->lawns.count; i++)
        if (model->lawns.items[i]->zones.count)
            describe_lawn(page, season, &words, model->lawns.items[i]);
    /* Once for each grass. */
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct grass *grass = model->lawns.items[i]->grass;
        bool noted = !grass;
        for (size_t j = 0; j < i && !noted; j++)
            noted = model->lawns.items[j]->grass == grass;
        const char *note = noted ? NULL : note_sentence(page->arena, &grass->symbol);
        if (note)
            page_line(page, 0, note);
    }
    page_sources(page, &notes);
}
