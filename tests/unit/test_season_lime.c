/* What the pH asks: verdicts, lime by rows and by a formula, how often, and what is refused.
 *
 * Penn State's table: https://agsci.psu.edu/aasl/soil-testing/fertility/handbooks/turf/tables/
 * lime-recommendations-turf (all its rows are read in tests/reference/soil.check). North Carolina's formula
 * and example: http://www.ncagr.gov/agronomi/bufftab1.htm. */
#include "compiler/season/need.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define PER_1000_SQFT 0.00488242763638 /* kg/m2 */

#define PLAN(lawn, test, head, row)                                                                          \
    "season 2027-03-01 to 2027-11-20\nsource bench { title \"A made-up table\"\n status from-memory }\n"     \
    "lawn green {\n" lawn "\n zone north area 100 m2\n}\n"                                                   \
    "soil-test 2027-02-12 {\n of north\n method mehlich-3\n" test "\n results {\n spot " head "\n a " row    \
    "\n }\n}\n"
#define FESCUE " grass tall-fescue" /* 6.0 to 7.5 */
#define PENN " lime penn-state-lawn-lime"

static struct season_text read;

static struct lime_need lime_in(const char *plan)
{
    struct lime_need need;
    season_text_free(&read);
    season_text_read(&read, plan);
    bool known = lime_need_of(read.season, season_text_zone(&read, "north"), &need);
    assert_int_equal(known, need.lack == LIME_LACK_NOTHING);
    assert_int_equal(known, !isnan(need.kg_per_m2));
    return need;
}

static void assert_lime(const char *plan, double pounds, double goal)
{
    struct lime_need need = lime_in(plan);
    assert_int_equal(need.lack, LIME_LACK_NOTHING);
    assert_near(need.kg_per_m2, pounds * PER_1000_SQFT, 1e-9);
    assert_near(need.goal, goal, 1e-9);
}

static void assert_lack(const char *plan, enum lime_lack lack)
{
    struct lime_need need = lime_in(plan);
    assert_int_equal(need.lack, lack);
}

static int setup(void **state)
{
    season_text_read(&read, "season 2027-03-01 to 2027-11-20\n");
    return 0;
}

static int teardown(void **state)
{
    season_text_free(&read);
    return 0;
}

/* ---- verdicts ---- */

static enum ph_verdict verdict_of(const char *plan)
{
    struct lime_need need = lime_in(plan);
    return need.verdict;
}

static void test_verdicts(void **state)
{
    assert_int_equal(verdict_of(PLAN(FESCUE, PENN, "pH", "6.4")), PH_FINE);
    assert_true(lime_in(PLAN(FESCUE, PENN, "pH", "6.4")).kg_per_m2 == 0);
    assert_int_equal(verdict_of(PLAN(FESCUE, PENN, "pH", "5.8")), PH_FINE);
    assert_int_equal(verdict_of(PLAN(FESCUE, PENN, "pH acidity meq per 100 g", "5.7 4.6")), PH_LOW);
    assert_int_equal(verdict_of(PLAN(FESCUE, PENN, "pH", "7.6")), PH_HIGH);
    assert_true(lime_in(PLAN(FESCUE, PENN, "pH", "7.6")).kg_per_m2 == 0);
    assert_int_equal(verdict_of(PLAN("", PENN, "pH", "5.0")), PH_UNKNOWN);
    assert_lack(PLAN("", PENN, "pH", "5.0"), LIME_LACK_RANGE);
    assert_lack(PLAN(FESCUE, PENN, "P ppm", "5.0"), LIME_LACK_PH);
}

/* A goal that is stated counts in place of the grass's range; centipede is limed below 5.0 only. */
static void test_goal_of_the_lawn(void **state)
{
    assert_int_equal(verdict_of(PLAN(FESCUE "\n goal pH 6.5", PENN, "pH acidity meq per 100 g", "6.4 4.6")),
                     PH_LOW);
    assert_int_equal(verdict_of(PLAN(" goal pH 6.5", PENN, "pH acidity meq per 100 g", "6.4 4.6")), PH_LOW);
    assert_int_equal(verdict_of(PLAN(" grass centipedegrass", PENN, "pH", "5.3")), PH_FINE);
}

/* ---- rows ---- */

static void test_rows(void **state)
{
    assert_lime(PLAN(FESCUE "\n goal pH 7.0", PENN, "pH acidity meq per 100 g", "5.5 8.4"), 180, 7.0);
    assert_lime(PLAN(FESCUE "\n goal pH 6.5", PENN, "pH acidity meq per 100 g", "5.5 8.4"), 140, 6.5);
    assert_lime(PLAN(FESCUE "\n goal pH 6.0", PENN, "pH acidity meq per 100 g", "5.5 8.4"), 110, 6.0);
    assert_lime(PLAN(FESCUE "\n goal pH 6.5", PENN, "pH acidity cmol per kg", "5.5 25.7"), 530, 6.5);
}

/* Without a goal of the lawn: nearest the middle of 6.0 to 7.5 is 6.5 or 7.0, of two as near the lower; of
 * centipede's 5.0 to 6.0 it is 6.0. */
static void test_goal_of_the_grass(void **state)
{
    assert_lime(PLAN(FESCUE, PENN, "pH acidity meq per 100 g", "5.5 8.4"), 140, 6.5);
    assert_lime(PLAN(" grass centipedegrass", PENN, "pH acidity meq per 100 g", "4.5 8.4"), 110, 6.0);
}

/* 4.2 is nearer to 3.9 than to 4.6; 4.25 lies between and takes the row with less lime; 1.7 is a half step
 * below the first row. */
static void test_between_rows(void **state)
{
#define ACIDITY(value) PLAN(FESCUE "\n goal pH 7.0", PENN, "pH acidity meq per 100 g", "5.5 " value)
    assert_lime(ACIDITY("4.2"), 90, 7.0);
    assert_lime(ACIDITY("4.25"), 90, 7.0);
    assert_lime(ACIDITY("4.3"), 110, 7.0);
    assert_lime(ACIDITY("1.7"), 50, 7.0);
    assert_lack(ACIDITY("1.6"), LIME_LACK_ROW);
    assert_lime(ACIDITY("26.0"), 600, 7.0);
    assert_lack(ACIDITY("26.1"), LIME_LACK_ROW);
}

static void test_rows_by_buffer(void **state)
{
    const char *plan =
        "lime by-buffer {\n from bench\n buffer smp\n goals 6.5\n buffer-pH 6.8 needs 30 lb per 1000 "
        "sqft\n buffer-pH 6.4 needs 90 lb per 1000 sqft\n}\n" PLAN(FESCUE, " lime by-buffer\n buffer smp",
                                                                   "pH buffer-pH", "5.5 6.45");
    struct lime_need need = lime_in(plan);
    assert_near(need.kg_per_m2, 90 * PER_1000_SQFT, 1e-9);
    assert_false(need.buffer_assumed);
    assert_int_equal(lime_times(&need, NULL), 0); /* no cap is stated */
}

/* ---- how often ---- */

static int times_of(const char *plan)
{
    struct lime_need need = lime_in(plan);
    return lime_times(&need, NULL);
}

/* Penn State: at most 100 lb at once, 4 to 6 months apart: 110 lb go on in two, 230 lb in three; 25 lb on
 * greens. */
static void test_times(void **state)
{
    assert_int_equal(times_of(ACIDITY("3.9")), 1); /* 90 */
    assert_int_equal(times_of(ACIDITY("4.6")), 2); /* 110 */
    assert_int_equal(times_of(ACIDITY("9.7")), 3); /* 230 */
    assert_int_equal(times_of(PLAN(FESCUE "\n goal pH 7.0", " lime penn-state-green-lime",
                                   "pH acidity meq per 100 g", "5.5 2.0")),
                     2); /* 50 */
    struct lime_need need = lime_in(ACIDITY("9.7"));
    assert_int_equal(need.interval.months, 4);
    assert_near(need.most_at_once, 100 * PER_1000_SQFT, 1e-9);
}

/* 90 lb in one as pure calcium carbonate are 112.5 lb of a material of 80%, in two; a material of 150% weighs
 * 60 lb, and its 90 lb of calcium carbonate count. */
static void test_times_by_material(void **state)
{
    struct lime_need need = lime_in(ACIDITY("3.9"));
    struct product chalk = {.neutralizing = 0.8}, hydrated = {.neutralizing = 1.5},
                   feed = {.neutralizing = NAN};
    assert_int_equal(lime_times(&need, &chalk), 2);
    assert_int_equal(lime_times(&need, &hydrated), 1);
    assert_int_equal(lime_times(&need, &feed), 1);
    need.most_at_once = 50 * PER_1000_SQFT;
    assert_int_equal(lime_times(&need, &hydrated), 2);
    (void)state;
}

/* Virginia, 50 lb at once: 120 lb go on as 50, 50 and 20; Pennsylvania, 100 lb: as two; 50 lb once
 * anywhere. */
static void test_published_splits(void **state)
{
#define CAPPED(cap, amount)                                                                                  \
    "lime capped {\n from bench\n goals 6.5\n acidity 1 meq per 100 g needs " amount                         \
    " lb per 1000 sqft\n at most " cap " lb per 1000 sqft per application from bench\n}\n" PLAN(             \
        FESCUE, " lime capped", "pH acidity meq per 100 g", "5.5 1")
    assert_int_equal(times_of(CAPPED("50", "120")), 3);
    assert_int_equal(times_of(CAPPED("100", "120")), 2);
    assert_int_equal(times_of(CAPPED("50", "50")), 1);
    assert_int_equal(times_of(CAPPED("100", "50")), 1);
}

/* ---- a formula ---- */

#define CAROLINA(lawn, test, head, row) PLAN(lawn, " lime north-carolina-lime\n" test, head, row)

/* The state's example: pH 5.0, goal 6.0, acidity 1.2 are 0.75 ton of lime an acre (printed as 0.76), of 90%
 * calcium carbonate. A ton an acre is 2000/43.56 lb per 1000 sq ft. */
static void test_formula(void **state)
{
    struct lime_need need = lime_in(CAROLINA(" goal pH 6.0", "", "pH acidity meq per 100 mL", "5.0 1.2"));
    assert_int_equal(need.lack, LIME_LACK_NOTHING);
    assert_near(need.way, 0.625, 1e-9);
    assert_near(need.kg_per_m2, 0.75 * 0.9 * 2000 / 43.56 * PER_1000_SQFT, 1e-9);
    need = lime_in(CAROLINA(" goal pH 6.0", "", "pH buffer-pH", "5.0 6.3")); /* 4 x 0.3 = 1.2 */
    assert_near(need.kg_per_m2, 0.75 * 0.9 * 2000 / 43.56 * PER_1000_SQFT, 1e-9);
    need = lime_in(CAROLINA(" grass tall-fescue\n region north-carolina", "", "pH buffer-pH", "5.0 6.7"));
    assert_near(need.goal, 6.25, 1e-9); /* the middle of 6.0 to 6.5 */
    assert_true(need.kg_per_m2 == 0);   /* a buffer pH above 6.6 shows no acidity */
    assert_lack(CAROLINA(" goal pH 6.7", "", "pH buffer-pH", "5.0 6.3"), LIME_LACK_GOAL);
}

/* ---- material: Penn State, 75 lb at 80% are 94 lb (93.75) ---- */

static void test_material(void **state)
{
    season_text_free(&read);
    season_text_read(&read, "season 2027-03-01 to 2027-11-20\nproduct rock { neutralizing 80% }\n"
                            "product burnt { neutralizing 179% }\nproduct sand { kind sand }\n");
    const struct model *model = read.model;
    assert_near(lime_material(model->products.items[0], 75), 93.75, 1e-12);
    assert_near(lime_material(model->products.items[1], 179), 100, 1e-12);
    assert_true(isnan(lime_material(model->products.items[2], 75)));
}

/* ---- refusals ---- */

static void test_refusals(void **state)
{
    assert_lack(PLAN(FESCUE, "", "pH", "5.5"), LIME_LACK_TABLE);
    assert_lack(PLAN(FESCUE, PENN, "pH", "5.5"), LIME_LACK_FIGURE);
    assert_lack(PLAN(FESCUE, PENN "\n buffer smp", "pH acidity meq per 100 g", "5.5 4.6"), LIME_LACK_BUFFER);
    assert_lack(PLAN(FESCUE, PENN, "pH acidity meq per 100 mL", "5.5 4.6"), LIME_LACK_UNIT);
    assert_lack(PLAN(FESCUE "\n goal pH 6.8", PENN, "pH acidity meq per 100 g", "5.5 4.6"), LIME_LACK_GOAL);
    assert_true(lime_in(PLAN(FESCUE, PENN, "pH acidity meq per 100 g", "5.5 4.6")).buffer_assumed);
}

/* The newest test with a pH counts, be others newer without one. */
static void test_newest(void **state)
{
    struct lime_need need =
        lime_in(PLAN(FESCUE, PENN, "pH",
                     "5.5") "soil-test 2027-04-01 {\n of north\n method mehlich-3\n results {\n spot pH\n a "
                            "6.5\n b 6.7\n }\n}\nsoil-test 2027-05-01 {\n of north\n method mehlich-3\n "
                            "results {\n spot P ppm\n a 6\n }\n}\n");
    assert_near(need.ph, 6.6, 1e-12);
    assert_int_equal(need.verdict, PH_FINE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_verdicts),
        cmocka_unit_test(test_goal_of_the_lawn),
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_goal_of_the_grass),
        cmocka_unit_test(test_between_rows),
        cmocka_unit_test(test_rows_by_buffer),
        cmocka_unit_test(test_times),
        cmocka_unit_test(test_times_by_material),
        cmocka_unit_test(test_published_splits),
        cmocka_unit_test(test_formula),
        cmocka_unit_test(test_material),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_newest),
    };
    return cmocka_run_group_tests_name("season_lime", tests, setup, teardown);
}
