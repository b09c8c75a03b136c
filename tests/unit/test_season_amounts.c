/* Rates, amounts and ledgers. Zones of 100 and 50 m2; figures worked out by hand. */
#include "compiler/model/product.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define GROUND                                                                                               \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "lawn green { zone north area 100 m2\n zone south area 50 m2 }\n"                                        \
    "product meal { grade 20-10-5 granular\n slow 40% of N\n contains Fe 2% }\n"                             \
    "product brew { grade 8-0-0 liquid, 1.25 kg per L\n label up to 3 L per 100 m2 }\n"                      \
    "product thick { grade 8-0-0 liquid, 1.25 kg per L\n label up to 3 kg per 100 m2 }\n"                    \
    "product vague { grade 8-0-0 liquid }\n"

#define APPLY(name, zones, body) "apply " name " {\n to " zones "\n " body "\n}\n"

/* kg */
static double mass_of(const struct amount *amount)
{
    return product_mass(amount->product, amount->total, amount->volume);
}

static void test_rate(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND APPLY("a", "green", "rate 3 kg per 100 m2 of meal"));
    const struct amount *north = season_text_amount(&read, "a", 1, "meal", "north");
    const struct amount *south = season_text_amount(&read, "a", 1, "meal", "south");
    assert_false(north->volume);
    assert_near(north->rate, 0.03, 1e-12);
    assert_near(north->total, 3, 1e-12);
    assert_near(south->total, 1.5, 1e-12);
    assert_near(mass_of(south), 1.5, 1e-12);
    assert_near(south->supplied[NUTRIENT_N], 0.006, 1e-12);
    assert_near(south->supplied[NUTRIENT_SLOW_N], 0.0024, 1e-12);
    assert_near(south->supplied[NUTRIENT_SOLUBLE_N], 0.0036, 1e-12);
    assert_near(south->supplied[NUTRIENT_FE], 0.0006, 1e-12);
    /* P2O5 is 43.64 % P: 2 x 30.974 / (2 x 30.974 + 5 x 15.999). */
    assert_near(south->supplied[NUTRIENT_P], 0.003 * 61.948 / 141.943, 1e-12);
    assert_near(supplied_as(south->supplied, nutrient_find(TEXT("P2O5"))), 0.003, 1e-12);
    season_text_free(&read);
}

static void test_supply(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND APPLY("a", "north", "supply 0.5 kg N per 100 m2 from meal")
                                APPLY("b", "north", "supply 0.5 kg P2O5 per 100 m2 from meal")
                                    APPLY("c", "north", "supply 0.3 kg soluble N per 100 m2 from meal"));
    assert_near(season_text_amount(&read, "a", 1, "meal", "north")->total, 2.5, 1e-12);
    assert_near(season_text_amount(&read, "b", 1, "meal", "north")->total, 5, 1e-12);
    assert_near(season_text_amount(&read, "c", 1, "meal", "north")->total, 2.5, 1e-12);
    season_text_free(&read);
}

/* 0.5 kg N is 6.25 kg of an 8 % product, 5 L where a litre weighs 1.25 kg. */
static void test_liquids(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND APPLY("a", "north", "supply 0.5 kg N per 100 m2 from brew")
                                APPLY("b", "north", "supply 0.5 kg N per 100 m2 from thick")
                                    APPLY("c", "north", "rate 2 L per 100 m2 of brew")
                                        APPLY("d", "north", "rate 2 L per 100 m2 of vague")
                                            APPLY("e", "north", "rate 2 kg per 100 m2 of vague"));
    const struct amount *a = season_text_amount(&read, "a", 1, "brew", "north");
    const struct amount *b = season_text_amount(&read, "b", 1, "thick", "north");
    assert_true(a->volume);
    assert_near(a->total, 0.005, 1e-12);
    assert_near(mass_of(a), 6.25, 1e-12);
    assert_near(a->supplied[NUTRIENT_N], 0.005, 1e-12);
    assert_false(b->volume);
    assert_near(b->total, 6.25, 1e-12);
    assert_near(season_text_amount(&read, "c", 1, "brew", "north")->mass_rate, 0.025, 1e-12);
    assert_near(season_text_amount(&read, "c", 1, "brew", "north")->supplied[NUTRIENT_N], 0.002, 1e-12);
    const struct amount *d = season_text_amount(&read, "d", 1, "vague", "north");
    assert_true(isnan(d->mass_rate) && isnan(mass_of(d)));
    assert_true(d->supplied[NUTRIENT_N] == 0);
    assert_near(season_text_amount(&read, "e", 1, "vague", "north")->supplied[NUTRIENT_N], 0.0016, 1e-12);
    season_text_free(&read);
}

/* A product without what it is to supply: nothing is computed, and nothing is applied. */
static void test_supply_of_nothing(void **state)
{
    struct season_text read;
    bool volume;
    season_text_read(
        &read,
        GROUND APPLY("a", "north", "supply 0.5 kg Zn per 100 m2 from meal\n rate 1 kg per 100 m2 of meal"));
    const struct occurrence *a = season_text_find(&read, "a", 1);
    assert_int_equal(a->amounts.count, 1);
    assert_near(a->amounts.items[0].total, 1, 1e-12);
    assert_true(isnan(dressing_rate(&a->treatment->dressings.items[0], &volume)));
    season_text_free(&read);
}

static void test_order_of_amounts(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND APPLY("a", "south, north",
                                         "rate 1 kg per 100 m2 of brew\n rate 2 kg per 100 m2 of meal"));
    const struct occurrence *a = season_text_find(&read, "a", 1);
    assert_int_equal(a->amounts.count, 4);
    assert_ptr_equal(a->amounts.items[0].zone, season_text_zone(&read, "south"));
    assert_ptr_equal(a->amounts.items[1].zone, season_text_zone(&read, "north"));
    assert_ptr_equal(a->amounts.items[1].dressing, &a->treatment->dressings.items[0]);
    assert_ptr_equal(a->amounts.items[2].dressing, &a->treatment->dressings.items[1]);
    season_text_free(&read);
}

/* Uses replace what was planned as a whole, zones and products. */
static void test_uses(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND APPLY("a", "green",
                                         "rate 3 kg per 100 m2 of meal\n when every 30 days from Apr 1, 3 "
                                         "times") "done a 2027-04-02 { used 2 kg of meal on south, 0.5 L of "
                                                  "brew on south }\n"
                                                  "done a 2027-05-02\n");
    const struct occurrence *first = season_text_find(&read, "a", 1);
    assert_int_equal(first->amounts.count, 2);
    assert_near(first->amounts.items[0].rate, 0.04, 1e-12);
    assert_ptr_equal(first->amounts.items[0].dressing, &first->treatment->dressings.items[0]);
    assert_true(first->amounts.items[0].recorded);
    assert_null(first->amounts.items[1].dressing);
    assert_true(first->amounts.items[1].volume);
    assert_near(mass_of(&first->amounts.items[1]), 0.625, 1e-12);
    assert_near(first->amounts.items[1].supplied[NUTRIENT_N], 0.001, 1e-12);
    const struct occurrence *second = season_text_find(&read, "a", 2);
    assert_int_equal(second->amounts.count, 2);
    assert_false(second->amounts.items[0].recorded);
    assert_near(second->amounts.items[0].total, 3, 1e-12);
    assert_int_equal(season_text_find(&read, "a", 3)->amounts.count, 2);
    season_text_free(&read);
}

static void test_skipped_applies_nothing(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND APPLY("a", "north", "rate 3 kg per 100 m2 of meal") "skipped a\n");
    assert_int_equal(season_text_find(&read, "a", 1)->amounts.count, 0);
    assert_int_equal(read.season->ledgers[0].applications.count, 0);
    season_text_free(&read);
}

/* ---- ledgers ---- */

/* Amounts of one day are one application of the zone; the text's order of treatments does not matter. */
static void test_ledger(void **state)
{
    struct season_text read;
    season_text_read(
        &read,
        GROUND APPLY("late", "green", "rate 1 kg per 100 m2 of meal\n when on May 1")
            APPLY("a", "north", "rate 3 kg per 100 m2 of meal\n rate 1 kg per 100 m2 of brew\n when on Apr 1")
                APPLY("b", "green", "rate 2 kg per 100 m2 of meal\n when on Apr 1"));
    const struct ledger *north = &read.season->ledgers[season_text_zone(&read, "north")->index];
    const struct ledger *south = &read.season->ledgers[season_text_zone(&read, "south")->index];
    assert_ptr_equal(north->zone, season_text_zone(&read, "north"));
    assert_int_equal(north->applications.count, 2);
    const struct application *first = &north->applications.items[0];
    assert_int_equal(first->day, text_day("2027-04-01"));
    assert_int_equal(first->amounts.count, 3);
    assert_int_equal(first->occurrences.count, 2);
    assert_near(first->supplied[NUTRIENT_N], 0.03 * 0.2 + 0.01 * 0.08 + 0.02 * 0.2, 1e-12);
    assert_int_equal(north->applications.items[1].day, text_day("2027-05-01"));
    assert_int_equal(south->applications.count, 2);
    assert_near(south->applications.items[0].supplied[NUTRIENT_N], 0.004, 1e-12);
    season_text_free(&read);
}

/* ---- what checks ask ---- */

/* Of a zone that the treatment does not have, and of a record beyond its times, nothing was planned. */
static void test_planned(void **state)
{
    struct season_text read;
    season_text_read(
        &read,
        GROUND APPLY("a", "north",
                     "rate 3 kg per 100 m2 of meal\n when on Apr 10") "done a 2027-04-10 { used 3 kg of meal "
                                                                      "on north, 1 kg on south }\n"
                                                                      "done a 2027-06-10 { used 1 kg of meal "
                                                                      "on north }\n");
    const struct zone *north = season_text_zone(&read, "north"), *south = season_text_zone(&read, "south");
    const struct product *meal = season_text_amount(&read, "a", 1, "meal", "north")->product;
    assert_int_equal(read.season->occurrences.count, 2);
    const struct occurrence *first = &read.season->occurrences.items[0];
    assert_near(product_planned(first, meal, north, false), 3, 1e-12);
    assert_near(product_planned(first, meal, south, false), 0, 1e-12);
    assert_near(product_planned(&read.season->occurrences.items[1], meal, north, false), 0, 1e-12);
    season_text_free(&read);
}

static void test_limits(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND "limits { for south\n no N, P2O5 from Nov 1 to Dec 1 }\n"
                                   "limits { nothing from Dec 1 to Feb 1 }\n"
                                   "limits bylaw { only on Sat }\n");
    const struct zone *north = season_text_zone(&read, "north"), *south = season_text_zone(&read, "south");
    const double nothing[NUTRIENT_COUNT] = {0}, p[NUTRIENT_COUNT] = {[NUTRIENT_P] = 1e-6};
    const struct limit *own[3] = {0};
    size_t count = 0;
    for (size_t i = 0; i < read.model->limits.count; i++)
        if (!read.model->limits.items[i]->set->symbol.library)
            own[count++] = read.model->limits.items[i];
    assert_int_equal(count, 3);
    assert_true(limit_binds(own[0], south));
    assert_false(limit_binds(own[0], north));
    assert_true(limit_binds(own[1], north));
    assert_false(limit_binds(own[2], north));
    assert_true(limit_concerns(own[0], p));
    assert_false(limit_concerns(own[0], nothing));
    assert_true(limit_concerns(own[1], nothing));
    season_text_free(&read);
}

static void test_normal_high(void **state)
{
    struct season_text read;
    season_text_read(&read, GROUND "weather {\n normals {\n month high C\n Apr 20\n }\n}\n");
    assert_near(season_reading(read.season, WEATHER_HIGH, text_day("2027-04-30")).value, 293.15, 1e-12);
    assert_true(isnan(season_reading(read.season, WEATHER_HIGH, text_day("2027-05-01")).value));
    season_text_free(&read);
    season_text_read(&read, GROUND);
    assert_true(isnan(season_reading(read.season, WEATHER_HIGH, text_day("2027-04-30")).value));
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rate),
        cmocka_unit_test(test_supply),
        cmocka_unit_test(test_liquids),
        cmocka_unit_test(test_supply_of_nothing),
        cmocka_unit_test(test_order_of_amounts),
        cmocka_unit_test(test_uses),
        cmocka_unit_test(test_skipped_applies_nothing),
        cmocka_unit_test(test_ledger),
        cmocka_unit_test(test_planned),
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_normal_high),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
