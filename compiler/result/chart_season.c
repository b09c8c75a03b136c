/* The season at a glance: a row for each treatment, a mark for each day. */
#include "compiler/result/charts.h"

#include "compiler/model/display.h"

/* Rows in the order of the first day, so that the season reads downwards. */
void season_chart_describe(struct page *page, const struct season *season, const struct work_list *list)
{
    struct arena *arena = page->arena;
    const struct model *model = season->model;
    if (list->count == 0)
        return;
    struct chart *chart = ARENA_NEW(page->arena, struct chart);
    chart->kind = CHART_ROWS;
    size_t *row_of = ARENA_ARRAY(arena, model->treatments.count, size_t);
    for (size_t i = 0; i < model->treatments.count; i++)
        row_of[i] = SIZE_MAX;
    chart->title = "The season at a glance";
    chart->description = "A row for each treatment, with a mark on each of its days. The table below has the "
                         "same days.";
    chart->first = season->calendar_count ? list->items[0].occurrence->day : 0;
    chart->last = list->items[list->count - 1].occurrence->day;
    if (model->has_season) {
        chart->first = chart->first < model->season_first ? chart->first : model->season_first;
        chart->last = chart->last > model->season_last ? chart->last : model->season_last;
    }
    const struct occurrence *before = NULL;
    for (size_t i = 0; i < list->count; i++) {
        const struct occurrence *occurrence = list->items[i].occurrence;
        uint32_t treatment = occurrence->treatment->index;
        if (row_of[treatment] == SIZE_MAX) {
            row_of[treatment] = chart->rows.count;
            struct chart_row row = {.label = name_string(occurrence->treatment->symbol.name)};
            VECTOR_PUSH(arena, &chart->rows, row);
        }
        if (occurrence != before) {
            /* Each occurrence once: on two lawns it is two pieces of work, of one day. */
            const struct slip *slip = occurrence->slip;
            if (!occurrence->done && slip->latest > occurrence->day) {
                struct chart_span span = {ROLE_LEAST, occurrence->day, slip->latest};
                VECTOR_PUSH(arena, &chart->rows.items[row_of[treatment]].spans, span);
                chart->roles[ROLE_LEAST] = "may slip so far, if later work moves too";
            }
            struct chart_span mark = {occurrence->done ? ROLE_DONE : ROLE_PLANNED, occurrence->day,
                                      occurrence->day};
            VECTOR_PUSH(arena, &chart->rows.items[row_of[treatment]].spans, mark);
            chart->roles[mark.role] = occurrence->done ? "done" : "planned";
        }
        before = occurrence;
    }
    page_heading(page, 0, "The season at a glance");
    page_add(page, PART_CHART, 0, NULL)->chart = chart;
    struct page_columns *columns = page_columns(page, 3);
    page_column_names(page, 1, columns, (const char *[]){"day", "work", "latest day"});
    for (size_t i = 0; i < list->count; i++) {
        /* Its day, and the latest that it may slip to. */
        const struct occurrence *occurrence = list->items[i].occurrence;
        const struct slip *slip = occurrence->slip;
        bool known = slip->end != SLIP_NOT_ASKED && slip->end != SLIP_UNKNOWN;
        const char *latest = occurrence->done ? "done"
                             : known          ? display_date(page->arena, slip->latest)
                                              : NULL;
        page_row(
            page, 1, columns,
            (const char *[]){display_date(page->arena, occurrence->day), list->items[i].headline, latest});
    }
    page_line(page, 1, "Latest day: if later work moves too.");
}
