/* What zones need: amounts by class, equation and minimum level, conversions, and what is refused and why.
 *
 * Published figures are those of the sources named; "by hand" ones follow from the formulas of need.h. */
#include "compiler/season/need.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define PER_1000_SQFT 0.00488242763638 /* kg/m2: 0.45359237 kg on 92.90304 m2 */
#define GRAM 0.001

#define SOURCE "source bench { title \"A made-up table\"\n status from-memory }\n"

/* Grass, bulk density and the like in `lawn`; method, depth and the like in `test`. */
#define PLAN(lawn, test, head, row)                                                                          \
    SOURCE "season 2027-03-01 to 2027-11-20\nlawn green {\n" lawn "\n zone north area 100 m2\n}\n"           \
           "soil-test 2027-02-12 {\n of north\n" test "\n results {\n spot " head "\n a " row "\n }\n}\n"

static struct season_text read;

static struct zone_need need_in(const char *plan, enum nutrient nutrient)
{
    struct zone_need need;
    season_text_free(&read);
    season_text_read(&read, plan);
    bool known = need_of(read.season, season_text_zone(&read, "north"), nutrient, &need);
    assert_int_equal(known, need.lack == LACK_NOTHING);
    assert_int_equal(known, !isnan(need.kg_per_m2));
    return need;
}

static void assert_lack(const char *plan, enum nutrient nutrient, enum need_lack lack)
{
    assert_int_equal(need_in(plan, nutrient).lack, lack);
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

/* ---- classes ---- */

#define CLASSES                                                                                              \
    "scale bands {\n method m\n class low P below 27 ppm needs 2 to 3 lb P2O5 per 1000 sqft from bench\n"    \
    " class medium P 27 to 54 ppm needs 1 lb P per 1000 sqft from bench\n"                                   \
    " class high P above 54 ppm needs nothing from bench\n class low K 0 to 50 ppm from bench\n"             \
    " class enough K above 50 ppm from bench\n enough at enough\n}\n"
#define BANDS(head, row) CLASSES PLAN("", " method m\n scale bands", head, row)

/* 1 lb of P2O5 is 61.948 of 141.943 lb of P (2 x 30.974 of 2 x 30.974 + 5 x 15.999). */
static void test_classes(void **state)
{
    struct zone_need need = need_in(BANDS("P ppm", "26.9"), NUTRIENT_P);
    assert_int_equal(need.rule, NEED_BY_CLASS);
    assert_near(need.kg_per_m2, 2 * PER_1000_SQFT * 0.436429, 1e-5);
    assert_near(need.most, 3 * PER_1000_SQFT * 0.436429, 1e-5);
    assert_true(need.low);
    need = need_in(BANDS("P ppm", "40"), NUTRIENT_P);
    assert_near(need.kg_per_m2, PER_1000_SQFT, 1e-9);
    assert_near(need.most, PER_1000_SQFT, 1e-9);
    need = need_in(BANDS("P ppm", "55"), NUTRIENT_P);
    assert_true(need.kg_per_m2 == 0 && need.most == 0 && !need.low);
    assert_int_equal(need.reading.need, NEED_NONE);
}

/* What a class begins or ends at is in it where both ends are written, and outside where it is open. */
static void test_open_ends(void **state)
{
    assert_near(need_in(BANDS("P ppm", "27"), NUTRIENT_P).kg_per_m2, PER_1000_SQFT, 1e-9);
    assert_near(need_in(BANDS("P ppm", "54"), NUTRIENT_P).kg_per_m2, PER_1000_SQFT, 1e-9);
    assert_true(need_in(BANDS("P ppm", "54.1"), NUTRIENT_P).kg_per_m2 == 0);
}

static void test_class_without_amount(void **state)
{
    struct zone_need need = need_in(BANDS("K ppm", "30"), NUTRIENT_K);
    assert_int_equal(need.lack, LACK_AMOUNT);
    assert_true(need.low);
    need = need_in(BANDS("K ppm", "60"), NUTRIENT_K);
    assert_int_equal(need.rule, NEED_BY_ENOUGH);
    assert_true(need.kg_per_m2 == 0);
}

/* ---- equations: North Carolina's circular no. 1, table 2.4 ---- */

static void assert_equation(const char *plan, double pounds, double within)
{
    struct zone_need need = need_in(plan, NUTRIENT_P);
    assert_int_equal(need.rule, NEED_BY_EQUATION);
    double found = need.kg_per_m2 / PER_1000_SQFT / 0.436429;
    if (fabs(found - pounds) > within)
        fail_msg("%.6f lb of P2O5, not %.6f", found, pounds);
}

#define NORTH_CAROLINA(terms, index)                                                                         \
    "scale circular {\n method mehlich-3\n equation P2O5 " terms                                             \
    " lb per 1000 sqft of index from bench\n}\n" PLAN("", " method mehlich-3\n scale circular", "P index",   \
                                                      index)
#define EQUATION_23 "9, -0.135, 0.0005"
#define EQUATION_25 "6.5, -0.130, 0.0005"

static void test_equations(void **state)
{
    assert_equation(NORTH_CAROLINA(EQUATION_23, "0"), 9.0, 0.001);
    assert_equation(NORTH_CAROLINA(EQUATION_23, "25"), 5.94, 0.005);
    assert_equation(NORTH_CAROLINA(EQUATION_23, "50"), 3.50, 0.005);
    assert_equation(NORTH_CAROLINA(EQUATION_23, "100"), 0.50, 0.005);
    assert_equation(NORTH_CAROLINA(EQUATION_25, "25"), 3.56, 0.005);
    assert_equation(NORTH_CAROLINA(EQUATION_25, "50"), 1.25, 0.005);
    assert_equation(NORTH_CAROLINA(EQUATION_25, "75"), 0, 1e-12); /* -0.44 */
}

/* Equation 14 counts in lb per acre: 88.5 at 25, 41.5 at 50, below 0 at 100. */
static void test_equation_by_the_acre(void **state)
{
#define FOURTEEN(index)                                                                                      \
    "scale fourteen {\n method m\n equation P2O5 150, -2.75, 0.0116 lb per acre of index from "              \
    "bench\n}\n" PLAN("", " method m\n scale fourteen", "P index", index)
    assert_equation(FOURTEEN("25"), 88.5 / 43.56, 0.0005);
    assert_equation(FOURTEEN("50"), 41.5 / 43.56, 0.0005);
    assert_equation(FOURTEEN("100"), 0, 1e-12);
}

/* Of ppm, whichever way the laboratory states them: 20 ppm are 40 lb per acre. 3 - 0.1 x 20 = 1. */
static void test_equation_of_ppm(void **state)
{
#define BY_PPM(head, row)                                                                                    \
    "scale line {\n method m\n equation P2O5 3, -0.1 lb per 1000 sqft of ppm from bench\n}\n" PLAN(          \
        "", " method m\n scale line", head, row)
    assert_equation(BY_PPM("P ppm", "20"), 1, 1e-4);
    assert_equation(BY_PPM("P lb per acre", "40"), 1, 1e-4);
    assert_equation(BY_PPM("P2O5 ppm", "45.827"), 1, 1e-4);
}

/* ---- minimum levels: published medians of 373 soils, K 57 ppm; 10 cm of soil at 1.5 kg per L ---- */

#define MEDIAN(scale, lawn) PLAN(lawn, " method mehlich-3\n depth 10 cm\n scale " scale, "K ppm", "57")

static void test_minimum_levels(void **state)
{
    struct zone_need need = need_in(MEDIAN("minimum-levels", " yearly 5 g N per m2"), NUTRIENT_K);
    assert_int_equal(need.rule, NEED_BY_MINIMUM);
    assert_true(need.kg_per_m2 == 0); /* 2.5 + (37 - 57) x 0.15 = -0.5 */
    assert_near(need.use, 2.5 * GRAM, 1e-9);
    assert_near(need.minimum - need.test, -3 * GRAM, 1e-9);
    assert_true(need.density_assumed);
    need = need_in(MEDIAN("minimum-levels", " yearly 12 g N per m2"), NUTRIENT_K);
    assert_near(need.kg_per_m2, 3 * GRAM, 1e-9);
    assert_int_equal(need.nitrogen_basis, NITROGEN_LAWN);
    need = need_in(MEDIAN("sufficiency-full", " yearly 5 g N per m2"), NUTRIENT_K);
    assert_near(need.kg_per_m2, 9 * GRAM, 1e-9);
}

/* Twice the depth is twice the soil; a lawn's own density takes the place of the scale's. */
static void test_minimum_by_layer(void **state)
{
    struct zone_need need =
        need_in(PLAN(" uses 1 g K per m2 per year\n bulk-density 1.2 kg per L",
                     " method mehlich-3\n depth 20 cm\n scale minimum-levels", "K ppm", "27"),
                NUTRIENT_K);
    assert_near(need.kg_per_m2, (1 + 10 * 0.24) * GRAM, 1e-9);
    assert_false(need.density_assumed);
    assert_non_null(need.use_stated);
}

/* The use goes by the lawn's N, else the plan's, else the middle of the grass's range. */
static void test_nitrogen_behind_use(void **state)
{
    const char *fed =
        MEDIAN("minimum-levels", " grass tall-fescue") "product urea { grade 46-0-0 granular }\napply feed "
                                                       "{\n to north\n when on Apr 10\n"
                                                       " supply 8 g N per m2 from urea\n}\n";
    struct zone_need need = need_in(fed, NUTRIENT_K);
    assert_int_equal(need.nitrogen_basis, NITROGEN_PLAN);
    assert_near(need.use, 4 * GRAM, 1e-9);
    const char *sprayed =
        MEDIAN("minimum-levels", " grass tall-fescue") "product iron { grade 6-0-0 granular }\napply iron "
                                                       "{\n to north\n when on Apr 10\n"
                                                       " supply 0.1 g N per m2 from iron\n}\n";
    need = need_in(sprayed, NUTRIENT_K); /* less than a tenth of 1.4 lb, 0.68 g per m2 */
    assert_int_equal(need.nitrogen_basis, NITROGEN_GRASS);
    need = need_in(MEDIAN("minimum-levels", " grass tall-fescue"), NUTRIENT_K);
    assert_int_equal(need.nitrogen_basis, NITROGEN_GRASS); /* 1.4 to 4 lb */
    assert_near(need.nitrogen, 2.7 * PER_1000_SQFT, 1e-9);
    need = need_in(MEDIAN("minimum-levels", " grass seashore-paspalum\n yearly 20 g N per m2"), NUTRIENT_K);
    assert_near(need.use, 20 * GRAM, 1e-9); /* its own: as much K as N */
}

/* ---- N ---- */

static void test_nitrogen_by_grass(void **state)
{
    struct zone_need need =
        need_in(MEDIAN("minimum-levels", " grass tall-fescue\n region virginia"), NUTRIENT_N);
    assert_int_equal(need.rule, NEED_BY_GRASS);
    assert_near(need.kg_per_m2, 2 * PER_1000_SQFT, 1e-9);
    assert_near(need.most, 3.5 * PER_1000_SQFT, 1e-9);
    assert_lack(MEDIAN("minimum-levels", ""), NUTRIENT_N, LACK_GRASS);
}

/* What the lawn says it is to be given comes before the grass's range, and before "not known"; not before a
 * test. */
static void test_need_as_the_lawn_states(void **state)
{
    const char *plan =
        MEDIAN("minimum-levels", " grass tall-fescue\n yearly 12 g N per m2, 3 g K per m2, 2 g Fe per m2");
    struct zone_need need = need_in(plan, NUTRIENT_N);
    assert_int_equal(need.rule, NEED_BY_LAWN);
    assert_near(need.kg_per_m2, 12 * GRAM, 1e-9);
    assert_near(need.most, 12 * GRAM, 1e-9);
    need = need_in(plan, NUTRIENT_FE);
    assert_int_equal(need.rule, NEED_BY_LAWN);
    assert_near(need.kg_per_m2, 2 * GRAM, 1e-9);
    assert_int_equal(need_in(plan, NUTRIENT_K).rule, NEED_BY_MINIMUM);
}

/* ---- units of a report ---- */

static double mean_ppm(const char *plan, enum nutrient nutrient)
{
    struct zone_need need = need_in(plan, nutrient);
    assert_true(need.read);
    return need.reading.mean * 1e6;
}

#define UNITS(head, row) PLAN("", " method mehlich-3\n scale minimum-levels", head, row)

/* Coursework on soils: 0.98 meq per 100 g of K are 383.18 ppm, by 391 ppm for 1 meq; by the atomic weight
 * 390.98. Ca 200.39, Mg 121.525: half their atomic weights. */
static void test_charge_to_ppm(void **state)
{
    assert_near(mean_ppm(UNITS("K meq per 100 g", "0.98"), NUTRIENT_K), 383.18, 1e-4);
    assert_near(mean_ppm(UNITS("Ca meq per 100 g", "3"), NUTRIENT_CA), 601.17, 1e-9);
    assert_near(mean_ppm(UNITS("Mg cmol per kg", "1"), NUTRIENT_MG), 121.525, 1e-9);
}

/* Purdue and Ohio State: lb per acre are twice the ppm. 1 lb per acre is 1.12085 kg per ha. */
static void test_area_to_ppm(void **state)
{
    assert_near(mean_ppm(UNITS("P lb per acre", "100"), NUTRIENT_P), 50, 1e-9);
    assert_near(mean_ppm(UNITS("P kg per ha", "112.085"), NUTRIENT_P), 50, 1e-5);
    assert_near(mean_ppm(UNITS("P mg per 100 g", "5"), NUTRIENT_P), 50, 1e-9);
    assert_near(mean_ppm(UNITS("P mg/kg", "50"), NUTRIENT_P), 50, 1e-9);
}

static void test_below_detection(void **state)
{
    struct zone_need need = need_in(UNITS("S ppm", "< 0.5"), NUTRIENT_S);
    assert_near(need.reading.mean * 1e6, 0.5, 1e-9);
    assert_int_equal(need.reading.below_detection, 1);
}

/* ---- from one method to another: Ohio State, 22 ppm by Mehlich-3 are 10 ppm by Bray P1 ---- */

#define OHIO(test, row) PLAN("", " method mehlich-3\n scale sufficiency-bray-1\n" test, "P ppm", row)

static void test_conversion(void **state)
{
    struct zone_need need = need_in(OHIO(" convert bray-1-from-mehlich-3", "22"), NUTRIENT_P);
    assert_near(need.reading.judged * 1e6, 10.224, 1e-9);
    assert_near(need.reading.mean * 1e6, 22, 1e-9);
    assert_int_equal(need.reading.need, NEED_LOW); /* below 15 */
    need = need_in(OHIO(" convert bray-1-from-mehlich-3", "5"), NUTRIENT_P);
    assert_true(need.reading.judged == 0);
    need = need_in(OHIO(" convert bray-1-from-mehlich-3", "40"), NUTRIENT_P);
    assert_int_equal(need.reading.need, NEED_NONE); /* 25.2 */
}

static void test_no_conversion(void **state)
{
    assert_lack(OHIO("", "22"), NUTRIENT_P, LACK_METHOD);
    assert_int_equal(need_in(OHIO("", "22"), NUTRIENT_P).reading.need, NEED_UNKNOWN);
    assert_lack(
        "conversion back { from bray-1 to mehlich-3\n equation P 10, 1.2 ppm of ppm from bench }\n" OHIO(
            " convert back", "22"),
        NUTRIENT_P, LACK_CONVERSION);
    assert_lack(PLAN("", " method mehlich-3\n scale sufficiency-bray-1\n convert bray-1-from-mehlich-3",
                     "K ppm", "22"),
                NUTRIENT_K, LACK_CONVERSION);
}

/* ---- Mn: Rutgers' activity index, 101.7 + 3.75 Mn - 15.2 pH, enough at 25 ---- */

#define RUTGERS(head, row) PLAN("", " method mehlich-3\n scale rutgers-levels", head, row)

static void test_activity(void **state)
{
    struct zone_need need = need_in(RUTGERS("pH Mn ppm", "6.0 20"), NUTRIENT_MN);
    assert_near(need.reading.judged, 85.5, 1e-9);
    assert_int_equal(need.reading.need, NEED_NONE);
    need = need_in(RUTGERS("pH Mn ppm", "6.5 4"), NUTRIENT_MN);
    assert_near(need.reading.judged, 17.9, 1e-9);
    assert_int_equal(need.reading.need, NEED_LOW);
    assert_int_equal(need.lack, LACK_AMOUNT);
    assert_lack(RUTGERS("Mn ppm", "4"), NUTRIENT_MN, LACK_PH);
}

/* Critical levels of micronutrients say what is low, not how much is needed. */
static void test_micronutrients(void **state)
{
    struct zone_need need = need_in(RUTGERS("Zn ppm", "0.9"), NUTRIENT_ZN);
    assert_true(need.low);
    assert_int_equal(need.lack, LACK_AMOUNT);
    assert_true(need_in(RUTGERS("Cu ppm", "0.6"), NUTRIENT_CU).kg_per_m2 == 0);
}

/* ---- refusals ---- */

static void test_refusals(void **state)
{
    assert_lack(PLAN("", " method mehlich-3\n scale minimum-levels", "P ppm", "12"), NUTRIENT_P, LACK_DEPTH);
    assert_lack(
        "scale bare { method m\n minimum P 21 ppm from bench\n needs minimum less test from bench }\n" PLAN(
            "", " method m\n depth 4 in\n scale bare", "P ppm", "12"),
        NUTRIENT_P, LACK_DENSITY);
    assert_lack(PLAN("", " method mehlich-3", "P ppm", "12"), NUTRIENT_P, LACK_SCALE);
    assert_lack(MEDIAN("minimum-levels", ""), NUTRIENT_P, LACK_FIGURE);
    assert_lack(MEDIAN("minimum-levels", ""), NUTRIENT_K, LACK_NITROGEN);
    assert_lack(PLAN("", " method mehlich-3\n scale minimum-levels", "Fe ppm", "12"), NUTRIENT_FE,
                LACK_LEVEL);
    assert_lack(PLAN("", " method mehlich-3\n scale minimum-levels", "P index", "12"), NUTRIENT_P,
                LACK_INDEX);
    assert_lack(PLAN("", " method mehlich-3\n scale north-carolina", "P ppm", "12"), NUTRIENT_P, LACK_INDEX);
    assert_lack(
        "scale thirst { method m\n minimum P 21 ppm from bench\n bulk-density 1.5 kg per L from bench\n"
        " needs minimum plus use less test from bench }\n" PLAN(
            " yearly 5 g N per m2", " method m\n depth 4 in\n scale thirst", "P ppm", "12"),
        NUTRIENT_P, LACK_USE);
    assert_lack("season 2027-03-01 to 2027-11-20\nlawn green { zone north area 100 m2 }\n", NUTRIENT_P,
                LACK_TEST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_classes),
        cmocka_unit_test(test_open_ends),
        cmocka_unit_test(test_class_without_amount),
        cmocka_unit_test(test_equations),
        cmocka_unit_test(test_equation_by_the_acre),
        cmocka_unit_test(test_equation_of_ppm),
        cmocka_unit_test(test_minimum_levels),
        cmocka_unit_test(test_minimum_by_layer),
        cmocka_unit_test(test_nitrogen_behind_use),
        cmocka_unit_test(test_nitrogen_by_grass),
        cmocka_unit_test(test_need_as_the_lawn_states),
        cmocka_unit_test(test_charge_to_ppm),
        cmocka_unit_test(test_area_to_ppm),
        cmocka_unit_test(test_below_detection),
        cmocka_unit_test(test_conversion),
        cmocka_unit_test(test_no_conversion),
        cmocka_unit_test(test_activity),
        cmocka_unit_test(test_micronutrients),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests_name("season_need", tests, setup, teardown);
}
