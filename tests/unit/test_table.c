#include "tests/unit/model_text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define LB 0.45359237
#define SQFT 0.09290304

/* A soil test whose `results` hold these lines; the first of them is line 5 of the plan. */
static const char *plan_of(struct arena *arena, const char *lines)
{
    return text_format(arena,
                       "lawn l { zone a square 3 m }\nsoil-test 2027-02-12 {\n of a, method mehlich-3\n "
                       "results {\n%s\n }\n}\n",
                       lines);
}

static void read_results(struct model_text *read, const char *lines)
{
    struct arena arena;
    arena_init(&arena, NULL);
    model_text_read(read, plan_of(&arena, lines));
    arena_free(&arena);
}

static const struct table *results_of(const struct model_text *read)
{
    assert_int_equal(read->model->soil_tests.count, 1);
    return &read->model->soil_tests.items[0]->results;
}

static void test_values(void **state)
{
    struct model_text read;
    read_results(&read, "spot pH P ppm K mg/kg Mg lb per acre CEC meq per 100 g organic-matter\n"
                        "gate 6.4 11 44 104 8 3.5\n"
                        "\"by the oak\" 6 1/2 13 40 98.5 < 0.5 none\n"
                        "3 6.5 < 12 below 47 110 9 3\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct table *table = results_of(&read);
    assert_int_equal(table->column_count, 6);
    assert_int_equal(table->row_count, 3);
    assert_int_equal(table->columns[1].nutrient->nutrient, NUTRIENT_P);
    assert_string_equal(table->columns[3].unit_text, "lb per acre");
    const struct table_row *rows = table->rows;
    assert_true(text_is(rows[0].name->text, "gate"));
    assert_true(text_is(rows[1].name->text, "by the oak"));
    assert_true(text_is(rows[2].name->text, "3"));
    assert_figure(rows[0].cells[0].number, 6.4);
    assert_figure(rows[1].cells[0].number, 6.5);
    assert_figure(rows[0].cells[1].number, 11e-6);
    assert_figure(rows[0].cells[2].number, 44e-6);
    assert_figure(rows[0].cells[3].number, 52e-6); /* 2 lb per acre are 1 ppm */
    assert_figure(rows[0].cells[4].number, 0.08);  /* 8 meq per 100 g are 0.08 mol of charge per kg */
    assert_true(isnan(rows[1].cells[5].number));
    assert_true(rows[1].cells[4].below && rows[2].cells[1].below && rows[2].cells[2].below);
    assert_false(rows[0].cells[1].below);
    assert_figure(rows[2].cells[1].number, 12e-6);
    model_text_free(&read);
}

static void test_marks_and_ratings(void **state)
{
    struct model_text read;
    read_results(&read, "spot P ppm K lb per acre\n"
                        "gate 11 L > 200 VH\n"
                        "\"by the oak\" < 12 very-low above 310\n"
                        "3 none 6 1/2 M\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct table_row *rows = results_of(&read)->rows;
    assert_int_equal(rows[0].cells[0].rating, RATING_LOW);
    assert_string_equal(rows[0].cells[0].rating_text, "L");
    assert_true(rows[0].cells[1].above && !rows[0].cells[1].below && !rows[0].cells[0].above);
    assert_figure(rows[0].cells[1].number, 100e-6);
    assert_int_equal(rows[0].cells[1].rating, RATING_ENOUGH);
    assert_true(rows[1].cells[0].below && rows[1].cells[1].above);
    assert_int_equal(rows[1].cells[0].rating, RATING_LOW);
    assert_int_equal(rows[1].cells[1].rating, RATING_NONE);
    assert_true(isnan(rows[2].cells[0].number));
    assert_figure(rows[2].cells[1].number, 3.25e-6);
    assert_int_equal(rows[2].cells[1].rating, RATING_MEDIUM);
    model_text_free(&read);
}

static void test_normals(void **state)
{
    struct model_text read;
    model_text_read(
        &read,
        "weather {\n normals {\n month high F low C rain in\n Mar 54 -1 3.6\n april 64 none 3.2\n }\n}\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct weather *weather = &read.model->weather;
    assert_figure(weather->high[3], (54 - 32) / 1.8 + 273.15);
    assert_figure(weather->low[3], 272.15);
    assert_figure(weather->rain[3], 3.6 * 0.0254);
    assert_true(isnan(weather->low[4]) && isnan(weather->high[5]));
    model_text_free(&read);
    assert_errors("weather {\n normals {\n month high F\n Mar 54\n Mar 55\n Mars 54\n Apr -600\n }\n}\n",
                  "5:2 table\n6:2 table\n7:6 value");
}

static void test_refused(void **state)
{
    static const struct {
        const char *lines, *errors;
    } samples[] = {
        {"spot pH\ngate 6.4", ""},
        {"", "4:10 table"},
        {"spot pH", "4:10 table"},
        {"spot\ngate", "5:1 table"},
        {"place pH\ngate 6.4", "5:1 table"},
        {"gate 6.4\noak 6.3", "5:1 table"},
        {"spot acid\ngate 6.4", "5:6 table"},
        {"spot P\ngate 6.4", "5:6 unit"},
        {"spot P K ppm\ngate 6.4 1", "5:6 unit"},
        {"spot P gal\ngate 6.4", "5:8 dimension"},
        {"spot CEC ppm\ngate 6.4", "5:10 dimension"},
        {"spot pH pH\ngate 6 6", "5:9 table"},
        {"spot P ppm P2O5 ppm\ngate 6 6", "5:12 table"},
        {"spot pH\ngate", "6:1 table"},
        {"spot pH\ngate 6.4 6.5", "6:1 table"},
        {"spot pH P ppm\ngate 6, 11", "6:7 table"},
        {"spot pH, P ppm\ngate 6 11", "5:8 table"},
        {"spot pH\ngate six", "6:6 table"},
        {"spot pH\ngate < none", "6:8 table"},
        {"spot P ppm\ngate > none", "6:8 table"},
        {"spot pH\ngate > 6", "6:6 table"},
        {"spot pH\ngate 6 L", "6:1 table"},
        {"spot P ppm\ngate 6 maybe", "6:8 table"},
        {"spot P ppm\ngate 6 L L", "6:1 table"},
        {"spot P ppm\ngate L", "6:6 table"},
        {"spot pH\ngate 1/0", "6:6 table"},
        {"spot pH\ngate 0/0", "6:6 table"},
        {"spot pH\ngate -1", "6:6 table"},
        {"spot pH\ngate 30%", "6:6 table"},
        {"spot pH\ngate { }", "6:6 table"},
        {"spot pH\ngate 4,500", "6:6 number"},
        {"spot pH ?\ngate 6\noak 7", "5:9 character"},
        {"spot pH\ngate x\noak y\nelm 6 7\nash 6", "6:6 table\n7:5 table\n8:1 table"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct arena arena;
        arena_init(&arena, NULL);
        assert_errors(plan_of(&arena, samples[i].lines), samples[i].errors);
        arena_free(&arena);
    }
}

static void test_what_is_kept(void **state)
{
    struct model_text read;
    read_results(&read, "spot pH P ppm\ngate 1/0 3\noak 6.5 4\nash 6\nelm x 5\nfir 6.1 none\n");
    const struct table *table = results_of(&read);
    assert_int_equal(table->row_count, 2); /* the rows without a mistake */
    assert_true(text_is(table->rows[0].name->text, "oak") && text_is(table->rows[1].name->text, "fir"));
    assert_int_equal(read.reports.errors, 3);
    model_text_free(&read);
    read_results(&read, "spot pH P ppm\ngate 6\n");
    assert_string_equal(model_text_error(&read)->sentence, "this row has 1 value for 2 columns");
    model_text_free(&read);
    read_results(&read, "spot pH\ngate 6 7\n");
    assert_string_equal(model_text_error(&read)->sentence, "this row has 2 values for 1 column");
    model_text_free(&read);
}

static void test_many(void **state)
{
    struct model_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    buffer_add_string(&text, "spot pH P ppm\n");
    for (int i = 0; i < 20000; i++)
        buffer_format(&text, "s%d 6 %d\n", i, i);
    read_results(&read, buffer_string(&text));
    assert_string_equal(model_text_errors(&read), "");
    assert_int_equal(results_of(&read)->row_count, 20000);
    model_text_free(&read);
    text = (struct buffer){.arena = &arena};
    buffer_add_string(&text, "spot");
    for (int i = 0; i < 20000; i++)
        buffer_add_string(&text, " pH");
    buffer_add_string(&text, "\ngate 6");
    read_results(&read, buffer_string(&text));
    assert_int_equal(read.reports.errors, 19999); /* one for each column but the first */
    model_text_free(&read);
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_values),       cmocka_unit_test(test_marks_and_ratings),
        cmocka_unit_test(test_normals),      cmocka_unit_test(test_refused),
        cmocka_unit_test(test_what_is_kept), cmocka_unit_test(test_many),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
