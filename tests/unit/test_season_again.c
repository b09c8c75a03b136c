/* The first day on which a limit allows anything again, against trying a small amount on one day after the
 * other and adding up what the limit speaks of. */
#include "tests/unit/season_text.h"
#include "tests/unit/tiny_season.h"

#include "compiler/season/next_allowed.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { PLANS = 100, DONE_MOST = 6, DAYS = 60 };

struct history {
    int count;
    day_number day[DONE_MOST];
    int kg[DONE_MOST]; /* of meal, on 100 m2 */
    int days;          /* of the run, the wait and the label's interval */
    int most;          /* kg of meal: for an application, twice it in the run, three times in a year */
    int times;         /* a year */
};

static const char *write_plan(struct arena *arena, const struct history *history)
{
    struct buffer plan = {.arena = arena};
    buffer_format(
        &plan,
        "season 2027-11-01 to 2028-02-28\nlawn green { zone a area 100 m2 }\n"
        "product meal {\n grade 10-0-0 granular\n label at least %d days apart, at most %d a year, "
        "at most %d kg per 100 m2 a year\n}\n"
        "limits {\n at most %d00 g N per 100 m2 per application\n at most %d00 g N per 100 m2 per year\n"
        " at most %d00 g N per 100 m2 in any %d days\n at least %d days between N applications\n}\n"
        "apply x { to a\n rate 1 kg per 100 m2 of meal\n when from Nov 1 }\n",
        history->days, history->times, 3 * history->most, history->most, 3 * history->most, 2 * history->most,
        history->days, history->days);
    for (int i = 0; i < history->count; i++)
        buffer_format(&plan, "done x %s { used %d kg of meal on a }\n", day_text(arena, history->day[i]),
                      history->kg[i]);
    return buffer_string(&plan);
}

/* ---- by trying ---- */

static int sum_between(const struct history *history, day_number first, day_number last)
{
    int sum = 0;
    for (int i = 0; i < history->count; i++)
        if (history->day[i] >= first && history->day[i] <= last)
            sum += history->kg[i];
    return sum;
}

static bool run_passes(const struct history *history, int days, int most, day_number day)
{
    for (day_number first = day - days + 1; first <= day; first++)
        if (sum_between(history, first, first + days - 1) >= most)
            return false;
    return true;
}

static bool wait_passes(const struct history *history, day_number day)
{
    for (int i = 0; i < history->count; i++)
        if (history->day[i] - day < history->days && day - history->day[i] < history->days)
            return false;
    return true;
}

static day_number new_year(day_number day, int on)
{
    return day_of_date((struct civil_date){date_of_day(day).year + on, 1, 1});
}

static bool year_passes(const struct history *history, int most, day_number day)
{
    return sum_between(history, new_year(day, 0), new_year(day, 1) - 1) < most;
}

static bool times_pass(const struct history *history, day_number day)
{
    int days = 0;
    for (int i = 0; i < history->count; i++) {
        bool first = date_of_day(history->day[i]).year == date_of_day(day).year;
        for (int j = 0; j < i; j++)
            first = first && history->day[j] != history->day[i];
        days += first;
    }
    return days < history->times;
}

static bool limit_passes(const struct history *history, enum limit_kind kind, day_number day)
{
    if (kind == LIMIT_WAIT)
        return wait_passes(history, day);
    if (kind == LIMIT_PER_YEAR)
        return year_passes(history, 3 * history->most, day);
    if (kind == LIMIT_PER_PERIOD)
        return run_passes(history, history->days, 2 * history->most, day);
    return run_passes(history, 1, history->most, day);
}

static bool label_passes(const struct history *history, enum label_cap cap, day_number day)
{
    if (cap == LABEL_INTERVAL)
        return wait_passes(history, day);
    return cap == LABEL_TIMES ? times_pass(history, day) : year_passes(history, 3 * history->most, day);
}

/* ---- both ---- */

static void compare(const struct season_text *read, const struct history *history, day_number after)
{
    const struct model *model = read->model;
    const struct zone *zone = model->zones.items[0];
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        day_number day = after + 1;
        if (!limit->set->bound || limit->set->always)
            continue;
        while (!limit_passes(history, limit->kind, day))
            day++;
        assert_true(limit_recovers(limit));
        assert_int_equal(limit_again(read->season, limit, zone, after), day);
    }
    for (enum label_cap cap = LABEL_INTERVAL; cap <= LABEL_YEAR; cap++) {
        day_number day = after + 1;
        while (!label_passes(history, cap, day))
            day++;
        assert_int_equal(label_again(read->season, read->model->products.items[0], cap, zone, after), day);
    }
}

static void history_draw(struct history *history, uint64_t *seed)
{
    *history = (struct history){.count = tiny_between(seed, 1, DONE_MOST),
                                .days = tiny_between(seed, 1, 12),
                                .most = tiny_between(seed, 1, 4),
                                .times = tiny_between(seed, 1, 4)};
    for (int i = 0; i < history->count; i++) {
        history->day[i] = text_day("2027-12-01") + tiny_between(seed, 0, DAYS - 1);
        history->kg[i] = tiny_between(seed, 1, 5);
    }
}

static void test_against_trying(void **state)
{
    uint64_t seed = 11;
    for (int i = 0; i < PLANS; i++) {
        struct history history;
        struct season_text read;
        struct arena arena;
        arena_init(&arena, NULL);
        history_draw(&history, &seed);
        season_text_read(&read, write_plan(&arena, &history));
        for (int day = -5; day < DAYS + 5; day++)
            compare(&read, &history, text_day("2027-12-01") + day);
        season_text_free(&read);
        arena_free(&arena);
    }
}

/* What is only planned can be changed, and takes nothing. */
static void test_planned_takes_nothing(void **state)
{
    struct season_text read;
    season_text_read(&read, "season 2027-03-01 to 2027-11-20\nlawn green { zone a area 100 m2 }\n"
                            "product meal { grade 10-0-0 granular }\n"
                            "limits { at most 1 kg N per 100 m2 in any 30 days }\n"
                            "apply x { to a\n rate 8 kg per 100 m2 of meal\n when on May 1 }\n"
                            "apply y { to a\n rate 8 kg per 100 m2 of meal\n when on May 11 }\n"
                            "done x 2027-05-01 { used 10 kg of meal on a }\n");
    assert_int_equal(limit_again(read.season, read.model->limits.items[0], read.model->zones.items[0],
                                 text_day("2027-05-01")),
                     text_day("2027-05-31"));
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_against_trying),
        cmocka_unit_test(test_planned_takes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
