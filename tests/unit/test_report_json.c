#include "compiler/form/report_json.h"

#include "tests/unit/made_reports.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* Of all reports made so far. */
static const char *lines_printed(void)
{
    struct buffer out = {.arena = &made_arena};
    for (size_t i = 0; i < made_reports.all.count; i++)
        report_json_print(&out, made_reports.all.items[i]);
    return buffer_string(&out);
}

static const char *printed(const struct report *report)
{
    struct buffer out = {.arena = &made_arena};
    report_json_print(&out, report);
    return buffer_string(&out);
}

/* The report as another reader of JSON sees it; the caller gives it back with json_decref. */
static json_t *read_back(const struct report *report)
{
    const char *line = printed(report);
    assert_int_equal(strcspn(line, "\n"), strlen(line) - 1);
    json_error_t error;
    json_t *root = json_loads(line, JSON_REJECT_DUPLICATES | JSON_ALLOW_NUL, &error);
    if (!root)
        fail_msg("%s in %s", error.text, line);
    return root;
}

static json_t *place_of(const json_t *root, size_t index)
{
    return json_array_get(json_object_get(root, "places"), index);
}

static int column_of(const json_t *place, const char *end, const char *name)
{
    return (int)json_integer_value(json_object_get(json_object_get(place, end), name));
}

static const char *string_of(const json_t *object, const char *key)
{
    return json_string_value(json_object_get(object, key));
}

static void test_least(void **state)
{
    struct report *report = report_add(&made_reports, &made_note, (struct place){0}, "few spots");
    assert_string_equal(printed(report),
                        "{\"format\":\"prill report "
                        "1\",\"check\":\"few-spots\",\"severity\":\"note\",\"sentence\":\"few spots\","
                        "\"places\":[],\"notes\":[],\"help\":null,\"fix\":null,\"allowed\":null,"
                        "\"as_text\":\"prill: note: few spots [few-spots]\\n\"}\n");
}

static void test_whole(void **state)
{
    struct source *plan = made_source("p.prill", "use \"s\"\n");
    struct source *shop = made_source("s", "rate 4,5\n");
    shop->used_at = made_place(plan, "use");
    struct report *report = report_add(&made_reports, &made_error, made_place(shop, "4,5"), "a comma");
    report->place_label = "here";
    report_label(&made_reports, report, made_place(plan, "\"s\""), "the file");
    report_note(&made_reports, report, "one");
    report_note(&made_reports, report, "two");
    report_help(&made_reports, report, "write a point");
    report_fix(&made_reports, report, false, made_place(shop, ","), ".", "write 4.5");
    report_allow(&made_reports, report, "known", made_place(plan, "use"));
#define END(column, byte)                                                                                    \
    "{\"line\":1,\"column\":" #column ",\"byte\":" #byte ",\"byte_column\":" #column                         \
    ",\"utf16_column\":" #column "}"
#define PLACE(path, from, from_byte, to, to_byte)                                                            \
    "\"path\":\"" path "\",\"line\":1,\"column\":" #from                                                     \
    ",\"library\":false,\"from\":" END(from, from_byte) ",\"to\":" END(to, to_byte)
#define USE "{" PLACE("p.prill", 1, 0, 4, 3) "}"
    assert_string_equal(
        printed(report),
        "{\"format\":\"prill report "
        "1\",\"check\":\"n-per-application\",\"severity\":\"error\",\"sentence\":\"a comma\","
        "\"places\":[{" PLACE(
            "s", 6, 5, 9,
            8) ",\"main\":true,\"words\":\"here\",\"used_from\":[" USE "]},"
               "{" PLACE(
                   "p.prill", 5, 4, 8,
                   7) ",\"main\":false,\"words\":\"the file\",\"used_from\":[]}],"
                      "\"notes\":[\"one\",\"two\"],\"help\":\"write a point\","
                      "\"fix\":{\"sentence\":\"write 4.5\",\"safe\":false,\"edits\":[{" PLACE(
                          "s", 7, 6, 8,
                          7) ",\"replacement\":\".\"}]},\"allowed\":{\"because\":\"known\",\"place\":" USE
                             "},"
                             "\"as_text\":\"s:1:6: error: a comma [n-per-application]\\n"
                             "    1 | rate 4,5\\n      |      ^^^ here\\n"
                             "  used from p.prill:1:1\\n"
                             "  at p.prill:1:5\\n    1 | use \\\"s\\\"\\n      |     ~~~ the file\\n"
                             "  note: one\\n  note: two\\n  help: write a point\\n"
                             "  fix, yours to judge: write 4.5\\n    1 - rate 4,5\\n    1 + rate 4.5\\n"
                             "  allowed at p.prill:1:1: known\\n\"}\n");
}

/* A tab, an e with a mark, a wide character, one beyond the basic plane, then the place. */
static void test_columns(void **state)
{
    struct source *source = made_source("p.prill", "x\n\te\u0301\u829D\U0001F331 4 lb");
    json_t *root = read_back(report_add(&made_reports, &made_error, made_place(source, "4 lb"), "found"));
    json_t *place = place_of(root, 0);
    assert_int_equal(column_of(place, "from", "line"), 2);
    assert_int_equal(column_of(place, "from", "byte_column"), 1 + 1 + 3 + 3 + 4 + 1);
    assert_int_equal(column_of(place, "from", "column"), 1 + 8 + 1 + 2 + 2 + 1);
    assert_int_equal(column_of(place, "from", "utf16_column"), 1 + 1 + 2 + 1 + 2 + 1);
    assert_int_equal(column_of(place, "to", "byte_column"), column_of(place, "from", "byte_column") + 4);
    assert_int_equal(column_of(place, "from", "byte"), 2 + 12);
    json_decref(root);
}

static void test_ends_of_text(void **state)
{
    struct report *report =
        report_add(&made_reports, &made_error, made_range(made_source("p.prill", ""), 0, 0), "found");
    json_t *root = read_back(report);
    assert_int_equal(column_of(place_of(root, 0), "to", "line"), 1);
    assert_int_equal(column_of(place_of(root, 0), "to", "byte_column"), 1);
    json_decref(root);
    report->place = made_range(made_source("p.prill", "a\r\nbc"), 1, 5);
    root = read_back(report);
    assert_int_equal(column_of(place_of(root, 0), "from", "byte_column"), 2);
    assert_int_equal(column_of(place_of(root, 0), "to", "line"), 2);
    assert_int_equal(column_of(place_of(root, 0), "to", "byte_column"), 3);
    json_decref(root);
}

/* What JSON cannot hold is replaced, what a terminal obeys is escaped, and nothing else changes. */
static void test_bytes(void **state)
{
    struct source *source = made_source("a\xFF/\u202E.prill", "x");
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 0, 1),
                                       "\"a\\b\" \033[2J\x7F \u00E9 \U0001F331 \x80\xE2\x82 </script>");
    const char *line = printed(report);
    assert_non_null(strstr(line, "\"sentence\":\"\\\"a\\\\b\\\" \\u001B[2J\\u007F \\u00E9 \\uD83C\\uDF31 "
                                 "\\uFFFD\\uFFFD\\uFFFD </script>\""));
    json_t *root = read_back(report);
    assert_string_equal(string_of(place_of(root, 0), "path"), "a\uFFFD/\u202E.prill");
    assert_string_equal(string_of(root, "sentence"),
                        "\"a\\b\" \033[2J\x7F \u00E9 \U0001F331 \uFFFD\uFFFD\uFFFD </script>");
    json_decref(root);
}

static void test_lines(void **state)
{
    struct report *report = report_add(&made_reports, &made_warning, (struct place){0}, "one");
    report_allow(&made_reports, report, "known", (struct place){0});
    report_add(&made_reports, &made_error, (struct place){0}, "two\nlines\x7F");
    const char *lines = lines_printed(), *second = strchr(lines, '\n') + 1;
    assert_non_null(strstr(lines, "\"allowed\":{\"because\":\"known\",\"place\":null}"));
    assert_true(strncmp(second, "{\"format\":\"prill report 1\",\"check\":\"n-per-application\"", 54) == 0);
    assert_non_null(strstr(second, "\"sentence\":\"two\\nlines\\u007F\""));
    assert_int_equal(strcspn(second, "\n"), strlen(second) - 1);
}

static void test_wild_bytes(void **state)
{
    uint32_t random = 41;
    for (int round = 0; round < 500; round++) {
        char bytes[64], sentence[64];
        for (size_t i = 0; i < sizeof bytes; i++) {
            bytes[i] = (char)made_number(&random, 256);
            sentence[i] = (char)(1 + made_number(&random, 255));
        }
        sentence[sizeof sentence - 1] = '\0';
        struct source *source = made_source_bytes(sentence, bytes, sizeof bytes);
        struct place place = made_range(source, made_number(&random, 32), 32 + made_number(&random, 33));
        struct report *report = report_add(&made_reports, &made_error, place, "%s", sentence);
        for (const char *c = printed(report); *c; c++)
            assert_true((*c >= ' ' && *c < 0x7F) || (*c == '\n' && c[1] == '\0'));
        json_decref(read_back(report));
    }
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, made_setup, made_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_least), TEST(test_whole), TEST(test_columns),    TEST(test_ends_of_text),
        TEST(test_bytes), TEST(test_lines), TEST(test_wild_bytes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
