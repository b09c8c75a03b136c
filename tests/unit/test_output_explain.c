/* `prill explain` on a plan in text. The figures are those worked out by hand for the
 * reading green: areas by school geometry, rates and amounts by rule of three, P2O5 by atomic weights
 * (0.4364), the minimum levels for Mehlich-3 (21 ppm P, 37 ppm K). */
#include "compiler/result/result.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static const char PLAN[] = /* line numbers matter below */
    "plan \"Wrenfield reading green\"\n"
    "season 2027-03-01 to 2027-11-20\n"
    "lawn green {\n"
    "    grass tall-fescue\n"
    "    zone north rectangle 62 ft by 40 ft, less circle 9 ft across\n"
    "    zone strip offsets every 10 ft: 8 ft, 9.5 ft, 11 ft, 10 ft, 7 ft\n"
    "    zone bank area 640 sqft, 12 ft from water\n"
    "}\n"
    "soil-test 2027-02-12 {\n"
    "    of north, strip\n"
    "    method mehlich-3\n"
    "    scale minimum-levels\n"
    "    results {\n"
    "        spot pH P ppm K ppm Fe ppm\n"
    "        gate 6.4 11 44 31\n"
    "        oak 6.3 13 40 28\n"
    "        bench 6.5 12 47 none\n"
    "    }\n"
    "}\n"
    "product starter {\n"
    "    grade 14-20-10 granular\n"
    "    slow 30% of N\n"
    "    label 2 to 6 lb per 1000 sqft, at least 42 days apart\n"
    "}\n"
    "limits {\n"
    "    at most 0.9 lb N per 1000 sqft per application\n"
    "    at least 28 days between N applications\n"
    "    no P2O5 without soil-test need\n"
    "    only on Sat, Sun\n"
    "    nothing within 10 ft of water\n"
    "}\n"
    "apply spring-feed {\n"
    "    to north, strip\n"
    "    when between Apr 8 and Apr 30\n"
    "    supply 0.75 lb N per 1000 sqft from starter\n"
    "}\n"
    "apply next-feed {\n"
    "    to strip\n"
    "    rate 4 lb per 1000 sqft of starter\n"
    "    when from Apr 12\n"
    "}\n";

static struct season_text read;

static int plan_setup(void **state)
{
    season_text_read(&read, PLAN);
    *state = &read;
    return 0;
}

static int plan_teardown(void **state)
{
    season_text_free(&read);
    return 0;
}

/* What is told, on one line: how lines break is tested elsewhere. */
static const char *unbroken(const struct buffer *out)
{
    struct buffer line = {.arena = &read.arena};
    for (size_t i = 0; i < out->length; i++)
        if (out->string[i] != ' ' && out->string[i] != '\n')
            buffer_add(&line, (struct text){out->string + i, 1});
        else if (line.length && line.string[line.length - 1] != ' ')
            buffer_add_string(&line, " ");
    return buffer_string(&line);
}

static bool explain(struct buffer *out, const struct season_text *of, const char *name)
{
    struct result_input input = {.season = of->season, .reports = &of->reports, .subject = name};
    return result_print(out, result_find("explain"), "text", &input);
}

static const char *explained(const char *name)
{
    struct buffer out = {.arena = &read.arena};
    assert_true(explain(&out, &read, name));
    return unbroken(&out);
}

static void expect_told(const char *told, const char *part)
{
    if (!strstr(told, part))
        fail_msg("not told: %s\nin: %s", part, told);
}

static void test_zone(void **state)
{
    const char *told = explained("north");
    expect_told(told, "Zone north of the lawn green (line 5) Area 2416 sqft:");
    expect_told(told, "`rectangle 62 ft by 40 ft`, line 5, length x width: 62 ft, 40 ft = 2480 sqft");
    expect_told(told, "less `circle 9 ft across`, line 5, pi / 4 x (width across)^2: 9 ft = 63.62 sqft");
    expect_told(told, "2480 sqft - 63.62 sqft = 2416 sqft");
    expect_told(told, "P: mean of 3 spots, 12 ppm; below the minimum by `minimum P 21 ppm");
    expect_told(told,
                "Sat 2027-04-10, spring-feed: 0.75 lb N (0.525 lb soluble), 1.071 lb P2O5, 0.5357 lb K2O per "
                "1000 sqft");
    expect_told(explained("strip"), ": 10 ft x (8 ft / 2 + 9.5 ft + 11 ft + 10 ft + 7 ft / 2) = 380 sqft");
    expect_told(explained("bank"), "12 ft from water (line 7). No application this season.");
}

static void test_product(void **state)
{
    const char *told = explained("starter");
    expect_told(told, "Product starter, granular (line 20)");
    expect_told(told, "N 14% (line 21)");
    expect_told(told, "slow N 4.2% of the product, 30% of its N (line 22); soluble N 14% - 4.2% = 9.8%");
    expect_told(told, "P2O5 20% (line 21); x 0.4364 by atomic weights = 8.729% of the element");
    expect_told(told, "Label: 2 to 6 lb per 1000 sqft (line 23) at least 42 days apart (line 23)");
    expect_told(told, "Used in spring-feed: `supply 0.75 lb N per 1000 sqft from starter`, line 35.");
}

/* 2027-04-05 is a Monday. Without the weekdays Apr 6 would do, without the holiday of Apr 10 that Saturday;
 * the holiday of Apr 5 takes nothing that the weekdays leave. */
static void test_day_by_several_sets(void **state)
{
    struct season_text several;
    season_text_read(&several, "plan \"Wrenfield\"\n"
                               "season 2027-03-01 to 2027-11-20\n"
                               "lawn green { zone north area 1000 sqft }\n"
                               "product feed { grade 10-0-0 granular }\n"
                               "limits { only on Sat, Sun }\n"
                               "limits { nothing on Apr 5 }\n"
                               "limits { nothing on Apr 10 }\n"
                               "apply spring {\n"
                               "to north\n"
                               "rate 4 lb per 1000 sqft of feed\n"
                               "when between Apr 5 and Apr 30\n"
                               "}\n");
    struct buffer out = {.arena = &read.arena};
    assert_true(explain(&out, &several, "spring"));
    const char *told = unbroken(&out);
    expect_told(told, "spring: Sun 2027-04-11 ");
    expect_told(told, "only on days allowed by `only on Sat, Sun`, line 5 (decides)");
    expect_told(told, "only on days allowed by `nothing on Apr 5`, line 6 ");
    expect_told(told, "only on days allowed by `nothing on Apr 10`, line 7 (decides)");
    assert_null(strstr(told, "line 6 (decides)"));
    season_text_free(&several);
}

/* Apr 8 is a Thursday; the first Saturday or Sunday is Apr 10. */
static void test_day_by_closed_days(void **state)
{
    const char *told = explained("spring-feed");
    expect_told(told, "spring-feed: Sat 2027-04-10 The first day that meets all of these:");
    expect_told(told, "not before Mon 2027-03-01: `season 2027-03-01 to 2027-11-20`, line 2 the");
    expect_told(told, "not before Thu 2027-04-08: `when between Apr 8 and Apr 30`, line 34 (decides)");
    expect_told(told, "the first open day from Thu 2027-04-08 is Sat 2027-04-10: `only on Sat, Sun`, line 29 "
                      "(decides)");
    expect_told(told, "not after Fri 2027-04-30: `when between Apr 8 and Apr 30`, line 34");
}

/* Apr 10 and 42 days: May 22, a Saturday; the limit's 28 days and the plan's Apr 12 come earlier. */
static void test_day_by_waits(void **state)
{
    const char *told = explained("next-feed");
    expect_told(told, "next-feed: Sat 2027-05-22");
    expect_told(told, "not before Mon 2027-04-12: `when from Apr 12`, line 40 not");
    expect_told(
        told, "not before Sat 2027-05-08: 28 days after spring-feed (Sat 2027-04-10) on strip, by `at least "
              "28 days between N applications`, line 27 not");
    expect_told(
        told, "not before Sat 2027-05-22: 42 days after spring-feed (Sat 2027-04-10) on strip, by `at least "
              "42 days apart`, line 23 (decides)");
}

static void test_rate_and_amounts(void **state)
{
    const char *told = explained("spring-feed");
    expect_told(told,
                "rate = supply / share of N in starter = 0.75 lb N per 1000 sqft / 14% (line 21) = 5.357 lb "
                "per 1000 sqft");
    expect_told(told, "north: rate x area = 5.357 lb per 1000 sqft x 2416 sqft = 12.94 lb; to measure out: "
                      "12.9 lb");
    expect_told(told, "strip: rate x area = 5.357 lb per 1000 sqft x 380 sqft = 2.035 lb; to measure out: "
                      "2.03 lb");
    expect_told(told, "K2O: 5.357 lb per 1000 sqft x 10% (line 21) = 0.5357 lb K2O per 1000 sqft");
}

static void test_limits(void **state)
{
    const char *told = explained("spring-feed");
    expect_told(
        told, "`at most 0.9 lb N per 1000 sqft per application`, line 26: 0.75 lb N per 1000 sqft on north, "
              "0.15 lb per 1000 sqft left");
    expect_told(
        told,
        "`no P2O5 without soil-test need`, line 28: on north, strip, a need shown by `minimum P 21 ppm");
    expect_told(told, "label `2 to 6 lb per 1000 sqft`, line 23: 5.357 lb per 1000 sqft of starter on north");
}

/* Apr 17 and 28 days are May 15, and 42 days May 29; strip was done again on May 1. */
static void test_when_more_may_follow(void **state)
{
    struct season_text planned = read, done;
    struct buffer plan = {.arena = &planned.arena};
    buffer_format(&plan, "%s%s", PLAN,
                  "done spring-feed 2027-04-17 { used 13 lb of starter on north, 2 lb on strip }\n"
                  "done next-feed 2027-05-01 { used 2 lb of starter on strip }\n");
    season_text_read(&done, buffer_string(&plan));
    read = done; /* what explained() looks at */
    const char *told = explained("spring-feed");
    expect_told(told,
                "What the records so far use up: no more N on north before Sat 2027-05-15: `at least 28 "
                "days between N applications`, line 27 no more starter on north before Sat 2027-05-29: "
                "`at least 42 days apart`, line 23");
    expect_told(explained("next-feed"),
                "no more starter on strip before Sat 2027-06-12: `at least 42 days apart`");
    season_text_free(&read);
    read = planned;
    if (strstr(explained("spring-feed"), "What the records so far"))
        fail_msg("told of what is only planned");
}

static void test_lawn_and_nutrient(void **state)
{
    const char *told = explained("green");
    expect_told(told,
                "north 2416 sqft (line 5) strip 380 sqft (line 6) bank 640 sqft (line 7) total 3436 sqft");
    told = explained("P2O5");
    expect_told(told, "43.64% of P2O5 is the element");
    expect_told(told, "bank: 0 lb P2O5 per 1000 sqft Product starter: 20% (line 21).");
    expect_told(told, "Limit: `no P2O5 without soil-test need`, line 28.");
}

static void test_unknown_name(void **state)
{
    struct buffer out = {.arena = &read.arena};
    assert_false(explain(&out, &read, "nosuch"));
    assert_int_equal(out.length, 0);
    assert_false(explain(&out, &read, ""));
}

int main(void)
{
#define TEST_OF(name) cmocka_unit_test_setup_teardown(name, plan_setup, plan_teardown)
    const struct CMUnitTest tests[] = {
        TEST_OF(test_zone),
        TEST_OF(test_product),
        TEST_OF(test_day_by_closed_days),
        TEST_OF(test_day_by_several_sets),
        TEST_OF(test_day_by_waits),
        TEST_OF(test_rate_and_amounts),
        TEST_OF(test_limits),
        TEST_OF(test_when_more_may_follow),
        TEST_OF(test_lawn_and_nutrient),
        TEST_OF(test_unknown_name),
    };
    return cmocka_run_group_tests_name("output_explain", tests, NULL, NULL);
}
