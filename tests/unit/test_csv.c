#include "compiler/model/csv.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static int arena_setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

/* Rows as "a|b|c" with a line each, and "!" with the problem for a bad one. */
static const char *rows_of(struct arena *arena, const char *bytes, size_t length)
{
    static struct source source;
    struct buffer rows = {.arena = arena};
    struct csv csv;
    struct csv_row row;
    const char *kept = text_string(arena, (struct text){bytes, length});
    source_init(&source, arena, "days.csv", (const unsigned char *)kept, (uint32_t)length);
    csv = (struct csv){.arena = arena, .source = &source};
    for (;;) {
        enum csv_status status = csv_next(&csv, &row);
        if (status == CSV_END)
            return buffer_string(&rows);
        if (status == CSV_BAD)
            buffer_format(&rows, "!%s at %u", csv.problem, csv.problem_place.start);
        for (size_t i = 0; i < row.count && status == CSV_ROW; i++) {
            buffer_add_string(&rows, i ? "|" : "");
            buffer_add(&rows, row.cells[i].text);
        }
        buffer_add_string(&rows, "\n");
    }
}

/* The examples of RFC 4180, section 2, numbered as there; then what files of weather services bring. */
static void test_rows(void **state)
{
    static const struct {
        const char *bytes, *rows;
    } cases[] = {
        {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa|bbb|ccc\nzzz|yyy|xxx\n"},                 /* 1 */
        {"aaa,bbb,ccc\r\nzzz,yyy,xxx", "aaa|bbb|ccc\nzzz|yyy|xxx\n"},                     /* 2 */
        {"\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|bbb|ccc\nzzz|yyy|xxx\n"},         /* 5 */
        {"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|b\r\nbb|ccc\nzzz|yyy|xxx\n"}, /* 6 */
        {"\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc\n"},                               /* 7 */
        {"", ""},
        {"\n \n\r\n", ""},
        {"a", "a\n"},
        {"a,", "a|\n"},
        {",", "|\n"},
        {",,\n,,", "||\n||\n"},
        {"\xEF\xBB\xBF"
         "date,high\n",
         "date|high\n"},
        {"\xEF\xBB\xBF", ""},
        {"  date , high\t\n\n 2012-01-01,  12.8 \n", "date|high\n2012-01-01|12.8\n"},
        {" \"  54.0\" ,\" x \" \n", "54.0|x\n"},
        {"\"\",\"\"\"\"\n", "|\"\n"},
        {"a,b\rc\n", "a|b\rc\n"}, /* a lone return ends no line */
        {"\"a,b\",c", "a,b|c\n"},
        {"caf\xC3\xA9,\xB0", "caf\xC3\xA9|\xB0\n"},
        {"a\tb\n", "a\tb\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(rows_of(*state, cases[i].bytes, strlen(cases[i].bytes)), cases[i].rows);
}

static void test_bad_rows(void **state)
{
    static const struct {
        const char *bytes, *rows;
    } cases[] = {
        {"a,\"b\nc\nd", "!this quote is not closed at 2\n"},
        {"a\n\"", "a\n!this quote is not closed at 2\n"},
        {"a,\"b\"c,d\ne,f\n", "!a cell in quotes goes on after its closing quote at 5\ne|f\n"},
        {"a,b\"c\ne,f\n", "!a quote is inside a cell that does not begin with one at 3\ne|f\n"},
        {"\"a\" \"b\"\nc", "!a cell in quotes goes on after its closing quote at 4\nc\n"},
        {"\"a\"\rb\nc", "!a cell in quotes goes on after its closing quote at 3\nc\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(rows_of(*state, cases[i].bytes, strlen(cases[i].bytes)), cases[i].rows);
    assert_string_equal(rows_of(*state, "a\0b,c\n", 6), "a\0b|c\n"); /* compared up to the NUL: "a" */
}

static void test_bounds(void **state)
{
    struct buffer wide = {.arena = *state}, deep = {.arena = *state};
    buffer_repeat(&wide, ',', CSV_COLUMN_LIMIT - 1);
    assert_null(strchr(rows_of(*state, wide.string, wide.length), '!'));
    buffer_repeat(&wide, ',', 1);
    buffer_add_string(&wide, "\nx");
    assert_string_equal(rows_of(*state, wide.string, wide.length),
                        "!this row has more than 1000 cells at 1000\nx\n");
    buffer_add_string(&deep, "\"");
    buffer_repeat(&deep, 'x', CSV_CELL_LIMIT + 10);
    buffer_add_string(&deep, "\",a\n");
    assert_string_equal(rows_of(*state, deep.string, deep.length), "!this quote is not closed at 0\n");
    assert_string_equal(rows_of(*state, deep.string + 1, deep.length - 5), "!this cell is too long at 0\n");
}

static void test_places(void **state)
{
    static const char bytes[] = "date,high\n2012-01-01 , \"12.8\"\n";
    struct source source;
    struct csv csv;
    struct csv_row row;
    source_init(&source, *state, "days.csv", (const unsigned char *)bytes, sizeof bytes - 1);
    csv = (struct csv){.arena = *state, .source = &source};
    assert_int_equal(csv_next(&csv, &row), CSV_ROW);
    assert_int_equal(csv_next(&csv, &row), CSV_ROW);
    assert_int_equal(source_position(&source, row.place.start).line, 2);
    assert_true(text_is(place_text(row.place), "2012-01-01 , \"12.8\""));
    assert_true(text_is(place_text(row.cells[0].place), "2012-01-01"));
    assert_true(text_is(place_text(row.cells[1].place), "\"12.8\""));
    assert_int_equal(csv_next(&csv, &row), CSV_END);
    assert_int_equal(csv_next(&csv, &row), CSV_END);
}

static void test_numbers(void **state)
{
    static const struct {
        const char *text;
        double number;
    } good[] = {{"12.8", 12.8}, {"-7.1", -7.1}, {"+3", 3},        {".5", 0.5},
                {"5.", 5},      {"0", 0},       {"-9999", -9999}, {"123456789012345", 123456789012345}};
    static const char *const bad[] = {"",
                                      "-",
                                      ".",
                                      "-.",
                                      "1.2.3",
                                      "12,8",
                                      "1e3",
                                      "0x10",
                                      "NA",
                                      "1 2",
                                      "--1",
                                      "1-",
                                      "1234567890123456",
                                      "1/2",
                                      "inf",
                                      "nan",
                                      "5C",
                                      "12.8F"};
    (void)state;
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        double number = 0;
        assert_true(csv_number(text_of(good[i].text), &number));
        assert_true(number == good[i].number);
    }
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        double number = 77;
        assert_false(csv_number(text_of(bad[i]), &number));
        assert_true(number == 77);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_rows, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_bad_rows, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_bounds, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_places, arena_setup, arena_teardown),
        cmocka_unit_test(test_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
