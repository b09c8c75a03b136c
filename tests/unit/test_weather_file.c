/* Files of daily weather: what is read, and where a report points. */
#include "compiler/model/include.h"
#include "compiler/model/weather_file.h"
#include "tests/unit/made_weather.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

struct fixture {
    struct arena arena;
    struct names names;
    struct reports reports;
    struct sources *sources;
    char folder[64];
};

static int setup(void **state)
{
    static struct fixture fixture;
    arena_init(&fixture.arena, NULL);
    names_init(&fixture.names, &fixture.arena);
    reports_init(&fixture.reports, &fixture.arena);
    fixture.sources = sources_new(&fixture.arena, NULL, NULL);
    strcpy(fixture.folder, "/tmp/prill-weather.XXXXXX");
    *state = &fixture;
    return mkdtemp(fixture.folder) && chdir(fixture.folder) == 0 ? 0 : -1;
}

static int teardown(void **state)
{
    struct fixture *fixture = *state;
    static const char *const names[] = {"plan.prill", "days.csv", "more.csv", "next.csv"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        (void)unlink(names[i]);
    arena_free(&fixture->arena);
    return chdir("/") == 0 ? rmdir(fixture->folder) : -1;
}

static void write_file(const char *path, const char *bytes)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(bytes, file);
    assert_int_equal(fclose(file), 0);
}

static const struct weather *read_plan(struct fixture *fixture, const char *weather)
{
    struct source *plan;
    const char *reason;
    write_file("plan.prill",
               text_format(&fixture->arena, "season 2027-03-01 to 2027-11-20\nweather {\n%s\n}\n", weather));
    assert_int_equal(sources_open_plan(fixture->sources, "plan.prill", NULL, &plan, &reason), SOURCE_READ);
    names_init(&fixture->names, &fixture->arena);
    struct model *model =
        model_build(&fixture->arena, &fixture->names, &fixture->reports, fixture->sources, plan);
    return &model->weather;
}

static const char *const BLOCK = "from \"days.csv\" {\n"
                                 "    date \"date\"\n"
                                 "    high \"tmax\" in C\n"
                                 "    low \"tmin\" in F\n"
                                 "    rain \"prcp\" in 0.1 mm\n"
                                 "    soil \"soil 4\" in F at 4 in\n"
                                 "    missing \"NA\", \"-9999\"\n"
                                 "}";

static const char *const HEADER = "date,station,tmax,tmin,prcp,\"soil 4\"\n";

static void no_errors(const struct fixture *fixture)
{
    for (size_t i = 0; i < fixture->reports.all.count; i++)
        print_error("%s\n", fixture->reports.all.items[i]->sentence);
    assert_int_equal(fixture->reports.errors, 0);
}

static void test_columns_and_units(void **state)
{
    struct fixture *fixture = *state;
    write_file("days.csv", text_format(&fixture->arena,
                                       "%s2027-03-03,a,10,50,25,41\n"
                                       "2027-03-01,b,\" -7.1\",NA,,\r\n"
                                       "\n"
                                       "2027/3/2,\"c, d\",-9999,14,0,-9999",
                                       HEADER));
    const struct weather *weather = read_plan(fixture, BLOCK);
    no_errors(fixture);
    const struct weather_row *rows = weather->history.rows.items;
    assert_int_equal(weather->history.rows.count, 3);
    assert_int_equal(rows[0].day, DAY(2027, 3, 1));
    assert_close(rows[0].high, celsius(-7.1));
    assert_true(isnan(rows[0].low) && isnan(rows[0].rain) && isnan(rows[0].soil));
    assert_int_equal(rows[1].day, DAY(2027, 3, 2));
    assert_true(isnan(rows[1].high) && isnan(rows[1].soil) && rows[1].rain == 0);
    assert_close(rows[1].low, celsius(-10));
    assert_close(rows[2].high, celsius(10));
    assert_close(rows[2].low, celsius(10));
    assert_close(rows[2].rain, 0.0025);
    assert_close(rows[2].soil, celsius(5));
    assert_close(weather->history.soil_depth_m, 0.1016);
    struct position position = source_position(rows[0].place.source, rows[0].place.start);
    assert_int_equal(position.line, 3);
    assert_string_equal(rows[0].place.source->path, "days.csv");
    assert_true(isnan(weather->forecast.soil_depth_m));
}

static void test_dates(void **state)
{
    static const struct {
        const char *order, *date;
        int year, month, day; /* year 0: refused */
    } rows[] = {
        {"", "2027-04-17", 2027, 4, 17},
        {"", "2027-4-7", 2027, 4, 7},
        {"", "2027/04/17", 2027, 4, 17},
        {"", "2027.04.17", 2027, 4, 17},
        {"", "20270417", 2027, 4, 17},
        {"", "2027-04-17T00:00:00Z", 2027, 4, 17},
        {"", "2027-04-17 13:00", 2027, 4, 17},
        {"", "2028-02-29", 2028, 2, 29},
        {"", "1900-01-01", 1900, 1, 1},
        {"as year-month-day", "2027-04-17", 2027, 4, 17},
        {"as month-day-year", "4/17/2027", 2027, 4, 17},
        {"as month-day-year", "04-17-2027", 2027, 4, 17},
        {"as day-month-year", "17.4.2027", 2027, 4, 17},
        {"", "2027-02-29", 0, 0, 0},
        {"", "4/17/2027", 0, 0, 0},
        {"", "27-04-17", 0, 0, 0},
        {"", "2027-04", 0, 0, 0},
        {"", "2027-04-17-01", 0, 0, 0},
        {"", "2027--04-17", 0, 0, 0},
        {"", "2027-04-", 0, 0, 0},
        {"", "-2027-04-17", 0, 0, 0},
        {"", "Apr 17", 0, 0, 0},
        {"", "2027 04 17", 0, 0, 0},
        {"", "", 0, 0, 0},
        {"", "1899-12-31", 0, 0, 0},
        {"", "2027-04-99999999999", 0, 0, 0},
        {"as month-day-year", "2027-04-17", 0, 0, 0},
        {"as month-day-year", "17/4/2027", 0, 0, 0},
        {"as month-day-year", "20270417", 0, 0, 0},
    };
    struct fixture *fixture = *state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        fixture->sources = sources_new(&fixture->arena, NULL, NULL);
        reports_init(&fixture->reports, &fixture->arena);
        write_file("days.csv", text_format(&fixture->arena, "day,high\n%s,10\n", rows[i].date));
        const struct weather *weather =
            read_plan(fixture, text_format(&fixture->arena,
                                           "from \"days.csv\" {\n date \"day\" %s\n high \"high\" in C\n}",
                                           rows[i].order));
        assert_int_equal(fixture->reports.errors, rows[i].year == 0);
        assert_int_equal(weather->history.rows.count, rows[i].year != 0);
        if (rows[i].year)
            assert_int_equal(weather->history.rows.items[0].day,
                             DAY(rows[i].year, rows[i].month, rows[i].day));
    }
}

/* The first report's rule, sentence, file and line, and how many errors there are. */
struct complaint {
    const char *weather, *file, *rule, *sentence, *path;
    uint32_t line;
    size_t errors;
};

static void assert_complaint(struct fixture *fixture, const struct complaint *complaint)
{
    fixture->sources = sources_new(&fixture->arena, NULL, NULL);
    reports_init(&fixture->reports, &fixture->arena);
    write_file("days.csv", complaint->file);
    read_plan(fixture, complaint->weather);
    reports_sort(&fixture->reports);
    assert_int_equal(fixture->reports.errors, complaint->errors);
    const struct report *report = fixture->reports.all.items[0];
    assert_string_equal(report->rule->name, complaint->rule);
    if (!strstr(report->sentence, complaint->sentence))
        fail_msg("\"%s\" does not say \"%s\"", report->sentence, complaint->sentence);
    assert_string_equal(report->place.source->path, complaint->path);
    assert_int_equal(source_position(report->place.source, report->place.start).line, complaint->line);
}

#define SMALL "from \"days.csv\" {\n date \"d\"\n high \"h\" in C\n low \"l\" in C\n rain \"r\" in mm\n}"

static void test_bad_rows(void **state)
{
    static const struct complaint rows[] = {
        {SMALL, "d,h,l,r\n2027-03-01,10,1\n", "csv", "this row has 3 cells; the first row has 4", "days.csv",
         2, 1},
        {SMALL, "d,h,l,r\n\n2027-03-01,10,1,0,5\n", "csv", "this row has 5 cells", "days.csv", 3, 1},
        {SMALL, "d,h,l,r\n2027-03-01,1O,1,0\n", "weather-row", "`1O` is not a number", "days.csv", 2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,10,NA,0\n", "weather-row", "`NA` is not a number", "days.csv", 2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,71,1,0\n", "weather-row", "`71` is not a high ever recorded", "days.csv",
         2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,10,-9999,0\n", "weather-row", "`-9999` is not a low", "days.csv", 2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,10,1,-1\n", "weather-row", "`-1` is not a day's rain", "days.csv", 2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,10,1,2000\n", "weather-row", "`2000` is not a day's rain", "days.csv", 2,
         1},
        {SMALL, "d,h,l,r\n2027-03-01,1,10,0\n", "weather-row", "the high of this day is below its low",
         "days.csv", 2, 1},
        {SMALL, "d,h,l,r\nyesterday,1,10,0\n", "weather-row", "`yesterday` is not a date", "days.csv", 2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,1,0,0\n2027-03-02,1,0,0\n2027-03-01,1,0,0\n", "weather-row",
         "2027-03-01 is here twice", "days.csv", 4, 1},
        {SMALL, "d,h,l,r\n2027-03-01,\"1,0,0\n", "csv", "this quote is not closed", "days.csv", 2, 1},
        {SMALL, "d,h,l,r\n2027-03-01,1,0,0\nx,1,0,0\ny,1,0,0\n", "weather-row", "`x` is not a date",
         "days.csv", 3, 2},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_complaint(*state, &rows[i]);
}

static void test_bad_files(void **state)
{
    static const struct complaint rows[] = {
        {SMALL, "d,h,l\n2027-03-01,10,1\n", "csv", "\"days.csv\" has no column \"r\"", "plan.prill", 7, 1},
        {SMALL, "d,h,l,r,h\n", "csv", "\"days.csv\" has several columns \"h\"", "plan.prill", 5, 1},
        {SMALL, "D;h;l;r\n1;2;3;4\n", "csv", "does not use commas", "days.csv", 1, 1},
        {SMALL, "d\th\tl\tr\n", "csv", "does not use commas", "days.csv", 1, 1},
        {SMALL, "", "csv", "this file has no rows", "plan.prill", 3, 1},
        {SMALL, "d,h,l,r\n", "csv", "this file has no day below its first row", "plan.prill", 3, 1},
        {SMALL, "\"d,h,l,r\n", "csv", "this quote is not closed", "days.csv", 1, 1},
        {"from \"dyas.csv\" {\n date \"d\"\n high \"h\" in C\n}", "", "use-missing",
         "there is no file \"dyas.csv\"", "plan.prill", 3, 1},
        {"from \"../days.csv\" {\n date \"d\"\n high \"h\" in C\n}", "", "use-outside", "lies outside",
         "plan.prill", 3, 1},
        {"from \"plan.prill\" {\n date \"d\"\n high \"h\" in C\n}", "", "csv", "has no column \"d\"",
         "plan.prill", 4, 2},
        {"from \"days.csv\" {\n high \"h\" in C\n}", "h\n1\n", "missing", "this file has no column of dates",
         "plan.prill", 3, 1},
        {"from \"days.csv\" {\n date \"d\"\n}", "d\n", "missing", "this file has no column of weather",
         "plan.prill", 3, 1},
        {"from \"days.csv\" {\n date \"d\"\n high \"h\" in mm\n}", "d,h\n", "dimension", "`mm` is a length",
         "plan.prill", 5, 1},
        {"from \"days.csv\" {\n date \"d\"\n high \"h\" in 0 C\n}", "d,h\n2027-03-01,1\n", "value",
         "a unit cannot be zero", "plan.prill", 5, 1},
        {"from \"days.csv\" {\n date \"d\"\n high \"h\" in C\n high \"g\" in C\n}", "d,h,g\n2027-03-01,1,1\n",
         "repeated", "`high` is here twice", "plan.prill", 6, 1},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_complaint(*state, &rows[i]);
}

/* Ten bad rows are told, and then how many there are. */
static void test_many_bad_rows(void **state)
{
    struct fixture *fixture = *state;
    struct buffer file = {.arena = &fixture->arena};
    buffer_add_string(&file, "d,h,l,r\n");
    for (int i = 0; i < 400; i++)
        buffer_add_string(&file, "never,1,0,0\n");
    write_file("days.csv", file.string);
    read_plan(fixture, SMALL);
    assert_int_equal(fixture->reports.errors, BAD_ROWS_TOLD + 1);
    const struct report *last = fixture->reports.all.items[fixture->reports.all.count - 1];
    assert_string_equal(last->sentence, "400 errors in this file; only the first 10 are shown");
}

/* A file a year, and one file named twice: each day still counts once. */
static void test_several_files(void **state)
{
    struct fixture *fixture = *state;
    write_file("days.csv", "d,h\n2026-03-01,10\n");
    write_file("more.csv", "d,h\n2025-03-01,20\n");
    write_file("next.csv", "d,h,s\n2027-03-01,5,1\n2026-03-01,6,1\n");
    const struct weather *weather = read_plan(
        fixture, "from \"days.csv\" {\n date \"d\"\n high \"h\" in C\n}\n"
                 "from \"more.csv\" {\n date \"d\"\n high \"h\" in C\n}\n"
                 "forecast from \"next.csv\" {\n date \"d\"\n high \"h\" in C\n soil \"s\" in C at 5 cm\n}");
    no_errors(fixture);
    assert_int_equal(weather->history.rows.count, 2);
    assert_int_equal(weather->history.rows.items[0].day, DAY(2025, 3, 1));
    assert_int_equal(weather->forecast.rows.count, 2);
    assert_close(weather->forecast.soil_depth_m, 0.05);
    fixture->sources = sources_new(&fixture->arena, NULL, NULL);
    weather = read_plan(fixture, "from \"days.csv\" {\n date \"d\"\n high \"h\" in C\n}\n"
                                 "from \"days.csv\" {\n date \"d\"\n low \"h\" in C\n}");
    assert_int_equal(fixture->reports.errors, 1);
    assert_string_equal(fixture->reports.all.items[0]->sentence, "2026-03-01 is here twice");
}

static void test_soil_depths(void **state)
{
    struct fixture *fixture = *state;
    write_file("days.csv", "d,s\n2026-03-01,10\n");
    write_file("more.csv", "d,s\n2025-03-01,20\n");
    read_plan(fixture, "from \"days.csv\" {\n date \"d\"\n soil \"s\" in C at 10 cm\n}\n"
                       "from \"more.csv\" {\n date \"d\"\n soil \"s\" in C at 2 in\n}");
    assert_int_equal(fixture->reports.errors, 1);
    assert_string_equal(fixture->reports.all.items[0]->sentence,
                        "another file measured the soil at another depth");
}

/* Monthly means of the soil stand beside those of the air. */
static void test_soil_normals(void **state)
{
    struct fixture *fixture = *state;
    const struct weather *weather =
        read_plan(fixture, "normals {\n month high F soil F\n Mar 54 44\n Apr 64 none\n}");
    no_errors(fixture);
    assert_close(weather->soil[3], fahrenheit(44));
    assert_true(isnan(weather->soil[4]) && isnan(weather->low[3]) && isnan(weather->soil[5]));
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(test_columns_and_units), TEST(test_dates),         TEST(test_bad_rows),
        TEST(test_bad_files),         TEST(test_many_bad_rows), TEST(test_several_files),
        TEST(test_soil_depths),       TEST(test_soil_normals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
