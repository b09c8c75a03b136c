#include "compiler/form/report_text.h"

#include "tests/unit/printed_reports.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char *all_printed(bool colour)
{
    struct buffer out = {.arena = &made_arena};
    reports_text_list(&out, &made_reports, colour);
    reports_text_end(&out, &made_reports);
    return buffer_string(&out);
}

static struct report *whole_report(void)
{
    struct source *source = made_source("reading.prill", "limits {\n"
                                                         "    at most 0.9 lb N per application\n"
                                                         "}\n"
                                                         "apply spring-feed {\n"
                                                         "    supply  1.05 lb N from starter\n"
                                                         "}\n");
    struct report *report = report_add(&made_reports, &made_error, made_place(source, "1.05 lb N"),
                                       "1.05 lb N in one application on %s is over 0.9", "north");
    report->place_label = "this gives 1.05 lb N";
    report_label(&made_reports, report, made_place(source, "at most 0.9 lb N"), "the limit stands here");
    report_note(&made_reports, report, "starter is 14%% N");
    report_help(&made_reports, report, "0.9 lb N or less would pass");
    report_fix(&made_reports, report, false, made_place(source, "1.05"), "0.9", "write `0.9`");
    return report;
}

static void test_whole(void **state)
{
    assert_string_equal(printed(whole_report()),
                        "reading.prill:5:13: error: 1.05 lb N in one application on north is over 0.9 "
                        "[n-per-application]\n"
                        "    5 |     supply  1.05 lb N from starter\n"
                        "      |             ^^^^^^^^^ this gives 1.05 lb N\n"
                        "  at reading.prill:2:5\n"
                        "    2 |     at most 0.9 lb N per application\n"
                        "      |     ~~~~~~~~~~~~~~~~ the limit stands here\n"
                        "  note: starter is 14% N\n"
                        "  help: 0.9 lb N or less would pass\n"
                        "  fix, yours to judge: write `0.9`\n"
                        "    5 -     supply  1.05 lb N from starter\n"
                        "    5 +     supply  0.9 lb N from starter\n");
}

static void test_no_text(void **state)
{
    struct report *report = report_add(&made_reports, &made_warning, (struct place){0}, "nothing to do");
    report_note(&made_reports, report, "the plan is empty");
    assert_string_equal(printed(report), "prill: warning: nothing to do [unused-zone]\n"
                                         "  note: the plan is empty\n");
    report_label(&made_reports, report, made_place(made_source("p.prill", "plan"), "plan"), "this plan");
    assert_string_equal(printed(report), "prill: warning: nothing to do [unused-zone]\n"
                                         "  at p.prill:1:1\n"
                                         "    1 | plan\n"
                                         "      | ~~~~ this plan\n"
                                         "  note: the plan is empty\n");
}

static void test_tabs(void **state)
{
    assert_string_equal(printed_on("\trate\t4 lb", "4 lb"), HEAD(1, 17) "    1 |         rate    4 lb\n"
                                                                        "      |                 ^^^^\n");
    /* A place that is a tab is as wide as the tab. */
    assert_string_equal(printed_on("rate\t4 lb", "\t"), HEAD(1, 5) "    1 | rate    4 lb\n"
                                                                   "      |     ^^^^\n");
}

static void test_wide_and_combining(void **state)
{
    /* Two characters of two cells each, then one of one cell. */
    assert_string_equal(printed_on("# \xE8\x8A\x9D\xE7\x94\x9F x", "x"),
                        HEAD(1, 8) "    1 | # \xE8\x8A\x9D\xE7\x94\x9F x\n"
                                   "      |        ^\n");
    assert_string_equal(printed_on("# \xE8\x8A\x9D\xE7\x94\x9F x", "\xE7\x94\x9F"),
                        HEAD(1, 5) "    1 | # \xE8\x8A\x9D\xE7\x94\x9F x\n"
                                   "      |     ^^\n");
    /* U+0301 stands on the e before it. */
    assert_string_equal(printed_on("e\xCC\x81t x", "x"), HEAD(1, 4) "    1 | e\xCC\x81t x\n"
                                                                    "      |    ^\n");
    assert_string_equal(printed_on("ae\xCC\x81", "\xCC\x81"), HEAD(1, 3) "    1 | ae\xCC\x81\n"
                                                                         "      |  ^\n");
    /* A dozen marks on one letter are an attack on the lines above: eight are shown. */
    assert_string_equal(
        printed_on("e\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301 x", "x"),
        HEAD(1, 3) "    1 | e\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301 x\n"
                   "      |   ^\n");
}

static void test_spelled_out(void **state)
{
    assert_string_equal(printed_on("a\033[31m b", "b"), HEAD(1, 7) "    1 | a\\u{1b}[31m b\n"
                                                                   "      |             ^\n");
    assert_string_equal(printed_on("a\033b", "\033"), HEAD(1, 2) "    1 | a\\u{1b}b\n"
                                                                 "      |  ^^^^^^\n");
    assert_string_equal(printed_on("\x7F\xC2\x9B\xC2\xAD!", "!"),
                        HEAD(1, 2) "    1 | \\u{7f}\\u{9b}\\u{ad}!\n"
                                   "      |                   ^\n");
    assert_string_equal(printed_on("\u202Eabc\u2066\u2069\u2028\u200B", "abc"),
                        HEAD(1, 1) "    1 | \\u{202e}abc\\u{2066}\\u{2069}\\u{2028}\\u{200b}\n"
                                   "      |         ^^^\n");
    assert_string_equal(printed_on("\xFF\xC0\xAF\xE2\x82 x", "x"),
                        HEAD(1, 7) "    1 | \\x{ff}\\x{c0}\\x{af}\\x{e2}\\x{82} x\n"
                                   "      |                                ^\n");
    /* U+FFFD itself is a character like others, and a joiner that scripts need is left alone. */
    assert_string_equal(printed_on("\uFFFD x", "x"), HEAD(1, 3) "    1 | \uFFFD x\n      |   ^\n");
    assert_string_equal(printed_on("\u200Dx", "x"), HEAD(1, 1) "    1 | \u200Dx\n      | ^\n");
}

static void test_zero_byte(void **state)
{
    struct source *source = made_source_bytes("p.prill", "a\0b", 3);
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 2, 3), "found");
    assert_non_null(strstr(printed(report), "    1 | a\\u{0}b\n      |       ^\n"));
}

/* The line and the row under it, as they were printed. */
static void quoted_rows(const char *output, struct text *line, struct text *row)
{
    const char *start = strstr(output, " | ") + 3;
    *line = (struct text){start, strcspn(start, "\n")};
    start = strstr(start + line->length, " | ") + 3;
    *row = (struct text){start, strcspn(start, "\n")};
}

/* Long lines are cut; the signs still stand under what they mark. */
static void test_long_lines(void **state)
{
    char text[1001];
    for (size_t i = 0; i < 1000; i++)
        text[i] = "abcdefghij"[i % 10];
    text[1000] = '\0';
    for (size_t at = 0; at < 1000; at += 7) {
        text[at] = 'X';
        struct text line, row;
        quoted_rows(printed_on(text, "X"), &line, &row);
        text[at] = "abcdefghij"[at % 10];
        assert_in_range(line.length, 103, 106);
        size_t under = (size_t)((const char *)memchr(row.start, '^', row.length) - row.start);
        assert_int_equal(line.start[under], 'X');
        assert_int_equal(row.length, under + 1);
        assert_int_equal(text_equal((struct text){line.start, 3}, TEXT("...")), at > 30);
        assert_int_equal(text_equal((struct text){line.start + line.length - 3, 3}, TEXT("...")), at < 930);
    }
}

static void test_longest_line(void **state)
{
    char text[102];
    memset(text, 'a', 101);
    text[100] = text[101] = '\0';
    struct text line, row;
    quoted_rows(printed_on(text, "a"), &line, &row);
    assert_int_equal(line.length, 100);
    text[100] = 'a';
    quoted_rows(printed_on(text, "a"), &line, &row);
    assert_int_equal(line.length, 103);
}

static void test_long_places(void **state)
{
    char text[301];
    memset(text, 'a', 300);
    text[300] = '\0';
    struct source *source = made_source("p.prill", text);
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 50, 250), "found");
    report->place_label = "all this";
    struct text line, row;
    quoted_rows(printed(report), &line, &row);
    assert_int_equal(line.length, 106);
    assert_int_equal(row.length, 103 + strlen(" all this"));
    assert_int_equal(strspn(row.start, " "), 33);
    assert_int_equal(strspn(row.start + 33, "^"), 70);
    /* Behind the end of a line that is cut. */
    report->place = made_range(source, 300, 300);
    quoted_rows(printed(report), &line, &row);
    assert_int_equal(line.length, 103);
    assert_int_equal(strspn(row.start, " "), 103);
}

/* Of a line of megabytes only the part near a mark is read; characters are whole there too. */
static void test_endless_line(void **state)
{
    struct buffer text = {.arena = &made_arena};
    for (int i = 0; i < 1000; i++)
        buffer_add_string(&text, "\u00E9\u829D\U0001F331"); /* 9 bytes, 5 cells */
    struct source *source = made_source("p.prill", text.string);
    static const uint32_t starts[] = {4500, 4502, 4505};
    for (size_t place = 0; place < 3; place++) {
        uint32_t start = starts[place];
        struct report *report =
            report_add(&made_reports, &made_error, made_range(source, start, start + 2), "found");
        struct text line, row;
        quoted_rows(printed(report), &line, &row);
        assert_int_equal(strspn(row.start, " "), 33);
        assert_int_equal(strspn(row.start + 33, "^"), place ? 2 : 1);
        /* 3 for the dots, 30 cells of six times the three characters: 54 bytes; less where that cuts one. */
        assert_true(line.length > 150 && !strstr(line.start, "\\x"));
        assert_non_null(strstr(printed(report), ": error: found [n-per-application]\n    1 | ..."));
    }
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 4500, 4502), "found");
    report_label(&made_reports, report, made_range(source, 4502, 4505), "near");
    report_label(&made_reports, report, made_range(source, 4491, 4493), "nearer");
    report_label(&made_reports, report, made_range(source, 9, 11), "far");
    report_label(&made_reports, report, made_range(source, 8991, 8993), "farther");
    report_fix(&made_reports, report, true, made_range(source, 4500, 4502), "e", "write e");
    const char *output = printed(report);
    assert_non_null(
        strstr(output, " ~~ near\n      |                             ~ nearer\n  at p.prill:1:6\n"));
    assert_non_null(strstr(output, " ~ far\n  at p.prill:1:4996\n"));
    assert_non_null(strstr(output, " ~ farther\n  fix: write e\n"));
    assert_null(strstr(output, "    1 -"));
}

/* A wide character that the edge of the window cuts leaves a blank, so that signs stay in place. */
static void test_window_cuts_wide(void **state)
{
    struct buffer text = {.arena = &made_arena};
    for (int i = 0; i < 100; i++)
        buffer_add_string(&text, "\xE8\x8A\x9D");
    buffer_add_string(&text, "X\xE8\x8A\x9D");
    struct text line, row;
    quoted_rows(printed_on(text.string, "X"), &line, &row);
    /* Window of cells 103 to 203: half a character, 48 whole ones, X, a whole one. */
    assert_int_equal(line.length, 3 + 1 + 48 * 3 + 1 + 3);
    assert_true(strncmp(line.start, "... \xE8", 5) == 0);
    assert_int_equal(strspn(row.start, " "), 3 + 1 + 48 * 2);
}

static void test_ends_of_text(void **state)
{
    struct source *source = made_source("p.prill", "plan");
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 4, 4), "found");
    assert_string_equal(printed(report), HEAD(1, 5) "    1 | plan\n      |     ^\n");
    report->place = made_range(made_source("p.prill", "  plan"), 0, 0);
    assert_string_equal(printed(report), HEAD(1, 1) "    1 |   plan\n      | ^\n");
    report->place = made_range(made_source("p.prill", "plan\n"), 5, 5);
    assert_string_equal(printed(report), HEAD(2, 1) "    2 |\n      | ^\n");
    report->place = made_range(made_source("p.prill", "plan\n"), 4, 5);
    assert_string_equal(printed(report), HEAD(1, 5) "    1 | plan\n      |     ^\n");
    report->place = made_range(made_source("p.prill", ""), 0, 0);
    assert_string_equal(printed(report), HEAD(1, 1) "    1 |\n      | ^\n");
}

static void test_carriage_returns(void **state)
{
    assert_string_equal(printed_on("plan\r\nseason\r\n", "season"),
                        HEAD(2, 1) "    2 | season\n      | ^^^^^^\n");
    assert_string_equal(printed_on("plan\r\nseason\r\n", "\r\n"), HEAD(1, 5) "    1 | plan\n      |     ^\n");
    /* One inside a line is a control character. */
    assert_string_equal(printed_on("a\rb\n", "b"), HEAD(1, 2) "    1 | a\\u{d}b\n      |       ^\n");
}

static void test_several_lines(void **state)
{
    assert_string_equal(
        printed_on("lawn a {\n    soil loam\n    zone b\n}\n", "a {\n    soil loam\n    zone b\n}"),
        HEAD(1, 6) "    1 | lawn a {\n"
                   "      |      ^^^\n"
                   "  ...\n"
                   "    4 | }\n"
                   "      | ^\n");
    assert_string_equal(printed_on("{\na\n}", "{\na\n}"), HEAD(1, 1) "    1 | {\n"
                                                                     "      | ^\n"
                                                                     "  ...\n"
                                                                     "    3 | }\n"
                                                                     "      | ^\n");
    /* Neither indentation nor a line end that closes the place gets signs. */
    struct source *source = made_source("p.prill", "a,\n    bc\nd");
    struct report *report =
        report_add(&made_reports, &made_error, made_place(source, "a,\n    bc\n"), "found");
    report->place_label = "both";
    assert_string_equal(printed(report), HEAD(1, 1) "    1 | a,\n"
                                                    "      | ^^\n"
                                                    "    2 |     bc\n"
                                                    "      |     ^^ both\n");
}

static void test_allowed_and_counts(void **state)
{
    assert_string_equal(all_printed(false), "");
    struct source *source = made_source("p.prill", "zone bank\nallow unused-zone \"wild\"\n");
    struct report *report = report_add(&made_reports, &made_warning, made_place(source, "bank"), "found");
    report_allow(&made_reports, report, "wild", made_place(source, "allow"));
    assert_string_equal(all_printed(false), "1 report allowed\n");
    assert_string_equal(printed(report), "p.prill:1:6: warning: found [unused-zone]\n"
                                         "    1 | zone bank\n"
                                         "      |      ^^^^\n"
                                         "  allowed at p.prill:2:1: wild\n");
    report_add(&made_reports, &made_note, (struct place){0}, "few");
    report_add(&made_reports, &made_error, (struct place){0}, "much");
    report_add(&made_reports, &made_error, (struct place){0}, "more");
    assert_string_equal(all_printed(false), "prill: note: few [few-spots]\n\n"
                                            "prill: error: much [n-per-application]\n\n"
                                            "prill: error: more [n-per-application]\n\n"
                                            "2 errors, 1 note; 1 report allowed\n");
}

static void test_flood(void **state)
{
    for (int i = 0; i <= REPORT_LIMIT; i++)
        report_add(&made_reports, &made_warning, (struct place){0}, "%d", i);
    const char *output = all_printed(false);
    assert_non_null(strstr(output, "prill: warning: 999 [unused-zone]\n\n"
                                   "not every report is shown; the counts include all\n"
                                   "1001 warnings\n"));
}

/* Colour adds Select Graphic Rendition codes and nothing else. */
static void test_colour(void **state)
{
    whole_report();
    report_add(&made_reports, &made_warning, (struct place){0}, "few");
    report_add(&made_reports, &made_note, (struct place){0}, "few");
    const char *plain = all_printed(false), *coloured = all_printed(true);
    struct buffer bare = {.arena = &made_arena};
    size_t codes = 0;
    for (const char *c = coloured; *c; c++) {
        if (*c != '\033') {
            buffer_repeat(&bare, *c, 1);
            continue;
        }
        size_t length = 2 + strspn(c + 2, "0123456789;");
        assert_int_equal(c[1], '[');
        assert_int_equal(c[length], 'm');
        c += length;
        codes++;
    }
    assert_string_equal(bare.string, plain);
    assert_true(codes > 20 && codes % 2 == 0);
    assert_non_null(strstr(coloured, "\033[1;31merror\033[0m"));
    assert_non_null(strstr(coloured, "\033[1;33mwarning\033[0m"));
    assert_non_null(strstr(coloured, "\033[1;36mnote\033[0m"));
}

static void test_one_line_each(void **state)
{
    struct source *source = made_source("::error\n::x", "a");
    struct report *report =
        report_add(&made_reports, &made_error, made_range(source, 0, 1), "a\n::error::b\tc");
    report_note(&made_reports, report, "d\r\ne");
    assert_string_equal(printed(report),
                        "./::error\\u{a}::x:1:1: error: a\\u{a}::error::b\\u{9}c [n-per-application]\n"
                        "    1 | a\n"
                        "      | ^\n"
                        "  note: d\\u{d}\\u{a}e\n");
}

static const char *path_printed(const char *path)
{
    return printed(report_add(&made_reports, &made_error, made_range(made_source(path, ""), 0, 0), "found"));
}

/* A line that begins with :: or ## can be a command to a build server. */
static void test_paths(void **state)
{
    assert_true(strncmp(path_printed(":a"), "./:a:1:1: ", 10) == 0);
    assert_true(strncmp(path_printed("#a"), "./#a:1:1: ", 10) == 0);
    assert_true(strncmp(path_printed("a:#"), "a:#:1:1: ", 9) == 0);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, made_setup, made_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_whole),
        TEST(test_no_text),
        TEST(test_tabs),
        TEST(test_wide_and_combining),
        TEST(test_spelled_out),
        TEST(test_zero_byte),
        TEST(test_long_lines),
        TEST(test_longest_line),
        TEST(test_long_places),
        TEST(test_endless_line),
        TEST(test_window_cuts_wide),
        TEST(test_ends_of_text),
        TEST(test_carriage_returns),
        TEST(test_several_lines),
        TEST(test_allowed_and_counts),
        TEST(test_flood),
        TEST(test_colour),
        TEST(test_one_line_each),
        TEST(test_paths),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
