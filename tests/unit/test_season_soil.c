/* What soil tests say: means, classes and minimum levels, which test counts. */
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define GROUND                                                                                               \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "lawn green { zone north area 100 m2\n zone south area 50 m2 }\n"                                        \
    "source bench { title \"A made-up table\"\n status from-memory }\n"                                      \
    "scale classes {\n"                                                                                      \
    "    method mehlich-3\n"                                                                                 \
    "    spread 50%\n"                                                                                       \
    "    class high P 46 to 71 ppm from bench\n"                                                             \
    "    class low P 0 to 24 ppm from bench\n"                                                               \
    "    class medium P 25 to 45 ppm from bench\n"                                                           \
    "    minimum K 37 ppm from bench\n"                                                                      \
    "    class low Mg 0 to 50 ppm from bench\n"                                                              \
    "    class very-high Mg above 50 ppm from bench\n"                                                       \
    "    enough at medium\n"                                                                                 \
    "}\n"

#define TEST(day, head, rows)                                                                                \
    "soil-test " day " {\n of north\n method mehlich-3\n scale classes\n results {\n spot " head "\n" rows   \
    "\n }\n}\n"

static struct soil_reading reading_of(struct season_text *read, const char *plan, enum nutrient nutrient)
{
    struct soil_reading reading;
    season_text_read(read, plan);
    assert_true(
        soil_reading_on(read->season, season_text_zone(read, "north"), nutrient, INT32_MAX, &reading));
    return reading;
}

static void assert_class(const char *value, const char *class, enum need need)
{
    struct season_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    const char *plan = text_format(&arena, "%s%s%s%s", GROUND,
                                   "soil-test 2027-02-01 {\n of north\n method mehlich-3\n"
                                   " scale classes\n results {\n spot P ppm\n a ",
                                   value, "\n }\n}\n");
    struct soil_reading reading = reading_of(&read, plan, NUTRIENT_P);
    assert_int_equal(reading.need, need);
    if (class)
        assert_true(text_is(reading.level->name->text, class));
    else
        assert_null(reading.level);
    season_text_free(&read);
    arena_free(&arena);
}

/* Both ends belong to a class; a gap between two belongs to the lower one; above the last there is none. */
static void test_classes(void **state)
{
    assert_class("0", "low", NEED_LOW);
    assert_class("24", "low", NEED_LOW);
    assert_class("24.5", "low", NEED_LOW);
    assert_class("25", "medium", NEED_NONE);
    assert_class("45", "medium", NEED_NONE);
    assert_class("46", "high", NEED_NONE);
    assert_class("71", "high", NEED_NONE);
    assert_class("71.1", NULL, NEED_UNKNOWN);
}

/* 37.0 as a mean of 36, 37 and 38 is not below 37, whatever the last bit of the sum. */
static void test_minimum(void **state)
{
    struct season_text read;
    struct soil_reading reading =
        reading_of(&read, GROUND TEST("2027-02-01", "K ppm", "a 36\n b 37\n c 38"), NUTRIENT_K);
    assert_int_equal(reading.need, NEED_NONE);
    assert_true(reading.level->minimum);
    assert_int_equal(reading.spots, 3);
    season_text_free(&read);
    reading = reading_of(&read, GROUND TEST("2027-02-01", "K ppm", "a 36\n b 37\n c 37"), NUTRIENT_K);
    assert_int_equal(reading.need, NEED_LOW);
    season_text_free(&read);
}

/* K2O is 83.01 % K: 44 ppm K2O are 36.5 ppm K, below 37. */
static void test_oxide(void **state)
{
    struct season_text read;
    struct soil_reading reading = reading_of(&read, GROUND TEST("2027-02-01", "K2O ppm", "a 44"), NUTRIENT_K);
    assert_near(reading.mean, 44e-6, 1e-12);
    assert_string_equal(reading.nutrient->name, "K2O");
    assert_int_equal(reading.need, NEED_LOW);
    season_text_free(&read);
    reading = reading_of(&read, GROUND TEST("2027-02-01", "K2O ppm", "a 45"), NUTRIENT_K);
    assert_int_equal(reading.need, NEED_NONE);
    season_text_free(&read);
}

/* The class that is enough for P has no part in Mg, which has no such class: its need stays unknown. */
static void test_no_enough(void **state)
{
    struct season_text read;
    struct soil_reading reading =
        reading_of(&read, GROUND TEST("2027-02-01", "Mg ppm", "a 900"), NUTRIENT_MG);
    assert_true(text_is(reading.level->name->text, "very-high"));
    assert_int_equal(reading.need, NEED_UNKNOWN);
    season_text_free(&read);
}

static void test_spots(void **state)
{
    struct season_text read;
    struct soil_reading reading =
        reading_of(&read, GROUND TEST("2027-02-01", "P ppm", "a < 6\n b 12\n c none\n d 18"), NUTRIENT_P);
    assert_near(reading.mean, 12e-6, 1e-12);
    assert_near(reading.lowest, 6e-6, 1e-12);
    assert_near(reading.highest, 18e-6, 1e-12);
    assert_int_equal(reading.spots, 3);
    assert_int_equal(reading.below_detection, 1);
    assert_false(reading.disagree); /* 50 % from the mean, no more */
    season_text_free(&read);
    reading = reading_of(&read, GROUND TEST("2027-02-01", "P ppm", "a 5\n b 12\n c 19"), NUTRIENT_P);
    assert_true(reading.disagree);
    season_text_free(&read);
}

static void test_method(void **state)
{
    struct season_text read;
    struct soil_reading reading = reading_of(&read,
                                             GROUND "soil-test 2027-02-01 {\n of north\n method olsen\n "
                                                    "scale classes\n results {\n spot P ppm\n a 5\n }\n}\n",
                                             NUTRIENT_P);
    assert_null(reading.level);
    assert_int_equal(reading.need, NEED_UNKNOWN);
    assert_near(reading.mean, 5e-6, 1e-12);
    season_text_free(&read);
    reading = reading_of(
        &read,
        GROUND "soil-test 2027-02-01 {\n of north\n method mehlich-3\n results {\n spot P ppm\n a 5\n }\n}\n",
        NUTRIENT_P);
    assert_null(reading.level);
    season_text_free(&read);
}

/* The newest test that holds the nutrient, wherever it stands; another nutrient may come from an older one.
 */
static void test_newest(void **state)
{
    struct season_text read;
    const char *plan = GROUND TEST("2027-02-01", "P ppm", "a 30") TEST("2026-02-01", "P ppm K ppm", "a 10 20")
        TEST("2025-02-01", "P ppm K ppm", "a 11 21");
    struct soil_reading reading = reading_of(&read, plan, NUTRIENT_P);
    assert_near(reading.mean, 30e-6, 1e-12);
    assert_int_equal(reading.test->day, text_day("2027-02-01"));
    assert_true(
        soil_reading_on(read.season, season_text_zone(&read, "north"), NUTRIENT_K, INT32_MAX, &reading));
    assert_near(reading.mean, 20e-6, 1e-12);
    assert_false(
        soil_reading_on(read.season, season_text_zone(&read, "south"), NUTRIENT_P, INT32_MAX, &reading));
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_classes), cmocka_unit_test(test_minimum),   cmocka_unit_test(test_oxide),
        cmocka_unit_test(test_spots),   cmocka_unit_test(test_no_enough), cmocka_unit_test(test_method),
        cmocka_unit_test(test_newest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
