/* Days and risks by the weather, against a search through every row of random histories. */
#include "compiler/check/slip.h"
#include "compiler/season/risk.h"
#include "tests/unit/made_weather.h"
#include "tests/unit/season_text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define PLAN                                                                                                 \
    "season 2027-03-01 to 2027-11-30\n"                                                                      \
    "lawn a { zone z area 1000 sqft }\n"                                                                     \
    "weather { normals {\nmonth high F low F\nApr 70 50\nMay 70 52\nJun 70 54\n} }\n"

static uint32_t dice(uint32_t *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 16;
}

enum { SEARCH_YEARS = 5 };

static const char *const CONDITIONS[] = {"below 75 F", "above 45 F for 2 days", "mean above 60 F over 3 days",
                                         "below 75 F, 2 years in 3", "below 80 F for 2 days, 1 years in 2"};

static void random_history(struct season_text *read, uint32_t *seed)
{
    for (int year = 2020; year < 2020 + SEARCH_YEARS; year++)
        for (day_number day = DAY(year, 4, 20); day <= DAY(year, 6, 10); day++)
            if (dice(seed) % 20) {
                double low = 35 + dice(seed) % 25;
                weather_add(&read->arena, &read->model->weather.history, day,
                            fahrenheit(low + 5 + dice(seed) % 35), fahrenheit(low));
            }
}

/* What the row of that day says, found by looking through all of them; NAN without one. */
static double looked_up(const struct season_text *read, day_number day, bool high)
{
    const struct weather_series *history = &read->model->weather.history;
    for (size_t i = 0; i < history->rows.count; i++)
        if (history->rows.items[i].day == day)
            return (high ? history->rows.items[i].high : history->rows.items[i].low) * 9 / 5 - 459.67;
    return NAN;
}

/* -1 broken, 0 not known, 1 kept: the conditions above, once more. */
static int kept_in_year(const struct season_text *read, size_t condition, struct civil_date date, int year)
{
    day_number day = DAY(year, date.month, date.day);
    double high = looked_up(read, day, true), before = looked_up(read, day - 1, true);
    double low = looked_up(read, day, false), low_before = looked_up(read, day - 1, false);
    double mean = 0;
    int known = !isnan(high) && !isnan(before);
    switch (condition) {
    case 0:
    case 3:
        return isnan(high) ? 0 : high < 75 - 1e-6 ? 1 : -1;
    case 1:
        if (isnan(low) || isnan(low_before))
            return (low < 45 + 1e-6 || low_before < 45 + 1e-6) && known ? -1 : 0;
        return low > 45 + 1e-6 && low_before > 45 + 1e-6 ? 1 : -1;
    case 2:
        for (int back = 0; back < 3; back++)
            mean += (looked_up(read, day - back, true) + looked_up(read, day - back, false)) / 6;
        return isnan(mean) ? 0 : mean > 60 + 1e-6 ? 1 : -1;
    default:
        return !known ? 0 : high < 80 - 1e-6 && before < 80 - 1e-6 ? 1 : -1;
    }
}

static struct risk risk_by_search(const struct season_text *read, size_t condition, day_number day)
{
    struct risk risk = {0};
    for (int year = 2020; year < 2020 + SEARCH_YEARS; year++) {
        int kept = kept_in_year(read, condition, date_of_day(day), year);
        risk.broken += kept < 0;
        risk.known += kept != 0;
    }
    return risk;
}

/* The first day of the window that the years leave, for the two conditions that count years. */
static day_number first_by_search(const struct season_text *read, size_t condition, day_number first,
                                  day_number last)
{
    int years = condition == 3 ? 2 : 1, of = condition == 3 ? 3 : 2;
    for (; first <= last; first++) {
        struct risk risk = risk_by_search(read, condition, first);
        if (risk.known == 0 || (risk.known - risk.broken) * of >= years * risk.known)
            return first;
    }
    return first;
}

static void assert_least(const struct season_text *read, size_t condition,
                         const struct occurrence *occurrence)
{
    day_number best = occurrence->day, day;
    struct risk least = {0}, found;
    for (day_number at = occurrence->day; at <= occurrence->slip->farthest; at++) {
        struct risk here = risk_by_search(read, condition, at);
        bool open = condition < 3 || first_by_search(read, condition, at, at) == at;
        if (open && here.known && (!least.known || here.broken * least.known < least.broken * here.known)) {
            least = here;
            best = at;
        }
    }
    assert_int_equal(season_least_risk(read->season, occurrence, &day, &found), least.known > 0);
    if (least.known) {
        assert_int_equal(day, best);
        assert_int_equal(found.broken, least.broken);
        assert_int_equal(found.known, least.known);
    }
}

/* Four hundred histories with gaps: days, odds and risks against a search that shares nothing with them. The
 * normals of one month let every day pass that depends on the usual weather. */
static void test_search(void **state)
{
    uint32_t seed = 20270417;
    size_t dated = 0;
    (void)state;
    for (int round = 0; round < 400; round++) {
        size_t condition = (size_t)round % (sizeof CONDITIONS / sizeof *CONDITIONS);
        struct season_text read;
        struct arena arena;
        arena_init(&arena, NULL);
        season_text_read(&read,
                         text_format(&arena, "%stask x { to z\nwhen between May 1 and Jun 5\nwhen %s }\n",
                                     PLAN, CONDITIONS[condition]));
        random_history(&read, &seed);
        read.season = season_build(read.model, true);
        const struct occurrence *occurrence = season_text_find(&read, "x", 1);
        day_number first = text_day("2027-05-01"), last = text_day("2027-06-05");
        day_number wanted = condition < 3 ? first : first_by_search(&read, condition, first, last);
        assert_int_equal(occurrence->dated, wanted <= last);
        if (occurrence->dated) {
            dated++;
            assert_int_equal(occurrence->day, wanted);
            for (day_number day = first; day <= last; day++) {
                struct risk risk = season_risk(read.season, occurrence, day);
                struct risk other = risk_by_search(&read, condition, day);
                assert_int_equal(risk.broken, other.broken);
                assert_int_equal(risk.known, other.known);
            }
            slips_find(read.season);
            assert_least(&read, condition, occurrence);
        }
        season_text_free(&read);
        arena_free(&arena);
    }
    assert_true(dated > 300);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_search)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
