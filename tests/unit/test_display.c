/* Expected texts from hand arithmetic with the exact factors: 1 lb = 0.45359237 kg, 1000 sqft = 92.90304 m2,
 * 1 gal = 3.785411784 L, 1 ft = 0.3048 m. */
#include "compiler/model/tolerance.h"
#include "compiler/model/display.h"
#include "tests/unit/one_arena.h"

static const struct model us = {.metric = false};
static const struct model metric = {.metric = true};

#define LB 0.45359237
#define KSQFT 92.90304
#define GAL 0.003785411784

static void test_rates(void **state)
{
    assert_string_equal(display_rate(&arena, &us, 0.75 * LB / KSQFT), "0.75 lb per 1000 sqft");
    assert_string_equal(display_rate(&arena, &metric, 0.75 * LB / KSQFT), "3.662 g per m2");
    assert_string_equal(display_product_rate(&arena, &us, 3 * GAL / 128 / KSQFT, true),
                        "3 fl oz per 1000 sqft");
    assert_string_equal(display_product_rate(&arena, &metric, 3 * GAL / 128 / KSQFT, true),
                        "0.955 mL per m2");
    assert_string_equal(display_of(&arena, &us, QUANTITY_MASS_RATE, 0.9 * LB / KSQFT, "N"),
                        "0.9 lb N per 1000 sqft");
    assert_string_equal(display_of(&arena, &us, QUANTITY_WATER_RATE, GAL / KSQFT, NULL),
                        "1 gal per 1000 sqft");
    assert_string_equal(display_of(&arena, &metric, QUANTITY_WATER_RATE, GAL / KSQFT, NULL),
                        "4.075 L per 100 m2");
    assert_string_equal(display_rate(&arena, &us, 0), "0 lb per 1000 sqft");
}

/* 1 acre = 43560 sqft = 4046.8564224 m2; 1 ha = 10000 m2. */
static void test_fields(void **state)
{
    static const struct model acres = {.ground = PER_FIELD}, hectares = {.metric = true, .ground = PER_FIELD};
    const double acre = 43.56 * KSQFT;
    assert_string_equal(display_rate(&arena, &acres, 3 * LB / KSQFT), "130.7 lb per acre"); /* 3 x 43.56 */
    assert_string_equal(display_rate(&arena, &hectares, 0.03), "300 kg per ha");
    assert_string_equal(display_of(&arena, &hectares, QUANTITY_MASS_RATE, 0.0045, "N"), "45 kg N per ha");
    assert_string_equal(display_product_rate(&arena, &acres, GAL / 2 / acre, true), "64 fl oz per acre");
    assert_string_equal(display_product_rate(&arena, &hectares, 2e-3 / 1e4, true), "2 L per ha");
    assert_string_equal(display_of(&arena, &acres, QUANTITY_WATER_RATE, GAL / KSQFT, NULL),
                        "43.56 gal per acre");
    assert_string_equal(display_of(&arena, &hectares, QUANTITY_WATER_RATE, 4e-5, NULL), "400 L per ha");
    assert_string_equal(display_area(&arena, &acres, 2.5 * acre), "2.5 acres");
    assert_string_equal(display_area(&arena, &acres, acre), "1 acre");
    assert_string_equal(display_area(&arena, &hectares, 12345), "1.234 ha"); /* a half, in binary below */
    assert_string_equal(display_amount(&arena, &acres, 12.944 * LB, false), "12.94 lb");
}

static void test_amounts(void **state)
{
    assert_string_equal(display_amount(&arena, &us, 12.944 * LB, false), "12.94 lb");
    assert_string_equal(display_amount(&arena, &us, 1.5 * GAL, true), "1.5 gal");
    assert_string_equal(display_amount(&arena, &us, GAL, true), "1 gal");
    assert_string_equal(display_amount(&arena, &us, 10.94 / 128 * GAL, true), "10.94 fl oz");
    assert_string_equal(display_amount(&arena, &metric, 12.5, false), "12.5 kg");
    assert_string_equal(display_amount(&arena, &metric, 0.25, false), "250 g");
    assert_string_equal(display_amount(&arena, &metric, 0.1 * 10 * 0.001, true), "1 L");
    assert_string_equal(display_amount(&arena, &metric, 0.00025, true), "250 mL");
    assert_string_equal(display_of(&arena, &us, QUANTITY_MASS, 2 * LB, "of starter"), "2 lb of starter");
}

static void test_other_quantities(void **state)
{
    assert_string_equal(display_area(&arena, &us, 850 * KSQFT / 1000), "850 sqft");
    assert_string_equal(display_area(&arena, &metric, 224.49), "224.5 m2");
    assert_string_equal(display_length(&arena, &us, 3.048), "10 ft");
    assert_string_equal(display_length(&arena, &metric, 3.048), "3.048 m");
    assert_string_equal(display_depth(&arena, &us, 0.00635), "0.25 in");
    assert_string_equal(display_depth(&arena, &metric, 0.00635), "6.35 mm");
    assert_string_equal(display_of(&arena, &us, QUANTITY_TEMPERATURE, 302.59444444444444, NULL), "85 F");
    assert_string_equal(display_of(&arena, &metric, QUANTITY_TEMPERATURE, 272.15, NULL), "-1 C");
    assert_string_equal(display_of(&arena, &us, QUANTITY_DENSITY, 10.6 * LB / GAL, NULL), "10.6 lb per gal");
    assert_string_equal(display_of(&arena, &metric, QUANTITY_DENSITY, 1270, NULL), "1.27 kg per L");
    assert_string_equal(display_share(&arena, 0.3), "30%");
    assert_string_equal(display_days(&arena, 1), "1 day");
    assert_string_equal(display_days(&arena, 28), "28 days");
    assert_string_equal(display_hours(&arena, 1800), "30 min");
    assert_string_equal(display_hours(&arena, 14400), "4 h");
    assert_string_equal(display_hours(&arena, 86400), "1 day");
    assert_string_equal(display_date(&arena, 20925), "Sat 2027-04-17"); /* date -d @$((20925 * 86400)) */
    assert_string_equal(display_dates(&arena, 20925, 20926), "Sat 2027-04-17 to Sun 2027-04-18");
}

/* What is more must read as more. */
static void test_pair_tells_apart(void **state)
{
    struct display_pair pair =
        display_pair(&arena, &us, QUANTITY_MASS_RATE, 0.90004 * LB / KSQFT, 0.9 * LB / KSQFT, "N");
    assert_string_equal(pair.value, "0.90004 lb N per 1000 sqft");
    assert_string_equal(pair.bound, "0.9 lb N per 1000 sqft");
    pair = display_pair(&arena, &us, QUANTITY_MASS_RATE, 5.9996 * LB / KSQFT, 5.99951 * LB / KSQFT, NULL);
    assert_string_equal(pair.value, "5.9996 lb per 1000 sqft");
    assert_string_equal(pair.bound, "5.99951 lb per 1000 sqft");
    pair = display_pair(&arena, &us, QUANTITY_VOLUME, 1.25 * GAL, 0.5 * GAL, NULL);
    assert_string_equal(pair.value, "1.25 gal");
    assert_string_equal(pair.bound, "0.5 gal"); /* in the greater one's unit */
    pair = display_share_pair(&arena, 0.19999, 0.2);
    assert_string_equal(pair.value, "19.999%");
    assert_string_equal(pair.bound, "20%");
}

/* A bound reads as it was stated, however far from it the value lies; 28 kg of 7% are 1960 g of N. */
static void test_pair_leaves_the_bound_alone(void **state)
{
    struct display_pair pair = display_pair(&arena, &metric, QUANTITY_MASS_RATE, 1.96, 0.0045, "N");
    assert_string_equal(pair.value, "1960 g N per m2");
    assert_string_equal(pair.bound, "4.5 g N per m2");
    pair = display_pair(&arena, &us, QUANTITY_MASS_RATE, 1234.4 * LB / KSQFT, 1234.2 * LB / KSQFT, NULL);
    assert_string_equal(pair.value, "1234.4 lb per 1000 sqft");
    assert_string_equal(pair.bound, "1234.2 lb per 1000 sqft");
    /* a bound stated in another system: 4.5 g per m2 are 0.9216726... lb per 1000 sqft (0.0045 x 92.90304 /
     * 0.45359237) */
    pair = display_pair(&arena, &us, QUANTITY_MASS_RATE, 401.4, 0.0045, "N");
    assert_string_equal(pair.bound, "0.9217 lb N per 1000 sqft");
    pair = display_pair(&arena, &us, QUANTITY_MASS_RATE, 0.004500001, 0.0045, "N");
    assert_string_equal(pair.value, "0.9216729 lb N per 1000 sqft");
    assert_string_equal(pair.bound, "0.9216726 lb N per 1000 sqft");
    pair = display_pair(&arena, &metric, QUANTITY_TEMPERATURE, 272.15, 272.2, NULL);
    assert_string_equal(pair.value, "-1 C");
    assert_string_equal(pair.bound, "-0.95 C");
    pair = display_share_pair(&arena, 0.9, 0.125);
    assert_string_equal(pair.value, "90%");
    assert_string_equal(pair.bound, "12.5%");
}

/* Kept to the last digit: no digits are made up to tell apart what is the same. */
static void test_pair_of_equals(void **state)
{
    double limit = 0.9 / 0.14 * LB / KSQFT; /* 6.428571... lb */
    struct display_pair pair = display_pair(&arena, &us, QUANTITY_MASS_RATE, limit, limit, NULL);
    assert_string_equal(pair.value, "6.429 lb per 1000 sqft");
    assert_string_equal(pair.bound, "6.429 lb per 1000 sqft");
}

static void test_rounding_keeps_the_side(void **state)
{
    double limit = 0.9 / 0.14 * LB / KSQFT; /* 6.428571... lb */
    assert_string_equal(display_rounded(&arena, &us, QUANTITY_MASS_RATE, limit, number_floor, NULL),
                        "6.428 lb per 1000 sqft");
    assert_string_equal(display_rounded(&arena, &us, QUANTITY_MASS_RATE, limit, number_ceiling, NULL),
                        "6.429 lb per 1000 sqft");
    assert_string_equal(
        display_rounded(&arena, &us, QUANTITY_MASS_RATE, 0.9 * LB / KSQFT, number_floor, NULL),
        "0.9 lb per 1000 sqft");
}

static void test_numbers_for_tables(void **state)
{
    assert_string_equal(display_number(&arena, &us, QUANTITY_MASS, 2.5 * LB), "2.5");
    assert_string_equal(display_unit(&arena, &us, QUANTITY_MASS, 2.5 * LB), "lb");
    assert_string_equal(display_unit(&arena, &us, QUANTITY_MASS_RATE, 1), "lb per 1000 sqft");
}

static void test_exceeds(void **state)
{
    assert_true(exceeds(0.9004, 0.9));
    assert_false(exceeds(0.9, 0.9));
    assert_false(exceeds(0.3, 0.1 + 0.2));
    assert_false(exceeds(0.1 + 0.2, 0.3)); /* 0.30000000000000004 */
    assert_true(exceeds(1e-12, 0));
    assert_false(exceeds(0, 0));
    assert_false(exceeds(NAN, 1));
    assert_false(exceeds(1, NAN));
    assert_false(exceeds(5, INFINITY));
    assert_true(exceeds(INFINITY, 5));
    assert_true(exceeds(-1, -2));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_rates),
        TEST(test_fields),
        TEST(test_amounts),
        TEST(test_other_quantities),
        TEST(test_pair_tells_apart),
        TEST(test_pair_leaves_the_bound_alone),
        TEST(test_pair_of_equals),
        TEST(test_rounding_keeps_the_side),
        TEST(test_numbers_for_tables),
        TEST(test_exceeds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
