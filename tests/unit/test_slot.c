/* Values in statements, against figures worked out by hand from the definitions of the units: the inch is
 * 0.0254 m, the pound 0.45359237 kg, the US gallon 231 cubic inches. */
#include "tests/unit/model_text.h"

#include "compiler/model/form_match.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define LB 0.45359237
#define FT 0.3048
#define SQFT 0.09290304
#define GAL 0.003785411784
#define DAY 86400.0

/* One value read from text, by itself. */
struct slot {
    struct model_text text;
    struct tree tree;
    struct matcher matcher;
    struct value value;
    uint32_t at;
    bool fits;
};

static void read_slot(struct slot *slot, const char *type, const char *written)
{
    memset(slot, 0, sizeof *slot);
    model_text_read(&slot->text, "plan \"x\"\n");
    struct arena *arena = &slot->text.arena;
    struct source *source = ARENA_NEW(arena, struct source);
    source_init(source, arena, "slot", (const unsigned char *)written, (uint32_t)strlen(written));
    lex_source(source, arena, &slot->text.reports, &slot->tree.tokens);
    slot->tree.source = source;
    slot->matcher = (struct matcher){.model = slot->text.model,
                                     .tree = &slot->tree,
                                     .block = BLOCK_APPLY,
                                     .end = (uint32_t)slot->tree.tokens.count - 1};
    slot->fits =
        slot_read(&slot->matcher, slot_type_find(text_of(type)), text_of(type), &slot->at, &slot->value);
}

static void slot_free(struct slot *slot)
{
    model_text_free(&slot->text);
}

struct figure {
    const char *type, *written;
    double low, high;
};

static void check_figures(const struct figure *figures, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct slot slot;
        read_slot(&slot, figures[i].type, figures[i].written);
        if (!slot.fits || slot.at != slot.matcher.end)
            fail_msg("`%s` is not read as %s", figures[i].written, figures[i].type);
        assert_figure(slot.value.number, figures[i].low);
        assert_figure(slot.value.high, figures[i].high);
        slot_free(&slot);
    }
}
#define CHECK(figures) check_figures(figures, sizeof(figures) / sizeof *(figures))

static void test_quantities(void **state)
{
    static const struct figure figures[] = {
        {"length", "8 ft", 8 * FT, 8 * FT},
        {"length", "9 1/2 ft", 9.5 * FT, 9.5 * FT},
        {"length", "6.5m", 6.5, 6.5},
        {"length", "40 inches", 40 * 0.0254, 40 * 0.0254},
        {"length", "3 yd", 3 * 0.9144, 3 * 0.9144},
        {"length", "48 ft 6 in", 48.5 * FT, 48.5 * FT},
        {"length", "48' 6\"", 48.5 * FT, 48.5 * FT},
        {"length", "62'6\"", 62.5 * FT, 62.5 * FT},
        {"length", "1/4\"", 0.25 * 0.0254, 0.25 * 0.0254},
        {"length", "48\u2019 6 1/2\u201d", 48 * FT + 6.5 * 0.0254, 48 * FT + 6.5 * 0.0254},
        {"length", "2 m 5 cm", 2.05, 2.05},
        {"area", "640 sqft", 640 * SQFT, 640 * SQFT},
        {"area", "640 sq ft", 640 * SQFT, 640 * SQFT},
        {"area", "640 square feet", 640 * SQFT, 640 * SQFT},
        {"area", "640 ft2", 640 * SQFT, 640 * SQFT},
        {"area", "2.5 acres", 2.5 * 43560 * SQFT, 2.5 * 43560 * SQFT},
        {"area", "1/4 ha", 2500, 2500},
        {"volume", "4 gal", 4 * GAL, 4 * GAL},
        {"volume", "3 fl oz", 3 * GAL / 128, 3 * GAL / 128},
        {"volume", "15 L", 0.015, 0.015},
        {"volumes", "1 to 2 gal", GAL, 2 * GAL},
        {"mass", "40 lb", 40 * LB, 40 * LB},
        {"mass", "8 ounces", LB / 2, LB / 2},
        {"mass", "5 lb 8 oz", 5.5 * LB, 5.5 * LB},
        {"mass", "1 ton", 2000 * LB, 2000 * LB},
        {"amount", "18 kg", 18, 18},
        {"amount", "2.5 gal", 2.5 * GAL, 2.5 * GAL},
        {"density", "10.6 lb per gal", 10.6 * LB / GAL, 10.6 * LB / GAL},
        {"density", "1.27 kg/L", 1270, 1270},
        {"output", "1 gal per 1000 sqft", GAL / (1000 * SQFT), GAL / (1000 * SQFT)},
        {"output", "4 L per 100 m2", 4e-5, 4e-5},
        {"rate", "4 lb per 1000 sqft", 4 * LB / (1000 * SQFT), 4 * LB / (1000 * SQFT)},
        {"rate", "4 lb/1000 sqft", 4 * LB / (1000 * SQFT), 4 * LB / (1000 * SQFT)},
        {"rate", "20 g/m2", 0.02, 0.02},
        {"rate", "20 g per m\xc2\xb2", 0.02, 0.02},
        {"rate", "200 kg/ha", 0.02, 0.02},
        {"rate", "3 fl oz per 1000 sqft", 3 * GAL / 128 / (1000 * SQFT), 3 * GAL / 128 / (1000 * SQFT)},
        {"rates", "2 to 6 lb per 1000 sqft", 2 * LB / (1000 * SQFT), 6 * LB / (1000 * SQFT)},
        {"rates", "0 to 6 lb per 1000 sqft", 0, 6 * LB / (1000 * SQFT)},
        {"rates", "2-6 lb per 1000 sqft", 2 * LB / (1000 * SQFT), 6 * LB / (1000 * SQFT)},
        {"rates", "1/2 \u2013 1 1/2 lb per 1000 sqft", 0.5 * LB / (1000 * SQFT), 1.5 * LB / (1000 * SQFT)},
        {"rate", "1 lb 4 oz per 1000 sqft", 1.25 * LB / (1000 * SQFT), 1.25 * LB / (1000 * SQFT)},
        {"supply", "0.75 lb N per 1000 sqft", 0.75 * LB / (1000 * SQFT), 0.75 * LB / (1000 * SQFT)},
        {"supply", "44 kg soluble N per ha", 0.0044, 0.0044},
        {"supply", "44 kg per ha soluble N", 0.0044, 0.0044},
        {"supply", "25 kg/ha N", 0.0025, 0.0025},
        {"supplies", "2 to 4 lb N per 1000 sqft", 2 * LB / (1000 * SQFT), 4 * LB / (1000 * SQFT)},
    };
    CHECK(figures);
}

static void test_temperatures_and_times(void **state)
{
    static const struct figure figures[] = {
        {"temperature", "32 F", 273.15, 273.15},
        {"temperature", "85 F", (85 - 32) / 1.8 + 273.15, (85 - 32) / 1.8 + 273.15},
        {"temperature", "-40 C", 233.15, 233.15},
        {"temperature", "-40 F", 233.15, 233.15},
        {"temperature", "0 C", 273.15, 273.15},
        {"temperature", "20 \u00b0C", 293.15, 293.15},
        {"temperature", "85 degrees F", (85 - 32) / 1.8 + 273.15, (85 - 32) / 1.8 + 273.15},
        {"time", "4 h", 4 * 3600, 4 * 3600},
        {"time", "42 days", 42 * DAY, 42 * DAY},
        {"time", "1 day", DAY, DAY},
        {"time", "6 weeks", 42 * DAY, 42 * DAY},
        {"time", "30 min", 1800, 1800},
        {"time", "2 months", 2, 2},
        {"time", "1 year", 12, 12},
        {"time", "1/2 year", 6, 6},
    };
    CHECK(figures);
    struct slot slot;
    read_slot(&slot, "time", "2 months");
    assert_true(slot.value.calendar);
    slot_free(&slot);
    read_slot(&slot, "time", "2 weeks");
    assert_false(slot.value.calendar);
    slot_free(&slot);
}

/* A furrow slice of 2,000,000 lb to the acre: 2 lb per acre are 1 ppm. */
static void test_levels(void **state)
{
    static const struct figure figures[] = {
        {"level", "21 ppm", 21e-6, 21e-6},         {"level", "21 mg/kg", 21e-6, 21e-6},
        {"level", "42 lb per acre", 21e-6, 21e-6}, {"levels", "25 to 45 lb per acre", 12.5e-6, 22.5e-6},
        {"levels", "0 to 20 ppm", 0, 20e-6},
    };
    CHECK(figures);
}

static void test_by_volume_and_per(void **state)
{
    struct slot slot;
    read_slot(&slot, "rate", "3 fl oz per 1000 sqft");
    assert_true(slot.value.volume);
    assert_figure(slot.value.per, 1000 * SQFT);
    slot_free(&slot);
    read_slot(&slot, "rate", "4 lb per 1000 sqft");
    assert_false(slot.value.volume);
    assert_figure(slot.value.per, 1000 * SQFT);
    slot_free(&slot);
    read_slot(&slot, "rate", "20 g/m2");
    assert_figure(slot.value.per, 1);
    slot_free(&slot);
    read_slot(&slot, "amount", "2 gal");
    assert_true(slot.value.volume);
    slot_free(&slot);
}

/* "per year" is no part of a rate: the statement goes on with it. */
static void test_where_a_quantity_ends(void **state)
{
    static const struct {
        const char *type, *written, *rest;
    } samples[] = {
        {"supply", "3.2 lb N per 1000 sqft per year", "per"},
        {"rate", "12 lb per 1000 sqft a year", "a"},
        {"length", "10 ft of water", "of"},
        {"length", "0.25 in within 1 day", "within"},
        {"mass", "3 lb in any 30 days", "in"},
        {"area", "640 sq ft, 12 ft from water", ","},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct slot slot;
        read_slot(&slot, samples[i].type, samples[i].written);
        assert_true(slot.fits);
        assert_true(text_is(token_text(&slot.tree.tokens, slot.at), samples[i].rest));
        slot_free(&slot);
    }
}

static void test_nutrients(void **state)
{
    static const struct {
        const char *written;
        enum nutrient nutrient;
        double element;
    } samples[] = {
        /* atomic weights to three decimals: P 30.974, O 15.999, K 39.098 */
        {"N", NUTRIENT_N, 1},
        {"P", NUTRIENT_P, 1},
        {"P2O5", NUTRIENT_P, 61.948 / 141.943},
        {"K2O", NUTRIENT_K, 78.196 / 94.195},
        {"soluble N", NUTRIENT_SOLUBLE_N, 1},
        {"slow N", NUTRIENT_SLOW_N, 1},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct slot slot;
        read_slot(&slot, "nutrient", samples[i].written);
        assert_true(slot.fits && slot.at == slot.matcher.end);
        assert_int_equal(slot.value.nutrient->nutrient, samples[i].nutrient);
        assert_figure(slot.value.nutrient->element_per_unit, samples[i].element);
        slot_free(&slot);
    }
}

static void test_grades_and_shares(void **state)
{
    struct slot slot;
    read_slot(&slot, "grade", "14-20-0.5");
    assert_figure(slot.value.items[0].number, 0.14);
    assert_figure(slot.value.items[1].number, 0.20);
    assert_figure(slot.value.items[2].number, 0.005);
    slot_free(&slot);
    read_slot(&slot, "percent", "4.2%");
    assert_figure(slot.value.number, 0.042);
    slot_free(&slot);
    read_slot(&slot, "percent", "0%");
    assert_true(slot.fits && slot.value.number == 0);
    slot_free(&slot);
    read_slot(&slot, "percent", "100%");
    assert_true(slot.fits && slot.value.number == 1);
    slot_free(&slot);
    read_slot(&slot, "mix", "60% compost, 40% sand");
    assert_int_equal(slot.value.count, 2);
    assert_figure(slot.value.items[1].number, 0.4);
    slot_free(&slot);
    read_slot(&slot, "mix", "sand");
    assert_int_equal(slot.value.count, 1);
    assert_figure(slot.value.items[0].number, 1);
    slot_free(&slot);
    read_slot(&slot, "granular|liquid|soluble", "soluble");
    assert_figure(slot.value.number, 2);
    slot_free(&slot);
    read_slot(&slot, "clock", "18:05");
    assert_figure(slot.value.number, 18 * 60 + 5);
    slot_free(&slot);
}

static void test_days(void **state)
{
    static const struct {
        const char *type, *written;
        int year, month, day;
    } samples[] = {
        {"date", "2027-04-17", 2027, 4, 17}, {"day", "2027-04-17", 2027, 4, 17},  {"day", "Apr 17", 0, 4, 17},
        {"day", "17 Apr", 0, 4, 17},         {"day", "april 17", 0, 4, 17},       {"day", "Sept 4", 0, 9, 4},
        {"day", "Feb 29", 0, 2, 29},         {"date", "2028-02-29", 2028, 2, 29},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct slot slot;
        read_slot(&slot, samples[i].type, samples[i].written);
        assert_true(slot.fits && slot.at == slot.matcher.end);
        assert_int_equal(slot.value.date.year, samples[i].year);
        assert_int_equal(slot.value.date.month, samples[i].month);
        assert_int_equal(slot.value.date.day, samples[i].day);
        slot_free(&slot);
    }
    struct slot slot;
    read_slot(&slot, "weekdays", "Sat, Sundays, mon");
    assert_int_equal(slot.value.count, 3);
    assert_figure(slot.value.items[1].number, SUNDAY);
    assert_figure(slot.value.items[2].number, MONDAY);
    slot_free(&slot);
}

/* What is refused, by which rule ("" for a plain "expected ...") and in which words. */
static void test_refused(void **state)
{
    static const struct {
        const char *type, *written, *rule, *words;
    } samples[] = {
        {"length", "8", "unit", "`8` has no unit"},
        {"length", "8 by", "unit", "`8` has no unit"},
        {"length", "8 fet", "unit", "`fet` is not a unit"},
        {"length", "8 lb", "dimension", "`8 lb` is a mass"},
        {"length", "0 ft", "value", "`0 ft` is not above zero"},
        {"length", "-3 ft", "value", "`-3 ft` is not above zero"},
        {"length", "1/0 ft", "value", "this number is out of range"},
        {"length", "0/0 ft", "value", "this number is out of range"},
        {"length", "ft", "", "a length such as 8 ft"},
        {"rate", "4 lb", "dimension", "`4 lb` is a mass"},
        {"rate", "4 lb per gal", "dimension", "`4 lb per gal` is a mass per volume"},
        {"rate", "4 per 1000 sqft", "unit", "`4` has no unit"},
        {"rate", "4 lb per 0 sqft", "value", "a rate cannot be per zero"},
        {"rate", "4 lb per -1 sqft", "value", "a rate cannot be per zero"},
        {"rate", "0.25 in", "dimension", "`0.25 in` is a length"},
        {"rate", "4 lb per 1000", "unit", "`1000` has no unit"},
        {"rates", "6 to 2 lb per 1000 sqft", "value", "`6 to 2 lb per 1000 sqft` goes from high to low"},
        {"rates", "0 to 0 lb per 1000 sqft", "value", "`0 to 0 lb per 1000 sqft` is not above zero"},
        {"rates", "2 to", "", "the upper number"},
        {"supply", "4 lb per 1000 sqft", "", "a nutrient such as N or P2O5"},
        {"supply", "4 lb NN per 1000 sqft", "", "a nutrient such as N or P2O5"},
        {"supply", "4 lb Mgg per 1000 sqft", "nutrient", "`Mgg` is not a nutrient"},
        {"supply", "4 lb p2o5 per 1000 sqft", "nutrient", "`p2o5` is not a nutrient"},
        {"supply", "4 lb soluble P per 1000 sqft", "", "a nutrient such as N or P2O5"},
        {"supply", "4 lb N per gal", "dimension", "`4 lb N per gal` is a mass per volume"},
        {"output", "0.25 in", "dimension", "`0.25 in` is a length"},
        {"output", "1 gal", "dimension", "`1 gal` is a volume"},
        {"density", "4 lb per ft", "dimension", "`4 lb per ft` is a quantity of its own kind"},
        {"temperature", "85", "unit", "`85` has no unit"},
        {"length", "2-6 ft", "value", "`2-6` is a range, and one number is needed here"},
        {"rates", "6-2 lb per 1000 sqft", "value", "`6-2 lb per 1000 sqft` goes from high to low"},
        {"supply", "4 lb nitrogen per 1000 sqft", "nutrient", "`nitrogen` is written by its symbol"},
        {"supply", "4 lb per 1000 sqft nitrogen", "", "a nutrient such as N or P2O5"},
        {"grade", "20-10", "value", "`20-10` has two numbers, a grade has three"},
        {"price", "$31", "value", "`$31` is in a currency that the plan does not state"},
        {"price", "-1", "value", "a price cannot be below zero"},
        {"temperature", "85 ft", "dimension", "`85 ft` is a length"},
        {"temperature", "-460 F", "value", "`-460 F` is below absolute zero"},
        {"temperature", "-274 C", "value", "`-274 C` is below absolute zero"},
        {"time", "0 days", "value", "`0 days` is not above zero"},
        {"time", "1.5 months", "value", "months must be whole"},
        {"time", "2 lb", "dimension", "`2 lb` is a mass"},
        {"time", "36526 days", "value", "this is more than a hundred years"},
        {"time", "999999999999 years", "value", "this is more than a hundred years"},
        {"count", "0", "value", "a whole number from 1 to 10000 is needed here"},
        {"count", "1.5", "value", "a whole number from 1 to 10000 is needed here"},
        {"count", "10001", "value", "a whole number from 1 to 10000 is needed here"},
        {"count", "999999999999999", "value", "a whole number from 1 to 10000 is needed here"},
        {"number", "-1", "value", "a number here cannot be below zero"},
        {"percent", "101%", "value", "a percentage is between 0% and 100%"},
        {"percent", "-1%", "value", "a percentage is between 0% and 100%"},
        {"percent", "30", "", "a percentage such as 30%"},
        {"mix", "60% compost, 40%", "", "a material"},
        {"mix", "70%", "", "a material"},
        {"mix", "60% compost, 30% soil", "value", "the parts of the mix add up to 90%"},
        {"date", "2027-02-30", "date", "there is no day `2027-02-30`"},
        {"date", "2027-13-01", "date", "there is no day `2027-13-01`"},
        {"date", "2027-00-00", "date", "there is no day `2027-00-00`"},
        {"date", "0000-13-01", "date", "there is no day `0000-13-01`"},
        {"date", "0000-04-17", "date", "there is no day `0000-04-17`"},
        {"day", "0000-04-17", "date", "there is no day `0000-04-17`"},
        {"date", "1899-12-31", "date", "there is no day `1899-12-31`"},
        {"date", "2200-01-01", "date", "there is no day `2200-01-01`"},
        {"date", "Apr 17", "", "a date such as 2027-04-17"},
        {"day", "Feb 30", "date", "there is no day `Feb 30`"},
        {"day", "Apr 0", "date", "there is no day `Apr 0`"},
        {"day", "Apr 1/0", "date", "there is no day `Apr 1/0`"},
        {"day", "Apr 1.5", "date", "there is no day `Apr 1.5`"},
        {"day", "Apr 999999999999999", "date", "there is no day `Apr 999999999999999`"},
        {"day", "Apr", "", "the day of the month"},
        {"day", "Ap 17", "", "a day such as Apr 17 or 2027-04-17"},
        {"clock", "24:00", "value", "there is no such time of day"},
        {"clock", "6:60", "value", "there is no such time of day"},
        {"weekdays", "Sat, Funday", "", "days of the week such as Sat, Sun"},
        {"level", "21 gal", "dimension", "`21 gal` is a volume"},
        {"density", "10.6 lb", "dimension", "`10.6 lb` is a mass"},
        {"name", "4", "", "a name"},
        {"name", "\"\"", "value", "a name cannot be empty"},
        {"text", "x", "", "text between \" marks"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct slot slot;
        read_slot(&slot, samples[i].type, samples[i].written);
        if (slot.fits)
            fail_msg("`%s` is read as %s", samples[i].written, samples[i].type);
        const struct failure *failure = &slot.matcher.failure;
        const char *rule = failure->rule ? failure->rule->name : "";
        const char *words =
            failure->rule ? failure->sentence : text_string(&slot.text.arena, failure->expected[0].words);
        if (strcmp(rule, samples[i].rule) != 0 || strcmp(words, samples[i].words) != 0)
            print_error("%s of `%s`\n", samples[i].type, samples[i].written);
        assert_string_equal(rule, samples[i].rule);
        assert_string_equal(words, samples[i].words);
        slot_free(&slot);
    }
}

static void test_suggestions(void **state)
{
    struct slot slot;
    read_slot(&slot, "length", "8 fett");
    assert_string_equal(slot.matcher.failure.help, "did you mean `feet`?");
    assert_true(text_is(slot.matcher.failure.meant, "feet"));
    slot_free(&slot);
    read_slot(&slot, "nutrient", "mg");
    assert_true(text_is(slot.matcher.failure.meant, "Mg"));
    slot_free(&slot);
    struct model_text read;
    model_text_read(&read, "product p { contains mg 4% }\n");
    assert_string_equal(model_text_error(&read)->fix->edits[0].replacement, "Mg");
    assert_false(model_text_error(&read)->fix->safe);
    model_text_free(&read);
}

/* P is not P2O5: the label's figure is the oxide's, the plant's the element's. */
static void test_element_and_oxide(void **state)
{
    struct model_text read;
    model_text_read(&read, "product p { grade 10-20-30 granular, contains P 4% }\n"
                           "product q { grade 0-0-0 granular, contains P2O5 20%, K 10%, CaO 5% }\n");
    const struct product *p = model_text_product(&read, "p"), *q = model_text_product(&read, "q");
    assert_figure(p->content[NUTRIENT_N], 0.10);
    assert_figure(p->content[NUTRIENT_P], 0.20 * 61.948 / 141.943 + 0.04);
    assert_figure(p->content[NUTRIENT_K], 0.30 * 78.196 / 94.195);
    assert_figure(q->content[NUTRIENT_P], 0.20 * 61.948 / 141.943);
    assert_figure(q->content[NUTRIENT_K], 0.10);
    assert_figure(q->content[NUTRIENT_CA], 0.05 * 40.078 / 56.077);
    model_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_quantities),
        cmocka_unit_test(test_temperatures_and_times),
        cmocka_unit_test(test_levels),
        cmocka_unit_test(test_by_volume_and_per),
        cmocka_unit_test(test_where_a_quantity_ends),
        cmocka_unit_test(test_nutrients),
        cmocka_unit_test(test_grades_and_shares),
        cmocka_unit_test(test_days),
        cmocka_unit_test(test_refused),
        cmocka_unit_test(test_suggestions),
        cmocka_unit_test(test_element_and_oxide),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
