/* `prill needs`: its table, bars, sentences and what was lacking; and the same as JSON.
 *
 * The amounts, by hand. Soil under a square metre: 4 in x 1.5 kg per L = 152.4 kg. P: minimum 21 ppm = 3.2004
 * g = 1.50 lb P2O5 per 1000 sq ft; 12 ppm = 0.86; use 12.5% of 3 lb N = 0.375 lb P = 0.86 lb P2O5: 1.50 in
 * all. K: minimum 37 ppm = 1.39 lb K2O (x 1.2046 / 4.88243 of the grams); 43.667 ppm = 1.64; use 50% = 1.5 lb
 * K = 1.81 lb K2O: 1.56 in all. */
#include "compiler/result/result.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <jansson.h>

static const char GREEN[] = "plan \"Wrenfield reading green\"\n"
                            "season 2027-03-01 to 2027-11-20\n"
                            "lawn green {\n"
                            "    grass tall-fescue\n"
                            "    yearly 3 lb N per 1000 sqft\n"
                            "    zone north area 1000 sqft\n"
                            "    zone strip area 500 sqft\n"
                            "    zone bank area 640 sqft\n"
                            "}\n"
                            "soil-test 2027-02-12 {\n"
                            "    of north, strip\n"
                            "    method mehlich-3\n"
                            "    depth 4 in\n"
                            "    scale minimum-levels\n"
                            "    results {\n"
                            "        spot pH P ppm K ppm Fe ppm\n"
                            "        gate 6.4 11 44 31\n"
                            "        oak 6.3 13 40 28\n"
                            "        bench 6.5 12 47 none\n"
                            "    }\n"
                            "}\n";

static struct season_text read;

static int setup(void **state)
{
    season_text_read(&read, GREEN);
    return 0;
}

static int teardown(void **state)
{
    season_text_free(&read);
    return 0;
}

/* On one line: how lines break is tested elsewhere. */
static const char *needed(void)
{
    struct buffer out = {.arena = &read.arena}, line = {.arena = &read.arena};
    struct result_input input = {.season = read.season, .reports = &read.reports};
    assert_true(result_print(&out, result_find("needs"), "text", &input));
    for (size_t i = 0; i < out.length; i++)
        if (out.string[i] != ' ' && out.string[i] != '\n')
            buffer_add(&line, (struct text){out.string + i, 1});
        else if (line.length && line.string[line.length - 1] != ' ')
            buffer_add_string(&line, " ");
    return buffer_string(&line);
}

static void expect_told(const char *part)
{
    const char *told = needed();
    if (!strstr(told, part))
        fail_msg("not told: %s\nin: %s", part, told);
}

static void reread(const char *plan)
{
    season_text_free(&read);
    season_text_read(&read, plan);
}

#define TEST_OF_SOIL(lawn, more, rows)                                                                       \
    "season 2027-03-01 to 2027-11-20\nlawn green {\n grass tall-fescue\n" lawn " zone all area 100 sqft\n"   \
    " zone more area 100 sqft\n}\nsoil-test 2027-02-12 {\n of all, more\n method mehlich-3\n" more           \
    " results {\n" rows " }\n}\n"

/* ---- the table ---- */

static void test_table(void **state)
{
    expect_told("Needed in a year, lb per 1000 sqft zone area N P2O5 K2O lime north 1000 sqft 3 1.5 1.56 "
                "none strip 500 sqft 3 1.5 1.56 none bank 640 sqft 3 ? ? ? ?: not known; see below for what "
                "is missing.");
}

static void test_table_of_what_is_low(void **state)
{
    reread(TEST_OF_SOIL("", " scale penn-state-lawn\n", "spot P ppm\na 10\n"));
    expect_told("zone area N P2O5 all 100 sqft 1.4 to 4 low more 100 sqft 1.4 to 4 low low: below enough; "
                "the amount needed is not known.");
}

/* 8.4 meq and goal 7.0: 180 lb of lime are 878.8 g per m2; tall fescue's 1.4 to 4 lb are 6.84 to 19.5 g. */
static void test_table_in_metric(void **state)
{
    reread("units metric\n" TEST_OF_SOIL(" goal pH 7.0\n", " lime penn-state-lawn-lime\n",
                                         "spot pH acidity meq per 100 g\na 5.5 8.4\n"));
    expect_told("Needed in a year, g per m2 zone area N lime all 9.29 m2 6.84 to 19.5 879");
}

/* ---- results ---- */

static void test_results(void **state)
{
    expect_told(
        "Amounts are for 4 in of soil at 1.5 kg per L (the scale's figure [1]: the lawn states no "
        "bulk-density). Grass use is worked out from N: 3 lb N per 1000 sqft a year, as the lawn states.");
    expect_told("P 12 ppm (11 to 13) #######.....|............ Low: the minimum is 21 ppm [");
    expect_told(
        "; 9 ppm below the minimum. Needs 1.5 lb P2O5 per 1000 sqft a year. Minimum 1.50 + use 0.86 - in "
        "the soil 0.86 [");
    expect_told("K 43.7 ppm (40 to 47) ############|##.......... Enough now: the minimum is 37 ppm [");
    expect_told("The grass's use takes it below the minimum: needs 1.56 lb K2O per 1000 sqft a year. Minimum "
                "1.39 + use 1.81 - in the soil 1.64 [");
    expect_told(
        "Fe 29.5 ppm (28 to 31) The need is not known. minimum-levels has no figure for this nutrient.");
    expect_told("Not in the report: Ca, Mg, S.");
    expect_told("green needs 3 lb N per 1000 sqft a year. As the lawn states (test.prill:");
    expect_told("For tall-fescue 1.4 to 4 is usual [");
    expect_told("Sources: [1] ");
}

/* From pH 4 in steps of 0.2: 5.8 to 7.5 are the cells from the 10th to the 18th, 6.4 is the 13th. */
static void test_ph_bar(void **state)
{
    expect_told("pH 6.4 (6.3 to 6.5) .........===#=====....... Good pH for tall-fescue: 5.8 to 7.5 [");
    expect_told(". No lime needed.");
}

static void test_spots_apart(void **state)
{
    reread(TEST_OF_SOIL("", " scale minimum-levels\n depth 4 in\n", "spot pH P ppm\na 8 < 2\nb 8 60\n"));
    expect_told("The pH is too high. No lime; ask the laboratory before applying anything to lower it.");
    expect_told("P 31 ppm (< 2 to 60) ############|######......");
    expect_told("The spots differ from their mean by more than 50%: treat them as separate zones. 1 of 2 "
                "spots is below what the laboratory can measure; counted at that limit.");
}

/* Equation 23 falls to nothing at an index of 120: the lesser root of 9 - 0.135 x + 0.0005 x^2. */
static void test_equation(void **state)
{
    reread("source circular { status from-memory }\nscale twenty-three {\n method mehlich-3\n equation P2O5 "
           "9, -0.135, "
           "0.0005 lb per 1000 sqft of index from circular\n}\n" TEST_OF_SOIL("", " scale twenty-three\n",
                                                                              "spot P index\na 25\n"));
    expect_told("P 25 index ###.........|............ Needs 5.94 lb P2O5 per 1000 sqft a year. 9 - 0.135 x + "
                "0.0005 x^2 lb per 1000 sqft at x = 25 index gives 5.94 lb P2O5 per 1000 sqft [");
}

static void test_conversion(void **state)
{
    reread(TEST_OF_SOIL("", " scale sufficiency-bray-1\n convert bray-1-from-mehlich-3\n",
                        "spot P ppm\na 22\n"));
    expect_told(
        "P 22 ppm ########....|............ Converted to bray-1: 10.2 ppm, by -8.08 + 0.832 x ppm at x "
        "= 22 ppm [");
    expect_told("Low: the minimum is 15 ppm [");
    expect_told(
        "; 4.78 ppm below the minimum. The amount needed is not known. sufficiency-bray-1 gives no amount;");
}

static void test_activity(void **state)
{
    reread(TEST_OF_SOIL("", " scale rutgers-levels\n", "spot pH Mn ppm\na 6.5 4\n"));
    expect_told(
        "Mn 4 ppm #########...|............ Low: index 17.9 from the result and pH 6.5; enough at 25 [");
}

static void test_class(void **state)
{
    reread(TEST_OF_SOIL("", " scale delaware\n", "spot K ppm\na 100\n"));
    expect_told("K 100 ppm #########...|............ Class medium: 71 to 140 ppm [");
    expect_told("; 41 ppm below enough.");
}

/* ---- lime ---- */

static void test_lime(void **state)
{
    reread(TEST_OF_SOIL(" goal pH 7.0\n", " lime penn-state-lawn-lime\n buffer mehlich\n",
                        "spot pH acidity meq per 100 g\na 5.5 9.7\n"));
    expect_told(
        "Goal pH 7 for green (test.prill:4). The pH is too low. Needs 230 lb lime per 1000 sqft, "
        "counted as calcium "
        "carbonate. Apply at most 100 lb of material per 1000 sqft (as weighed) at a time, at least 4 months "
        "apart [");
    expect_told("As pure calcium carbonate: 230 lb per 1000 sqft, in 3 applications of 76.6.");
    expect_told(
        "By penn-state-lawn-lime: acidity 9.7 meq per 100 g, goal pH 7; the row of 9.7 meq per 100 g [");
    reread(TEST_OF_SOIL("", "", "spot pH\na 5.5\n"));
    expect_told("The pH is too low, so lime is needed; the amount is not known. The soil test names no lime "
                "table: write `lime NAME` in "
                "it, or use the laboratory's own recommendation.");
}

static void test_without_a_test(void **state)
{
    reread("season 2027-03-01 to 2027-11-20\nlawn green { zone all area 100 sqft }\n");
    expect_told("The plan has no soil test.");
}

/* ---- JSON ---- */

static json_t *parsed(void)
{
    struct buffer out = {.arena = &read.arena};
    json_error_t error;
    struct result_input input = {.season = read.season, .reports = &read.reports};
    assert_true(result_print(&out, result_find("needs"), "json", &input));
    json_t *root = json_loads(buffer_string(&out), 0, &error);
    if (!root)
        fail_msg("%s at %d", error.text, error.line);
    return root;
}

static void test_json(void **state)
{
    json_t *root = parsed();
    json_t *zones = json_object_get(root, "zones"), *north = json_array_get(zones, 0);
    json_t *needs = json_object_get(north, "needs"), *p = json_array_get(needs, 1);
    assert_string_equal(json_string_value(json_object_get(root, "format")), "prill needs 3");
    assert_int_equal(json_array_size(zones), 3);
    assert_int_equal(json_array_size(needs), 4); /* N, P, K, Fe */
    assert_string_equal(json_string_value(json_object_get(p, "nutrient")), "P2O5");
    assert_string_equal(json_string_value(json_object_get(p, "by")), "minimum");
    /* P2O5 is 43.64 % P by the standard atomic weights. */
    assert_near(json_number_value(json_object_get(json_object_get(p, "least"), "si")) * 0.43642870730,
                152.4 * 9e-6 + 0.125 * 3 * 0.00488242763638, 1e-9);
    assert_true(json_is_null(json_object_get(json_array_get(needs, 3), "least")));
    json_t *lime = json_object_get(json_object_get(north, "lime"), "least");
    assert_true(json_number_value(json_object_get(lime, "si")) == 0);
    json_decref(root);
}

int main(void)
{
#define TEST_OF(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST_OF(test_table),
        TEST_OF(test_table_of_what_is_low),
        TEST_OF(test_table_in_metric),
        TEST_OF(test_results),
        TEST_OF(test_ph_bar),
        TEST_OF(test_spots_apart),
        TEST_OF(test_equation),
        TEST_OF(test_conversion),
        TEST_OF(test_activity),
        TEST_OF(test_class),
        TEST_OF(test_lime),
        TEST_OF(test_without_a_test),
        TEST_OF(test_json),
    };
    return cmocka_run_group_tests_name("output_needs", tests, NULL, NULL);
}
