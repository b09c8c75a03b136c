/* The charts of a season's report, against figures worked out by hand from the plan's text: what a line ends
 * at is rate x share, a limit is where the plan states it, and words and tables have the same numbers. */
#include "compiler/result/charts.h"
#include "tests/unit/season_text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Over the turn of a year. 4 lb of 25-0-5 per 1000 sqft are 1 lb N and 0.2 lb K2O; north is fed three times,
 * south twice: 3 lb and 2 lb N. */
static const char PLAN[] =
    "season 2027-09-01 to 2028-08-31\n"
    "lawn green { zone north rectangle 60 ft by 40 ft\n zone south area 900 sqft }\n"
    "product feed { grade 25-0-5 granular }\n"
    "limits { at most 1.5 lb N per 1000 sqft in any 60 days }\n"
    "limits { at most 4 lb N per 1000 sqft per year }\n"
    "apply autumn { to north, south\n when on 2027-10-02\n"
    " rate 4 lb per 1000 sqft of feed }\n"
    "apply spring { to north, south\n when on 2028-04-15\n"
    " rate 4 lb per 1000 sqft of feed }\n"
    "apply summer { to north\n when on 2028-07-08\n rate 4 lb per 1000 sqft of feed }\n";

struct described {
    struct season_text read;
    struct page page;
};

static void describe(struct described *described, const char *plan)
{
    season_text_read(&described->read, plan);
    described->page = (struct page){.arena = &described->read.arena};
    nutrient_charts_describe(&described->page, described->read.season);
}

static const struct chart *chart_titled(const struct page *page, const char *title)
{
    for (size_t i = 0; i < page->parts.count; i++)
        if (page->parts.items[i].kind == PART_CHART && strcmp(page->parts.items[i].chart->title, title) == 0)
            return page->parts.items[i].chart;
    fail_msg("there is no chart \"%s\"", title);
    return NULL;
}

static const struct chart_line *line_of(const struct chart *chart, enum chart_role role)
{
    for (size_t i = 0; i < chart->lines.count; i++)
        if (chart->lines.items[i].role == role)
            return &chart->lines.items[i];
    fail_msg("%s has no line of role %d", chart->title, (int)role);
    return NULL;
}

static double end_of(const struct chart_line *line)
{
    return line->points.items[line->points.count - 1].y;
}

static double highest(const struct chart_line *line)
{
    double most = 0;
    for (size_t i = 0; i < line->points.count; i++)
        most = fmax(most, line->points.items[i].y);
    return most;
}

/* Totals never fall and end where rate x share does; each step is on the day of its feed. */
static void test_totals(void **state)
{
    struct described described;
    describe(&described, PLAN);
    const struct chart *chart = chart_titled(&described.page, "N on north, south");
    const struct chart_line *most = line_of(chart, ROLE_PLANNED), *least = line_of(chart, ROLE_LEAST);
    assert_string_equal(chart->unit, "lb per 1000 sqft");
    assert_int_equal(chart->first, text_day("2027-09-01"));
    assert_int_equal(chart->last, text_day("2028-08-31"));
    assert_near(end_of(most), 3, 1e-9);
    assert_near(end_of(least), 2, 1e-9);
    const char *const days[] = {"2027-10-02", "2028-04-15", "2028-07-08"};
    size_t steps = 0;
    for (size_t i = 1; i < most->points.count; i++) {
        const struct chart_point *before = &most->points.items[i - 1], *point = &most->points.items[i];
        assert_true(point->x >= before->x && point->y >= before->y);
        if (point->y > before->y) {
            assert_true(steps < 3 && point->x == text_day(days[steps]) && before->x == point->x);
            assert_near(point->y, (double)++steps, 1e-9);
        }
    }
    assert_int_equal(steps, 3);
    season_text_free(&described.read);
}

/* 2027 allows 4 lb from its beginning; 2028 another 4 on top of the 1 lb that 2027 had. */
static void test_limit_of_the_year(void **state)
{
    struct described described;
    describe(&described, PLAN);
    const struct chart *chart = chart_titled(&described.page, "N on north, south");
    size_t bounds = 0;
    for (size_t i = 0; i < chart->lines.count; i++) {
        const struct chart_line *line = &chart->lines.items[i];
        if (line->role != ROLE_LIMIT)
            continue;
        bool later = line->points.items[0].x > text_day("2027-12-31");
        assert_int_equal(line->points.count, 2);
        assert_true(line->points.items[0].x == text_day(later ? "2028-01-01" : "2027-09-01"));
        assert_true(line->points.items[1].x == text_day(later ? "2028-08-31" : "2027-12-31"));
        assert_near(line->points.items[0].y, later ? 5.0 : 4.0, 1e-9);
        assert_near(line->points.items[1].y, later ? 5.0 : 4.0, 1e-9);
        bounds++;
    }
    assert_int_equal(bounds, 2);
    season_text_free(&described.read);
}

/* Feeds 98 and more days apart: 60 days never hold more than one of them, and nothing between. */
static void test_run_of_days(void **state)
{
    struct described described;
    describe(&described, PLAN);
    const struct chart *chart = chart_titled(&described.page, "N on north in any 60 days");
    const struct chart_line *sum = line_of(chart, ROLE_PLANNED), *bound = line_of(chart, ROLE_LIMIT);
    assert_near(highest(sum), 1, 1e-9);
    assert_true(end_of(sum) == 1 || fabs(end_of(sum) - 1) < 1e-9); /* the last one is still in it */
    assert_near(bound->points.items[0].y, 1.5, 1e-9);
    assert_near(end_of(bound), 1.5, 1e-9);
    double out = text_day("2027-10-02") + 60;
    bool fell = false;
    for (size_t i = 1; i < sum->points.count; i++)
        fell = fell || (sum->points.items[i].x == out && sum->points.items[i].y == 0 &&
                        sum->points.items[i - 1].y > 0);
    assert_true(fell);
    season_text_free(&described.read);
}

/* Who does not see the chart is told where its lines end, and reads each step in the table behind it. */
static void test_words(void **state)
{
    struct described described;
    describe(&described, PLAN);
    const struct chart *chart = chart_titled(&described.page, "N on north, south");
    assert_non_null(strstr(chart->description, "north, which gets most (3 lb per 1000 sqft)"));
    assert_non_null(
        strstr(chart->description, "south, which is lowest against its need (2 lb per 1000 sqft)"));
    const struct page *page = &described.page;
    size_t at = 0;
    while (page->parts.items[at].chart != chart)
        at++;
    const char *const wanted[][5] = {{"day", "on north", "total so far", "on south", "total so far"},
                                     {"Sat 2027-10-02", "1", "1", "1", "1"},
                                     {"Sat 2028-04-15", "1", "2", "1", "2"},
                                     {"Sat 2028-07-08", "1", "3", NULL, "2"}};
    for (size_t i = 0; i < 4; i++) {
        const struct part *row = &page->parts.items[++at];
        assert_int_equal(row->kind, PART_ROW);
        for (size_t j = 0; j < 5; j++)
            assert_true(wanted[i][j] ? row->cells[j] && strcmp(row->cells[j], wanted[i][j]) == 0
                                     : row->cells[j] == NULL);
    }
    season_text_free(&described.read);
}

/* A year that began before the season: what a record put on then is in the total and under the limit. */
static void test_before_the_season(void **state)
{
    struct described described;
    season_text_read_faulty(&described.read,
                            "season 2027-06-01 to 2027-11-20\n"
                            "lawn green { zone north area 1000 sqft }\n"
                            "product feed { grade 25-0-5 granular }\n"
                            "limits { at most 4 lb N per 1000 sqft per year }\n"
                            "apply feeding { to north\n when every 8 weeks from Jun 5, 2 times\n"
                            " rate 4 lb per 1000 sqft of feed }\n"
                            "done feeding 2027-05-08 {\n time 1\n used 4 lb of feed on north\n}\n");
    described.page = (struct page){.arena = &described.read.arena};
    nutrient_charts_describe(&described.page, described.read.season);
    const struct chart *chart = chart_titled(&described.page, "N on north");
    assert_near(end_of(line_of(chart, ROLE_PLANNED)), 2, 1e-9);
    assert_near(end_of(line_of(chart, ROLE_LIMIT)), 4, 1e-9);
    season_text_free(&described.read);
}

/* Nothing given, or nothing to hold it against: no chart. */
static void test_nothing(void **state)
{
    struct described described;
    describe(&described, "season 2027-03-01 to 2027-11-20\nlawn green { zone north area 1000 sqft }\n"
                         "task mow { to north\n when on 2027-05-01 }\n");
    assert_int_equal(described.page.parts.count, 0);
    season_text_free(&described.read);
}

/* A strip of 500 m by 1 m, however it lies, is drawn within a screen; zones keep their proportions. */
static void test_ground(void **state)
{
    struct season_text read;
    season_text_read(&read, "units metric\nlawn green {\n zone lane rectangle 1 m by 500 m\n"
                            " zone walk rectangle 500 m by 1 m\n zone bed area 20 sqm\n}\n");
    struct page page = {.arena = &read.arena};
    ground_chart_describe(&page, read.model);
    const struct chart *chart = chart_titled(&page, "The zones, to one scale");
    assert_int_equal(chart->outlines.count, 2);
    assert_true(chart->height <= 2 * chart->width);
    for (size_t i = 0; i < 2; i++) {
        const struct chart_point *points = chart->outlines.items[i].points.items;
        assert_near(points[2].x - points[0].x, i == 0 ? 1 : 500, 1e-9);
        assert_near(points[2].y - points[0].y, i == 0 ? 500 : 1, 1e-9);
        assert_true(points[2].x <= chart->width * (1 + 1e-9) && points[2].y <= chart->height * (1 + 1e-9));
    }
    assert_non_null(strstr(page.parts.items[page.parts.count - 1].text, "bed"));
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_totals),
        cmocka_unit_test(test_limit_of_the_year),
        cmocka_unit_test(test_run_of_days),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_before_the_season),
        cmocka_unit_test(test_nothing),
        cmocka_unit_test(test_ground),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
