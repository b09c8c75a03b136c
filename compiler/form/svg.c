#include "compiler/form/svg.h"

#include "compiler/form/html_text.h"
#include "compiler/form/terminal_text.h"

#include <math.h>
#include <string.h>

/* Units of the drawing: about a pixel on a phone, one and a half on a desk. */
enum { SIDE = 8, WIDTH = CHART_ACROSS + 2 * SIDE, PLOT_HEIGHT = 170, ROW_HEIGHT = 36, MOST_TICKS = 5 };

static const char *const role_classes[ROLES] = {
    [ROLE_DONE] = "done",     [ROLE_PLANNED] = "planned", [ROLE_LEAST] = "least",
    [ROLE_BEFORE] = "before", [ROLE_NEED] = "need",       [ROLE_LIMIT] = "limit"};

struct drawing {
    struct buffer *out;
    const struct chart *chart;
    size_t number;
    double left, right, top, bottom; /* of the plot */
};

static const char *at(const struct drawing *drawing, double value)
{
    return number_text(drawing->out->arena, value, 1);
}

static void add_line(const struct drawing *drawing, const char *class, double x1, double y1, double x2,
                     double y2)
{
    buffer_format(drawing->out, "<line class=\"%s\" x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\"/>\n", class,
                  at(drawing, x1), at(drawing, y1), at(drawing, x2), at(drawing, y2));
}

/* What would run out of the drawing is cut: a title or a table says it in full. */
static void add_text(const struct drawing *drawing, const char *class, double x, double y, const char *text)
{
    struct text rest = text_of(text);
    double room = strcmp(class, "tick end") == 0 ? WIDTH : (WIDTH - x) / CHART_LETTER - 1;
    buffer_format(drawing->out, "<text class=\"%s\" x=\"%s\" y=\"%s\">", class, at(drawing, x),
                  at(drawing, y));
    for (size_t taken = 0, last = 0; taken < rest.length;) {
        struct shown_character shown = character_shown(rest, taken, 0);
        room -= shown.cells;
        if (room < 0) {
            rest.length = last; /* the three dots are as wide as two letters */
            break;
        }
        last = taken;
        taken += shown.taken;
    }
    html_escape(drawing->out, rest);
    buffer_add_string(drawing->out, room < 0 ? "\xE2\x80\xA6</text>\n" : "</text>\n"); /* U+2026 */
}

/* A need is hatched: its pattern is the chart's own. */
static void begin_area(const struct drawing *drawing, const char *element, enum chart_role role)
{
    buffer_format(drawing->out, "<%s class=\"area %s\"", element, role_classes[role]);
    if (role == ROLE_NEED || role == ROLE_BEFORE)
        buffer_format(drawing->out, " fill=\"url(#c%zu-%s)\"", drawing->number, role_classes[role]);
}

static void add_bar(const struct drawing *drawing, enum chart_role role, double x1, double y, double x2,
                    double height)
{
    begin_area(drawing, "rect", role);
    buffer_format(drawing->out, " x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", at(drawing, x1),
                  at(drawing, y), at(drawing, fmax(x2 - x1, 0)), at(drawing, height));
}

/* What was done is a full square, what is planned an open circle. */
static void add_mark(const struct drawing *drawing, enum chart_role role, double x, double y)
{
    const double half = 5;
    if (role == ROLE_DONE) {
        add_bar(drawing, role, x - half, y - half, x + half, 2 * half);
        return;
    }
    buffer_format(drawing->out, "<circle class=\"mark %s\" cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n",
                  role_classes[role], at(drawing, x), at(drawing, y), at(drawing, half));
}

/* ---- scales ---- */

static double across(const struct drawing *drawing, double value, double low, double high)
{
    double share = high > low ? (value - low) / (high - low) : 0;
    return drawing->left + fmin(fmax(share, 0), 1) * (drawing->right - drawing->left);
}

/* Months as thin lines, in rows only below the names, so that none is crossed out; as many of them named as
 * fit beside each other. Of a season in which fewer than two begin, the first and the last day are named:
 * with one name an axis cannot be read. */
static void add_months(const struct drawing *drawing)
{
    const struct chart *chart = drawing->chart;
    struct civil_date date = date_of_day(chart->first), last = date_of_day(chart->last);
    int months = (last.year - date.year) * 12 + last.month - date.month + (date.day == 1);
    double last_name = -WIDTH, y = drawing->bottom + CHART_LINE - 4;
    bool rows = chart->kind == CHART_ROWS;
    for (date.day = 1;; date = (struct civil_date){date.year + date.month / 12, date.month % 12 + 1, 1}) {
        day_number day = day_of_date(date);
        const char *name = text_format(drawing->out->arena, "%04d-%02d", date.year, date.month);
        double x = across(drawing, day, chart->first, chart->last),
               width = CHART_LETTER * (double)strlen(name);
        if (day > chart->last)
            break;
        if (day < chart->first)
            continue;
        for (size_t i = 0; i < (rows ? chart->rows.count : 1); i++) {
            double top = drawing->top + ROW_HEIGHT * (double)i;
            add_line(drawing, "grid", x, rows ? top + CHART_LINE : top, x,
                     rows ? top + ROW_HEIGHT : drawing->bottom);
        }
        if (months < 2 || x < last_name + width || x + width > WIDTH - SIDE / 2.0)
            continue;
        add_text(drawing, "tick", x, y, name);
        last_name = x + CHART_LETTER;
    }
    if (months < 2)
        add_text(drawing, "tick", drawing->left, y, day_text(drawing->out->arena, chart->first));
    if (months < 2 && chart->last > chart->first)
        add_text(drawing, "tick end", drawing->right, y, day_text(drawing->out->arena, chart->last));
}

/* 1, 2 or 5 times a power of ten, so that at most MOST_TICKS of them reach the top. */
static double tick_of(double top)
{
    double step = pow(10, floor(log10(top / MOST_TICKS)));
    const double steps[] = {1, 2, 5, 10};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        if (top / (step * steps[i]) <= MOST_TICKS)
            return step * steps[i];
    return step * 10;
}

/* ---- lines over days ---- */

/* Need as an area, the others as lines, over months and ticks. */
static void draw_days(struct drawing *drawing)
{
    const struct chart *chart = drawing->chart;
    struct arena *arena = drawing->out->arena;
    double highest = 0, widest = 0;
    for (size_t i = 0; i < chart->lines.count; i++)
        for (size_t j = 0; j < chart->lines.items[i].points.count; j++)
            highest = fmax(highest, chart->lines.items[i].points.items[j].y);
    double top = (highest > 0 ? highest : 1) * 1.05,
           step = tick_of(top); /* a line at the very top looks cut */
    int ticks = (int)(top / step);
    for (int tick = 0; tick <= ticks; tick++)
        widest = fmax(widest, CHART_LETTER * (double)strlen(number_short(arena, tick * step)));
    drawing->left = SIDE + fmax(widest, 4 * CHART_LETTER) + 5;
    drawing->top += CHART_LINE;
    drawing->bottom = drawing->top + PLOT_HEIGHT;
    add_text(drawing, "tick", SIDE, drawing->top - 6, chart->unit);
    for (int tick = 0; tick <= ticks; tick++) {
        double y = drawing->bottom - tick * step / top * PLOT_HEIGHT;
        add_line(drawing, "grid", drawing->left, y, drawing->right, y);
        add_text(drawing, "tick end", drawing->left - 5, y + 4, number_short(arena, tick * step));
    }
    add_months(drawing);
    for (size_t i = 0; i < chart->lines.count; i++) {
        const struct chart_line *line = &chart->lines.items[i];
        if (line->role == ROLE_NEED)
            begin_area(drawing, "polygon", line->role);
        else
            buffer_format(drawing->out, "<polyline class=\"line %s\"", role_classes[line->role]);
        buffer_add_string(drawing->out, " points=\"");
        for (size_t j = 0; j < line->points.count; j++) {
            const struct chart_point *point = &line->points.items[j];
            buffer_format(drawing->out, "%s%s,%s", j ? " " : "",
                          at(drawing, across(drawing, point->x, chart->first, chart->last)),
                          at(drawing, drawing->bottom - point->y / top * PLOT_HEIGHT));
        }
        buffer_add_string(drawing->out, "\"/>\n");
    }
    drawing->bottom += CHART_LINE;
}

/* ---- rows ---- */

/* The name above its row: beside it, names of any length would leave no room for the days. */
static void draw_rows(struct drawing *drawing)
{
    const struct chart *chart = drawing->chart;
    bool days = chart->kind == CHART_ROWS;
    drawing->bottom = drawing->top + ROW_HEIGHT * (double)chart->rows.count;
    if (days)
        add_months(drawing);
    for (size_t i = 0; i < chart->rows.count; i++) {
        const struct chart_row *row = &chart->rows.items[i];
        double low = days ? chart->first : row->low, high = days ? chart->last : row->high;
        double y = drawing->top + ROW_HEIGHT * (double)i, middle = y + CHART_LINE + 8;
        add_text(drawing, "label", drawing->left, y + CHART_LINE - 4, row->label);
        add_line(drawing, "grid", drawing->left, middle, drawing->right, middle);
        for (size_t j = 0; j < row->spans.count; j++) {
            const struct chart_span *span = &row->spans.items[j];
            double from = across(drawing, span->from, low, high), to = across(drawing, span->to, low, high);
            if (span->role == ROLE_LIMIT && span->from == span->to)
                add_line(drawing, "line bound", from, middle - 9, from, middle + 9);
            else if (span->from == span->to)
                add_mark(drawing, span->role, from, middle);
            else if (span->role == ROLE_NEED)
                add_bar(drawing, span->role, from, middle - 8, to, 16);
            else if (span->role == ROLE_BEFORE)
                add_bar(drawing, span->role, from, middle + 1, to, 6);
            else
                add_bar(drawing, span->role, from, middle - (days ? 2 : 6), to, days ? 4 : 7);
        }
    }
    drawing->bottom += days ? CHART_LINE : 0;
}

/* ---- seen from above ---- */

/* To scale, with a rod that says how long it is. */
static void draw_plan(struct drawing *drawing)
{
    const struct chart *chart = drawing->chart;
    double scale = (drawing->right - drawing->left) / chart->width;
    for (size_t i = 0; i < chart->outlines.count; i++) {
        const struct chart_outline *outline = &chart->outlines.items[i];
        const struct chart_point *points = outline->points.items;
        const char *class = outline->less ? "outline less" : "outline";
        if (outline->round) {
            buffer_format(drawing->out, "<ellipse class=\"%s\" cx=\"%s\" cy=\"%s\" rx=\"%s\" ry=\"%s\"",
                          class, at(drawing, drawing->left + points[0].x * scale),
                          at(drawing, drawing->top + points[0].y * scale), at(drawing, points[1].x * scale),
                          at(drawing, points[1].y * scale));
        } else {
            buffer_format(drawing->out, "<polygon class=\"%s\" points=\"", class);
            for (size_t j = 0; j < outline->points.count; j++)
                buffer_format(drawing->out, "%s%s,%s", j ? " " : "",
                              at(drawing, drawing->left + points[j].x * scale),
                              at(drawing, drawing->top + points[j].y * scale));
            buffer_add_string(drawing->out, "\"");
        }
        buffer_add_string(drawing->out, "/>\n");
    }
    /* Names last, so that no outline covers one. */
    for (size_t i = 0; i < chart->outlines.count; i++) {
        const struct chart_outline *outline = &chart->outlines.items[i];
        double x = INFINITY, y = INFINITY;
        for (size_t j = 0; j < outline->points.count && !outline->round; j++) {
            x = fmin(x, outline->points.items[j].x);
            y = fmin(y, outline->points.items[j].y);
        }
        if (outline->round) {
            x = outline->points.items[0].x - outline->points.items[1].x;
            y = outline->points.items[0].y - outline->points.items[1].y;
        }
        if (outline->label)
            add_text(drawing, "label", drawing->left + x * scale, drawing->top + y * scale - 4,
                     outline->label);
    }
    drawing->bottom = drawing->top + chart->height * scale;
    double rod = tick_of(chart->width), y = drawing->bottom + CHART_LINE;
    add_line(drawing, "line rod", drawing->left, y, drawing->left + rod * scale, y);
    add_text(drawing, "tick", drawing->left + rod * scale + 6, y + 4,
             number_in(drawing->out->arena, rod, 3, chart->unit));
    drawing->bottom = y + 4;
}

/* ---- all of it ---- */

/* The height comes out of the drawing, so the drawing is made before its element is begun. */
void svg_add(struct buffer *out, const struct chart *chart, size_t number)
{
    struct buffer inside = {.arena = out->arena};
    struct drawing drawing = {
        .out = &inside, .chart = chart, .number = number, .left = SIDE, .right = WIDTH - SIDE, .top = 4};
    switch (chart->kind) {
    case CHART_DAYS:
        draw_days(&drawing);
        break;
    case CHART_ROWS:
    case CHART_BARS:
        draw_rows(&drawing);
        break;
    case CHART_PLAN:
        drawing.top += CHART_LINE;
        draw_plan(&drawing);
        break;
    }
    /* The legend, each role with a piece of its line: what a chart means can be read without colour. */
    const double sample = 26;
    for (enum chart_role role = 0; role < ROLES; role++) {
        if (!chart->roles[role])
            continue;
        double y = drawing.bottom + CHART_LINE - 4;
        bool rows = chart->kind == CHART_ROWS, bars = chart->kind == CHART_BARS;
        if (rows && role != ROLE_LEAST)
            add_mark(&drawing, role, SIDE + sample / 2, y - 4);
        else if (rows)
            add_bar(&drawing, role, SIDE, y - 6, SIDE + sample, 4);
        else if (role == ROLE_NEED || role == ROLE_BEFORE || (bars && role != ROLE_LIMIT))
            add_bar(&drawing, role, SIDE, y - 9, SIDE + sample, 10);
        else if (bars)
            add_line(&drawing, "line bound", SIDE + sample / 2, y - 12, SIDE + sample / 2, y + 3);
        else
            add_line(&drawing, text_format(out->arena, "line %s", role_classes[role]), SIDE, y - 4,
                     SIDE + sample, y - 4);
        add_text(&drawing, "label", SIDE + sample + 8, y, chart->roles[role]);
        drawing.bottom += CHART_LINE;
    }
    buffer_format(out, "<figure>\n<svg role=\"img\" aria-labelledby=\"c%zu-title c%zu-text\"", number,
                  number);
    buffer_format(out, " viewBox=\"0 0 %d %s\">\n", WIDTH, at(&drawing, drawing.bottom + SIDE));
    buffer_format(out, "<title id=\"c%zu-title\">", number);
    html_escape(out, text_of(chart->title));
    buffer_format(out, "</title>\n<desc id=\"c%zu-text\">", number);
    html_escape(out, text_of(chart->description));
    buffer_add_string(out, "</desc>\n");
    buffer_add_string(out, "<defs>");
    for (enum chart_role role = ROLE_BEFORE; role <= ROLE_NEED; role++)
        buffer_format(out,
                      "<pattern id=\"c%zu-%s\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">"
                      "<path class=\"hatch\" d=\"%s\"/></pattern>",
                      number, role_classes[role],
                      role == ROLE_NEED ? "M0 6L6 0M-1 1L1 -1M5 7L7 5" : "M3 0V6");
    buffer_add_string(out, "</defs>\n");
    buffer_add_string(out, buffer_string(&inside));
    buffer_add_string(out, "</svg>\n</figure>\n");
}
