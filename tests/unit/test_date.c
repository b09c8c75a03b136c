#include "compiler/model/date.h"
#include "compiler/model/display.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

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

static day_number day(int year, int month, int day_of_month)
{
    return day_of_date((struct civil_date){year, month, day_of_month});
}

static void test_valid(void **state)
{
    (void)state;
    static const struct {
        struct civil_date date;
        bool valid;
    } rows[] = {
        {{1900, 1, 1}, true},         {{2199, 12, 31}, true}, {{1899, 12, 31}, false}, {{2200, 1, 1}, false},
        {{2028, 2, 29}, true},        {{2027, 2, 29}, false}, {{2000, 2, 29}, true},   {{1900, 2, 29}, false},
        {{2100, 2, 29}, false},       {{2027, 4, 31}, false}, {{2027, 0, 1}, false},   {{2027, 13, 1}, false},
        {{2027, -1, 1}, false},       {{2027, 1, 0}, false},  {{2027, 1, 32}, false},  {{2027, 1, -5}, false},
        {{-2147483647, 1, 1}, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_int_equal(date_valid(rows[i].date), rows[i].valid);
}

static void test_known_days(void **state)
{
    (void)state;
    assert_int_equal(day(1970, 1, 1), 0);
    assert_int_equal(day(1969, 12, 31), -1);
    assert_int_equal(day(2000, 3, 1), 11017); /* as H. Hinnant's paper gives it; from memory */
    assert_int_equal(weekday_of_day(0), THURSDAY);
    assert_int_equal(weekday_of_day(-1), WEDNESDAY);
    assert_int_equal(weekday_of_day(day(2027, 4, 17)), SATURDAY);
    assert_int_equal(day_of_year(day(2027, 1, 1)), 1);
    assert_int_equal(day_of_year(day(2027, 12, 31)), 365);
    assert_int_equal(day_of_year(day(2028, 12, 31)), 366);
}

/* Each day is the one before plus one: counted by hand through the months, over more than the years of plans.
 */
static void test_days_follow_each_other(void **state)
{
    (void)state;
    struct civil_date date = {1590, 1, 1};
    day_number number = day_of_date(date);
    int weekday = (int)weekday_of_day(number), in_year = 1;
    while (date.year < 2410) {
        struct civil_date found = date_of_day(number);
        assert_true(found.year == date.year && found.month == date.month && found.day == date.day);
        assert_int_equal(day_of_date(date), number);
        assert_int_equal(weekday_of_day(number), weekday);
        assert_int_equal(day_of_year(number), in_year);
        number++;
        in_year++;
        weekday = (weekday + 1) % 7;
        if (++date.day > days_in_month(date.year, date.month)) {
            date.day = 1;
            date.month++;
        }
        if (date.month > 12) {
            date = (struct civil_date){date.year + 1, 1, 1};
            in_year = 1;
        }
    }
}

static void test_ends_of_the_type(void **state)
{
    (void)state;
    static const day_number ends[] = {INT32_MIN, INT32_MIN + 1, INT32_MAX - 1, INT32_MAX};
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(day_of_date(date_of_day(ends[i])), ends[i]);
    assert_int_equal(day(INT32_MAX, 12, 31), INT32_MAX);
    assert_int_equal(day(INT32_MIN, 1, 1), INT32_MIN);
    assert_int_equal(day_add_months(INT32_MAX, INT32_MAX), INT32_MAX);
    assert_int_equal(day_add_months(INT32_MIN, INT32_MIN), INT32_MIN);
}

static void test_add_months(void **state)
{
    (void)state;
    assert_int_equal(day_add_months(day(2027, 1, 31), 1), day(2027, 2, 28));
    assert_int_equal(day_add_months(day(2028, 1, 31), 1), day(2028, 2, 29));
    assert_int_equal(day_add_months(day(2027, 3, 31), -1), day(2027, 2, 28));
    assert_int_equal(day_add_months(day(2027, 12, 15), 1), day(2028, 1, 15));
    assert_int_equal(day_add_months(day(2027, 1, 15), -1), day(2026, 12, 15));
    assert_int_equal(day_add_months(day(2028, 2, 29), 12), day(2029, 2, 28));
    assert_int_equal(day_add_months(day(2027, 5, 31), 0), day(2027, 5, 31));
    assert_int_equal(day_add_months(day(2, 1, 15), -36), day(-1, 1, 15));
}

/* On every day a plan can hold: one day less would not reach it, one day more would pass it. */
static void test_reaching_days(void **state)
{
    (void)state;
    for (int months = -14; months <= 37; months += months == 14 ? 23 : 1)
        for (day_number at = day(FIRST_YEAR, 1, 1); at <= day(LAST_YEAR, 12, 31); at++) {
            day_number first = day_last_reaching(at - 1, months) + 1, last = day_last_reaching(at, months);
            assert_true(day_add_months(first, months) >= at && day_add_months(first - 1, months) < at);
            assert_true(day_add_months(last, months) <= at && day_add_months(last + 1, months) > at);
        }
    assert_int_equal(day_last_reaching(day(2027, 2, 28), 1), day(2027, 1, 31));
    assert_int_equal(day_last_reaching(day(2027, 2, 27), 1) + 1, day(2027, 1, 28));
    assert_int_equal(day_last_reaching(day(2027, 3, 29), 1) + 1,
                     day(2027, 3, 1)); /* Feb 28 reaches Mar 28 only */
}

static void test_durations(void **state)
{
    (void)state;
    for (int months = 0; months <= 40; months++) {
        struct duration duration = {.months = months};
        int32_t least = INT32_MAX, most = 0;
        for (day_number at = day(FIRST_YEAR, 1, 1); at <= day(LAST_YEAR, 12, 31); at++) {
            int32_t days = day_after(at, duration) - at;
            least = days < least ? days : least;
            most = days > most ? days : most;
        }
        assert_true(duration_least_days(duration) <= least && duration_most_days(duration) >= most);
        assert_true(months > 23 || duration_least_days(duration) == least);
        assert_true(months > 23 || duration_most_days(duration) == most);
    }
    assert_int_equal(day_after(day(2027, 4, 24), (struct duration){.months = 6}), day(2027, 10, 24));
    assert_int_equal(day_add_months(day(2028, 3, 31), -1), day(2028, 2, 29));
    assert_int_equal(day_after(7, (struct duration){.days = 3}), 10);
    assert_true(duration_any((struct duration){.months = 1}) && !duration_any((struct duration){0, 0}));
}

static void test_month_of_text(void **state)
{
    (void)state;
    for (int month = 1; month <= 12; month++) {
        struct text name = text_of(month_name(month));
        for (size_t length = 3; length <= name.length; length++)
            assert_int_equal(month_of_text((struct text){name.start, length}), month);
        assert_int_equal(month_of_text((struct text){name.start, 2}), 0);
    }
    assert_int_equal(month_of_text(TEXT("JAN")), 1);
    assert_int_equal(month_of_text(TEXT("jUNe")), 6);
    assert_int_equal(month_of_text(TEXT("Sept")), 9);
    assert_int_equal(month_of_text(TEXT("Augs")), 0);
    assert_int_equal(month_of_text(TEXT("Januarys")), 0);
    assert_int_equal(month_of_text(TEXT("")), 0);
}

static void test_weekday_of_text(void **state)
{
    (void)state;
    for (int weekday = MONDAY; weekday <= SUNDAY; weekday++) {
        struct text name = text_of(weekday_name((enum weekday)weekday));
        for (size_t length = 3; length <= name.length; length++)
            assert_int_equal(weekday_of_text((struct text){name.start, length}), weekday);
        assert_int_equal(weekday_of_text((struct text){name.start, 2}), -1);
    }
    assert_int_equal(weekday_of_text(TEXT("Mondays")), MONDAY);
    assert_int_equal(weekday_of_text(TEXT("SUNDAYS")), SUNDAY);
    assert_int_equal(weekday_of_text(TEXT("Mons")), -1);
    assert_int_equal(weekday_of_text(TEXT("Sundayss")), -1);
    assert_int_equal(weekday_of_text(TEXT("Sundayx")), -1);
    assert_int_equal(weekday_of_text(TEXT("")), -1);
}

static void test_day_text(void **state)
{
    assert_string_equal(day_text(*state, day(2027, 4, 17)), "2027-04-17");
    assert_string_equal(day_text(*state, day(987, 1, 2)), "0987-01-02");
    assert_string_equal(display_date(*state, day(2027, 4, 17)), "Sat 2027-04-17");
    assert_string_equal(display_date(*state, day(2027, 5, 17)), "Mon 2027-05-17");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_valid),
        cmocka_unit_test(test_known_days),
        cmocka_unit_test(test_days_follow_each_other),
        cmocka_unit_test(test_ends_of_the_type),
        cmocka_unit_test(test_add_months),
        cmocka_unit_test(test_reaching_days),
        cmocka_unit_test(test_durations),
        cmocka_unit_test(test_month_of_text),
        cmocka_unit_test(test_weekday_of_text),
        cmocka_unit_test_setup_teardown(test_day_text, arena_setup, arena_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
