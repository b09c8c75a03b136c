/* The whole season as one document to read, to print and to hand on: in pictures first, then day by day, then
 * what it rests on. */
#include "compiler/result/result.h"

#include "compiler/model/display.h"
#include "compiler/result/calendar_parts.h"
#include "compiler/result/charts.h"

/* ---- records ---- */

/* "+8%": of what was planned. */
static const char *difference(struct arena *arena, double used, double planned)
{
    double percent = number_nearest((used / planned - 1) * 100, 0);
    if (!isfinite(percent))
        return NULL;
    return text_format(arena, "%s%s%%", percent > 0 ? "+" : "", number_text(arena, percent, 0));
}

/* Each piece of work that is done: its day beside the planned one, and each amount beside what was planned.
 */
static void describe_records(struct page *page, const struct season *season, const struct work_list *list)
{
    struct arena *arena = page->arena;
    bool any = false;
    for (size_t i = 0; i < list->count; i++) {
        const struct work *work = &list->items[i];
        const struct occurrence *occurrence = work->occurrence;
        const char *day = display_date(arena, occurrence->day);
        const char *planned = display_date(arena, occurrence->planned);
        struct page_columns *columns = page_columns(page, 4);
        if (!occurrence->done)
            continue;
        page_gap(page);
        if (!any)
            page_heading(page, 0, "Records against the plan");
        any = true;
        page_heading(page, 1, work->headline);
        page_say(page, 1, "Done on %s, planned for %s.", day, planned);
        if (work->materials.count)
            page_column_names(page, 1, columns, (const char *[]){"zone", "used", "planned", "difference"});
        for (size_t j = 0; j < work->materials.count; j++)
            for (size_t k = 0; k < work->materials.items[j].portions.count; k++) {
                const struct portion *portion = &work->materials.items[j].portions.items[k];
                const struct amount *amount = portion->amount;
                double was = product_planned(occurrence, amount->product, amount->zone, amount->volume);
                was = was > 0 ? was : NAN;
                const char *name = name_string(amount->product->symbol.name);
                const char *used = text_format(arena, "%s of %s", portion->text, name);
                page_row(page, 1, columns,
                         (const char *[]){
                             name_string(amount->zone->symbol.name), used,
                             isnan(was) ? NULL : display_amount(arena, season->model, was, amount->volume),
                             difference(arena, amount->total, was)});
            }
    }
}

/* ---- parts of other results ---- */

/* The parts of another page, one deeper: below the heading that this page has come to. */
static void append_below(struct page *page, struct page *part)
{
    for (size_t i = 0; i < part->parts.count; i++)
        part->parts.items[i].depth++;
    page_append(page, part);
}

static void describe_result(struct page *page, const char *heading, page_describer *describe,
                            const struct result_input *input)
{
    struct page part = {.arena = page->arena};
    describe(&part, input);
    page_gap(page);
    page_heading(page, 0, heading);
    /* The first heading names what this one names already. */
    if (part.parts.count && part.parts.items[0].kind == PART_HEADING) {
        part.parts.items++;
        part.parts.count--;
    }
    append_below(page, &part);
}

/* What was skipped and accepted has headings of its own; what is open is one line. */
static void describe_exceptions(struct page *page, const struct result_input *input)
{
    struct page part = {.arena = page->arena};
    calendar_reports_describe(&part, input);
    bool any = false;
    for (size_t i = 0; i < part.parts.count; i++)
        any = any || part.parts.items[i].kind != PART_GAP;
    if (!any)
        return;
    page_gap(page);
    page_heading(page, 0, "Skipped, accepted and open");
    append_below(page, &part);
}

/* ---- the report ---- */

/* Pictures first, then the days, then what was done and what all of it rests on. */
void season_report(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    const struct model *model = season->model;
    struct work_list list = work_list_of(season);
    calendar_opening_describe(page, input, &list);
    page_gap(page);
    season_chart_describe(page, season, &list);
    struct page charts = {.arena = page->arena};
    if (model->has_season)
        nutrient_charts_describe(&charts, season);
    if (charts.parts.count) {
        page_gap(page);
        page_heading(page, 0, "Nutrients over the season");
        page_append(page, &charts);
    }
    page_gap(page);
    page_heading(page, 0, "The ground");
    ground_chart_describe(page, model);
    calendar_basis_describe(page, model);
    if (model->soil_tests.count) {
        page_gap(page);
        page_heading(page, 0, "Soil tests");
        soil_charts_describe(page, season);
    }
    /* A page for each day of work still to come. */
    struct page part = {.arena = page->arena};
    for (size_t first = 0, end; first < list.count; first = end) {
        day_number day = list.items[first].occurrence->day;
        bool open = false;
        for (end = first; end < list.count && list.items[end].occurrence->day == day; end++)
            open = open || !list.items[end].occurrence->done;
        if (open)
            day_describe(&part, season, &list.items[first], &list.items[end]);
    }
    if (part.parts.count != 0) {
        page_gap(page);
        page_add(page, PART_HEADING, 0, "Day by day")->sheet = true;
        append_below(page, &part);
    }
    describe_records(page, season, &list);
    describe_exceptions(page, input);
    describe_result(page, "Shopping", shopping_page, input);
    describe_result(page, "Nutrients month by month", budget_page, input);
    describe_result(page, "Needs by the soil tests", needs_page, input);
    /* In full, with their sources: the days name them in few words. */
    struct footnotes notes = {.arena = page->arena};
    struct page sources = {.arena = page->arena};
    page_gap(page);
    page_heading(page, 0, "Cautions");
    for (size_t i = 0; i < list.cautions.count; i++)
        page_item(page, 1, caution_sentence(page->arena, list.cautions.items[i], &notes));
    page_gap(&sources);
    page_sources(&sources, &notes);
    append_below(page, &sources);
}
