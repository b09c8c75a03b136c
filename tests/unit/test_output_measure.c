/* Amounts to weigh and lines to print. The expected amounts were worked out by hand from the exact ones
 * given. */
#include "compiler/model/measure.h"
#include "compiler/form/paragraph.h"
#include "compiler/form/plain_text.h"
#include "tests/unit/one_arena.h"

#include <math.h>

static void expect_measured(const char *unit, double amount, const char *wanted)
{
    const struct unit *in = unit_named(unit);
    int decimals;
    double value = measure_part(in, unit_to_si(in, amount), LEEWAY_DOWN, &decimals);
    assert_string_equal(measure_text(&arena, in, value, decimals), wanted);
}

static void test_rounds_down(void **state)
{
    expect_measured("lb", 12.94491, "12.9 lb");
    expect_measured("lb", 2.0357, "2.03 lb"); /* not 2.04 */
    expect_measured("lb", 3.4, "3.40 lb");    /* a decimal that binary numbers only come near */
    expect_measured("lb", 0.76, "0.76 lb");
    expect_measured("lb", 0.29, "0.290 lb");
    expect_measured("lb", 0.04219, "0.0421 lb"); /* small amounts finer */
    expect_measured("lb", 133.379, "133 lb");    /* large ones coarser */
    expect_measured("lb", 12345.6, "12345 lb");
    expect_measured("g", 380.9, "380 g");
    expect_measured("g", 38.27, "38.2 g");
    expect_measured("mL", 999.99, "999 mL");
    expect_measured("fl oz", 10.9392, "10.9 fl oz");
    expect_measured("kg", 0, "0.000 kg");
    expect_measured("kg", 0.3489, "0.348 kg"); /* below a whole one to the gram */
    expect_measured("L", 0.1392, "0.139 L");
    expect_measured("L", 1.6589, "1.65 L");
}

static void expect_fetched(const char *unit, double amount, double wanted)
{
    const struct unit *in = unit_named(unit);
    int decimals;
    assert_true(fabs(measure_up(in, unit_to_si(in, amount), &decimals) - wanted) < 1e-12);
}

static void test_rounds_up(void **state)
{
    expect_fetched("cu yd", 1.3052, 1.31);
    expect_fetched("cu m", 0.7248, 0.73);
    expect_fetched("cu m", 0.1812, 0.182); /* 0.19 would be a twentieth more */
    expect_fetched("L", 181.2, 182);
    expect_fetched("cu ft", 12.001, 12.1);
}

static void test_loses_little_and_passes_nothing(void **state)
{
    const char *const units[] = {"lb", "kg", "g", "gal", "fl oz", "L", "mL"};
    for (size_t u = 0; u < sizeof units / sizeof *units; u++) {
        const struct unit *unit = unit_named(units[u]);
        for (double amount = 1e-4; amount < 1e6; amount *= 1.0137) {
            int decimals;
            double measured = measure_part(unit, unit_to_si(unit, amount), LEEWAY_DOWN, &decimals);
            assert_true(measured <= amount * (1 + 1e-9));
            assert_true(measured >= amount * 0.98);
        }
    }
}

static void expect_figure(double value, double fall, double rise, int usual, double wanted, int takes)
{
    int decimals = usual;
    double figure = figure_within(value, (struct leeway){fall, rise}, &decimals);
    assert_true(fabs(figure - wanted) < 1e-12);
    assert_int_equal(decimals, takes);
}

/* 2 lb per 1000 sqft on 333 sqft are 0.666 lb. */
static void test_figures_stay_within(void **state)
{
    expect_figure(0.666, 1, INFINITY, 2, 0.66, 2);      /* nothing holds it up */
    expect_figure(0.666, 0, INFINITY, 2, 0.67, 2);      /* no less, and room for more */
    expect_figure(0.666, 0, 0.005, 2, 0.666, 3);        /* 0.67 is 0.6 percent more */
    expect_figure(0.666, 0.005, 0, 2, 0.666, 3);        /* 0.66 is 0.9 percent less */
    expect_figure(2.0 / 3, 0.001, 0, 2, 0.666, 3);      /* 0.666 is a thousandth less */
    expect_figure(1.0 / 7, 0, 0, 2, 0.14285714285, 11); /* only the exact one, to a ten billionth of it */
    expect_figure(0.666, 0.01, -0.002, 2, 0.66, 2);     /* it has to be less */
    expect_figure(0.66, 0.01, -0.002, 2, 0.658, 3);     /* though it could be printed as it is */
    expect_figure(5.0 / 0.14, 1, 0, 2, 35.71, 2);       /* of 35.714..., never 35.72 */
    expect_figure(0, 0, 0, 2, 0, 2);
}

static void expect_in_steps(double value, struct leeway leeway, double step, bool nearest, double wanted,
                            int takes)
{
    int decimals;
    double figure = figure_in_steps(value, leeway, step, nearest, &decimals);
    assert_true(fabs(figure - wanted) < 1e-12);
    assert_int_equal(decimals, takes);
}

/* A scale of 0.1 lb, a cup of a quarter of an ounce. */
static void test_figures_in_steps(void **state)
{
    const struct leeway any = {1, INFINITY}, down = LEEWAY_DOWN, up = {0, INFINITY}, close = {0.001, 0.001};
    expect_in_steps(2.043, any, 0.1, false, 2, 1);
    expect_in_steps(2.07, any, 0.1, false, 2, 1);
    expect_in_steps(2.07, any, 0.1, true, 2.1, 1);
    expect_in_steps(2.07, down, 0.1, true, 2, 1); /* a limit is in the way */
    expect_in_steps(2.043, up, 0.1, true, 2.1, 1);
    expect_in_steps(2.043, close, 0.1, true, 2.043, 3); /* no multiple of 0.1 or 0.01 is near enough */
    expect_in_steps(0.04, any, 0.1, true, 0.1, 1);      /* never nothing */
    expect_in_steps(0.04, down, 0.1, true, 0.04, 2);
    expect_in_steps(0.3, any, 0.1, false, 0.3, 1); /* three times 0.1 in binary is more */
    expect_in_steps(3.4, any, 0.25, false, 3.25, 2);
    expect_in_steps(0, any, 0.25, true, 0, 2);
}

static void test_unit_by_system(void **state)
{
    struct model us = {.metric = false}, metric = {.metric = true};
    assert_string_equal(measure_unit(&us, 5, false)->name, "lb");
    assert_string_equal(measure_unit(&metric, 5, false)->name, "kg");
    assert_string_equal(measure_unit(&metric, 0.5, false)->name, "g");
    assert_string_equal(measure_unit(&us, 0.0003, true)->name, "fl oz");
    assert_string_equal(measure_unit(&metric, 0.0003, true)->name, "mL");
}

/* ---- lines ---- */

static const char *paragraph(const char *lead, const char *text)
{
    struct buffer out = {.arena = &arena};
    paragraph_add(&out, lead, text);
    return out.string;
}

static void test_paragraph_breaks_at_blanks(void **state)
{
    assert_string_equal(paragraph("  - ", "one  two"), "  - one two\n");
    assert_string_equal(paragraph("", ""), "\n");
    const char *long_text =
        "aaaaaaaaa bbbbbbbbb ccccccccc ddddddddd eeeeeeeee fffffffff ggggggggg hhhhhhhhh iiii";
    assert_string_equal(paragraph("", long_text),
                        "aaaaaaaaa bbbbbbbbb ccccccccc ddddddddd eeeeeeeee fffffffff "
                        "ggggggggg hhhhhhhhh\niiii\n");
    assert_string_equal(paragraph("  - ", long_text),
                        "  - aaaaaaaaa bbbbbbbbb ccccccccc ddddddddd eeeeeeeee fffffffff ggggggggg\n"
                        "    hhhhhhhhh iiii\n");
}

static void test_paragraph_keeps_long_words_whole(void **state)
{
    char word[121];
    memset(word, 'x', 120);
    word[120] = '\0';
    assert_string_equal(paragraph("", text_format(&arena, "a %s b", word)),
                        text_format(&arena, "a\n%s\nb\n", word));
}

/* Cells, not bytes: 40 letters of two bytes each and a blank fill half a line. */
static void test_paragraph_counts_cells(void **state)
{
    struct buffer text = {.arena = &arena};
    for (int i = 0; i < 39; i++)
        buffer_add_string(&text, "\u00e4");
    buffer_add_string(&text, " ");
    for (int i = 0; i < 40; i++)
        buffer_add_string(&text, "\u00f6");
    const char *printed = paragraph("", text.string);
    assert_ptr_equal(strchr(printed, '\n'), printed + strlen(printed) - 1);
    printed = paragraph("", text_format(&arena, "%s\u00f6", text.string));
    assert_ptr_not_equal(strchr(printed, '\n'), printed + strlen(printed) - 1);
}

static void test_paragraph_spells_out_controls(void **state)
{
    assert_string_equal(paragraph("", "a\033[1mb\nc"), "a\\u{1b}[1mb\\u{a}c\n");
}

static void test_fields(void **state)
{
    struct buffer out = {.arena = &arena};
    field_add(&out, "\u00fc", 3);
    field_add(&out, "longer", 2);
    assert_string_equal(out.string, "\u00fc  longer");
}

/* ---- plain text ---- */

static void test_plain_text(void **state)
{
    assert_string_equal(plain_text(&arena, "a\tb\r\nc\x7f\xc2\x85z", true), "a b \nc  z");
    assert_string_equal(plain_text(&arena, "a\nb", false), "a b");
    assert_string_equal(plain_text(&arena, "\xff\xc3\u00e4", false), "\ufffd\ufffd\u00e4");
    assert_string_equal(plain_text(&arena, "", true), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_rounds_down),
        TEST(test_rounds_up),
        TEST(test_loses_little_and_passes_nothing),
        TEST(test_figures_stay_within),
        TEST(test_figures_in_steps),
        TEST(test_unit_by_system),
        TEST(test_paragraph_breaks_at_blanks),
        TEST(test_paragraph_keeps_long_words_whole),
        TEST(test_paragraph_counts_cells),
        TEST(test_paragraph_spells_out_controls),
        TEST(test_fields),
        TEST(test_plain_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
