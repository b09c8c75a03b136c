/* Soil tests as bars: each figure on a scale of its own, since ppm of one nutrient say nothing of another. */
#include "compiler/result/charts.h"

#include "compiler/model/display.h"
#include "compiler/model/figure.h"
#include "compiler/result/soil_change.h"
#include "compiler/result/soil_figure.h"

#include <string.h>

enum { LEAST_PH = 4, MOST_PH = 9 };

/* The figure of the test before it, in the same unit; NAN without one. */
static double figure_before(const struct soil_changes *changes, const struct soil_figure *figure)
{
    for (size_t i = 0; i < changes->items.count; i++) {
        const struct soil_change *change = &changes->items.items[i];
        if (change->then == figure->test && change->column == figure->column)
            return change->was;
    }
    return NAN;
}

static void span_add(struct arena *arena, struct chart *chart, struct chart_row *row, enum chart_role role,
                     double from, double to)
{
    static const char *const meanings[ROLES] = {[ROLE_DONE] = "this test",
                                                [ROLE_BEFORE] = "the test before it",
                                                [ROLE_NEED] = "good for the grass",
                                                [ROLE_LIMIT] = "enough from here on"};
    struct chart_span span = {role, from, to};
    VECTOR_PUSH(arena, &row->spans, span);
    chart->roles[role] = meanings[role];
}

/* A row for each figure, on a scale of its own, since nutrients have no common one. */
static void test_describe(struct page *page, const struct season *season, const struct soil_test *test,
                          const struct soil_changes *changes)
{
    struct arena *arena = page->arena;
    struct page table = {.arena = arena};
    bool retest = false;
    for (size_t i = 0; i < changes->items.count; i++)
        retest = retest || changes->items.items[i].then == test;
    struct page_columns *columns = page_columns(&table, retest ? 5 : 4);
    struct chart *chart = ARENA_NEW(page->arena, struct chart);
    chart->kind = CHART_BARS;
    struct buffer zones = {.arena = arena};
    for (size_t i = 0; i < test->zones.count; i++) {
        buffer_separate(&zones, ", ");
        buffer_add_string(&zones, name_string(test->zones.items[i]->symbol.name));
    }
    page_column_names(&table, 1, columns,
                      (const char *[]){"result", "unit", "this test", "enough, or good", "test before"});
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(season, test, i);
        const struct grass_range *range =
            test->zones.count ? lawn_range(test->zones.items[0]->lawn, GRASS_PH) : NULL;
        if (!isnan(figure.mean)) {
            /* Of pH the range that suits the grass, of a nutrient where enough begins: at two thirds of the
             * row. */
            double before = figure_before(changes, &figure);
            bool ph = strcmp(figure.name, "pH") == 0;
            double enough = ph || (figure.judged_unit && strcmp(figure.judged_unit, figure.unit) != 0)
                                ? NAN
                                : figure.enough;
            double most = fmax(figure.mean, isnan(before) ? 0 : before);
            struct chart_row row = {.low = ph ? LEAST_PH : 0,
                                    .high = ph ? MOST_PH : fmax(isnan(enough) ? 0 : enough * 1.5, most)};
            const char *now = figure_number(arena, figure.mean),
                       *was = isnan(before) ? NULL : figure_number(arena, before);
            const char *good = isnan(enough) ? NULL : figure_number(arena, enough);
            if (ph && range)
                good = text_format(arena, "%s to %s", number_short(arena, range->low),
                                   number_short(arena, range->high));
            row.label =
                text_format(arena, "%s %s%s%s", figure.name, now, *figure.unit ? " " : "", figure.unit);
            if (ph && range)
                span_add(arena, chart, &row, ROLE_NEED, range->low, range->high);
            span_add(arena, chart, &row, ROLE_DONE, row.low, figure.mean);
            if (was)
                span_add(arena, chart, &row, ROLE_BEFORE, row.low, before);
            if (!isnan(enough))
                span_add(arena, chart, &row, ROLE_LIMIT, enough, enough);
            VECTOR_PUSH(arena, &chart->rows, row);
            /* The figure before it comes last: a sheet without one has no such column. */
            page_row(&table, 1, columns, (const char *[]){figure.name, figure.unit, now, good, was});
        }
    }
    if (chart->rows.count == 0)
        return;
    chart->title =
        text_format(arena, "Soil test of %s: %s", display_date(arena, test->day), buffer_string(&zones));
    chart->description =
        "A bar for each result, each on a scale of its own. The table below has the same numbers.";
    page_heading(page, 1, chart->title);
    page_add(page, PART_CHART, 0, NULL)->chart = chart;
    page_append(page, &table);
}

void soil_charts_describe(struct page *page, const struct season *season)
{
    struct soil_changes changes = soil_changes_of(page->arena, season);
    for (size_t i = 0; i < season->model->soil_tests.count; i++)
        test_describe(page, season, season->model->soil_tests.items[i], &changes);
}
