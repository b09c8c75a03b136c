/* Plans that go by the weather: which days it leaves, what is reported, and the risk. Histories and forecasts
 * are put into the model where a file would have put them. */
#include "compiler/check/slip.h"
#include "compiler/check/check.h"
#include "compiler/season/risk.h"
#include "tests/unit/made_weather.h"
#include "tests/unit/season_text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define HEAD                                                                                                 \
    "season 2027-03-01 to 2027-11-30\n"                                                                      \
    "lawn a { zone z area 1000 sqft }\n"                                                                     \
    "product feed { grade 20-0-0 granular }\n"                                                               \
    "product hot { grade 20-0-0 granular, heat below 80 F }\n"                                               \
    "product salt { grade 20-0-0 granular, kind salt }\n"
#define WEATHER "weather { }\n"
#define NORMALS(rows) "weather { normals {\nmonth high F low F\n" rows "} }\n"
#define APPLY(name, when, product)                                                                           \
    "apply " name " { to z, when " when ", rate 1 lb per 1000 sqft of " product " }\n"
#define TASK(name, when) "task " name " { to z, when " when " }\n"

typedef void filling(struct season_text *read);

/* The plan, with what `fill` adds to its weather. */
static void read_plan(struct season_text *read, const char *plan, filling *fill)
{
    season_text_read(read, plan);
    if (fill) {
        fill(read);
        read->season = season_build(read->model, true);
    }
}

static void add_history(struct season_text *read, day_number day, double high, double low)
{
    weather_add(&read->arena, &read->model->weather.history, day, fahrenheit(high), fahrenheit(low));
}

static void add_forecast(struct season_text *read, day_number day, double high, double rain_mm)
{
    struct weather_series *series = &read->model->weather.forecast;
    weather_add(&read->arena, series, day, fahrenheit(high), fahrenheit(high - 20));
    series->rows.items[series->rows.count - 1].rain = rain_mm / 1000;
}

static const struct report *report_of(const struct season_text *read, const char *rule)
{
    for (size_t i = 0; i < read->reports.all.count; i++)
        if (strcmp(read->reports.all.items[i]->rule->name, rule) == 0)
            return read->reports.all.items[i];
    return NULL;
}

static void assert_report(struct season_text *read, const char *rule, const char *sentence)
{
    const struct report *report = report_of(read, rule);
    if (!sentence)
        assert_null(report);
    else if (!report)
        fail_msg("no report of %s", rule);
    else
        assert_string_equal(report->sentence, sentence);
}

/* ---- frost ---- */

/* Ten years of nights at 41 F by summer and 25 F by winter. The last frost of spring falls on Apr 10 in 2017
 * and a day later each year, to Apr 19 in 2026; the first of autumn on Oct 10 to Oct 19. Half a year later
 * for `south`. */
static void frosts_add(struct season_text *read, bool south)
{
    for (day_number day = DAY(2017, 1, 1); day <= DAY(2026, 12, 31); day++) {
        struct civil_date shifted = date_of_day(south ? day + 182 : day);
        day_number then = day_of_date(shifted);
        int later = shifted.year - 2017;
        bool winter = then <= DAY(shifted.year, 4, 10 + later) || then >= DAY(shifted.year, 10, 10 + later);
        add_history(read, day, 60, winter ? 25 : shifted.month == 7 ? 50 : 41);
    }
}

static void frosts_north(struct season_text *read)
{
    frosts_add(read, false);
}

static void frosts_south(struct season_text *read)
{
    frosts_add(read, true);
}

static void assert_first_day(const struct season_text *read, day_number expected)
{
    assert_int_equal(read->season->calendar_count, 1);
    assert_string_equal(day_text(read->season->arena, read->season->calendar[0]->day),
                        day_text(read->season->arena, expected));
}

/* After Apr 10 to Apr 19, by day: on Apr 15 five of ten years have had their last frost, on Apr 19 nine. */
static void test_last_frost(void **state)
{
    static const struct {
        const char *when;
        int month, day;
    } samples[] = {
        {"after last frost", 4, 15},
        {"after last frost, 9 years in 10", 4, 19},
        {"after last frost, 10 years in 10", 4, 20},
        {"after last frost, 2 years in 10", 4, 12},
        {"after last frost of 24 F", 3, 1},
        {"after last frost of 25 F, 5 years in 10", 4, 15},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct season_text read;
        char plan[1000];
        snprintf(plan, sizeof plan, HEAD WEATHER APPLY("a", "%s", "feed"), samples[i].when);
        read_plan(&read, plan, frosts_north);
        assert_first_day(&read, DAY(2027, samples[i].month, samples[i].day));
        season_text_free(&read);
    }
}

/* Oct 14 is before the first frost in five years of ten, Oct 10 in nine: the latest day tells. */
static void test_first_frost(void **state)
{
    static const struct {
        const char *when;
        int month, day;
    } samples[] = {
        {"before first frost", 10, 14},
        {"before first frost, 9 years in 10", 10, 10},
        {"before first frost, 10 years in 10", 10, 9},
        {"before first frost of 24 F", 11, 30},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct season_text read;
        char plan[1000];
        snprintf(plan, sizeof plan, HEAD WEATHER APPLY("a", "%s, when from Jul 20", "feed"), samples[i].when);
        read_plan(&read, plan, frosts_north);
        assert_string_equal(day_text(read.season->arena, read.season->calendar[0]->latest_by_dates),
                            day_text(read.season->arena, DAY(2027, samples[i].month, samples[i].day)));
        season_text_free(&read);
    }
}

/* By python's calendar: the last frosts before January fall on Oct 11, 12, 14, 14, 15, 16, 18, 18, 19 and 20,
 * the first ones after it on Apr 11 to Apr 20. */
static void test_frost_south(void **state)
{
    struct season_text read;
    read_plan(&read, HEAD WEATHER APPLY("a", "after last frost, when from Jul 1", "feed"), frosts_south);
    assert_first_day(&read, DAY(2027, 10, 16));
    season_text_free(&read);
    read_plan(&read, HEAD WEATHER APPLY("a", "before first frost, when by Jun 1", "feed"), frosts_south);
    assert_string_equal(day_text(read.season->arena, read.season->calendar[0]->latest_by_dates),
                        "2027-04-15");
    season_text_free(&read);
}

/* The means of the normals cross 32 F between the middles of March and April. */
static void test_frost_of_normals(void **state)
{
    struct season_text read;
    read_plan(&read,
              HEAD NORMALS("Mar 44 24\nApr 60 40\nMay 73 52\nJun 81 61\nJul 86 66\n")
                  APPLY("a", "after last frost", "feed"),
              NULL);
    assert_int_equal(read.season->calendar_count, 1);
    assert_true(read.season->calendar[0]->day > DAY(2027, 3, 25) &&
                read.season->calendar[0]->day < DAY(2027, 4, 7));
    checks_run(read.season);
    const struct report *report = report_of(&read, "frost-of-normals");
    assert_non_null(report);
    assert_null(report_of(&read, "few-years"));
    season_text_free(&read);
}

/* ---- normals ---- */

#define SUMMER                                                                                               \
    "Mar 54 34\nApr 64 43\nMay 73 52\nJun 81 61\nJul 86 66\nAug 84 64\nSep 77 57\nOct 66 45\nNov 55 37\n"

/* By the python of weather.check: the usual high is 79.77 F on Jun 10, 80.02 F on Jun 11 and again below 80 F
 * from Sep 6 on; the estimate of the soil is above 55 F from Apr 24 on. */
static void test_normals_close_days(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(&read,
              HEAD NORMALS(SUMMER) APPLY("x", "from Jun 5", "hot") APPLY("y", "from Jun 15", "hot")
                  TASK("s", "soil above 55 F for 3 days") APPLY("w", "from Jul 15", "feed"),
              NULL);
    assert_day(&read, "x", 1, "2027-06-05");
    assert_day(&read, "y", 1, "2027-09-06");
    assert_day(&read, "s", 1, "2027-04-26");
    assert_day(&read, "w", 1, "2027-07-15");
    assert_string_equal(day_text(&read.arena, season_text_find(&read, "x", 1)->latest_by_dates),
                        "2027-11-30");
    season_text_free(&read);
}

static void test_limits_close_days(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(
        &read,
        HEAD NORMALS(
            "Mar 40 10\nApr 64 43\nMay 90 52\nJun 81 61\n") "limits {\nno products of kind salt above 80 F\n"
                                                            "nothing on frozen ground\nno P2O5 above 20 "
                                                            "F\n}\n" APPLY("salty", "from May 10", "salt")
                                                                APPLY("plain", "from May 10", "feed")
                                                                    APPLY("early", "from Mar 1", "feed")
                                                                        TASK("rake", "from Mar 1"),
        NULL);
    assert_day(&read, "plain", 1, "2027-05-10");
    assert_true(season_text_find(&read, "salty", 1)->day > text_day("2027-05-20"));
    assert_true(season_text_find(&read, "early", 1)->day >
                text_day("2027-03-05"));        /* mean of March is 25 F */
    assert_day(&read, "rake", 1, "2027-03-01"); /* limits bind applications */
    season_text_free(&read);
}

static void test_dormant_months(void **state)
{
    static const char plan[] =
        "season 2027-01-01 to 2027-12-31\n"
        "source s { title \"made up\" }\n"
        "grass north { season cool, grows Apr to Oct from s, grows May to Sep in cold from s }\n"
        "grass south { season warm, grows Nov to Feb from s }\n"
        "lawn a { grass north\n zone z area 1000 sqft }\n"
        "lawn b { grass north\n region cold\n zone y area 1000 sqft }\n"
        "lawn c { grass south\n zone x area 1000 sqft }\n"
        "product feed { grade 20-0-0 granular }\n"
        "limits { no N while dormant }\n"
        "apply one { to z, when from Mar 1, rate 1 lb per 1000 sqft of feed }\n"
        "apply two { to z, y, when from Mar 1, rate 1 lb per 1000 sqft of feed }\n"
        "apply three { to x, when from Mar 1, rate 1 lb per 1000 sqft of feed }\n";
    struct season_text read;
    (void)state;
    read_plan(&read, plan, NULL);
    assert_day(&read, "one", 1, "2027-04-01");
    assert_day(&read, "two", 1, "2027-05-01");
    assert_day(&read, "three", 1, "2027-11-01");
    season_text_free(&read);
}

/* ---- forecast ---- */

static void hot_then_cool(struct season_text *read)
{
    add_forecast(read, text_day("2027-06-01"), 95, 0);
    add_forecast(read, text_day("2027-06-02"), 95, 0);
    add_forecast(read, text_day("2027-07-10"), 70, 0);
}

/* A forecast counts where it has the day, against the normals either way. */
static void test_forecast(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(&read, HEAD NORMALS(SUMMER) APPLY("x", "from Jun 1", "hot") APPLY("y", "from Jul 1", "hot"),
              hot_then_cool);
    assert_day(&read, "x", 1, "2027-06-03");
    assert_day(&read, "y", 1, "2027-07-10");
    season_text_free(&read);
}

static void rain_ahead(struct season_text *read)
{
    static const double rain[] = {0, 0, 10, 5, 0, 0, 0, 0};
    for (int i = 0; i < 8; i++)
        add_forecast(read, text_day("2027-05-01") + i, 70, rain[i]);
}

static void test_rain(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(
        &read,
        HEAD WEATHER
        "limits {\nno N within 1 day before 12 mm of rain\nno N within 1 day after 4 mm of rain\n}\n" APPLY(
            "a", "from May 1", "feed") APPLY("b", "from May 3", "feed")
            TASK("c", "dry for 3 days, from May 1") TASK("d", "dry for 2 days, from May 1")
                TASK("e", "dry for 3 days, from May 6"),
        rain_ahead);
    assert_day(&read, "a", 1, "2027-05-01"); /* May 1 and 2 bring nothing */
    assert_day(&read, "b", 1,
               "2027-05-06"); /* 10 mm until May 3; 15 mm; 5 mm fell on May 4: closed to May 5 */
    assert_day(&read, "c", 1, "2027-05-05");
    assert_day(&read, "d", 1, "2027-05-01");
    assert_day(&read, "e", 1, "2027-05-06");
    season_text_free(&read);
}

/* ---- history ---- */

static void four_years(struct season_text *read)
{
    for (int year = 2023; year <= 2026; year++)
        for (day_number day = DAY(year, 5, 1); day <= DAY(year, 6, 30); day++) {
            bool hot = date_of_day(day).day % 4 == year % 4;
            add_history(read, day, hot ? 90 : 70, 50);
        }
    add_history(read, text_day("2027-05-01"), 88, 50);
    add_history(read, text_day("2027-05-02"), 60, 50);
}

static void test_history(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(&read,
              HEAD WEATHER APPLY("x", "from May 1", "hot") APPLY("y", "between Jun 1 and Jun 30", "feed")
                  TASK("z", "below 80 F, 3 years in 4, from Jun 3")
                      TASK("v", "below 80 F, 9 years in 10, from May 1"),
              four_years);
    assert_day(&read, "x", 1, "2027-05-02"); /* measured: 88 F, then 60 F */
    assert_day(&read, "z", 1, "2027-06-03"); /* every day is hot in one year of four */
    assert_day(&read, "v", 1,
               "2027-05-02"); /* measured, and no other day would do until July, of which nothing is known */
    checks_run(read.season);
    assert_report(&read, "few-years", NULL);
    season_text_free(&read);
}

static void test_few_years(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(&read, HEAD WEATHER TASK("z", "below 80 F, 3 years in 5, from Jun 3"), four_years);
    checks_run(read.season);
    assert_report(&read, "few-years", "`3 years in 5` needs more history: only 4 years cover Thu 2027-06-03");
    season_text_free(&read);
}

static void hot_record(struct season_text *read)
{
    add_history(read, text_day("2027-05-01"), 88, 50);
    add_history(read, text_day("2027-05-08"), 80, 50);
    add_history(read, text_day("2027-05-15"), 79, 50);
}

static void test_records(void **state)
{
    static const struct {
        const char *day, *sentence;
    } rows[] = {
        {"2027-05-01", "x was done on Sat 2027-05-01; a high of 88 F was measured on Sat 2027-05-01"},
        {"2027-05-08", "x was done on Sat 2027-05-08; a high of 80 F was measured on Sat 2027-05-08"},
        {"2027-05-15", NULL},
        {"2027-05-16", NULL}, /* not measured */
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct season_text read, text;
        arena_init(&text.arena, NULL);
        read_plan(&read,
                  text_format(&text.arena, "%sdone x %s { used 1 lb of hot on z }\n",
                              HEAD NORMALS("May 90 60\n") APPLY("x", "on Apr 20", "hot"), rows[i].day),
                  hot_record);
        checks_run(read.season);
        assert_report(&read, "record-weather", rows[i].sentence);
        season_text_free(&read);
        arena_free(&text.arena);
    }
}

/* ---- degree days ---- */

static void warm_spring(struct season_text *read)
{
    for (day_number day = DAY(2026, 1, 1); day <= DAY(2026, 12, 31); day++)
        add_history(read, day, day < DAY(2026, 4, 1) ? 40 : 70, 40);
    for (day_number day = DAY(2027, 3, 1); day <= DAY(2027, 3, 10); day++)
        add_history(read, day, 80, 40); /* ten each */
}

/* Measured days of this year first, then last year's: 10 * 10 by Mar 10, nothing more in March, 5 a day from
 * Apr 1 on: 200 with the twentieth of them. */
static void test_degree_days(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(&read,
              HEAD WEATHER TASK("x", "degree days base 50 F reach 200 from Mar 1")
                  TASK("y", "degree days base 50 F reach 50 from Mar 1")
                      TASK("z", "degree days base 50 F reach 100"),
              warm_spring);
    assert_day(&read, "x", 1, "2027-04-20");
    assert_day(&read, "y", 1, "2027-03-05");
    assert_day(&read, "z", 1, "2027-03-10");
    season_text_free(&read);
}

static void southern(struct season_text *read)
{
    for (day_number day = DAY(2025, 1, 1); day <= DAY(2026, 12, 31); day++) {
        int month = date_of_day(day).month;
        add_history(read, day, month >= 10 || month <= 3 ? 70 : 50, month >= 10 || month <= 3 ? 50 : 30);
    }
}

/* A season over New Year in the south: counted from Jul 1, ten a day from Oct 1 on. */
static void test_degree_days_over_new_year(void **state)
{
    struct season_text read;
    (void)state;
    read_plan(&read,
              "season 2027-07-01 to 2028-06-30\nlawn a { zone z area 1000 sqft }\n" WEATHER TASK(
                  "x", "degree days base 50 F reach 300 from Jul 1")
                  TASK("y", "degree days base 50 F reach 1000 from Jul 1")
                      TASK("z", "degree days base 50 F reach 100"),
              southern);
    assert_day(&read, "x", 1, "2027-10-30");
    assert_day(&read, "y", 1, "2028-01-08"); /* 31 + 30 + 31 days, and eight */
    assert_day(&read, "z", 1, "2028-01-10"); /* Jan 1 of the season */
    season_text_free(&read);
}

static void test_no_risk_without_history(void **state)
{
    struct season_text read;
    day_number day;
    struct risk risk;
    (void)state;
    read_plan(&read, HEAD NORMALS(SUMMER) APPLY("x", "from Jun 5", "hot") APPLY("y", "from Jun 5", "feed"),
              NULL);
    assert_int_equal(season_risk(read.season, season_text_find(&read, "x", 1), text_day("2027-06-05")).known,
                     0);
    assert_int_equal(season_risk(read.season, season_text_find(&read, "y", 1), text_day("2027-06-05")).known,
                     0);
    assert_false(season_least_risk(read.season, season_text_find(&read, "x", 1), &day, &risk));
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_last_frost),
        cmocka_unit_test(test_first_frost),
        cmocka_unit_test(test_frost_south),
        cmocka_unit_test(test_frost_of_normals),
        cmocka_unit_test(test_normals_close_days),
        cmocka_unit_test(test_limits_close_days),
        cmocka_unit_test(test_dormant_months),
        cmocka_unit_test(test_forecast),
        cmocka_unit_test(test_rain),
        cmocka_unit_test(test_history),
        cmocka_unit_test(test_few_years),
        cmocka_unit_test(test_records),
        cmocka_unit_test(test_degree_days),
        cmocka_unit_test(test_degree_days_over_new_year),
        cmocka_unit_test(test_no_risk_without_history),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
