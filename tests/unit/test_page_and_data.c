/* Pages as text and data as JSON. Sources: RFC 8259; jansson reads back what is printed here. */
#include "compiler/form/data.h"
#include "compiler/form/page_markdown.h"
#include "compiler/form/page_text.h"
#include "tests/unit/one_arena.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char *shapes(bool indented)
{
    struct buffer out = {.arena = &arena};
    struct data *root = data_begin(&out, indented), *list = data_list(root, "list");
    data_boolean(list, NULL, true);
    data_integer(list, NULL, -3);
    data_list(list, NULL);
    assert_int_equal(list->count, 3);
    data_object(root, "empty");
    struct data *row = data_row(root, "row");
    data_integer(row, "n", 1);
    data_integer(data_object(row, "in"), "m", 2);
    data_name(data_list_row(root, "names"), NULL, NULL);
    data_string(root, "none", NULL);
    data_number(root, "unknown", NAN);
    data_end(root);
    return buffer_string(&out);
}

static void test_shapes(void **state)
{
    assert_string_equal(shapes(false),
                        "{\"list\":[true,-3,[]],\"empty\":{},\"row\":{\"n\":1,\"in\":{\"m\":2}},"
                        "\"names\":[null],\"none\":null,\"unknown\":null}\n");
    assert_string_equal(shapes(true), "{\n  \"list\": [\n    true,\n    -3,\n    []\n  ],\n  \"empty\": {},\n"
                                      "  \"row\": {\"n\": 1, \"in\": {\"m\": 2}},\n  \"names\": [null],\n"
                                      "  \"none\": null,\n  \"unknown\": null\n}\n");
}

/* Two values of a list printed apart, one by one, stand in the document as if they had been put there. */
static void test_parts(void **state)
{
    struct buffer out = {.arena = &arena}, part = {.arena = &arena}, whole = {.arena = &arena};
    struct data *root = data_begin(&out, true);
    for (int i = 0; i < 2; i++) {
        struct data *apart = data_part_begin(&arena, &part, 1);
        data_integer(data_object(apart, NULL), "n", i);
        data_end(apart);
    }
    data_printed(root, "list", (struct text){part.string, part.length});
    data_printed(root, "none", (struct text){0});
    data_end(root);
    root = data_begin(&whole, true);
    struct data *list = data_list(root, "list");
    for (int i = 0; i < 2; i++)
        data_integer(data_object(list, NULL), "n", i);
    data_list(root, "none");
    data_end(root);
    assert_string_equal(buffer_string(&out), buffer_string(&whole));
}

static void test_numbers(void **state)
{
    static const struct {
        double value;
        const char *text;
    } rows[] = {{0, "0.0"},
                {1, "1.0"},
                {-0.5, "-0.5"},
                {1e-5, "1e-5"},
                {1.5e-10, "1.5e-10"},
                {1e100, "1e100"},
                {2e12, "2e12"},
                {123456789012.0, "123456789012.0"},
                {1 / 3.0, "0.333333333333"},
                {100, "100.0"},
                {0.00125, "0.00125"},
                {1e12, "1e12"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct buffer out = {.arena = &arena};
        struct data *root = data_begin(&out, false);
        json_error_t error;
        data_number(root, "n", rows[i].value);
        data_end(root);
        const char *text = buffer_string(&out);
        assert_string_equal(text, text_format(&arena, "{\"n\":%s}\n", rows[i].text));
        json_t *read = json_loads(text, 0, &error);
        json_t *number = json_object_get(read, "n");
        assert_true(json_is_real(number));
        assert_true(fabs(json_real_value(number) - rows[i].value) <= 1e-11 * fabs(rows[i].value));
        json_decref(read);
    }
}

/* The same numbers every run: xorshift64* of S. Vigna. */
static uint64_t random_next(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return *seed * 0x2545F4914F6CDD1Du;
}

/* What the C library prints of the exact value with %.12g, its exponent without plus and zeros.
 * `DATA_NUMBERS` tries more, as 1000000. */
static void test_numbers_agree_with_printf(void **state)
{
    const char *count = getenv("DATA_NUMBERS");
    uint64_t seed = 20270417;
    struct buffer out = {.arena = &arena};
    struct data *root = data_begin(&out, false), *list = data_list(root, "n");
    for (long i = 0; i < (count ? atol(count) : 60000); i++) {
        /* Any double, decimals of up to 13 digits, and halves that lie between two of twelve. */
        double ten = pow(10, (double)(random_next(&seed) % 25));
        uint64_t digits = random_next(&seed) % UINT64_C(10000000000000);
        double value = ldexp((double)(digits | 1), -(int)(random_next(&seed) % 24));
        uint64_t bits = random_next(&seed);
        if (i % 3 == 0)
            memcpy(&value, &bits, sizeof value);
        if (i % 3 == 1 || !isfinite(value))
            value = (double)digits / ten;
        char printed[64], wanted[80], *e;
        snprintf(printed, sizeof printed, "%.12g", value);
        e = strchr(printed, 'e');
        if (e)
            snprintf(wanted, sizeof wanted, "%.*se%d", (int)(e - printed), printed, atoi(e + 1));
        else
            snprintf(wanted, sizeof wanted, "%s%s", printed, strchr(printed, '.') ? "" : ".0");
        size_t before = out.length + (i > 0);
        data_number(list, NULL, value);
        assert_string_equal(out.string + before, wanted);
        if (out.length > 100000)
            out.length = 0;
    }
}

/* Every byte, and characters of two, three and four bytes, come back; nothing but ASCII is printed. */
static void test_texts(void **state)
{
    char all[256];
    for (int i = 0; i < 127; i++)
        all[i] = (char)(i + 1);
    strcpy(all + 127, "\xC2\x80\xC3\xBC\xE2\x82\xAC\xF0\x9F\x8C\xB1\xF4\x8F\xBF\xBF");
    struct buffer out = {.arena = &arena};
    struct data *root = data_begin(&out, true);
    json_error_t error;
    data_string(root, "t", all);
    data_string(root, "bad",
                "a\xFF"
                "b");
    data_end(root);
    const char *text = buffer_string(&out);
    for (const char *c = text; *c; c++)
        assert_true((*c >= ' ' && *c < 0x7F) || *c == '\n');
    json_t *read = json_loads(text, 0, &error);
    assert_string_equal(json_string_value(json_object_get(read, "t")), all);
    assert_string_equal(json_string_value(json_object_get(read, "bad")), "a\xEF\xBF\xBD"
                                                                         "b");
    json_decref(read);
}

static const char *text_of_page(const struct page *page)
{
    return page_printed(page_text_print, page);
}

/* Rows of a table may have lines between them, and a cell may be empty; what trails is not padded. */
static void test_table(void **state)
{
    struct page page = {.arena = &arena};
    struct page_columns *columns = page_columns(&page, 3);
    columns->items[1].least = 8;
    page_gap(&page);
    page_row(&page, 1, columns, (const char *[]){"a", "1", "x y"});
    page_line(&page, 2, "between");
    page_row(&page, 1, columns, (const char *[]){"longer", NULL, "z"});
    page_row(&page, 1, columns, (const char *[]){"b", "22", NULL});
    page_gap(&page);
    page_gap(&page);
    page_item(&page, 0, "item");
    page_entry(&page, 1, "[1]", "entry");
    page_add(&page, PART_CHECK, 1, "check");
    page_verbatim(&page, 1, text_of("done feed {"));
    assert_string_equal(text_of_page(&page), "  a       1       x y\n"
                                             "    between\n"
                                             "  longer          z\n"
                                             "  b       22\n"
                                             "\n"
                                             "- item\n"
                                             "  [1] entry\n"
                                             "  [ ] check\n"
                                             "  done feed {\n");
}

static void test_points_below_points(void **state)
{
    struct page page = {.arena = &arena};
    struct page_columns *columns = page_columns(&page, 2);
    columns->items[1].by_point = true;
    page_row(&page, 0, columns, (const char *[]){"a", "12.94 lb, 6.47 lb each way"});
    page_row(&page, 0, columns, (const char *[]){"b", "3 lb"});
    page_row(&page, 0, columns, (const char *[]){"c", "100.5 lb"});
    assert_string_equal(text_of_page(&page), "a   12.94 lb, 6.47 lb each way\n"
                                             "b    3    lb\n"
                                             "c  100.5  lb\n");
}

static void test_equal(void **state)
{
    struct page a = {.arena = &arena}, b = {.arena = &arena};
    assert_true(page_equal(&a, &b));
    page_row(&a, 0, page_columns(&a, 1), (const char *[]){"x"});
    page_row(&b, 0, page_columns(&b, 1), (const char *[]){"x"});
    assert_true(page_equal(&a, &b));
    page_line(&a, 0, "one");
    page_line(&b, 1, "one");
    assert_false(page_equal(&a, &b));
    struct page both = {.arena = &arena};
    page_append(&both, &a);
    page_append(&both, &b);
    assert_string_equal(text_of_page(&both), "x\none\nx\n  one\n");
}

/* As it is written, but for the line ends of another system. */
static void test_verbatim(void **state)
{
    struct page page = {.arena = &arena};
    page_verbatim(&page, 1, TEXT("zone a {\r\n\r\n  area  9 sqft   # as paced\r\n}\n"));
    assert_string_equal(text_of_page(&page), "  zone a {\n\n    area  9 sqft   # as paced\n  }\n");
}

/* What Markdown would read is escaped; what lies deeper than a line is an item below it. */
static void test_markdown(void **state)
{
    struct page page = {.arena = &arena};
    struct page_columns *named = page_columns(&page, 2), *bare = page_columns(&page, 2);
    page_heading(&page, 0, "A *plan*");
    page_line(&page, 0, "1. <b>x</b> `a * b` https://c.example/d_e.");
    page_heading(&page, 0, "North:");
    page_column_names(&page, 1, named, (const char *[]){NULL, "N | P"});
    page_row(&page, 1, named, (const char *[]){"total", "`1`"});
    page_line(&page, 1, "Why:");
    page_line(&page, 2, "- since");
    page_row(&page, 3, bare, (const char *[]){"feed", "12.94 lb"});
    page_gap(&page);
    page_gap(&page);
    page_verbatim(&page, 2, TEXT("```\n"));
    page_add(&page, PART_CLOSING, 0, "Read ``the label");
    assert_string_equal(page_printed(page_markdown_print, &page),
                        "# A \\*plan\\*\n"
                        "\n"
                        "1\\. \\<b\\>x\\</b\\> `a * b` <https://c.example/d_e>.\n"
                        "\n"
                        "## North\n"
                        "\n"
                        "|  | N \\| P |\n"
                        "| --- | --- |\n"
                        "| total | \\`1\\` |\n"
                        "\n"
                        "Why:\n"
                        "\n"
                        "- \\- since\n"
                        "  - feed 12.94 lb\n"
                        "\n"
                        "````\n"
                        "```\n"
                        "````\n"
                        "\n"
                        "Read \\`\\`the label\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_shapes),
        TEST(test_parts),
        TEST(test_numbers),
        TEST(test_numbers_agree_with_printf),
        TEST(test_texts),
        TEST(test_table),
        TEST(test_points_below_points),
        TEST(test_equal),
        TEST(test_verbatim),
        TEST(test_markdown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
