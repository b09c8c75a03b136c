/* Further places of a report, and its fixes. */
#include "tests/unit/printed_reports.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void test_labels(void **state)
{
    struct source *source = made_source("p.prill", "when between May 10 and Apr 30\n");
    struct source *shops = made_source("shops.prill", "one\ntwo\n");
    struct report *report = report_add(&made_reports, &made_error, made_place(source, "Apr 30"), "found");
    report->place_label = "ends here";
    report_label(&made_reports, report, made_place(source, "May 10"), "begins here");
    report_label(&made_reports, report, made_place(shops, "two"), "see here");
    report_label(&made_reports, report, made_place(shops, "one"), "and here");
    assert_string_equal(printed(report), HEAD(1, 25) "    1 | when between May 10 and Apr 30\n"
                                                     "      |                         ^^^^^^ ends here\n"
                                                     "      |              ~~~~~~ begins here\n"
                                                     "  at shops.prill:2:1\n"
                                                     "    2 | two\n"
                                                     "      | ~~~ see here\n"
                                                     "  at shops.prill:1:1\n"
                                                     "    1 | one\n"
                                                     "      | ~~~ and here\n");
}

/* Labels after a place over several lines, and on a long line out of sight of the place. */
static void test_labels_apart(void **state)
{
    struct source *source = made_source("p.prill", "a {\n}\n");
    struct report *report = report_add(&made_reports, &made_error, made_place(source, "{\n}"), "found");
    report_label(&made_reports, report, made_place(source, "a"), "this one");
    assert_string_equal(printed(report), HEAD(1, 3) "    1 | a {\n"
                                                    "      |   ^\n"
                                                    "    2 | }\n"
                                                    "      | ^\n"
                                                    "  at p.prill:1:1\n"
                                                    "    1 | a {\n"
                                                    "      | ~ this one\n");
    struct buffer text = {.arena = &made_arena};
    buffer_add_string(&text, "first");
    buffer_repeat(&text, ' ', 200);
    buffer_add_string(&text, "last");
    source = made_source("p.prill", text.string);
    report = report_add(&made_reports, &made_error, made_place(source, "first"), "found");
    report_label(&made_reports, report, made_place(source, "last"), "far off");
    const char *output = printed(report);
    assert_non_null(strstr(output, "    1 | first "));
    assert_non_null(strstr(output, "      | ^^^^^\n  at p.prill:1:206\n    1 | ... "));
    assert_non_null(strstr(output, " last\n"));
    assert_non_null(strstr(output, " ~~~~ far off\n"));
    /* On the line that is shown already, but half behind its edge. */
    report->labels.items[0].place = made_range(source, 90, 110);
    assert_non_null(strstr(printed(report), "      | ^^^^^\n  at p.prill:1:91\n"));
    report->labels.items[0].place = made_range(source, 90, 100);
    assert_null(strstr(printed(report), "  at "));
}

/* Line numbers of one report have one width, at least three. */
static void test_line_numbers(void **state)
{
    struct buffer text = {.arena = &made_arena};
    buffer_repeat(&text, '\n', 9999);
    buffer_add_string(&text, "here\n");
    struct source *source = made_source("p.prill", text.string);
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 1, 1), "found");
    report_label(&made_reports, report, made_place(source, "here"), "far");
    assert_string_equal(printed(report), HEAD(2, 1) "      2 |\n"
                                                    "        | ^\n"
                                                    "  at p.prill:10000:1\n"
                                                    "  10000 | here\n"
                                                    "        | ~~~~ far\n");
    report = report_add(&made_reports, &made_error, made_range(source, 1, 1), "found");
    report_fix(&made_reports, report, true, made_place(source, "here"), "there", "go");
    assert_string_equal(printed(report), HEAD(2, 1) "      2 |\n"
                                                    "        | ^\n"
                                                    "  fix: go\n"
                                                    "  10000 - here\n"
                                                    "  10000 + there\n");
}

static void test_use_chain(void **state)
{
    struct source *first = made_source("season.prill", "plan x\nuse \"near/shops.prill\"\n");
    struct source *second = made_source("near/shops.prill", "use \"co-op.prill\"");
    struct source *third = made_source("near/co-op.prill", "product a");
    second->used_at = made_place(first, "use");
    third->used_at = made_place(second, "use");
    struct report *report = report_add(&made_reports, &made_error, made_place(third, "a"), "found");
    assert_string_equal(printed(report), "near/co-op.prill:1:9: error: found [n-per-application]\n"
                                         "    1 | product a\n"
                                         "      |         ^\n"
                                         "  used from near/shops.prill:1:1\n"
                                         "  used from season.prill:2:1\n");
}

static void test_library(void **state)
{
    struct source *plan = made_source("p.prill", "follow a-law");
    struct source *library = made_source("library/limits.prill", "limits a-law { }");
    library->library = true;
    library->used_at = made_place(plan, "follow a-law");
    struct report *report = report_add(&made_reports, &made_note, made_place(plan, "a-law"), "found");
    report_label(&made_reports, report, made_place(library, "a-law"), "what it asks");
    assert_string_equal(printed(report), "p.prill:1:8: note: found [few-spots]\n"
                                         "    1 | follow a-law\n"
                                         "      |        ^^^^^\n"
                                         "  at library/limits.prill:1:8\n"
                                         "    1 | limits a-law { }\n"
                                         "      |        ~~~~~ what it asks\n"
                                         "  in the library built into prill\n"
                                         "  used from p.prill:1:1\n");
}

/* What a fix on `words` of `text` prints below its sentence. */
static const char *fix_printed(const char *text, const char *words, const char *replacement)
{
    struct source *source = made_source("p.prill", text);
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 0, 0), "found");
    report_fix(&made_reports, report, true, made_place(source, words), replacement, "mend");
    return strstr(printed(report), "  fix: mend\n") + strlen("  fix: mend\n");
}

static void test_fix(void **state)
{
    assert_string_equal(fix_printed("rate 4,500 lb\n", "4,500", "4500"), "    1 - rate 4,500 lb\n"
                                                                         "    1 + rate 4500 lb\n");
    assert_string_equal(fix_printed("a\r\nrate\t4\r\n", "4", "5"), "    2 - rate    4\n"
                                                                   "    2 + rate    5\n");
    assert_string_equal(fix_printed("a\nb\nc\n", "b\n", ""), "    2 - b\n");
    assert_string_equal(fix_printed("a\nb\nc\n", "b", ""), "    2 - b\n");
    assert_string_equal(fix_printed("a {\n}\n", "}", "    soil loam\n}"), "    2 +     soil loam\n");
    assert_string_equal(fix_printed("a {\n}\n", "\n", "\n    soil loam\n"), "    2 +     soil loam\n");
    assert_string_equal(fix_printed("a {", "{", "{\n}\n"), "    2 + }\n");
    assert_string_equal(fix_printed("a\nb\nc\n", "a\nb", "b\na"),
                        "    1 - a\n    2 - b\n    1 + b\n    2 + a\n");
    assert_string_equal(fix_printed("\033", "\033", "\x9B"), "    1 - \\u{1b}\n    1 + \\x{9b}\n");
}

static void test_fix_of_two_edits(void **state)
{
    struct source *source = made_source("p.prill", "from b to a\nonly a\n");
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 0, 0), "found");
    report_fix(&made_reports, report, true, made_place(source, "a\n"), "b\n", "swap");
    report_fix(&made_reports, report, true, made_place(source, "b"), "a", "swap");
    assert_non_null(strstr(printed(report), "  fix: swap\n"
                                            "    1 - from b to a\n"
                                            "    1 + from a to b\n"));
    report->fix->edits[0].place = made_place(source, "only");
    report->fix->edits[0].replacement = "just";
    assert_non_null(strstr(printed(report), "    1 - from b to a\n"
                                            "    1 + from a to a\n"
                                            "    2 - only a\n"
                                            "    2 + just a\n"));
}

static void test_fix_of_several_lines(void **state)
{
    assert_string_equal(fix_printed("a\r\nb\r\nc", "a\r\nb", "d\r\ne"), "    1 - a\n    2 - b\n"
                                                                        "    1 + d\n    2 + e\n");
    assert_string_equal(fix_printed("a\nb\nc\n", "a\nb\nc", "a\nb\nd"), "    3 - c\n    3 + d\n");
    assert_string_equal(fix_printed("a\nb\n", "a\nb", "c\nb"), "    1 - a\n    1 + c\n");
    /* a line end that goes joins the next line to this one */
    assert_string_equal(fix_printed("a\n{\n}\n", "\n", " "), "    1 - a\n    2 - {\n    1 + a {\n");
    assert_string_equal(fix_printed("a\r\n  {\r\n}\r\n", "\r\n  ", " "),
                        "    1 - a\n    2 -   {\n    1 + a {\n");
    assert_string_equal(fix_printed("a\nb\nc\n", "a\n", ""), "    1 - a\n");
}

static void test_fix_of_two_files(void **state)
{
    struct source *plan = made_source("p.prill", "plan x"), *shop = made_source("s.prill", "y");
    struct report *report = report_add(&made_reports, &made_error, made_range(plan, 0, 0), "found");
    report_fix(&made_reports, report, true, made_place(plan, "x"), "z", "rename");
    report_fix(&made_reports, report, true, made_place(shop, "y"), "z", "rename");
    assert_non_null(strstr(printed(report), "  fix: rename\n"
                                            "    1 - plan x\n"
                                            "    1 + plan z\n"
                                            "    1 - y\n"
                                            "    1 + z\n"));
}

/* Both sides of a change of a long line show what changes. */
static void test_fix_of_long_line(void **state)
{
    struct buffer text = {.arena = &made_arena};
    buffer_add_string(&text, "a\nb\n");
    buffer_repeat(&text, '-', 300);
    buffer_add_string(&text, "old");
    buffer_repeat(&text, '-', 300);
    const char *output = fix_printed(text.string, "old", "new");
    static const char thirty[] = "------------------------------";
    const char *before = strstr(output, "    3 - ..."), *after = strstr(output, "    3 + ...");
    assert_non_null(before);
    assert_non_null(after);
    assert_int_equal(strncmp(before + 11, thirty, 30), 0);
    assert_int_equal(strncmp(before + 41, "old---", 6), 0);
    assert_int_equal(strncmp(after + 11, thirty, 30), 0);
    assert_int_equal(strncmp(after + 41, "new---", 6), 0);
}

static void test_long_fix(void **state)
{
    const char *output = fix_printed("x", "x", "1\n2\n3\n4\n5\n6\n7\n8\n9\n");
    assert_non_null(strstr(output, "    8 + 8\n      + ...\n"));
    assert_null(strstr(output, "9"));
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, made_setup, made_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_labels),           TEST(test_labels_apart),
        TEST(test_line_numbers),     TEST(test_use_chain),
        TEST(test_library),          TEST(test_fix),
        TEST(test_fix_of_two_edits), TEST(test_fix_of_several_lines),
        TEST(test_fix_of_two_files), TEST(test_fix_of_long_line),
        TEST(test_long_fix),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
