#include "compiler/season/season_year.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static day_number day(int year, int month, int day_of_month)
{
    return day_of_date((struct civil_date){year, month, day_of_month});
}

static struct model season(day_number first, day_number last)
{
    return (struct model){.has_season = true, .season_first = first, .season_last = last};
}

static void assert_year(const struct model *model, size_t index, day_number first, day_number last)
{
    struct season_year year = season_year_at(model, index);
    assert_int_equal(year.first, first);
    assert_int_equal(year.last, last);
}

static void test_up_to_a_year(void **state)
{
    (void)state;
    struct model summer = season(day(2027, 3, 1), day(2027, 11, 20));
    assert_false(season_is_long(&summer));
    assert_int_equal(season_year_count(&summer), 1);
    assert_year(&summer, 0, day(2027, 3, 1), day(2027, 11, 20));
    struct model whole = season(day(2027, 3, 1), day(2028, 2, 29));
    assert_false(season_is_long(&whole));
    assert_int_equal(season_year_count(&whole), 1);
    assert_year(&whole, 0, day(2027, 3, 1), day(2028, 2, 29));
    struct model none = {.has_season = false};
    assert_int_equal(season_year_count(&none), 0);
}

static void test_longer(void **state)
{
    (void)state;
    struct model day_more = season(day(2027, 3, 1), day(2028, 3, 1));
    assert_true(season_is_long(&day_more));
    assert_int_equal(season_year_count(&day_more), 1);
    assert_year(&day_more, 0, day(2027, 3, 1), day(2028, 2, 29));
    struct model two = season(day(2027, 3, 1), day(2029, 2, 28));
    assert_int_equal(season_year_count(&two), 2);
    assert_year(&two, 1, day(2028, 3, 1), day(2029, 2, 28));
    struct model nearly = season(day(2027, 3, 1), day(2029, 2, 27));
    assert_int_equal(season_year_count(&nearly), 1);
}

/* Every year begins on the season's day of the year, as far as the year has it. */
static void test_from_a_leap_day(void **state)
{
    (void)state;
    struct model model = season(day(2028, 2, 29), day(2032, 12, 31));
    assert_int_equal(season_year_count(&model), 4);
    assert_year(&model, 0, day(2028, 2, 29), day(2029, 2, 27));
    assert_year(&model, 1, day(2029, 2, 28), day(2030, 2, 27));
    assert_year(&model, 3, day(2031, 2, 28), day(2032, 2, 28));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_up_to_a_year),
        cmocka_unit_test(test_longer),
        cmocka_unit_test(test_from_a_leap_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
