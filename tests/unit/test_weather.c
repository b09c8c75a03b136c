/* Normals, degree days, soil temperature: the formulas. Published examples stand with their source; what real
 * data give is compared in tests/reference/weather.check. */
#include "compiler/season/degree_days.h"
#include "compiler/season/normals.h"
#include "compiler/season/soil_temperature.h"
#include "tests/unit/made_weather.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* ---- normals ---- */

static const double WRENFIELD[13] = {NAN, NAN, NAN, 54, 64, 73, 81, 86, 84, 77, 66, 55, NAN};
static const double WHOLE_YEAR[13] = {NAN, 42, 45, 54, 64, 73, 81, 86, 84, 77, 66, 55, 45};

static double mean_of_month(const double *daily, bool leap, int month)
{
    int start = 0, days = days_in_month(leap ? 2028 : 2027, month);
    double sum = 0;
    for (int before = 1; before < month; before++)
        start += days_in_month(leap ? 2028 : 2027, before);
    for (int day = start; day < start + days; day++)
        sum += daily[day];
    return sum / days;
}

static void test_normals_keep_their_means(void **state)
{
    static const double odd[4][13] = {
        {NAN, 10, -10, 10, -10, 10, -10, 10, -10, 10, -10, 10, -10},
        {NAN, NAN, NAN, NAN, NAN, NAN, NAN, 80, NAN, NAN, NAN, NAN, NAN},
        {NAN, 300, NAN, 310, NAN, 290, NAN, 280, 285, NAN, NAN, 250, 400},
        {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN},
    };
    const double *const all[] = {WRENFIELD, WHOLE_YEAR, odd[0], odd[1], odd[2], odd[3]};
    double daily[YEAR_DAYS];
    (void)state;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        for (int leap = 0; leap <= 1; leap++) {
            normals_daily(all[i], leap, daily);
            for (int month = 1; month <= 12; month++) {
                double mean = mean_of_month(daily, leap, month);
                if (isnan(all[i][month]))
                    assert_true(isnan(mean));
                else
                    assert_close(mean, all[i][month]);
            }
        }
}

/* The means change by up to 11 degrees from month to month, 0.36 a day; the day's way bends, and no more. */
static void test_normals_are_smooth(void **state)
{
    double whole[YEAR_DAYS], part[YEAR_DAYS];
    (void)state;
    normals_daily(WHOLE_YEAR, false, whole);
    for (int day = 0; day < 365; day++) {
        double before = whole[(day + 364) % 365], after = whole[(day + 1) % 365];
        assert_true(fabs(after - whole[day]) < 0.45);
        assert_true(fabs(after - 2 * whole[day] + before) < 0.025);
    }
    /* Months that are not stated change the ones beside them little: less than a degree. */
    normals_daily(WRENFIELD, false, part);
    for (int day = 31 + 28; day < 334; day++)
        assert_true(fabs(part[day] - whole[day]) < 1);
    assert_true(isnan(part[31 + 27]) && isnan(part[334]));
}

static void test_normals_of_one_value(void **state)
{
    static const double flat[13] = {NAN, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7};
    double daily[YEAR_DAYS];
    (void)state;
    normals_daily(flat, true, daily);
    for (int day = 0; day < 366; day++)
        assert_close(daily[day], 7);
}

/* ---- degree days ---- */

enum { F, C };

static void test_degree_days_published(void **state)
{
    static const struct {
        int unit;
        double high, low, base, cap;
        bool clipped;
        double wanted;
    } rows[] = {
        /* Virginia Tech, January 2007, through the University of Delaware's Kent County crop pages,
           2008-03-17 */
        {F, 75, 27, 50, INFINITY, false, 1},
        /* a golf course's published diary, which rounds it to 14 */
        {F, 54, 37, 32, INFINITY, false, 13.5},
        /* Iowa State University, Agronomy 541, lesson 2b: 70 and 50 F give 10 */
        {F, 70, 50, 50, 86, true, 10},
        /* the 86/50 reading, https://www.wausharaargus.com/latest-ag-news/calculating-growing-degree-days */
        {F, 90, 65, 50, 86, true, 25.5},
        {F, 72, 46, 50, 86, true, 11},
        {F, 63, 42, 50, 86, true, 6.5},
        /* Ohio State University Extension (S. Karhoff), 2023-06-12 */
        {F, 87, 63, 50, 86, true, 24.5},
        /* Midwestern Regional Climate Center: 92 and 68 F count as a mean of 77 */
        {F, 92, 68, 50, 86, true, 27},
        /* an agronomist's page on figuring growing degree days: 83 and 61 F give 22 */
        {F, 83, 61, 50, INFINITY, false, 22},
        /* a British turf page: 17 and 9 C give 7 above 6 C and 13 above 0 C */
        {C, 17, 9, 6, INFINITY, false, 7},
        {C, 17, 9, 0, INFINITY, false, 13},
        /* by hand */
        {F, 50, 30, 50, INFINITY, false, 0},
        {F, 72, 48, 50, INFINITY, false, 10},
        {F, 72, 48, 50, INFINITY, true, 11},
        {F, 100, 90, 50, 86, false, 36},
        {F, 40, 20, 50, 86, true, 0},
        {F, 96, 40, 50, 86, false, 13},
        {F, 96, 40, 50, 86, true, 18},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double (*kelvin)(double) = rows[i].unit == F ? fahrenheit : celsius;
        struct degree_rule rule = {kelvin(rows[i].base), kelvin(rows[i].cap), rows[i].clipped};
        double value = degree_days(&rule, kelvin(rows[i].high), kelvin(rows[i].low));
        assert_close(rows[i].unit == F ? value * 9 / 5 : value, rows[i].wanted);
    }
    struct degree_rule rule = {fahrenheit(50), INFINITY, true};
    assert_true(isnan(degree_days(&rule, NAN, 300)));
    assert_true(isnan(degree_days(&rule, 300, NAN)));
}

/* McMaster and Wilhelm 1997: the second reading never gives less than the first. */
static void test_clipped_gives_no_less(void **state)
{
    (void)state;
    for (int high = -20; high <= 50; high += 3)
        for (int low = high - 30; low <= high; low += 3) {
            struct degree_rule plain = {celsius(10), celsius(30), false}, clipped = plain;
            clipped.clipped = true;
            assert_true(degree_days(&clipped, celsius(high), celsius(low)) >=
                        degree_days(&plain, celsius(high), celsius(low)) - 1e-12);
        }
}

/* ---- soil ---- */

static void test_soil_estimate(void **state)
{
    double air[30], soil[30];
    (void)state;
    for (int day = 0; day < 30; day++)
        air[day] = 5;
    air[20] = NAN;
    soil_estimate(air, 30, soil);
    for (int day = 0; day < 30; day++)
        assert_true(day == 20 ? isnan(soil[day]) : fabs(soil[day] - 5) < 1e-12);
    for (int day = 0; day < 30; day++)
        air[day] = day;
    soil_estimate(air, 30, soil);
    assert_close(soil[0], 0);
    assert_close(soil[1], 11. / 21);            /* (10 * 0 + 11 * 1) / 21 */
    assert_close(soil[2], (10. + 2 * 11) / 30); /* (9 * 0 + 10 * 1 + 11 * 2) / 30 */
    /* A steady rise is followed at the weights' mean distance: sum of back * (11 - back) / 66 = 220 / 66
     * days. */
    for (int day = 10; day < 30; day++)
        assert_close(soil[day], day - 220. / 66);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_normals_keep_their_means), cmocka_unit_test(test_normals_are_smooth),
        cmocka_unit_test(test_normals_of_one_value),     cmocka_unit_test(test_degree_days_published),
        cmocka_unit_test(test_clipped_gives_no_less),    cmocka_unit_test(test_soil_estimate),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
