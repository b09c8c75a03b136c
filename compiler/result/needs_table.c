#include "compiler/result/needs_table.h"

#include "compiler/model/display.h"
#include "compiler/result/need_text.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/work.h"
#include "compiler/season/season_year.h"

struct table_of_needs {
    struct need_words words;
    const struct season *season;
    bool asked[NUTRIENT_COUNT];
    bool lime;
    bool low, unknown; /* words of the legend that are needed */
};

/* N, and what any zone has a figure of. */
static void columns_find(struct table_of_needs *table)
{
    const struct model *model = table->words.model;
    table->asked[NUTRIENT_N] = true;
    for (size_t i = 0; i < model->zones.count; i++) {
        struct lime_need lime;
        for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
            struct zone_need need;
            need_of(table->season, model->zones.items[i], n, &need);
            table->asked[n] = table->asked[n] || (need.read && (need.low || !isnan(need.kg_per_m2)));
        }
        lime_need_of(table->season, model->zones.items[i], &lime);
        table->lime = table->lime || lime.test;
    }
}

struct row { /* of cells, the zone's name first */
    const char *cells[NUTRIENT_COUNT + 3];
    size_t count;
};

static void row_add(struct row *row, const char *cell)
{
    row->cells[row->count++] = cell;
}

static struct row header_make(const struct table_of_needs *table)
{
    struct row row = {.count = 0};
    row_add(&row, "zone");
    row_add(&row, "area");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        if (table->asked[n])
            row_add(&row, nutrient_trade_form(n)->name);
    if (table->lime)
        row_add(&row, "lime");
    return row;
}

static struct row zone_make(struct table_of_needs *table, const struct zone *zone)
{
    struct row row = {.count = 0};
    row_add(&row, name_string(zone->symbol.name));
    row_add(&row, display_area(table->words.arena, table->words.model, zone->area_m2));
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        struct zone_need need;
        if (!table->asked[n])
            continue;
        need_of(table->season, zone, n, &need);
        row_add(&row, need_cell(&table->words, &need));
        table->low = table->low || (isnan(need.kg_per_m2) && need.low);
        table->unknown = table->unknown || (isnan(need.kg_per_m2) && !need.low);
    }
    if (table->lime) {
        struct lime_need lime;
        lime_need_of(table->season, zone, &lime);
        row_add(&row, lime_cell(&table->words, &lime));
        table->unknown = table->unknown || lime.verdict == PH_UNKNOWN;
    }
    return row;
}

static void row_print(struct buffer *out, const struct row *row, const uint32_t *cells)
{
    buffer_add_string(out, "  ");
    for (size_t i = 0; i + 1 < row->count; i++)
        field_add(out, row->cells[i], cells[i] + 2);
    field_add(out, row->cells[row->count - 1], 0);
    buffer_add_string(out, "\n");
}

void needs_table_print(struct buffer *out, const struct season *season)
{
    const struct model *model = season->model;
    struct table_of_needs table = {.words = {out->arena, model, NULL}, .season = season};
    if (!model->zones.count)
        return;
    columns_find(&table);
    struct row *rows = ARENA_ARRAY(out->arena, model->zones.count + 1, struct row);
    uint32_t cells[NUTRIENT_COUNT + 3] = {0};
    rows[0] = header_make(&table);
    for (size_t i = 0; i < model->zones.count; i++)
        rows[i + 1] = zone_make(&table, model->zones.items[i]);
    for (size_t i = 0; i <= model->zones.count; i++)
        for (size_t j = 0; j < rows[i].count; j++) {
            uint32_t wide = field_cells(out->arena, rows[i].cells[j]);
            cells[j] = wide > cells[j] ? wide : cells[j];
        }
    paragraph_add(out, "",
                  text_format(out->arena, "What %s asks, %s per %s",
                              season_is_long(model) ? "the season" : "a year", model->metric ? "g" : "lb",
                              model->metric ? "m2" : "1000 sqft"));
    for (size_t i = 0; i <= model->zones.count; i++)
        row_print(out, &rows[i], cells);
    if (table.low)
        paragraph_add(out, "  ", "low: less than enough; how much it needs is not known.");
    if (table.unknown)
        paragraph_add(out, "  ", "?: not known; what is lacking stands below.");
    buffer_add_string(out, "\n");
}
