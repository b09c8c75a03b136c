/* Kinds of treatment among each other: waits one way only, bounds, orders; and what all rules together make
 * of what was done. Days of 2027. */
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
    "product quick-meal { grade 10-0-0 granular\n label at least 7 days apart }\n"

#define LIMIT(text) "limits { " text " }\n"
#define WAIT_N LIMIT("at least 28 days between N applications")
#define FEED(name, when) APPLY(name, "meal", when)
#define APPLY(name, product, when)                                                                           \
    "apply " name " {\n to north\n rate 2 kg per 100 m2 of " product "\n " when "\n}\n"
#define WORK(name, kind, when) "task " name " {\n to north\n kind " kind "\n " when "\n}\n"

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

/* A wait after sowing says nothing of what is sown later. */
static void test_one_way(void **state)
{
#define AFTER_SEED LIMIT("at least 30 days from seed to N")
    assert_days(GROUND AFTER_SEED WORK("a", "seed", "when from Apr 1") FEED("b", "when from Apr 10"),
                DAYS("2027-04-01", "2027-05-01"));
    assert_days(GROUND AFTER_SEED WORK("a", "seed", "when from Apr 1") FEED("b", "when from Mar 10"),
                DAYS("2027-04-01", "2027-03-10"));
    assert_days(GROUND LIMIT("at least 30 days between seed and N") WORK("a", "seed", "when from Apr 1")
                    FEED("b", "when from Mar 10"),
                DAYS("2027-04-09", "2027-03-10"));
    /* no order stated, one first day: by the text, and the order chosen is kept */
    assert_days(GROUND AFTER_SEED FEED("a", "when from Apr 1") WORK("b", "seed", "when from Apr 1"),
                DAYS("2027-04-01", "2027-04-02"));
    assert_days(GROUND AFTER_SEED WORK("a", "seed", "when from Apr 1") FEED("b", "when from Apr 1"),
                DAYS("2027-04-01", "2027-05-01"));
    /* after watering, by the hour: 36 h are 2 days */
    assert_days(GROUND LIMIT("at least 36 h from water to N") WORK("a", "water", "when on Apr 9")
                    FEED("b", "when between Apr 9 and Apr 30"),
                DAYS("2027-04-09", "2027-04-11"));
#undef AFTER_SEED
}

/* What was done of the second kind lets the first come behind it at once. */
static void test_one_way_after_records(void **state)
{
#define PLAN                                                                                                 \
    GROUND LIMIT("at least 30 days from seed to N") WORK("a", "seed", "when from Apr 1")                     \
        FEED("b", "when from May 20")
    assert_days(PLAN "done b 2027-03-31\n", DAYS("2027-04-01", "2027-03-31"));
    assert_days(PLAN "done b 2027-04-05\n", DAYS("2027-04-06", "2027-04-05"));
    assert_days(PLAN "done b 2027-05-05\n", DAYS("2027-04-01", "2027-05-05"));
    assert_days(PLAN "done a 2027-05-05\n", DAYS("2027-05-05", "2027-06-04"));
#undef PLAN
}

static void test_at_most(void **state)
{
#define SOON LIMIT("within 3 days from aerate to topdress")
    /* the first moves up to the second */
    assert_days(GROUND SOON WORK("a", "aerate", "when between Apr 10 and Apr 30")
                    WORK("b", "topdress", "when from Apr 20"),
                DAYS("2027-04-17", "2027-04-20"));
    assert_days(GROUND SOON WORK("a", "aerate", "when between Apr 10 and Apr 16")
                    WORK("b", "topdress", "when from Apr 20"),
                DAYS("none", "none"));
    /* the last before it counts */
    assert_days(GROUND SOON WORK("a", "aerate", "when on Apr 1")
                    WORK("b", "aerate", "when between Apr 10 and Apr 30")
                        WORK("c", "topdress", "when from Apr 20"),
                DAYS("2027-04-01", "2027-04-17", "2027-04-20"));
    /* what comes before any is not bound, and stays before it */
    assert_days(GROUND SOON WORK("a", "topdress", "when from Mar 20") WORK("b", "aerate", "when from Apr 10"),
                DAYS("2027-03-20", "2027-04-10"));
    assert_days(GROUND SOON WORK("a", "topdress", "when from Mar 20\n when at least 40 days after c")
                    WORK("b", "aerate", "when between Apr 10 and May 30") WORK("c", "other", "when on Apr 1"),
                DAYS("2027-05-11", "2027-05-08", "2027-04-01"));
    /* what was done binds what follows it; what fitted before it follows where an order says so */
    assert_days(GROUND SOON WORK("a", "aerate", "when from Apr 10")
                    WORK("b", "topdress", "when from Apr 20\n when by May 1") "done a 2027-04-14\n",
                DAYS("2027-04-14", "none"));
    assert_days(GROUND SOON WORK("a", "aerate", "when from Apr 10")
                    WORK("b", "topdress", "when from Apr 15") "done a 2027-04-14\n",
                DAYS("2027-04-14", "2027-04-15"));
    assert_days(GROUND SOON LIMIT("order aerate, topdress") WORK("a", "aerate", "when from Apr 10")
                    WORK("b", "topdress", "when from Apr 11") "done a 2027-04-14\n",
                DAYS("2027-04-14", "2027-04-14"));
#undef SOON
}

/* Of kinds in an order, those that share a day are done in it. */
static void test_kinds_in_order(void **state)
{
    struct season_text read;
#define ORDER LIMIT("order aerate, topdress, N")
    season_text_read(&read, GROUND ORDER FEED("a", "when from Mar 5") WORK("b", "topdress", "when from Apr 1")
                                WORK("c", "aerate", "when on Apr 10"));
    assert_day(&read, "a", 1, "2027-04-10");
    assert_day(&read, "b", 1, "2027-04-10");
    assert_int_equal(season_text_find(&read, "c", 1)->day_rank, 0);
    assert_int_equal(season_text_find(&read, "b", 1)->day_rank, 1);
    assert_int_equal(season_text_find(&read, "a", 1)->day_rank, 2);
    season_text_free(&read);
    /* on each zone for itself */
    assert_days(GROUND LIMIT("order aerate, N")
                    FEED("a", "when from Mar 5") "task b {\n to south\n kind aerate\n when on Apr 10\n}\n",
                DAYS("2027-03-05", "2027-04-10"));
    /* it counts before the order that waits choose */
    assert_days(GROUND LIMIT("order seed, N") LIMIT("at least 30 days between seed and N")
                    FEED("a", "when from Mar 5") WORK("b", "seed", "when from Apr 1"),
                DAYS("2027-05-01", "2027-04-01"));
    /* what is of both kinds is of the first */
    assert_days(GROUND LIMIT("order lime, N") "product both { grade 5-0-0 granular\n kind lime }\n" FEED(
                    "a", "when from Mar 5") APPLY("b", "both", "when on Apr 1")
                    APPLY("c", "chalk", "when on Apr 9"),
                DAYS("2027-04-09", "2027-04-01", "2027-04-09"));
#undef ORDER
}

/* What was done in between holds back neither what was to come before it, nor lets that pass what follows. */
static void test_order_and_records(void **state)
{
#define PLAN                                                                                                 \
    GROUND LIMIT("order aerate, topdress, N") WORK("a", "aerate", "when from Apr 10")                        \
        WORK("b", "topdress", "when from Apr 10") FEED("c", "when from Mar 5")
    assert_days(PLAN "done b 2027-04-05\n", DAYS("2027-04-10", "2027-04-05", "2027-04-10"));
    assert_days(PLAN "done c 2027-04-05\n", DAYS("2027-04-10", "2027-04-10", "2027-04-05"));
    assert_days(PLAN "done a 2027-05-05\n", DAYS("2027-05-05", "2027-05-05", "2027-05-05"));
#undef PLAN
}

/* Rules of different length must not put one treatment on both sides of a record. */
static void test_rules_agree_about_records(void **state)
{
#define TWO(when, day)                                                                                       \
    GROUND WAIT_N APPLY("a", "quick-meal", when) APPLY("b", "quick-meal", "when from Sep 1") "done b " day   \
                                                                                             "\n"
    assert_days(TWO("when from Apr 10", "2027-04-20"), DAYS("2027-05-18", "2027-04-20"));
    assert_days(TWO("when from Apr 10", "2027-05-07"), DAYS("2027-06-04", "2027-05-07"));
    assert_days(TWO("when from Apr 10", "2027-05-08"), DAYS("2027-04-10", "2027-05-08"));
#undef TWO
}

/* Behind one record it no longer fits before the next. */
static void test_records_one_after_the_other(void **state)
{
#define THREE(second)                                                                                        \
    GROUND WAIT_N FEED("a", "when from Apr 1") FEED("b", "when from Sep 1")                                  \
        FEED("c", "when from Oct 1") "done b 2027-04-10\ndone c " second "\n"
    assert_days(THREE("2027-04-30"), DAYS("2027-05-28", "2027-04-10", "2027-04-30"));
    assert_days(THREE("2027-06-04"), DAYS("2027-07-02", "2027-04-10", "2027-06-04"));
    assert_days(THREE("2027-06-05"), DAYS("2027-05-08", "2027-04-10", "2027-06-05"));
#undef THREE
}

/* A day that is given stays where it is, beside a record whose other waits reach further. */
static void test_pinned_beside_a_record(void **state)
{
    assert_days(GROUND WAIT_N LIMIT("at least 1 day between mow and N") WORK("a", "mow", "when on Apr 16")
                    FEED("b", "when from Apr 10") "done b 2027-04-17\n",
                DAYS("2027-04-16", "2027-04-17"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_way),
        cmocka_unit_test(test_one_way_after_records),
        cmocka_unit_test(test_at_most),
        cmocka_unit_test(test_kinds_in_order),
        cmocka_unit_test(test_order_and_records),
        cmocka_unit_test(test_rules_agree_about_records),
        cmocka_unit_test(test_records_one_after_the_other),
        cmocka_unit_test(test_pinned_beside_a_record),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
