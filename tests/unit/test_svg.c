/* Charts as drawings, read back as a person reads them: the value of a point is where it lies between the
 * named lines of the axis, its day where it lies between the months. No figure of svg.c is repeated here. */
#include "compiler/form/svg.h"
#include "tests/unit/one_arena.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char *drawn_as(const struct chart *chart)
{
    struct buffer out = {.arena = &arena};
    svg_add(&out, chart, 3);
    return buffer_string(&out);
}

static day_number day(int year, int month, int of_month)
{
    return day_of_date((struct civil_date){year, month, of_month});
}

/* ---- reading a drawing ---- */

struct element {
    const char *start, *end; /* from '<' to behind '>' */
};

/* The next element of the name behind `from` (NULL: of the whole drawing); false behind the last one. */
static bool element_next(const char *svg, const char *name, struct element *element)
{
    const char *mark = text_format(&arena, "<%s ", name);
    element->start = strstr(element->start ? element->end : svg, mark);
    element->end = element->start ? strchr(element->start, '>') + 1 : NULL;
    return element->start;
}

static const char *attribute_of(const struct element *element, const char *name)
{
    const char *mark = text_format(&arena, " %s=\"", name), *found = strstr(element->start, mark);
    if (!found || found >= element->end)
        return NULL;
    found += strlen(mark);
    return text_string(&arena, (struct text){found, strcspn(found, "\"")});
}

static double number_of(const struct element *element, const char *name)
{
    const char *text = attribute_of(element, name);
    char *rest;
    assert_non_null(text);
    double value = strtod(text, &rest);
    assert_true(rest > text && *rest == '\0' && isfinite(value));
    return value;
}

static bool has_class(const struct element *element, const char *class)
{
    const char *classes = attribute_of(element, "class");
    return classes && strcmp(classes, class) == 0;
}

static const char *words_of(const struct element *element)
{
    return text_string(&arena, (struct text){element->end, strcspn(element->end, "<")});
}

/* The element with that class which comes as number `index` of its like. */
static struct element element_find(const char *svg, const char *name, const char *class, size_t index)
{
    struct element element = {NULL, NULL};
    while (element_next(svg, name, &element))
        if (has_class(&element, class) && index-- == 0)
            return element;
    fail_msg("the drawing has no <%s class=\"%s\"> of that number", name, class);
    return element;
}

static size_t count_of(const char *svg, const char *name, const char *class)
{
    struct element element = {NULL, NULL};
    size_t count = 0;
    while (element_next(svg, name, &element))
        count += has_class(&element, class);
    return count;
}

struct points {
    size_t count;
    struct chart_point items[64];
};

static struct points points_of(const struct element *element)
{
    struct points points = {0};
    for (char *at = (char *)attribute_of(element, "points"); *at;) {
        struct chart_point *point = &points.items[points.count++];
        point->x = strtod(at, &at);
        assert_int_equal(*at++, ',');
        point->y = strtod(at, &at);
        at += *at == ' ';
    }
    return points;
}

/* ---- what holds of every drawing ---- */

struct view {
    double width, height;
};

static void inside(const char *svg, double x, double y, struct view view)
{
    if (!(x >= 0 && x <= view.width && y >= 0 && y <= view.height))
        fail_msg("%g, %g lies outside %g by %g:\n%s", x, y, view.width, view.height, svg);
}

/* Nothing is outside the view box; a text, at half its height a letter, neither. */
static void all_inside(const char *svg)
{
    const double letter = 5.5; /* as wide as letters of this size are on average */
    struct element root = {NULL, NULL}, element;
    double x0, y0;
    struct view view;
    assert_true(element_next(svg, "svg", &root));
    assert_int_equal(
        sscanf(attribute_of(&root, "viewBox"), "%lf %lf %lf %lf", &x0, &y0, &view.width, &view.height), 4);
    assert_true(x0 == 0 && y0 == 0 && view.width > 0 && view.height > 0);
    for (element = (struct element){NULL, NULL}; element_next(svg, "line", &element);) {
        inside(svg, number_of(&element, "x1"), number_of(&element, "y1"), view);
        inside(svg, number_of(&element, "x2"), number_of(&element, "y2"), view);
    }
    for (element = (struct element){NULL, NULL}; element_next(svg, "rect", &element);) {
        double x = number_of(&element, "x"), y = number_of(&element, "y");
        inside(svg, x, y, view);
        inside(svg, x + number_of(&element, "width"), y + number_of(&element, "height"), view);
    }
    const char *const round[] = {"circle", "ellipse"};
    for (size_t i = 0; i < 2; i++)
        for (element = (struct element){NULL, NULL}; element_next(svg, round[i], &element);) {
            double x = number_of(&element, "cx"), y = number_of(&element, "cy");
            double rx = number_of(&element, i ? "rx" : "r"), ry = number_of(&element, i ? "ry" : "r");
            inside(svg, x - rx, y - ry, view);
            inside(svg, x + rx, y + ry, view);
        }
    const char *const pointed[] = {"polyline", "polygon"};
    for (size_t i = 0; i < 2; i++)
        for (element = (struct element){NULL, NULL}; element_next(svg, pointed[i], &element);) {
            struct points points = points_of(&element);
            for (size_t j = 0; j < points.count; j++)
                inside(svg, points.items[j].x, points.items[j].y, view);
        }
    for (element = (struct element){NULL, NULL}; element_next(svg, "text", &element);) {
        double x = number_of(&element, "x"), length = letter * (double)strlen(words_of(&element));
        bool end = has_class(&element, "tick end");
        inside(svg, end ? x - length : x, number_of(&element, "y") - 2 * letter, view);
        inside(svg, end ? x : x + length, number_of(&element, "y"), view);
    }
}

/* ---- lines over days ---- */

static void line_add(struct chart *chart, enum chart_role role, size_t count,
                     const struct chart_point *points)
{
    struct chart_line line = {.role = role};
    for (size_t i = 0; i < count; i++)
        VECTOR_PUSH(&arena, &line.points, points[i]);
    VECTOR_PUSH(&arena, &chart->lines, line);
}

/* Two places on an axis with what they stand for. */
struct axis {
    double from, to, low, high;
};

static double read_off(const struct axis *axis, double at)
{
    return axis->low + (at - axis->from) / (axis->to - axis->from) * (axis->high - axis->low);
}

/* The lowest and the highest named line: a name belongs to the line nearest to it. */
static struct axis values_of(const char *svg)
{
    struct axis axis = {.low = INFINITY, .high = -INFINITY};
    for (struct element name = {NULL, NULL}; element_next(svg, "text", &name);) {
        if (!has_class(&name, "tick end") || strchr(words_of(&name), '-')) /* a day's name */
            continue;
        double value = strtod(words_of(&name), NULL), nearest = INFINITY;
        for (struct element line = {NULL, NULL}; element_next(svg, "line", &line);)
            if (has_class(&line, "grid") && number_of(&line, "y1") == number_of(&line, "y2") &&
                fabs(number_of(&line, "y1") - number_of(&name, "y")) < fabs(nearest - number_of(&name, "y")))
                nearest = number_of(&line, "y1");
        if (value < axis.low) {
            axis.low = value;
            axis.from = nearest;
        }
        if (value > axis.high) {
            axis.high = value;
            axis.to = nearest;
        }
    }
    assert_true(axis.high > axis.low);
    return axis;
}

/* The first and the last named month: its line is where its name begins. */
static struct axis days_of(const char *svg)
{
    struct axis axis = {.low = NAN};
    for (struct element name = {NULL, NULL}; element_next(svg, "text", &name);) {
        int year, month;
        if (!has_class(&name, "tick") || sscanf(words_of(&name), "%d-%d", &year, &month) != 2)
            continue;
        double first = day(year, month, 1), x = number_of(&name, "x");
        if (isnan(axis.low)) {
            axis.low = first;
            axis.from = x;
        }
        axis.high = first;
        axis.to = x;
    }
    assert_true(axis.high > axis.low);
    return axis;
}

static void same_points(const char *svg, const struct element *line, size_t count,
                        const struct chart_point *wanted)
{
    struct axis values = values_of(svg), days = days_of(svg);
    struct points points = points_of(line);
    /* Places are printed to a tenth. */
    double day_off = 0.2 * fabs((days.high - days.low) / (days.to - days.from));
    double value_off = 0.2 * fabs((values.high - values.low) / (values.to - values.from));
    assert_int_equal(points.count, count);
    for (size_t i = 0; i < count; i++) {
        double x = read_off(&days, points.items[i].x), y = read_off(&values, points.items[i].y);
        if (fabs(x - wanted[i].x) > day_off || fabs(y - wanted[i].y) > value_off)
            fail_msg("point %zu reads as %g, %g, not as %g, %g", i, x, y, wanted[i].x, wanted[i].y);
    }
}

static struct chart *season_chart(int year)
{
    struct chart *chart = ARENA_NEW(&arena, struct chart);
    chart->kind = CHART_DAYS;
    chart->title = "N on <north>";
    chart->description = "3 lb & more";
    chart->unit = "lb per 1000 sqft";
    chart->first = day(year, 9, 15);
    chart->last = day(year + 1, 8, 30);
    return chart;
}

/* A season over the turn of a year; what is applied never falls, and the limit is where the axis says. */
static void test_days(void **state)
{
    struct chart *chart = season_chart(2027);
    double first = chart->first, last = chart->last, turn = day(2028, 1, 1);
    const struct chart_point course[] = {{first, 0},  {first, 0.75},           {turn, 0.75},
                                         {turn, 1.6}, {day(2028, 4, 17), 1.6}, {day(2028, 4, 17), 2.45},
                                         {last, 2.45}};
    const struct chart_point bound[] = {{first, 3}, {last, 3}};
    const struct chart_point need[] = {{turn, 2}, {last, 2}, {last, 2.5}, {turn, 2.5}};
    line_add(chart, ROLE_LIMIT, 2, bound);
    line_add(chart, ROLE_NEED, 4, need);
    line_add(chart, ROLE_PLANNED, 7, course);
    chart->roles[ROLE_LIMIT] = "limit of the year";
    chart->roles[ROLE_PLANNED] = "north, planned";
    const char *svg = drawn_as(chart);
    all_inside(svg);
    struct element line = element_find(svg, "polyline", "line planned", 0);
    same_points(svg, &line, 7, course);
    struct points points = points_of(&line);
    for (size_t i = 1; i < points.count; i++) /* y grows downwards */
        assert_true(points.items[i].x >= points.items[i - 1].x && points.items[i].y <= points.items[i - 1].y);
    line = element_find(svg, "polyline", "line limit", 0);
    same_points(svg, &line, 2, bound);
    line = element_find(svg, "polygon", "area need", 0);
    same_points(svg, &line, 4, need);
    assert_string_equal(attribute_of(&line, "fill"), "url(#c3-need)");
    assert_non_null(strstr(svg, "<pattern id=\"c3-need\""));
    /* Each role of the legend with a piece of its line, and no other. */
    assert_int_equal(count_of(svg, "line", "line limit"), 1);
    assert_int_equal(count_of(svg, "line", "line planned"), 1);
    assert_int_equal(count_of(svg, "line", "line done"), 0);
    assert_non_null(strstr(svg, ">limit of the year</text>"));
}

/* Read by ear: a title and a description, escaped, and found by the ids that the drawing names. */
static void test_said(void **state)
{
    const char *svg = drawn_as(season_chart(2027));
    assert_non_null(strstr(svg, "<svg role=\"img\" aria-labelledby=\"c3-title c3-text\""));
    assert_string_equal(text_between(svg, "<title id=\"c3-title\">", "</title>"), "N on &lt;north&gt;");
    assert_string_equal(text_between(svg, "<desc id=\"c3-text\">", "</desc>"), "3 lb &amp; more");
}

/* Nothing, one point, next to nothing, very much; a day, a month, twenty years. Axes keep their names. */
static void test_days_extreme(void **state)
{
    const double tops[] = {0, 1e-9, 3e-4, 0.0427, 1, 9.6, 99.9, 12345.6, 1e9};
    const int spans[] = {0, 1, 17, 31, 364, 366, 7300};
    for (size_t i = 0; i < sizeof tops / sizeof *tops; i++)
        for (size_t j = 0; j < sizeof spans / sizeof *spans; j++) {
            struct chart *chart = season_chart(2027);
            chart->last = chart->first + spans[j];
            const struct chart_point points[] = {{chart->first, 0}, {chart->last, tops[i]}};
            line_add(chart, ROLE_DONE, 2, points);
            line_add(chart, ROLE_DONE, 1, points);
            line_add(chart, ROLE_LIMIT, 0, points);
            const char *svg = drawn_as(chart);
            all_inside(svg);
            struct axis axis = values_of(svg);
            struct element line = element_find(svg, "polyline", "line done", 0);
            double y = points_of(&line).items[1].y;
            double off = 0.2 * fabs((axis.high - axis.low) / (axis.to - axis.from));
            if (!(fabs(read_off(&axis, y) - tops[i]) <= off))
                fail_msg("%g over %d days reads as %g", tops[i], spans[j], read_off(&axis, y));
            /* At least two days are named, whatever the span. */
            size_t named = 0;
            for (struct element name = {NULL, NULL}; element_next(svg, "text", &name);)
                named += strncmp(words_of(&name), "20", 2) == 0 && strchr(words_of(&name), '-') != NULL;
            assert_true(named >= (spans[j] ? 2 : 1));
        }
}

/* ---- rows ---- */

static struct chart_row *row_new(struct chart *chart, const char *label, double low, double high)
{
    struct chart_row row = {.label = label, .low = low, .high = high};
    VECTOR_PUSH(&arena, &chart->rows, row);
    return &chart->rows.items[chart->rows.count - 1];
}

static void span_new(struct chart_row *row, enum chart_role role, double from, double to)
{
    struct chart_span span = {role, from, to};
    VECTOR_PUSH(&arena, &row->spans, span);
}

static void test_rows(void **state)
{
    struct chart *chart = season_chart(2027);
    chart->kind = CHART_ROWS;
    struct chart_row *row = row_new(chart, "feed & \"seed\"", 0, 0);
    span_new(row, ROLE_DONE, day(2027, 10, 1), day(2027, 10, 1));
    span_new(row, ROLE_LEAST, day(2028, 3, 1), day(2028, 3, 20));
    span_new(row, ROLE_PLANNED, day(2028, 3, 1), day(2028, 3, 1));
    row = row_new(chart, text_format(&arena, "%0200d", 0), 0, 0); /* longer than any drawing is wide */
    span_new(row, ROLE_PLANNED, chart->first, chart->first);
    span_new(row, ROLE_PLANNED, chart->last, chart->last);
    const char *svg = drawn_as(chart);
    all_inside(svg);
    struct axis days = days_of(svg);
    double off = 0.2 * (days.high - days.low) / (days.to - days.from);
    struct element mark = element_find(svg, "rect", "area done", 0);
    double middle = number_of(&mark, "x") + number_of(&mark, "width") / 2;
    assert_true(fabs(read_off(&days, middle) - day(2027, 10, 1)) <= off);
    mark = element_find(svg, "circle", "mark planned", 0);
    double y = number_of(&mark, "cy");
    assert_true(fabs(read_off(&days, number_of(&mark, "cx")) - day(2028, 3, 1)) <= off);
    mark = element_find(svg, "rect", "area least", 0);
    assert_true(fabs(read_off(&days, number_of(&mark, "x")) - day(2028, 3, 1)) <= off);
    assert_true(fabs(read_off(&days, number_of(&mark, "x") + number_of(&mark, "width")) - day(2028, 3, 20)) <=
                2 * off);
    mark = element_find(svg, "circle", "mark planned", 1);
    assert_true(number_of(&mark, "cy") > y); /* of the second row */
    assert_non_null(strstr(svg, ">feed &amp; &quot;seed&quot;</text>"));
    assert_non_null(strstr(svg, "000\xE2\x80\xA6</text>"));
}

/* Bars are as long as their figures, each row on its own scale; a bound is a line at its figure. */
static void test_bars(void **state)
{
    struct chart *chart = ARENA_NEW(&arena, struct chart);
    chart->kind = CHART_BARS;
    chart->title = chart->description = "";
    struct chart_row *row = row_new(chart, "P", 0, 60);
    span_new(row, ROLE_DONE, 0, 15);
    span_new(row, ROLE_BEFORE, 0, 60);
    span_new(row, ROLE_LIMIT, 40, 40);
    row = row_new(chart, "pH", 4, 9);
    span_new(row, ROLE_NEED, 6, 7);
    span_new(row, ROLE_DONE, 4, 6.5);
    row_new(chart, "none", 0, 0);
    const char *svg = drawn_as(chart);
    all_inside(svg);
    struct element before = element_find(svg, "rect", "area before", 0);
    double left = number_of(&before, "x"), whole = number_of(&before, "width");
    struct element bar = element_find(svg, "rect", "area done", 0);
    assert_true(fabs(number_of(&bar, "width") - whole / 4) < 0.2 && number_of(&bar, "x") == left);
    bar = element_find(svg, "line", "line bound", 0);
    assert_true(fabs(number_of(&bar, "x1") - left - whole * 2 / 3) < 0.2);
    assert_true(number_of(&bar, "x1") == number_of(&bar, "x2"));
    bar = element_find(svg, "rect", "area need", 0);
    assert_true(fabs(number_of(&bar, "x") - left - whole * 0.4) < 0.2);
    assert_true(fabs(number_of(&bar, "width") - whole / 5) < 0.2);
    bar = element_find(svg, "rect", "area done", 1);
    assert_true(fabs(number_of(&bar, "width") - whole / 2) < 0.2);
}

/* ---- seen from above ---- */

static void outline_new(struct chart *chart, const char *label, bool round, size_t count,
                        const struct chart_point *points)
{
    struct chart_outline outline = {.label = label, .round = round};
    for (size_t i = 0; i < count; i++)
        VECTOR_PUSH(&arena, &outline.points, points[i]);
    VECTOR_PUSH(&arena, &chart->outlines, outline);
}

/* The rod says how long it is; with it the zones are measured. */
static void test_plan(void **state)
{
    struct chart *chart = ARENA_NEW(&arena, struct chart);
    chart->kind = CHART_PLAN;
    chart->title = chart->description = "";
    chart->unit = "ft";
    chart->width = 130;
    chart->height = 50;
    const struct chart_point square[] = {{0, 0}, {40, 0}, {40, 25}, {0, 25}}, disc[] = {{90, 30}, {30, 20}};
    outline_new(chart, "a", false, 4, square);
    outline_new(chart, "b", true, 2, disc);
    const char *svg = drawn_as(chart);
    all_inside(svg);
    struct element rod = element_find(svg, "line", "line rod", 0), text = {NULL, NULL};
    double feet = 0;
    while (element_next(svg, "text", &text))
        if (strstr(words_of(&text), " ft"))
            feet = strtod(words_of(&text), NULL);
    double scale = (number_of(&rod, "x2") - number_of(&rod, "x1")) / feet;
    struct element zone = element_find(svg, "polygon", "outline", 0);
    struct points points = points_of(&zone);
    assert_true(fabs(points.items[2].x - points.items[0].x - 40 * scale) < 0.2);
    assert_true(fabs(points.items[2].y - points.items[0].y - 25 * scale) < 0.2);
    zone = element_find(svg, "ellipse", "outline", 0);
    assert_true(fabs(number_of(&zone, "rx") - 30 * scale) < 0.2);
    assert_true(fabs(number_of(&zone, "ry") - 20 * scale) < 0.2);
    assert_true(fabs(number_of(&zone, "cx") - points.items[0].x - 90 * scale) < 0.2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_days), TEST(test_said), TEST(test_days_extreme),
        TEST(test_rows), TEST(test_bars), TEST(test_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
