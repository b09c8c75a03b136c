/* The first year of a small lawn, from feed to second look: its days and amounts, computed by hand. */
#include "compiler/check/slip.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define LB 0.45359237
#define SQFT 0.09290304
#define PER_1000_SQFT (LB / (1000 * SQFT))

#define PLAN                                                                                                 \
    "plan \"Wrenfield reading green\"\n"                                                                     \
    "edition 1 on 2027-02-20\n"                                                                              \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "units us\n"                                                                                             \
    "lawn reading-green {\n"                                                                                 \
    "    grass tall-fescue\n"                                                                                \
    "    soil loam\n"                                                                                        \
    "    zone north rectangle 62 ft by 40 ft, less circle 9 ft across\n"                                     \
    "    zone south triangle 50 ft by 34 ft\n"                                                               \
    "    zone strip offsets every 10 ft: 8 ft, 9.5 ft, 11 ft, 10 ft, 7 ft\n"                                 \
    "    zone bank area 640 sqft, 12 ft from water\n"                                                        \
    "}\n"                                                                                                    \
    "soil-test 2027-02-12 {\n"                                                                               \
    "    of north, south, strip\n"                                                                           \
    "    method mehlich-3\n"                                                                                 \
    "    depth 4 in\n"                                                                                       \
    "    scale minimum-levels\n"                                                                             \
    "    results {\n"                                                                                        \
    "        spot pH P ppm K ppm Mg ppm Fe ppm Zn ppm\n"                                                     \
    "        gate 6.4 11 44 52 31 0.9\n"                                                                     \
    "        oak 6.3 13 40 49 28 0.8\n"                                                                      \
    "        bench 6.5 12 47 55 35 1.1\n"                                                                    \
    "    }\n"                                                                                                \
    "}\n"                                                                                                    \
    "product starter {\n"                                                                                    \
    "    grade 14-20-10 granular\n"                                                                          \
    "    slow 30% of N\n"                                                                                    \
    "    contains S 4%\n"                                                                                    \
    "    label 2 to 6 lb per 1000 sqft, at least 42 days apart, at most 3 a year\n"                          \
    "}\n"                                                                                                    \
    "product seaweed {\n"                                                                                    \
    "    grade 6-0-0 liquid, 10.6 lb per gal\n"                                                              \
    "    contains Fe 5%, Mg 1%, Mn 0.5%\n"                                                                   \
    "    label 2 to 4 fl oz per 1000 sqft in 1 to 2 gal of water, at least 21 days apart\n"                  \
    "}\n"                                                                                                    \
    "limits {\n"                                                                                             \
    "    at least 28 days between N applications\n"                                                          \
    "    no N, P2O5 from Nov 16 to Mar 1\n"                                                                  \
    "    only on Sat, Sun\n"                                                                                 \
    "}\n"                                                                                                    \
    "apply spring-feed {\n"                                                                                  \
    "    to north, south, strip\n"                                                                           \
    "    when between Apr 10 and Apr 30\n"                                                                   \
    "    supply 0.75 lb N per 1000 sqft from starter\n"                                                      \
    "}\n"                                                                                                    \
    "apply tonic {\n"                                                                                        \
    "    to north, south, strip\n"                                                                           \
    "    when same day after spring-feed\n"                                                                  \
    "    rate 3 fl oz per 1000 sqft of seaweed\n"                                                            \
    "}\n"                                                                                                    \
    "apply fall-feed {\n"                                                                                    \
    "    to north, south, strip\n"                                                                           \
    "    when every 6 weeks from Sep 4, 2 times\n"                                                           \
    "    rate 4 lb per 1000 sqft of starter\n"                                                               \
    "}\n"                                                                                                    \
    "task open-day { when on May 22 }\n"                                                                     \
    "task topdress {\n"                                                                                      \
    "    to north\n"                                                                                         \
    "    when at least 7 days after open-day\n"                                                              \
    "    lay 0.25 in of 60% compost, 40% sand\n"                                                             \
    "}\n"                                                                                                    \
    "task second-look { when 30 days after spring-feed }\n"

#define RECORD                                                                                               \
    "done spring-feed 2027-04-17 {\n"                                                                        \
    "    used 13.1 lb of starter on north, 4.6 lb on south, 2.0 lb on strip\n"                               \
    "}\n"

static int setup(void **state)
{
    static struct season_text read;
    season_text_read(&read, PLAN RECORD);
    *state = &read;
    return 0;
}

static int teardown(void **state)
{
    season_text_free(*state);
    return 0;
}

static void test_days(void **state)
{
    struct season_text *read = *state;
    assert_true(read->season->dated);
    assert_day(read, "spring-feed", 1, "2027-04-17");
    assert_day(read, "tonic", 1, "2027-04-17");
    assert_day(read, "second-look", 1, "2027-05-17");
    assert_day(read, "fall-feed", 1, "2027-09-04");
    assert_day(read, "fall-feed", 2, "2027-10-16");
    assert_day(read, "open-day", 1, "2027-05-22");
    assert_day(read, "topdress", 1, "2027-05-29");
    assert_int_equal(read->season->calendar_count, 7);
}

static void test_planned(void **state)
{
    struct season_text *read = *state;
    assert_int_equal(season_text_find(read, "spring-feed", 1)->planned, text_day("2027-04-10"));
    assert_int_equal(season_text_find(read, "tonic", 1)->planned, text_day("2027-04-10"));
    assert_int_equal(season_text_find(read, "second-look", 1)->planned, text_day("2027-05-10"));
    assert_int_equal(season_text_find(read, "fall-feed", 2)->planned, text_day("2027-10-16"));
    assert_true(season_text_find(read, "spring-feed", 1)->done);
    assert_false(season_text_find(read, "tonic", 1)->done);
}

static void test_without_record(void **state)
{
    struct season_text read;
    season_text_read(&read, PLAN);
    assert_day(&read, "spring-feed", 1, "2027-04-10");
    assert_day(&read, "tonic", 1, "2027-04-10");
    assert_day(&read, "second-look", 1, "2027-05-10");
    season_text_free(&read);
}

/* spring-feed can slip to the last weekend day of its window, Sun Apr 25, when tonic and the second look move
 * along; alone it cannot, for the second look lies exactly 30 days after it. The second fall-feed ends with
 * the last weekend before Nov 16; 42 days before that the first one ends, itself a Sunday. */
static void test_slips(void **state)
{
    struct season_text read;
    season_text_read(&read, PLAN);
    slips_find(read.season);
    const struct occurrence *spring = season_text_find(&read, "spring-feed", 1);
    assert_int_equal(spring->slip->latest, text_day("2027-04-25"));
    assert_int_equal(spring->slip->alone, spring->day);
    assert_int_equal(season_text_find(&read, "fall-feed", 1)->slip->latest, text_day("2027-10-03"));
    assert_int_equal(season_text_find(&read, "fall-feed", 1)->slip->alone, text_day("2027-09-04"));
    assert_int_equal(season_text_find(&read, "fall-feed", 2)->slip->latest, text_day("2027-11-14"));
    assert_int_equal(season_text_find(&read, "fall-feed", 2)->slip->alone, text_day("2027-11-14"));
    assert_int_equal(season_text_find(&read, "open-day", 1)->slip->latest, text_day("2027-05-22"));
    assert_int_equal(season_text_find(&read, "topdress", 1)->slip->latest, text_day("2027-11-20"));
    season_text_free(&read);
}

static void test_order_of_the_day(void **state)
{
    struct season_text *read = *state;
    assert_int_equal(season_text_find(read, "spring-feed", 1)->day_rank, 0);
    assert_int_equal(season_text_find(read, "tonic", 1)->day_rank, 1);
    assert_ptr_equal(read->season->calendar[0], season_text_find(read, "spring-feed", 1));
    assert_ptr_equal(read->season->calendar[1], season_text_find(read, "tonic", 1));
    assert_ptr_equal(read->season->calendar[6], season_text_find(read, "fall-feed", 2));
}

static void test_planned_amounts(void **state)
{
    struct season_text read;
    season_text_read(&read, PLAN);
    const struct amount *north = season_text_amount(&read, "spring-feed", 1, "starter", "north");
    assert_near(north->zone->area_m2 / SQFT, 2416.4, 1e-5);
    assert_near(north->rate / PER_1000_SQFT, 0.75 / 0.14, 1e-12);
    assert_near(north->total / LB, 12.945, 1e-4);
    assert_near(season_text_amount(&read, "spring-feed", 1, "starter", "south")->total / LB, 4.5536, 1e-4);
    assert_near(season_text_amount(&read, "spring-feed", 1, "starter", "strip")->total / LB, 2.0357, 1e-4);
    assert_near(north->supplied[NUTRIENT_N] / PER_1000_SQFT, 0.75, 1e-12);
    assert_near(north->supplied[NUTRIENT_SOLUBLE_N] / PER_1000_SQFT, 0.525, 1e-12);
    assert_near(north->supplied[NUTRIENT_S] / PER_1000_SQFT, 0.04 * 0.75 / 0.14, 1e-12);
    assert_near(supplied_as(north->supplied, nutrient_find(TEXT("P2O5"))) / PER_1000_SQFT, 1.0714286, 1e-7);
    assert_near(supplied_as(north->supplied, nutrient_find(TEXT("K2O"))) / PER_1000_SQFT, 0.5357143, 1e-7);
    assert_false(north->recorded);
    season_text_free(&read);
}

/* 13.1 lb on 2416.4 sq ft are 5.4213 lb per 1000 sq ft, of which 14 % are 0.75899 lb N. Three fl oz of the
 * seaweed weigh 3/128 gal x 10.6 lb per gal = 0.24844 lb; 6 % of it are N. */
static void test_recorded_amounts(void **state)
{
    struct season_text *read = *state;
    const struct amount *north = season_text_amount(read, "spring-feed", 1, "starter", "north");
    assert_true(north->recorded);
    assert_near(north->total / LB, 13.1, 1e-12);
    assert_near(north->rate / PER_1000_SQFT, 5.4213, 1e-5);
    const struct application *first =
        &read->season->ledgers[season_text_zone(read, "north")->index].applications.items[0];
    assert_int_equal(first->day, text_day("2027-04-17"));
    assert_int_equal(first->amounts.count, 2);
    assert_near(first->supplied[NUTRIENT_N] / PER_1000_SQFT, 0.75899 + 0.06 * 0.24844, 2e-5);
    assert_near(first->supplied[NUTRIENT_FE] / PER_1000_SQFT, 0.05 * 0.24844, 2e-5);
    const struct amount *fall = season_text_amount(read, "fall-feed", 2, "starter", "strip");
    assert_near(fall->supplied[NUTRIENT_N] / PER_1000_SQFT, 0.56, 1e-12);
}

/* Iron on all three zones: 3 fl oz on 3646.4 sq ft are 10.94 fl oz. */
static void test_liquid(void **state)
{
    struct season_text *read = *state;
    const double fl_oz = 0.003785411784 / 128;
    double sum = 0;
    const char *const zones[] = {"north", "south", "strip"};
    for (size_t i = 0; i < 3; i++)
        sum += season_text_amount(read, "tonic", 1, "seaweed", zones[i])->total;
    assert_near(sum / fl_oz, 10.939, 1e-4);
    assert_true(season_text_amount(read, "tonic", 1, "seaweed", "north")->volume);
}

/* The season's N on north: 0.759 recorded, 0.015 of the seaweed, 0.56 twice: 1.894 lb per 1000 sq ft. */
static void test_ledger(void **state)
{
    struct season_text *read = *state;
    const struct ledger *north = &read->season->ledgers[season_text_zone(read, "north")->index];
    const struct ledger *bank = &read->season->ledgers[season_text_zone(read, "bank")->index];
    double sum = 0;
    assert_int_equal(north->applications.count, 3);
    for (size_t i = 0; i < north->applications.count; i++)
        sum += north->applications.items[i].supplied[NUTRIENT_N];
    assert_near(sum / PER_1000_SQFT, 1.8939, 2e-5);
    assert_int_equal(bank->applications.count, 0);
}

/* P: 11, 13, 12 ppm are 12 in the mean, below 21; K: 44, 40, 47 are 43.67, above 37. */
static void test_soil(void **state)
{
    struct season_text *read = *state;
    struct soil_reading reading;
    assert_true(
        soil_reading_on(read->season, season_text_zone(read, "strip"), NUTRIENT_P, INT32_MAX, &reading));
    assert_near(reading.mean, 12e-6, 1e-12);
    assert_near(reading.lowest, 11e-6, 1e-12);
    assert_near(reading.highest, 13e-6, 1e-12);
    assert_int_equal(reading.spots, 3);
    assert_int_equal(reading.need, NEED_LOW);
    assert_false(reading.disagree);
    assert_true(
        soil_reading_on(read->season, season_text_zone(read, "north"), NUTRIENT_K, INT32_MAX, &reading));
    assert_near(reading.mean, 131e-6 / 3, 1e-12);
    assert_int_equal(reading.need, NEED_NONE);
    assert_false(
        soil_reading_on(read->season, season_text_zone(read, "bank"), NUTRIENT_P, INT32_MAX, &reading));
    assert_false(
        soil_reading_on(read->season, season_text_zone(read, "north"), NUTRIENT_CU, INT32_MAX, &reading));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_days),
        cmocka_unit_test(test_planned),
        cmocka_unit_test(test_without_record),
        cmocka_unit_test(test_slips),
        cmocka_unit_test(test_order_of_the_day),
        cmocka_unit_test(test_planned_amounts),
        cmocka_unit_test(test_recorded_amounts),
        cmocka_unit_test(test_liquid),
        cmocka_unit_test(test_ledger),
        cmocka_unit_test(test_soil),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
