/* The weather of a day from what the plan states, degree days summed up, and conditions on days. */
#include "compiler/season/degree_sum.h"
#include "compiler/season/watch.h"
#include "tests/unit/made_weather.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static int arena_setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

/* ---- climate ---- */

static void test_origins(void **state)
{
    struct weather weather = weather_none();
    for (int month = 4; month <= 6; month++) {
        weather.high[month] = celsius(20);
        weather.low[month] = celsius(10);
    }
    day_number may = DAY(2027, 5, 1);
    weather_add(*state, &weather.history, may, celsius(30), celsius(12));
    weather.history.rows.items[0].rain = 0.004;
    weather_add(*state, &weather.forecast, may, celsius(25), celsius(15));
    weather_add(*state, &weather.forecast, may + 1, celsius(26), NAN);
    const struct climate *climate = climate_make(*state, &weather, DAY(2027, 4, 1), DAY(2027, 7, 31));
    struct reading reading = climate_reading(climate, WEATHER_HIGH, may);
    assert_int_equal(reading.origin, READING_MEASURED);
    assert_close(reading.value, celsius(30));
    reading = climate_reading(climate, WEATHER_HIGH, may + 1);
    assert_int_equal(reading.origin, READING_FORECAST);
    assert_close(reading.value, celsius(26));
    reading = climate_reading(climate, WEATHER_LOW, may + 1);
    assert_int_equal(reading.origin, READING_EXPECTED);
    assert_close(reading.value, celsius(10));
    reading = climate_reading(climate, WEATHER_MEAN, may + 1);
    assert_int_equal(reading.origin, READING_EXPECTED);
    assert_close(reading.value, celsius(18));
    assert_int_equal(climate_reading(climate, WEATHER_RAIN, may).origin, READING_MEASURED);
    assert_int_equal(climate_reading(climate, WEATHER_RAIN, may + 1).origin, READING_NONE);
    assert_int_equal(climate_reading(climate, WEATHER_HIGH, DAY(2027, 7, 1)).origin, READING_NONE);
    assert_int_equal(climate_reading(climate, WEATHER_HIGH, DAY(1950, 7, 1)).origin, READING_NONE);
    reading = climate_reading(climate, WEATHER_SOIL, DAY(2027, 4, 20));
    assert_true(reading.estimated && reading.origin == READING_EXPECTED);
    assert_close(reading.value, celsius(15));
}

/* Soil normals stand where the air is only expected; measured air says more than they do. */
static void test_soil_origins(void **state)
{
    struct weather weather = weather_none();
    for (int month = 1; month <= 12; month++) {
        weather.high[month] = celsius(20);
        weather.low[month] = celsius(10);
        weather.soil[month] = celsius(14);
    }
    day_number first = DAY(2027, 4, 1);
    for (day_number day = first; day < first + 20; day++)
        weather_add(*state, &weather.history, day, celsius(30), celsius(20));
    weather.history.rows.items[19].soil = celsius(22);
    const struct climate *climate = climate_make(*state, &weather, first, DAY(2027, 4, 30));
    struct reading reading = climate_reading(climate, WEATHER_SOIL, first + 5);
    assert_true(!reading.estimated && reading.origin == READING_EXPECTED);
    assert_close(reading.value, celsius(14));
    reading = climate_reading(climate, WEATHER_SOIL, first + 18);
    assert_true(reading.estimated && reading.origin == READING_MEASURED);
    assert_close(reading.value, celsius(25));
    reading = climate_reading(climate, WEATHER_SOIL, first + 19);
    assert_true(!reading.estimated && reading.origin == READING_MEASURED);
    assert_close(reading.value, celsius(22));
}

/* A history stands in for normals where it has days enough of the month. */
static void test_history_as_normals(void **state)
{
    struct weather weather = weather_none();
    for (int year = 2020; year <= 2021; year++)
        for (day_number day = DAY(year, 5, 1); day <= DAY(year, 6, year == 2020 ? 12 : 7); day++)
            weather_add(*state, &weather.history, day, celsius(year - 2000), celsius(10));
    const struct climate *climate = climate_make(*state, &weather, DAY(2027, 5, 1), DAY(2027, 6, 30));
    double sum = 0;
    for (day_number day = DAY(2027, 5, 1); day <= DAY(2027, 5, 31); day++)
        sum += climate_reading(climate, WEATHER_HIGH, day).value;
    assert_close(sum / 31, celsius(20.5));
    assert_int_equal(climate_reading(climate, WEATHER_HIGH, DAY(2027, 6, 10)).origin, READING_NONE);
    int first, last;
    assert_true(climate_years(climate, &first, &last) && first == 2020 && last == 2021);
}

/* ---- degree sums ---- */

static double sum_on(const struct climate *climate, const struct degree_sum *sums, day_number day)
{
    return sums[day - climate->first].sum;
}

static void test_degree_sums(void **state)
{
    struct weather weather = weather_none();
    struct degree_rule rule = {celsius(10), INFINITY, false};
    for (day_number day = DAY(2022, 1, 1); day <= DAY(2023, 12, 31); day++) /* 0 C and 20 C days in turn */
        weather_add(*state, &weather.history, day, celsius(day % 2 ? 20 : 0), celsius(day % 2 ? 20 : 0));
    const struct climate *climate = climate_make(*state, &weather, DAY(2026, 1, 1), DAY(2028, 12, 31));
    const struct degree_sum *sums = degree_sums_make(*state, climate, &rule, DAY(2027, 3, 1));
    /* Measured: ten for each warm day since the year's start. */
    int warm = 0;
    for (day_number day = DAY(2023, 3, 1); day <= DAY(2023, 7, 31); day++)
        warm += day % 2;
    assert_close(sum_on(climate, sums, DAY(2023, 7, 31)), 10 * warm);
    assert_int_equal(sums[DAY(2023, 7, 31) - climate->first].doubts, 0);
    assert_int_equal(sums[DAY(2023, 7, 31) - climate->first].days, 31 + 30 + 31 + 30 + 31);
    /* Expected: a warm and a cold year give five a day, though the mean day gives none. Feb 29, which
     * neither year has, is such a mean day. */
    assert_close(sum_on(climate, sums, DAY(2027, 3, 1)), 5);
    assert_close(sum_on(climate, sums, DAY(2027, 3, 31)), 5 * 31);
    assert_int_equal(sums[DAY(2027, 3, 31) - climate->first].doubts, 31);
    assert_close(sum_on(climate, sums, DAY(2028, 2, 28)), 5 * 365);
    assert_close(sum_on(climate, sums, DAY(2028, 2, 29)), 5 * 365);
    assert_close(sum_on(climate, sums, DAY(2028, 3, 1)), 5);
}

static void test_degree_sums_begin(void **state)
{
    struct weather weather = weather_none();
    struct degree_rule rule = {celsius(10), INFINITY, false};
    for (int month = 2; month <= 12; month++) {
        weather.high[month] = celsius(25);
        weather.low[month] = celsius(15);
    }
    const struct climate *climate = climate_make(*state, &weather, DAY(2026, 12, 1), DAY(2029, 12, 31));
    const struct degree_sum *sums = degree_sums_make(*state, climate, &rule, DAY(2028, 2, 29));
    assert_true(isnan(sum_on(climate, sums, DAY(2027, 2, 28)))); /* not begun yet */
    assert_close(sum_on(climate, sums, DAY(2027, 3, 1)), 10);    /* Mar 1 where there is no Feb 29 */
    assert_close(sum_on(climate, sums, DAY(2027, 3, 2)), 20);
    assert_close(sum_on(climate, sums, DAY(2028, 2, 29)), 10);
    assert_close(sum_on(climate, sums, DAY(2028, 3, 1)), 20);
    /* January is not stated: from there on the sum is not known until it begins anew. */
    assert_true(isnan(sum_on(climate, sums, DAY(2029, 1, 1))));
    assert_true(isnan(sum_on(climate, sums, DAY(2029, 2, 28))));
    assert_close(sum_on(climate, sums, DAY(2029, 3, 1)), 10);
}

/* ---- conditions ---- */

static struct weather_condition condition_of(enum weather_quantity quantity, enum weather_side side,
                                             double limit)
{
    return (struct weather_condition){.quantity = quantity, .side = side, .limit = limit, .cap = INFINITY};
}

static enum verdict verdict_on(struct arena *arena, const struct climate *climate,
                               struct weather_condition condition, day_number day)
{
    return watch_day(watch_make(arena, climate, &condition), day).verdict;
}

static void test_sides(void **state)
{
    struct weather weather = weather_none();
    day_number day = DAY(2027, 5, 1);
    weather_add(*state, &weather.history, day, fahrenheit(85), fahrenheit(50));
    const struct climate *climate = climate_make(*state, &weather, day, day + 1);
    const struct {
        enum weather_side side;
        double limit;
        enum verdict verdict;
    } rows[] = {
        {SIDE_BELOW, 85, VERDICT_BROKEN},  {SIDE_BELOW, 85.1, VERDICT_KEPT},
        {SIDE_AT_MOST, 85, VERDICT_KEPT},  {SIDE_AT_MOST, 84.9, VERDICT_BROKEN},
        {SIDE_ABOVE, 85, VERDICT_BROKEN},  {SIDE_ABOVE, 84.9, VERDICT_KEPT},
        {SIDE_AT_LEAST, 85, VERDICT_KEPT}, {SIDE_AT_LEAST, 85.1, VERDICT_BROKEN},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct weather_condition condition =
            condition_of(WEATHER_HIGH, rows[i].side, fahrenheit(rows[i].limit));
        assert_int_equal(verdict_on(*state, climate, condition, day), rows[i].verdict);
        assert_int_equal(verdict_on(*state, climate, condition, day + 1), VERDICT_UNKNOWN);
    }
}

/* '.' not known, '-' broken, '+' kept, on so many days from `first`. */
static const char *verdicts(struct arena *arena, const struct climate *climate,
                            const struct weather_condition *condition, day_number first, int days)
{
    const struct watch *watch = watch_make(arena, climate, condition);
    char *marks = arena_alloc(arena, (size_t)days + 1);
    for (int i = 0; i < days; i++)
        marks[i] = ".-+"[watch_day(watch, first + i).verdict];
    return marks;
}

/* Held for three days: that day and the two before it. The gap leaves a day open, except where what is known
 * breaks it already; a mean with a gap tells nothing. */
static void test_held_for_days(void **state)
{
    static const double highs[] = {20, 20, 20, 10, 20, NAN, 20, 20, 20};
    struct weather weather = weather_none();
    day_number first = DAY(2027, 5, 1);
    struct weather_condition each = condition_of(WEATHER_HIGH, SIDE_ABOVE, celsius(15)), mean;
    each.from = -2;
    mean = each;
    mean.way = WAY_MEAN;
    for (int i = 0; i < 9; i++)
        weather_add(*state, &weather.history, first + i, celsius(highs[i]), NAN);
    const struct climate *climate = climate_make(*state, &weather, first, first + 8);
    assert_string_equal(verdicts(*state, climate, &each, first, 9), "..+---..+");
    assert_string_equal(verdicts(*state, climate, &mean, first, 9), "..+++...+");
    struct weather_look look = watch_day(watch_make(*state, climate, &mean), first + 3);
    assert_close(look.value, celsius(50. / 3));
    look = watch_day(watch_make(*state, climate, &each), first + 4);
    assert_close(look.value, celsius(10));
}

static void test_rain_ahead(void **state)
{
    static const double rain[] = {0, 0.0005, 0.001, 0.02, 0, 0, NAN, 0};
    struct weather weather = weather_none();
    day_number first = DAY(2027, 5, 1);
    struct weather_condition dry = condition_of(WEATHER_RAIN, SIDE_BELOW, 0.001);
    struct weather_condition heavy = condition_of(WEATHER_RAIN, SIDE_BELOW, 0.0205);
    dry.to = 1;
    heavy.to = 2;
    heavy.way = WAY_SUM;
    for (int i = 0; i < 8; i++) {
        weather_add(*state, &weather.forecast, first + i, NAN, NAN);
        weather.forecast.rows.items[i].rain = rain[i];
    }
    const struct climate *climate = climate_make(*state, &weather, first, first + 7);
    assert_string_equal(verdicts(*state, climate, &dry, first, 8), "+---+...");
    assert_string_equal(verdicts(*state, climate, &heavy, first, 8), "+--+....");
}

static void test_years(void **state)
{
    struct weather weather = weather_none();
    for (int year = 2020; year <= 2023; year++)
        for (int day = 9; day <= 11; day++)
            if (year != 2022 || day != 10)
                weather_add(*state, &weather.history, DAY(year, 5, day),
                            celsius(year == 2021 && day == 10 ? 35 : 20), celsius(10));
    const struct climate *climate = climate_make(*state, &weather, DAY(2027, 5, 1), DAY(2027, 5, 31));
    struct weather_condition condition = condition_of(WEATHER_HIGH, SIDE_BELOW, celsius(30));
    const struct watch *watch = watch_make(*state, climate, &condition);
    struct weather_odds odds = watch_odds(watch, DAY(2027, 5, 10));
    assert_int_equal(odds.kept, 2);
    assert_int_equal(odds.known, 3);
    assert_int_equal(watch_year(watch, DAY(2027, 5, 10), 2021), VERDICT_BROKEN);
    assert_int_equal(watch_year(watch, DAY(2027, 5, 10), 2022), VERDICT_UNKNOWN);
    assert_int_equal(watch_year(watch, DAY(2027, 5, 10), 2023), VERDICT_KEPT);
    odds = watch_odds(watch, DAY(2027, 5, 20));
    assert_int_equal(odds.known, 0);
    condition.years = 2;
    condition.of = 3;
    assert_int_equal(watch_day(watch, DAY(2027, 5, 10)).verdict, VERDICT_KEPT);
    condition.years = 7;
    condition.of = 10;
    assert_int_equal(watch_day(watch, DAY(2027, 5, 10)).verdict, VERDICT_BROKEN);
    assert_int_equal(watch_day(watch, DAY(2027, 5, 11)).verdict, VERDICT_KEPT);
    assert_int_equal(watch_day(watch, DAY(2027, 5, 20)).verdict, VERDICT_UNKNOWN);
    assert_int_equal(watch_day(watch, DAY(2021, 5, 10)).verdict, VERDICT_BROKEN); /* measured */
    /* Feb 29 in years without one is Feb 28 */
    assert_int_equal(watch_year(watch, DAY(2028, 2, 29), 2021), VERDICT_UNKNOWN);
}

static void test_degree_day_condition(void **state)
{
    struct weather weather = weather_none();
    for (day_number day = DAY(2020, 1, 1); day <= DAY(2021, 12, 31); day++)
        if (day < DAY(2021, 3, 10) || day > DAY(2021, 3, 29)) /* 20 days missing: 2021 is in doubt for long */
            weather_add(*state, &weather.history, day, celsius(date_of_day(day).year == 2020 ? 20 : 30),
                        celsius(10));
    const struct climate *climate = climate_make(*state, &weather, DAY(2027, 1, 1), DAY(2027, 12, 31));
    struct weather_condition condition = condition_of(WEATHER_DEGREE_DAYS, SIDE_AT_LEAST, 100);
    condition.base = celsius(10);
    condition.start = DAY(2027, 3, 1);
    const struct watch *watch = watch_make(*state, climate, &condition);
    /* 5 K days a day in 2020, 10 in 2021; where 2021 is missing only 2020 counts: 9 * 7.5 = 67.5 by Mar 9. */
    assert_int_equal(watch_day(watch, DAY(2027, 2, 28)).verdict, VERDICT_BROKEN);
    assert_int_equal(watch_day(watch, DAY(2027, 3, 15)).verdict, VERDICT_BROKEN);
    assert_close(watch_day(watch, DAY(2027, 3, 15)).value, 9 * 7.5 + 6 * 5);
    assert_int_equal(watch_day(watch, DAY(2027, 3, 16)).verdict, VERDICT_KEPT);
    assert_int_equal(watch_day(watch, DAY(2027, 12, 31)).verdict, VERDICT_KEPT);
    assert_int_equal(watch_year(watch, DAY(2027, 3, 19), 2020), VERDICT_BROKEN);
    assert_int_equal(watch_year(watch, DAY(2027, 3, 20), 2020), VERDICT_KEPT); /* 20 days of 5 */
    assert_int_equal(watch_year(watch, DAY(2027, 3, 16), 2021), VERDICT_UNKNOWN);
    assert_int_equal(watch_year(watch, DAY(2027, 9, 16), 2021), VERDICT_KEPT); /* 20 of 200 days missing */
    assert_int_equal(watch_year(watch, DAY(2027, 9, 15), 2021), VERDICT_UNKNOWN);
    const struct day_set *all = day_set_all(*state, DAY(2027, 1, 1), DAY(2027, 12, 31));
    day_number found;
    assert_true(day_set_next(watch_open(*state, watch, all), DAY(2027, 1, 1), &found));
    assert_int_equal(found, DAY(2027, 3, 16));
}

static void test_nothing_known_closes_nothing(void **state)
{
    struct weather weather = weather_none();
    const struct climate *climate = climate_make(*state, &weather, DAY(2027, 1, 1), DAY(2027, 12, 31));
    const struct day_set *all = day_set_all(*state, DAY(2027, 1, 1), DAY(2027, 12, 31));
    for (int quantity = 0; quantity < WEATHER_QUANTITY_COUNT; quantity++)
        for (int years = 0; years <= 1; years++) {
            struct weather_condition condition = condition_of((enum weather_quantity)quantity, SIDE_BELOW, 1);
            condition.years = condition.of = years;
            const struct watch *watch = watch_make(*state, climate, &condition);
            const struct day_set *open = watch_open(*state, watch, all);
            for (day_number day = DAY(2027, 1, 1); day <= DAY(2027, 12, 31); day++)
                assert_true(day_set_contains(open, day));
        }
}

int main(void)
{
#define TEST(name) cmocka_unit_test_setup_teardown(name, arena_setup, arena_teardown)
    const struct CMUnitTest tests[] = {
        TEST(test_origins),
        TEST(test_soil_origins),
        TEST(test_history_as_normals),
        TEST(test_degree_sums),
        TEST(test_degree_sums_begin),
        TEST(test_sides),
        TEST(test_held_for_days),
        TEST(test_rain_ahead),
        TEST(test_years),
        TEST(test_degree_day_condition),
        TEST(test_nothing_known_closes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
