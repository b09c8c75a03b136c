/* Nutrients over the days of the season. A chart is of a lawn's zones that have the same needs and limits; it
 * draws two of them, the one that gets most and the one that is furthest below what it needs, so that
 * neither a limit nor a need can be passed unseen by another zone. */
#include "compiler/result/charts.h"

#include "compiler/model/display.h"
#include "compiler/model/figure.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/budget.h"
#include "compiler/result/plan_notes.h"
#include "compiler/season/dose.h"

#include <string.h>

/* One zone's doses of a nutrient, and their sums, as shown. */
struct course {
    const struct budget_zone *budget;
    struct doses doses; /* kg/m2 in the form it is traded in */
    double total, short_by;
};

struct drawing {
    struct page *page;
    const struct season *season;
    const struct nutrient_form *form;
    VECTOR(struct course) courses; /* of the zones of one chart */
    const struct course *most, *least;
};

static double shown(const struct drawing *drawing, double kg_per_m2)
{
    return display_parts(drawing->season->model, QUANTITY_MASS_RATE, kg_per_m2).value;
}

static const char *zone_name(const struct course *course)
{
    return name_string(course->budget->zone->symbol.name);
}

static bool is_of(const struct budget_measure *measure, const struct nutrient_form *form)
{
    return measure->form->nutrient == form->nutrient;
}

/* In the form it is traded in, whatever form a limit names. */
static double as_traded(const struct drawing *drawing, const struct budget_measure *measure, double value)
{
    return value * measure->form->element_per_unit / drawing->form->element_per_unit;
}

/* ---- sums ---- */

/* Of the doses up to and with the day. */
static double sum_on(const struct doses *doses, day_number day)
{
    double sum = 0;
    for (size_t i = 0; i < doses->count && doses->items[i].day <= day; i++)
        sum += doses->items[i].value;
    return sum;
}

static void point_add(struct arena *arena, struct chart_line *line, double x, double y)
{
    struct chart_point point = {x, y};
    VECTOR_PUSH(arena, &line->points, point);
}

/* What has been done up to the last day on which something was, then what is planned; it goes on level to the
 * chart's end. */
static void draw_course(const struct drawing *drawing, struct chart *chart, const struct course *course,
                        enum chart_role done, enum chart_role planned)
{
    struct arena *arena = drawing->page->arena;
    struct chart_line line = {.role = done};
    double sum = 0;
    size_t left = 0;
    for (size_t i = 0; i < course->doses.count; i++)
        left += course->doses.items[i].done;
    line.role = left ? done : planned;
    point_add(arena, &line, chart->first, 0);
    for (size_t i = 0; i < course->doses.count; i++) {
        const struct dose *dose = &course->doses.items[i];
        point_add(arena, &line, dose->day, shown(drawing, sum));
        sum += dose->value;
        point_add(arena, &line, dose->day, shown(drawing, sum));
        left -= dose->done;
        if (line.role == done && left == 0 && done != planned) {
            VECTOR_PUSH(arena, &chart->lines, line);
            line = (struct chart_line){.role = planned};
            point_add(arena, &line, dose->day, shown(drawing, sum));
        }
    }
    point_add(arena, &line, chart->last, shown(drawing, sum));
    VECTOR_PUSH(arena, &chart->lines, line);
}

/* ---- needs and limits ---- */

/* The days a measure counts over; they may begin before the chart's and end after them. */
static struct day_span span_of(const struct chart *chart, const struct budget_measure *measure)
{
    struct day_span span = {chart->first, chart->last};
    if (budget_yearly(measure))
        span = (struct day_span){measure->of_season.first, measure->of_season.last};
    else if (measure->kind == BUDGET_LIMIT)
        span = (struct day_span){day_of_date((struct civil_date){measure->year, 1, 1}),
                                 day_of_date((struct civil_date){measure->year, 12, 31})};
    else if (measure->need.from > span.first)
        span.first = measure->need.from;
    if (measure->kind == BUDGET_NEED && measure->need.until < span.last)
        span.last = measure->need.until;
    return span;
}

/* Counted from what the zone had before the span began, so that the line of its sum can be held against it.
 */
static void draw_measure(const struct drawing *drawing, struct chart *chart, const struct course *course,
                         const struct budget_measure *measure)
{
    struct arena *arena = drawing->page->arena;
    struct day_span counted = span_of(chart, measure), span = counted;
    double before = sum_on(&course->doses, counted.first - 1);
    span.first = span.first > chart->first ? span.first : chart->first;
    span.last = span.last < chart->last ? span.last : chart->last;
    double least = as_traded(drawing, measure, measure->least),
           most = as_traded(drawing, measure, measure->most);
    struct chart_line line = {.role = measure->kind == BUDGET_LIMIT ? ROLE_LIMIT : ROLE_NEED};
    if (span.first > span.last || isnan(most) || (line.role == ROLE_NEED && !(most > 0)))
        return;
    if (line.role == ROLE_NEED) {
        /* A need without a range is a line: as high as a line is thick. */
        double top = differs(least, most) ? most : most * 1.01;
        point_add(arena, &line, span.first, shown(drawing, before + least));
        point_add(arena, &line, span.last, shown(drawing, before + least));
        point_add(arena, &line, span.last, shown(drawing, before + top));
        point_add(arena, &line, span.first, shown(drawing, before + top));
    } else {
        point_add(arena, &line, span.first, shown(drawing, before + most));
        point_add(arena, &line, span.last, shown(drawing, before + most));
    }
    VECTOR_PUSH(arena, &chart->lines, line);
    chart->roles[line.role] = line.role == ROLE_LIMIT ? "limit of the year" : "needed";
}

/* ---- the table ---- */

/* The numbers of the chart: a row for each day on which either of the two zones gets something. */
static void table_describe(const struct drawing *drawing)
{
    struct arena *arena = drawing->page->arena;
    bool two = drawing->least != drawing->most;
    struct page_columns *columns = page_columns(drawing->page, two ? 5 : 3);
    const struct course *courses[] = {drawing->most, drawing->least};
    page_column_names(drawing->page, 1, columns,
                      (const char *[]){"day", text_format(arena, "on %s", zone_name(drawing->most)),
                                       "total so far", text_format(arena, "on %s", zone_name(drawing->least)),
                                       "total so far"});
    for (size_t at[2] = {0, 0};;) {
        day_number day = DAY_NEVER;
        for (size_t i = 0; i < 2; i++)
            if (at[i] < courses[i]->doses.count && courses[i]->doses.items[at[i]].day < day)
                day = courses[i]->doses.items[at[i]].day;
        if (day == DAY_NEVER)
            break;
        const char *cells[5] = {display_date(arena, day)};
        for (size_t i = 0; i < 2; i++) {
            /* Both courses are in the order of their days. */
            const struct dose *next =
                at[i] < courses[i]->doses.count ? &courses[i]->doses.items[at[i]] : NULL;
            const struct dose *dose = next && next->day == day ? next : NULL;
            at[i] += dose != NULL;
            cells[2 * i + 1] = dose ? figure_number(arena, shown(drawing, dose->value)) : NULL;
            cells[2 * i + 2] = figure_number(arena, shown(drawing, sum_on(&courses[i]->doses, day)));
        }
        page_row(drawing->page, 1, columns, cells);
    }
}

/* ---- runs of days ---- */

/* What the days up to each one hold: it rises with a dose, and falls when the dose lies outside the run. */
static void run_describe(const struct drawing *drawing, const struct limit *limit)
{
    struct page *page = drawing->page;
    struct arena *arena = page->arena;
    const struct model *model = drawing->season->model;
    const struct doses *doses = &drawing->most->doses;
    struct chart *chart = ARENA_NEW(arena, struct chart);
    chart->kind = CHART_DAYS;
    struct chart_line line = {.role = ROLE_PLANNED}, bound = {.role = ROLE_LIMIT};
    struct page_columns *columns = page_columns(page, 2);
    double most = limit->most * limit->nutrient->element_per_unit / drawing->form->element_per_unit;
    const char *time = display_duration(arena, limit->time);
    chart->first = model->season_first;
    chart->last = model->season_last;
    chart->unit = display_unit(arena, model, QUANTITY_MASS_RATE, 0);
    chart->title =
        text_format(arena, "%s on %s in any %s", drawing->form->name, zone_name(drawing->most), time);
    chart->description =
        text_format(arena,
                    "The sum of the last %s, day by day, against the limit of %s. The table below has the "
                    "same numbers.",
                    time, display_rate(arena, model, most));
    chart->roles[ROLE_PLANNED] = text_format(arena, "sum of the last %s", time);
    chart->roles[ROLE_LIMIT] = "limit";
    page_heading(page, 2, chart->title);
    page_add(page, PART_CHART, 0, NULL)->chart = chart;
    page_column_names(page, 1, columns,
                      (const char *[]){"day", text_format(arena, "sum of the last %s", time)});
    point_add(arena, &line, chart->first, 0);
    double sum = 0;
    for (size_t in = 0, out = 0; out < doses->count;) {
        day_number leaves = day_after(doses->items[out].day, limit->time);
        bool enters = in < doses->count && doses->items[in].day < leaves;
        day_number day = enters ? doses->items[in].day : leaves;
        if (day > chart->last)
            break;
        point_add(arena, &line, day, shown(drawing, sum));
        sum += enters ? doses->items[in++].value : -doses->items[out++].value;
        sum = out == in ? 0 : sum; /* what floating point left over */
        point_add(arena, &line, day, shown(drawing, sum));
        page_row(page, 1, columns,
                 (const char *[]){display_date(arena, day), figure_number(arena, shown(drawing, sum))});
    }
    point_add(arena, &line, chart->last, shown(drawing, sum));
    point_add(arena, &bound, chart->first, shown(drawing, most));
    point_add(arena, &bound, chart->last, shown(drawing, most));
    VECTOR_PUSH(arena, &chart->lines, bound);
    VECTOR_PUSH(arena, &chart->lines, line);
    page_say(page, 1, "Limit: %s in any %s (%s).",
             display_of(arena, model, QUANTITY_MASS_RATE, limit->most, limit->nutrient->name), time,
             place_line(arena, limit->place));
}

/* ---- a chart ---- */

/* Two zones speak for all: the one that gets most, held against limits, and the one that is lowest against
 * its need. */
static void chart_describe(struct drawing *drawing)
{
    struct page *page = drawing->page;
    struct arena *arena = page->arena;
    const struct model *model = drawing->season->model;
    struct chart *chart = ARENA_NEW(arena, struct chart);
    chart->kind = CHART_DAYS;
    struct buffer zones = {.arena = arena};
    drawing->most = drawing->least = &drawing->courses.items[0];
    for (size_t i = 0; i < drawing->courses.count; i++) {
        const struct course *course = &drawing->courses.items[i];
        drawing->most = exceeds(course->total, drawing->most->total) ? course : drawing->most;
        drawing->least = exceeds(course->short_by, drawing->least->short_by) ? course : drawing->least;
        buffer_separate(&zones, ", ");
        buffer_add_string(&zones, zone_name(course));
    }
    if (!differs(drawing->most->total, drawing->least->total))
        drawing->least = drawing->most;
    bool two = drawing->most != drawing->least;
    chart->first = model->season_first;
    chart->last = model->season_last;
    chart->unit = display_unit(arena, model, QUANTITY_MASS_RATE, 0);
    chart->title = text_format(arena, "%s on %s", drawing->form->name, zones.string);
    chart->description = text_format(
        arena, "The total of the season, day by day, of %s%s (%s)%s. The table below has the same numbers.",
        zone_name(drawing->most), two ? ", which gets most" : "",
        display_rate(arena, model, drawing->most->total),
        two ? text_format(arena, ", and of %s, which is lowest against its need (%s)",
                          zone_name(drawing->least), display_rate(arena, model, drawing->least->total))
            : "");
    for (size_t i = 0; i < drawing->most->budget->measures.count; i++) {
        const struct budget_measure *measure = &drawing->most->budget->measures.items[i];
        if (is_of(measure, drawing->form) && measure->kind == BUDGET_LIMIT)
            draw_measure(drawing, chart, drawing->most, measure);
    }
    for (size_t i = 0; i < drawing->least->budget->measures.count; i++) {
        const struct budget_measure *measure = &drawing->least->budget->measures.items[i];
        if (is_of(measure, drawing->form) && measure->kind != BUDGET_LIMIT)
            draw_measure(drawing, chart, drawing->least, measure);
    }
    if (two)
        draw_course(drawing, chart, drawing->least, ROLE_LEAST, ROLE_LEAST);
    draw_course(drawing, chart, drawing->most, ROLE_DONE, ROLE_PLANNED);
    for (size_t i = 0; i < chart->lines.count; i++) {
        enum chart_role role = chart->lines.items[i].role;
        if (role == ROLE_DONE || role == ROLE_PLANNED)
            chart->roles[role] = text_format(arena, "%s, %s", zone_name(drawing->most),
                                             role == ROLE_DONE ? "applied" : "planned");
        else if (role == ROLE_LEAST)
            chart->roles[role] = zone_name(drawing->least);
    }
    page_heading(page, 1, chart->title);
    page_add(page, PART_CHART, 0, NULL)->chart = chart;
    table_describe(drawing);
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (limit->kind == LIMIT_PER_PERIOD && limit->nutrient->nutrient == drawing->form->nutrient &&
            !limit->set->always && limit_binds(limit, drawing->most->budget->zone))
            run_describe(drawing, limit);
    }
}

/* What the zone gets day by day, and how far that is below what it needs. */
static struct course course_of(const struct drawing *drawing, const struct budget_zone *zone)
{
    struct yardstick yardstick = {.form = drawing->form};
    struct course course = {.budget = zone, .short_by = -INFINITY};
    course.doses =
        doses_of(drawing->page->arena, &drawing->season->ledgers[zone->zone->index], &yardstick, false);
    for (size_t i = 0; i < course.doses.count; i++)
        course.total += course.doses.items[i].value;
    course.short_by = -course.total;
    for (size_t i = 0; i < zone->measures.count; i++) {
        const struct budget_measure *measure = &zone->measures.items[i];
        if (is_of(measure, drawing->form) && measure->kind != BUDGET_LIMIT && measure->least > 0)
            course.short_by =
                fmax(course.short_by,
                     as_traded(drawing, measure, measure->least - measure->done - measure->planned));
    }
    return course;
}

/* Zones of a lawn with the same needs and limits share a chart. */
void nutrient_charts_describe(struct page *page, const struct season *season)
{
    struct budget budget = budget_of(season);
    for (size_t n = 0; n < budget_nutrient_count; n++) {
        /* Nothing where nothing is given, or nothing is asked and allowed: then months say it all. */
        const struct nutrient_form *form = nutrient_trade_form(budget_nutrients[n]);
        struct drawing drawing = {page, season, form, {.count = 0}, NULL, NULL};
        size_t count = budget.zones.count;
        bool *drawn = ARENA_ARRAY(page->arena, count, bool);
        const char **bounds = ARENA_ARRAY(page->arena, count, const char *);
        for (size_t i = 0; i < count; i++) {
            /* By kind, and which limit or range it is: zones of one chart have the same. */
            struct buffer text = {.arena = drawing.page->arena};
            for (size_t k = 0; k < budget.zones.items[i].measures.count; k++) {
                const struct budget_measure *measure = &budget.zones.items[i].measures.items[k];
                if (is_of(measure, drawing.form))
                    buffer_format(&text, "%d %p %d %p;", (int)measure->kind, (const void *)measure->limit,
                                  measure->year, (const void *)measure->range);
            }
            bounds[i] = buffer_string(&text);
            drawn[i] = !*bounds[i] || !budget_gives(&budget.zones.items[i], form->nutrient);
        }
        for (size_t i = 0; i < count; i++) {
            drawing.courses.count = 0;
            for (size_t j = i; j < count && !drawn[i]; j++) {
                const struct budget_zone *zone = &budget.zones.items[j];
                if (drawn[j] || zone->zone->lawn != budget.zones.items[i].zone->lawn ||
                    strcmp(bounds[i], bounds[j]) != 0)
                    continue;
                struct course course = course_of(&drawing, zone);
                VECTOR_PUSH(page->arena, &drawing.courses, course);
                drawn[j] = j > i;
            }
            if (drawing.courses.count)
                chart_describe(&drawing);
        }
    }
}
