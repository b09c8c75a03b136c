/* Days by what the plan states: windows, relations, repetitions, records. Days of 2027; Jan 1 is a Friday. */
#include "compiler/check/slip.h"
#include "compiler/season/dose.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define GROUND                                                                                               \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "lawn green { zone north area 100 m2\n zone south area 100 m2 }\n"                                       \
    "product meal { grade 10-0-0 granular\n label 1 to 9 kg per 100 m2 }\n"

/* An application of meal to north. */
#define APPLY(name, when) "apply " name " {\n to north\n rate 2 kg per 100 m2 of meal\n " when "\n}\n"
#define TASK(name, when) "task " name " { " when " }\n"

static void assert_days(const char *plan, const char *treatment, const char *const *days)
{
    struct season_text read;
    season_text_read(&read, plan);
    int times = 0;
    while (days[times])
        times++;
    assert_int_equal(season_text_find(&read, treatment, 1)->times, times);
    for (int time = 1; time <= times; time++)
        assert_day(&read, treatment, time, days[time - 1]);
    season_text_free(&read);
}

#define DAYS(...) ((const char *const[]){__VA_ARGS__, NULL})

static void test_windows(void **state)
{
    assert_days(GROUND APPLY("a", "when on Apr 10"), "a", DAYS("2027-04-10"));
    assert_days(GROUND APPLY("a", "when between Apr 10 and May 2"), "a", DAYS("2027-04-10"));
    assert_days(GROUND APPLY("a", "when from Jul 4"), "a", DAYS("2027-07-04"));
    assert_days(GROUND APPLY("a", "when by Jul 4"), "a", DAYS("2027-03-01"));
    assert_days(GROUND APPLY("a", ""), "a", DAYS("2027-03-01"));
    assert_days(GROUND APPLY("a", "when from Jul 4\n when from Jul 9\n when by Jul 10"), "a",
                DAYS("2027-07-09"));
}

/* A task goes where its own statements put it; an application stays within the season. */
static void test_season(void **state)
{
    assert_days(GROUND TASK("t", ""), "t", DAYS("2027-03-01"));
    assert_days(GROUND TASK("t", "when on 2027-01-05"), "t", DAYS("2027-01-05"));
    assert_days(GROUND TASK("t", "when on Nov 18") TASK("u", "when 3 days after t"), "u", DAYS("2027-11-21"));
    assert_days(GROUND APPLY("a", "when on 2027-01-05"), "a", DAYS("none"));
}

static void test_relations(void **state)
{
#define OTHER TASK("x", "when between Apr 10 and Apr 20")
    assert_days(GROUND OTHER TASK("t", "when at least 7 days after x"), "t", DAYS("2027-04-17"));
    assert_days(GROUND OTHER TASK("t", "when after x"), "t", DAYS("2027-04-11"));
    assert_days(GROUND OTHER TASK("t", "when within 5 days after x"), "t", DAYS("2027-04-10"));
    assert_days(GROUND OTHER TASK("t", "when within 5 days after x\n when from Apr 19"), "x",
                DAYS("2027-04-14"));
    assert_days(GROUND OTHER TASK("t", "when 30 days after x"), "t", DAYS("2027-05-10"));
    assert_days(GROUND OTHER TASK("t", "when 3 days before x\n when from Apr 9"), "x", DAYS("2027-04-12"));
    assert_days(GROUND OTHER TASK("t", "when before x\n when from Apr 12"), "x", DAYS("2027-04-13"));
    assert_days(GROUND OTHER TASK("t", "when at least 4 days before x\n when from Apr 12"), "x",
                DAYS("2027-04-16"));
    assert_days(GROUND OTHER TASK("t", "when same day after x\n when from Apr 12"), "x", DAYS("2027-04-12"));
    assert_days(GROUND OTHER TASK("t", "when after x\n when by Apr 9"), "t", DAYS("none"));
    assert_days(GROUND OTHER TASK("t", "when before x"), "t", DAYS("2027-03-01"));
    assert_days(GROUND TASK("t", "when within 3 days after u") TASK("u", "when within 3 days after t"), "t",
                DAYS("2027-03-01"));
#undef OTHER
}

/* `before` means the first time of several, `after` the last. */
static void test_relations_to_several(void **state)
{
#define OTHER TASK("x", "when every 10 days from Apr 10, 3 times")
    assert_days(GROUND OTHER TASK("t", "when after x"), "t", DAYS("2027-05-01"));
    assert_days(GROUND OTHER TASK("t", "when 2 days after x"), "t", DAYS("2027-05-02"));
    assert_days(GROUND OTHER TASK("t", "when 2 days before x"), "t", DAYS("2027-04-08"));
    assert_days(GROUND OTHER TASK("t", "when same day after x"), "t",
                DAYS("2027-04-10", "2027-04-20", "2027-04-30"));
    assert_days(GROUND OTHER TASK("t", "when same day after x") TASK("u", "when same day after t"), "u",
                DAYS("2027-04-10", "2027-04-20", "2027-04-30"));
    assert_days(GROUND OTHER TASK("t", "when every 10 days from Apr 12, 3 times\n when same day after x"),
                "x", DAYS("2027-04-12", "2027-04-22", "2027-05-02"));
    assert_days(GROUND OTHER TASK("t", "when every 5 days from Apr 25, 2 times\n when same day after x"), "t",
                DAYS("none", "none"));
#undef OTHER
}

static void test_every(void **state)
{
    assert_days(GROUND APPLY("a", "when every 6 weeks from Sep 4, 2 times"), "a",
                DAYS("2027-09-04", "2027-10-16"));
    assert_days(GROUND APPLY("a", "when every 30 days from Apr 1 until May 31"), "a",
                DAYS("2027-04-01", "2027-05-01", "2027-05-31"));
    assert_days(GROUND APPLY("a", "when every 30 days from Apr 1 until May 30"), "a",
                DAYS("2027-04-01", "2027-05-01"));
    assert_days(GROUND APPLY("a", "when every 30 days from Apr 1 until Apr 1"), "a", DAYS("2027-04-01"));
    assert_days(GROUND APPLY("a", "when every 1 month from Aug 31, 3 times"), "a",
                DAYS("2027-08-31", "2027-09-30", "2027-10-31"));
    assert_days(GROUND APPLY("a", "when every 1 month from Aug 31 until Oct 30"), "a",
                DAYS("2027-08-31", "2027-09-30"));
}

/* Apr 1 is a Thursday. Each time keeps its own window and the days from the time before: by tens, with
 * Saturdays on Apr 3 and 17, the third would have to come from Apr 27 on and by Apr 30, on no Saturday. */
static void test_every_on_weekdays(void **state)
{
    assert_days(GROUND "limits { only on Sat }\n" APPLY("a", "when every 10 days from Apr 1, 3 times"), "a",
                DAYS("none", "none", "none"));
    assert_days(GROUND "limits { only on Sat }\n" APPLY("a", "when every 2 weeks from Apr 1, 3 times"), "a",
                DAYS("2027-04-03", "2027-04-17", "2027-05-01"));
}

static void test_slips(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND TASK("x", "when between Apr 10 and Apr 20")
                                TASK("t", "when at least 7 days after x\n when by May 1")
                                    TASK("u", "when from Jun 1") TASK("v", "when from Dec 1"));
    const struct occurrence *x = season_text_find(&read, "x", 1), *t = season_text_find(&read, "t", 1);
    slips_find(read.season);
    assert_int_equal(x->slip->latest, text_day("2027-04-20"));
    assert_int_equal(x->slip->alone, text_day("2027-04-10"));
    assert_int_equal(t->slip->latest, text_day("2027-05-01"));
    assert_int_equal(t->slip->alone, text_day("2027-05-01"));
    assert_int_equal(season_text_find(&read, "u", 1)->slip->latest, text_day("2027-11-20"));
    assert_int_equal(season_text_find(&read, "v", 1)->slip->latest, text_day("2027-12-01"));
    season_text_free(&read);
}

/* ---- closed days ---- */

static void test_closed(void **state)
{
#define FEED APPLY("a", "when from Mar 1")
    assert_days(GROUND "limits { no N from Nov 16 to Mar 1 }\n" FEED, "a", DAYS("2027-03-02"));
    assert_days(GROUND "limits { nothing from Feb 1 to Apr 4 }\n" FEED, "a", DAYS("2027-04-05"));
    assert_days(GROUND "limits { no P2O5 from Nov 16 to Mar 1 }\n" FEED, "a", DAYS("2027-03-01"));
    assert_days(GROUND "limits { no P2O5, N from Mar 1 to Mar 1 }\n" FEED, "a", DAYS("2027-03-02"));
    assert_days(GROUND "limits { nothing on Mar 1, 2027-03-02, Mar 4 }\n" FEED, "a", DAYS("2027-03-03"));
    assert_days(GROUND "limits { only on Wed }\n" FEED, "a", DAYS("2027-03-03"));
    assert_days(GROUND "limits { only on Wed\n nothing from Mar 3 to Mar 9 }\n" FEED, "a",
                DAYS("2027-03-10"));
    assert_days(GROUND "limits { for south\n only on Wed }\n" FEED, "a", DAYS("2027-03-01"));
    assert_days(GROUND "limits { for green\n only on Wed }\n" FEED, "a", DAYS("2027-03-03"));
    assert_days(GROUND "limits bylaw { only on Wed }\n" FEED, "a", DAYS("2027-03-01"));
    assert_days(GROUND "follow bylaw\nlimits bylaw { only on Wed }\n" FEED, "a", DAYS("2027-03-03"));
    assert_days(GROUND "limits { only on Wed }\n" TASK("t", ""), "t", DAYS("2027-03-01"));
    assert_days(GROUND "limits { only on Wed }\n" FEED TASK("t", "when same day after a"), "t",
                DAYS("2027-03-03"));
#undef FEED
}

/* 2027 has no Feb 29: a window from there begins on Mar 1, one up to there ends on Feb 28. */
static void test_leap_day(void **state)
{
    assert_days("season 2027-02-01 to 2027-11-20\n"
                "lawn green { zone north area 100 m2 }\nproduct meal { grade 10-0-0 granular }\n"
                "limits { nothing from Feb 29 to Mar 4 }\n" APPLY("a", "when from Feb 28"),
                "a", DAYS("2027-02-28"));
    assert_days("season 2027-02-01 to 2027-11-20\n"
                "lawn green { zone north area 100 m2 }\nproduct meal { grade 10-0-0 granular }\n"
                "limits { nothing from Feb 3 to Feb 29 }\n" APPLY("a", "when from Feb 3"),
                "a", DAYS("2027-03-01"));
    assert_days("season 2028-02-01 to 2028-11-20\n"
                "lawn green { zone north area 100 m2 }\nproduct meal { grade 10-0-0 granular }\n"
                "limits { nothing from Feb 29 to Mar 4 }\n" APPLY("a", "when from Feb 29"),
                "a", DAYS("2028-03-05"));
}

/* ---- the order of a day ---- */

static void assert_ranks(const char *plan, const char *const *names)
{
    struct season_text read;
    season_text_read(&read, plan);
    for (size_t i = 0; names[i]; i++) {
        const struct occurrence *occurrence = season_text_find(&read, names[i], 1);
        assert_int_equal(occurrence->day_rank, i);
        assert_ptr_equal(read.season->calendar[i], occurrence);
    }
    season_text_free(&read);
}

static void test_order_of_a_day(void **state)
{
    assert_ranks(GROUND TASK("a", "") TASK("b", "") TASK("c", ""), DAYS("a", "b", "c"));
    assert_ranks(GROUND TASK("a", "when same day after c") TASK("b", "when on Mar 1") TASK("c", ""),
                 DAYS("b", "c", "a"));
    assert_ranks(GROUND TASK("a", "when within 2 days after b") TASK("b", ""), DAYS("b", "a"));
    assert_ranks(GROUND TASK("a", "when same day after b") TASK("b", "when same day after a"),
                 DAYS("a", "b"));
    assert_ranks(GROUND "done b 2027-03-01\n" TASK("a", "when same day after b") TASK("b", ""),
                 DAYS("b", "a"));
}

/* ---- records ---- */

static void test_record_moves_what_follows(void **state)
{
#define PAIR TASK("x", "when between Apr 10 and Apr 20")
    assert_days(GROUND PAIR TASK("t", "when at least 7 days after x") "done x 2027-05-02\n", "t",
                DAYS("2027-05-09"));
    assert_days(GROUND PAIR TASK("t", "when same day after x") "done x 2027-05-02\n", "t",
                DAYS("2027-05-02"));
    assert_days(GROUND PAIR TASK("t", "when 3 days before x") "done t 2027-04-09\n", "x", DAYS("2027-04-12"));
    assert_days(GROUND PAIR TASK("t", "when 3 days after x") "done t 2027-04-01\n", "t", DAYS("2027-04-01"));
#undef PAIR
}

/* What was done does not hold back what was to come before it. */
static void test_record_before_its_time(void **state)
{
    const char *plan =
        GROUND TASK("x", "when between Apr 10 and Apr 20") TASK("t", "when after x") "done t 2027-04-01\n";
    assert_days(plan, "x", DAYS("2027-04-10"));
    assert_days(GROUND TASK("x", "when between Apr 10 and Apr 20")
                    TASK("t", "when same day after x") "done t 2027-04-01\n",
                "x", DAYS("2027-04-10"));
}

static void test_records_of_several(void **state)
{
#define THRICE APPLY("a", "when every 30 days from Apr 1, 3 times")
    assert_days(GROUND THRICE "done a 2027-04-05\n", "a", DAYS("2027-04-05", "2027-05-05", "2027-06-04"));
    assert_days(GROUND THRICE "done a 2027-05-07\ndone a 2027-04-05\n", "a",
                DAYS("2027-04-05", "2027-05-07", "2027-06-06"));
    assert_days(GROUND THRICE "done a 2027-05-07 { time 2 }\n", "a",
                DAYS("2027-04-01", "2027-05-07", "2027-06-06"));
    assert_days(GROUND THRICE "skipped a 2\n", "a", DAYS("2027-04-01", "none", "2027-05-31"));
    assert_days(GROUND THRICE "done a 2027-04-05\nskipped a\n", "a",
                DAYS("2027-04-05", "none", "2027-05-31"));
    assert_days(GROUND THRICE "done a 2027-08-05\n", "a", DAYS("2027-08-05", "2027-09-04", "2027-10-04"));
#undef THRICE
    assert_days(GROUND APPLY("a", "when every 1 month from Apr 1, 2 times") "done a 2027-05-20\n", "a",
                DAYS("2027-05-20", "2027-06-20"));
}

static void test_skipped(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND TASK("x", "when on May 1") TASK("t", "when 3 days after x")
                                TASK("u", "when every 10 days from Apr 1, 3 times")
                                    TASK("v", "when after u") "skipped x \"rain\"\nskipped u 3\n");
    const struct occurrence *t = season_text_find(&read, "t", 1), *x = season_text_find(&read, "x", 1);
    assert_false(x->dated);
    assert_true(x->skipped);
    assert_int_equal(x->planned, text_day("2027-05-01"));
    assert_ptr_equal(read.season->moot[t->index], &t->treatment->whens.items[0]);
    assert_int_equal(t->planned, text_day("2027-05-04"));
    assert_day(&read, "t", 1, "2027-03-01");
    assert_null(read.season->moot[season_text_find(&read, "v", 1)->index]);
    assert_day(&read, "v", 1, "2027-04-12");
    assert_true(read.season->dated);
    assert_int_equal(read.season->calendar_count, 4);
    season_text_free(&read);
}

static void test_done_outside_everything(void **state)
{
    struct season_text read;
    season_text_read(&read,
                     GROUND "limits { only on Sat }\n" APPLY("a", "when on Apr 1") "done a 2026-01-05\n");
    const struct occurrence *a = season_text_find(&read, "a", 1);
    assert_day(&read, "a", 1, "2026-01-05");
    assert_int_equal(a->latest_by_dates, a->day);
    assert_int_equal(a->planned, a->day); /* Apr 1 is a Thursday: the plan alone has no day */
    season_text_free(&read);
}

/* ---- what cannot be dated ---- */

static void test_only_the_part_at_fault(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND TASK("a", "when on Apr 10") TASK("b", "when after a\n when by Apr 9")
                                TASK("c", "when on May 1") TASK("d", "when after c")
                                    TASK("e", "when after d\n when by May 2") TASK("f", "when on Jun 1")
                                        TASK("g", "when after b"));
    assert_day(&read, "a", 1, "none");
    assert_day(&read, "b", 1, "none");
    assert_day(&read, "g", 1, "none");
    assert_day(&read, "e", 1, "none");
    assert_day(&read, "f", 1, "2027-06-01");
    assert_false(read.season->dated);
    assert_int_equal(read.season->calendar_count, 1);
    assert_int_equal(read.season->timetable.contradiction_count, 2);
    season_text_free(&read);
}

/* More contradictions than the timetable names: the sound part is dated all the same. */
static void test_many_faults(void **state)
{
    struct season_text read;
    season_text_read(
        &read,
        GROUND TASK("a", "when from Apr 2\n when by Apr 1") TASK("b", "when from Apr 2\n when by Apr 1")
            TASK("c", "when from Apr 2\n when by Apr 1") TASK("d", "when from Apr 2\n when by Apr 1")
                TASK("e", "when from Apr 2\n when by Apr 1") TASK("f", "when on Apr 3")
                    TASK("g", "when 2 days after f\n when from Apr 6") "done f 2027-04-10\n");
    assert_true(read.season->timetable.more);
    assert_day(&read, "d", 1, "none");
    assert_day(&read, "e", 1, "none");
    assert_day(&read, "f", 1, "2027-04-10");
    assert_day(&read, "g", 1, "2027-04-12");
    assert_int_equal(season_text_find(&read, "g", 1)->latest_by_dates, text_day("2027-04-12"));
    season_text_free(&read);
}

static void test_faulty_statements_are_left_out(void **state)
{
    struct season_text read;
    season_text_read_faulty(&read, GROUND TASK("a", "when on Apr 99") TASK("b", "when after a")
                                       TASK("c", "when on May 1"));
    assert_true(read.reports.errors > 0);
    assert_day(&read, "a", 1, "none");
    assert_day(&read, "b", 1, "2027-03-01");
    assert_day(&read, "c", 1, "2027-05-01");
    season_text_free(&read);
    season_text_read_faulty(&read, "task a { when on 2027-04-01 }\ndone a 2027-04-02\n");
    assert_day(&read, "a", 1, "none");
    assert_false(read.season->dated);
    season_text_free(&read);
    season_text_read_faulty(&read, "");
    assert_int_equal(read.season->calendar_count, 0);
    season_text_free(&read);
}

static void test_too_many_times(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND TASK("a", "when every 1 day from Apr 1, 9 times")
                                TASK("b", "when every 1 day from Apr 1, 3 times") TASK("c", ""));
    read.model->treatments.items[0]->whens.items[0].times = OCCURRENCE_LIMIT - 3;
    read.season = season_build(read.model, true);
    assert_ptr_equal(read.season->crowded, read.model->treatments.items[1]);
    assert_int_equal(season_text_find(&read, "b", 1)->times, 1);
    assert_int_equal(read.season->occurrences.count, OCCURRENCE_LIMIT - 1);
    season_text_free(&read);
}

/* Dates are found by one way of reading a limit's days, and checked by another. */
static void test_days_of_a_limit(void **state)
{
    (void)state;
    const day_number begin = day_of_date((struct civil_date){2027, 1, 1});
    const day_number end = day_of_date((struct civil_date){2028, 12, 31});
    struct civil_date edges[36];
    for (int i = 0; i < 36; i++) {
        int month = i / 3 + 1, last = days_in_month(2028, month);
        edges[i] = (struct civil_date){.month = month, .day = i % 3 == 0 ? 1 : i % 3 == 1 ? last - 1 : last};
    }
    for (int first = 0; first < 36; first++)
        for (int last = 0; last < 36; last++) {
            struct limit limit = {.closed_first = edges[first], .closed_last = edges[last]};
            for (day_number day = begin; day <= end; day++)
                assert_true(limit_window_holds(&limit, day) == dose_window_holds(&limit, day));
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_days_of_a_limit),
        cmocka_unit_test(test_windows),
        cmocka_unit_test(test_season),
        cmocka_unit_test(test_relations),
        cmocka_unit_test(test_relations_to_several),
        cmocka_unit_test(test_every),
        cmocka_unit_test(test_every_on_weekdays),
        cmocka_unit_test(test_slips),
        cmocka_unit_test(test_closed),
        cmocka_unit_test(test_leap_day),
        cmocka_unit_test(test_order_of_a_day),
        cmocka_unit_test(test_record_moves_what_follows),
        cmocka_unit_test(test_record_before_its_time),
        cmocka_unit_test(test_records_of_several),
        cmocka_unit_test(test_skipped),
        cmocka_unit_test(test_done_outside_everything),
        cmocka_unit_test(test_only_the_part_at_fault),
        cmocka_unit_test(test_many_faults),
        cmocka_unit_test(test_faulty_statements_are_left_out),
        cmocka_unit_test(test_too_many_times),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
