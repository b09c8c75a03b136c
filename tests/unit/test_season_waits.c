/* Waits between applications: labels and limits, the orders chosen, what counts as one application. Days of
 * 2027. */
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define GROUND                                                                                               \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "lawn green { zone north area 100 m2\n zone south area 100 m2 }\n"                                       \
    "product meal { grade 10-0-0 granular }\n"                                                               \
    "product chalk { contains Ca 30%\n kind lime }\n"                                                        \
    "product slow-meal { grade 10-0-0 granular\n label at least 40 days apart }\n"

#define WAIT_N "limits { at least 28 days between N applications }\n"
#define APPLY(name, zone, product, when)                                                                     \
    "apply " name " {\n to " zone "\n rate 2 kg per 100 m2 of " product "\n " when "\n}\n"
#define FEED(name, when) APPLY(name, "north", "meal", when)
#define LIME(name, when) APPLY(name, "north", "chalk", when)
#define TASK(name, when) "task " name " { " when " }\n"

/* Treatments a, b, c, ... fall on these days. */
static void assert_days(const char *plan, const char *const *days)
{
    struct season_text read;
    season_text_read(&read, plan);
    for (size_t i = 0; days[i]; i++)
        assert_day(&read, ((const char[]){(char)('a' + i), '\0'}), 1, days[i]);
    season_text_free(&read);
}

#define DAYS(...) ((const char *const[]){__VA_ARGS__, NULL})

static void test_order(void **state)
{
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 10") FEED("b", "when from Apr 1"),
                DAYS("2027-04-29", "2027-04-01"));
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when from Apr 1"),
                DAYS("2027-04-01", "2027-04-29"));
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when from Apr 1")
                    FEED("c", "when from Apr 2"),
                DAYS("2027-04-01", "2027-04-29", "2027-05-27"));
}

/* An order that is stated counts before that of the text, also where both could come on one day. */
static void test_stated_order(void **state)
{
    assert_days(GROUND WAIT_N FEED("a", "when within 60 days after b") FEED("b", "when from Apr 1"),
                DAYS("2027-04-29", "2027-04-01"));
    assert_days(GROUND WAIT_N FEED("a", "when after b") FEED("b", "when from Apr 1"),
                DAYS("2027-04-29", "2027-04-01"));
}

static void test_zones(void **state)
{
    assert_days(GROUND WAIT_N FEED("a", "") APPLY("b", "south", "meal", ""),
                DAYS("2027-03-01", "2027-03-01"));
    assert_days(GROUND WAIT_N FEED("a", "") APPLY("b", "green", "meal", ""),
                DAYS("2027-03-01", "2027-03-29"));
    assert_days(GROUND "limits { for south\n at least 28 days between N applications }\n" FEED("a", "")
                    APPLY("b", "green", "meal", ""),
                DAYS("2027-03-01", "2027-03-01"));
    assert_days(GROUND "limits bylaw { at least 28 days between N applications }\n" FEED("a", "")
                    FEED("b", ""),
                DAYS("2027-03-01", "2027-03-01"));
}

static void test_label(void **state)
{
    assert_days(GROUND APPLY("a", "north", "slow-meal", "") APPLY("b", "north", "slow-meal", "")
                    FEED("c", ""),
                DAYS("2027-03-01", "2027-04-10", "2027-03-01"));
    assert_days(GROUND WAIT_N APPLY("a", "north", "slow-meal", "") APPLY("b", "north", "slow-meal", "")
                    FEED("c", ""),
                DAYS("2027-03-01", "2027-04-10", "2027-05-08"));
}

static void test_between(void **state)
{
#define LIME_AND_N "limits { at least 14 days between lime and N }\n"
    assert_days(GROUND LIME_AND_N LIME("a", "") FEED("b", "") FEED("c", ""),
                DAYS("2027-03-01", "2027-03-15", "2027-03-15"));
    assert_days(GROUND LIME_AND_N FEED("a", "when from Mar 1") FEED("b", "when from Mar 9")
                    LIME("c", "when from Mar 9"),
                DAYS("2027-03-01", "2027-03-09", "2027-03-23"));
    assert_days(GROUND LIME_AND_N LIME("a", "") LIME("b", "") FEED("c", "when from Mar 2"),
                DAYS("2027-03-01", "2027-03-01", "2027-03-15"));
    /* b is bound to the first lime although a second one comes between. */
    assert_days(GROUND LIME_AND_N LIME("a", "when from Mar 10") LIME("b", "when from Mar 2")
                    FEED("c", "when from Mar 11"),
                DAYS("2027-03-10", "2027-03-02", "2027-03-24"));
    assert_days(GROUND "limits { at least 14 days between lime and lime }\n" LIME("a", "") LIME("b", "")
                    FEED("c", ""),
                DAYS("2027-03-01", "2027-03-15", "2027-03-01"));
#undef LIME_AND_N
}

/* Work has kinds; where it names no zone it concerns them all. */
static void test_work(void **state)
{
#define SOW_AND_N "limits { at least 14 days between sow and N }\n"
    assert_days(GROUND SOW_AND_N FEED("a", "") TASK("b", "kind sow"), DAYS("2027-03-01", "2027-03-15"));
    assert_days(GROUND SOW_AND_N FEED("a", "") TASK("b", "to north\n kind sow"),
                DAYS("2027-03-01", "2027-03-15"));
    assert_days(GROUND SOW_AND_N FEED("a", "") TASK("b", "to south\n kind sow"),
                DAYS("2027-03-01", "2027-03-01"));
    assert_days(GROUND SOW_AND_N FEED("a", "") TASK("b", "kind mow"), DAYS("2027-03-01", "2027-03-01"));
#undef SOW_AND_N
}

static void test_one_application(void **state)
{
    assert_days(GROUND WAIT_N FEED("a", "") FEED("b", "when same day after a"),
                DAYS("2027-03-01", "2027-03-01"));
    assert_days(GROUND WAIT_N FEED("a", "when on Apr 1") FEED("b", "when on Apr 1"),
                DAYS("2027-04-01", "2027-04-01"));
    assert_days(GROUND WAIT_N FEED("a", "when on Apr 1") FEED("b", "when on Apr 1")
                    FEED("c", "when from Apr 1"),
                DAYS("2027-04-01", "2027-04-01", "2027-04-29"));
    /* What can be on no other day goes first, wherever it stands. */
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when on Apr 1"),
                DAYS("2027-04-29", "2027-04-01"));
    /* Three on one day with another between them in the text. */
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when from Apr 1")
                    FEED("c", "when same day after a"),
                DAYS("2027-04-01", "2027-04-29", "2027-04-01"));
}

static void test_records(void **state)
{
    /* b came early: a waits for it. */
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 10")
                    FEED("b", "when from Jun 1") "done b 2027-05-01\n",
                DAYS("2027-05-29", "2027-05-01"));
    /* a still fits before it. */
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when from Jun 1") "done b 2027-05-01\n",
                DAYS("2027-04-01", "2027-05-01"));
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 3") FEED("b", "when from Jun 1") "done b 2027-05-01\n",
                DAYS("2027-04-03", "2027-05-01"));
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 4") FEED("b", "when from Jun 1") "done b 2027-05-01\n",
                DAYS("2027-05-29", "2027-05-01"));
    /* Facts too near each other contradict nothing. */
    assert_days(GROUND WAIT_N FEED("a", "") FEED("b", "")
                    FEED("c", "") "done a 2027-05-01\ndone b 2027-05-03\n",
                DAYS("2027-05-01", "2027-05-03", "2027-03-01"));
    /* What was really used counts: chalk brings no N. */
    assert_days(GROUND WAIT_N FEED("a", "")
                    FEED("b", "") "done a 2027-03-05 { used 1 kg of chalk on north }\n",
                DAYS("2027-03-05", "2027-03-01"));
    assert_days(GROUND WAIT_N FEED("a", "") FEED("b", "") "skipped a\n", DAYS("none", "2027-03-01"));
}

/* c belongs to the application of Apr 1, which has been: that b came too soon after it is for a check to say.
 */
static void test_part_of_what_was_done(void **state)
{
    assert_days(GROUND WAIT_N FEED("a", "") FEED("b", "")
                    FEED("c", "when same day after a") "done a 2027-04-01\ndone b 2027-04-08\n",
                DAYS("2027-04-01", "2027-04-08", "2027-04-01"));
}

/* Of several facts of one class the latest counts for what comes after, the earliest for what comes before.
 */
static void test_several_facts(void **state)
{
    const char *plan = GROUND "limits { at least 14 days between lime and N }\n" LIME("a", "") LIME("b", "")
        FEED("c", "when from Apr 5") LIME("d", "") LIME("e", "") "done a 2027-04-01\ndone b 2027-04-08\n"
                                                                 "done d 2027-05-20\ndone e 2027-05-10\n";
    struct season_text read;
    season_text_read(&read, plan);
    assert_day(&read, "c", 1, "2027-04-22");
    assert_int_equal(season_text_find(&read, "c", 1)->latest_by_dates, text_day("2027-04-26"));
    season_text_free(&read);
}

/* ---- contradictions ---- */

static void test_chosen_order_is_named(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND WAIT_N FEED("a", "when between Apr 1 and Apr 30")
                                FEED("b", "when between Apr 5 and Apr 10"));
    const struct conflict *conflict = &read.season->conflicts[0];
    assert_int_equal(read.season->timetable.contradiction_count, 1);
    assert_int_equal(conflict->orders.count, 1);
    assert_int_equal(conflict->orders.items[0]->first, season_text_find(&read, "a", 1)->index);
    assert_int_equal(conflict->orders.items[0]->second, season_text_find(&read, "b", 1)->index);
    assert_int_equal(conflict->orders.items[0]->zone, season_text_zone(&read, "north")->index);
    season_text_free(&read);
}

static void test_stated_order_is_not(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND WAIT_N FEED("a", "when between Apr 1 and Apr 30") TASK("c", "when after a")
                                FEED("b", "when between Apr 5 and Apr 10\n when after c"));
    assert_int_equal(read.season->timetable.contradiction_count, 1);
    assert_int_equal(read.season->conflicts[0].orders.count, 0);
    season_text_free(&read);
}

/* The steps of the argument: a from Apr 1, 28 days, b until Apr 10. */
static void test_steps(void **state)
{
    struct season_text read;
    season_text_read(&read,
                     GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when between Apr 5 and Apr 10"));
    const struct season *season = read.season;
    const struct timetable_contradiction *contradiction = season->conflicts[0].contradiction;
    assert_int_equal(contradiction->step_count, 3);
    const struct timetable_step *steps = contradiction->steps;
    assert_int_equal(season_bound(season, steps[0].cause)->kind, BOUND_WHEN);
    assert_ptr_equal(season_bound(season, steps[0].cause)->when,
                     &season_text_find(&read, "a", 1)->treatment->whens.items[0]);
    assert_null(season_wait(season, &steps[0]));
    assert_int_equal(season_bound(season, steps[1].cause)->kind, BOUND_LIMIT_WAIT);
    const struct wait *wait = season_wait(season, &steps[1]);
    assert_non_null(wait);
    assert_int_equal(wait->first, season_text_find(&read, "a", 1)->index);
    assert_int_equal(wait->second, season_text_find(&read, "b", 1)->index);
    assert_int_equal(steps[1].after, text_day("2027-04-29"));
    assert_int_equal(season_bound(season, steps[2].cause)->kind, BOUND_WHEN);
    season_text_free(&read);
}

/* The law is not named where a wish and the label suffice; eased by 19 days, b's window holds. */
static void test_ranks_and_easing(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND
                     "follow law\nlimits law { basis law\n at least 60 days between N applications }\n" APPLY(
                         "a", "north", "slow-meal", "when on Apr 1")
                         APPLY("b", "north", "slow-meal", "when between Apr 5 and Apr 10"));
    const struct season *season = read.season;
    const struct timetable_contradiction *contradiction = season->conflicts[0].contradiction;
    int32_t days = 0;
    assert_int_equal(contradiction->step_count, 3);
    assert_int_equal(season_bound(season, contradiction->steps[1].cause)->kind, BOUND_LABEL_WAIT);
    assert_true(timetable_ease(&read.arena, &season->question, &season->timetable, 0,
                               &contradiction->steps[2], &days));
    assert_int_equal(contradiction->steps[2].kind, TIMETABLE_NOT_AFTER);
    assert_int_equal(days, 51); /* the law's 60 days end on May 31 */
    season_text_free(&read);
}

static void test_closed_days_are_named(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND "limits { only on Sat }\n" FEED("a", "when between Apr 5 and Apr 9"));
    const struct timetable_contradiction *contradiction = read.season->conflicts[0].contradiction;
    bool weekdays = false;
    for (uint32_t i = 0; i < contradiction->cause_count; i++)
        weekdays |= season_bound(read.season, contradiction->causes[i])->kind == BOUND_WEEKDAYS;
    assert_true(weekdays);
    season_text_free(&read);
}

/* What has no day by its own statements keeps nobody waiting. */
static void test_no_wait_for_what_has_no_day(void **state)
{
    assert_days(GROUND WAIT_N FEED("a", "when from Apr 2\n when by Apr 1") FEED("b", "") FEED("c", ""),
                DAYS("none", "2027-03-01", "2027-03-29"));
}

/* ---- many ---- */

/* 40 limings and then 40 feeds: more pairs than are set apart one by one, and still each feed after each
 * lime. */
static void test_many_of_two_classes(void **state)
{
    struct season_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer plan = {.arena = &arena};
    buffer_add_string(&plan, GROUND "limits { at least 14 days between lime and N }\n");
    for (int i = 0; i < 40; i++)
        buffer_format(&plan, "apply l%d {\n to north\n rate 1 kg per 100 m2 of chalk\n when from Mar %d\n}\n",
                      i, 1 + i * 7 % 30);
    for (int i = 0; i < 40; i++)
        buffer_format(&plan, "apply n%d {\n to north\n rate 1 kg per 100 m2 of meal\n when from Apr 1\n}\n",
                      i);
    season_text_read(&read, buffer_string(&plan));
    for (int i = 0; i < 40; i++) {
        assert_day(&read, text_format(&arena, "n%d", i), 1, "2027-04-13");
        assert_int_equal(season_text_find(&read, text_format(&arena, "l%d", i), 1)->day,
                         text_day("2027-03-01") + i * 7 % 30);
    }
    assert_true(read.season->edges.count < 100);
    season_text_free(&read);
    arena_free(&arena);
}

/* Two treatments that meet in both zones wait once. */
static void test_edges_are_not_repeated(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND WAIT_N APPLY("a", "green", "meal", "") APPLY("b", "green", "meal", ""));
    assert_int_equal(read.season->edges.count, 1);
    assert_int_equal(read.season->waits[0].zone, season_text_zone(&read, "north")->index);
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_order),
        cmocka_unit_test(test_stated_order),
        cmocka_unit_test(test_zones),
        cmocka_unit_test(test_label),
        cmocka_unit_test(test_between),
        cmocka_unit_test(test_work),
        cmocka_unit_test(test_one_application),
        cmocka_unit_test(test_records),
        cmocka_unit_test(test_part_of_what_was_done),
        cmocka_unit_test(test_several_facts),
        cmocka_unit_test(test_chosen_order_is_named),
        cmocka_unit_test(test_stated_order_is_not),
        cmocka_unit_test(test_steps),
        cmocka_unit_test(test_ranks_and_easing),
        cmocka_unit_test(test_closed_days_are_named),
        cmocka_unit_test(test_no_wait_for_what_has_no_day),
        cmocka_unit_test(test_many_of_two_classes),
        cmocka_unit_test(test_edges_are_not_repeated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
