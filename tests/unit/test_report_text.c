#include "compiler/output/report_text.h"

#include "tests/unit/made_reports.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char *printed(const struct report *report)
{
    struct buffer out = {.arena = &made_arena};
    report_text_print(&out, report, false);
    return buffer_string(&out);
}

static const char *all_printed(bool colour)
{
    struct buffer out = {.arena = &made_arena};
    reports_text_print(&out, &made_reports, colour);
    return buffer_string(&out);
}

/* What is printed of a report on the first `words` of `text`. */
static const char *printed_on(const char *text, const char *words)
{
    struct source *source = made_source("p.prill", text);
    return printed(report_add(&made_reports, &made_error, made_place(source, words), "found"));
}

#define HEAD(line, column) "p.prill:" #line ":" #column ": error: found [n-per-application]\n"

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
                                   "more was found than is shown; the counts are of all\n"
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

enum { WILD_LENGTH = 200 };

/* Bytes of all kinds, with the dangerous ones often enough. */
static const char *wild_text(uint32_t *random, bool zeros)
{
    static const char *const pieces[] = {
        "\033[2J",          "\n",     "\r\n", "\t",           "\u202E", "\xC2\x9B",
        "\xF0\x9F\x8C\xB1", "\u0301", "\x7F", "\xE8\x8A\x9D", "\u2028", "\xF3\xA0\x81\x81"};
    struct buffer text = {.arena = &made_arena};
    uint32_t length = made_number(random, WILD_LENGTH);
    for (uint32_t i = 0; i < length; i++) {
        if (made_number(random, 2))
            buffer_add_string(&text, pieces[made_number(random, sizeof pieces / sizeof *pieces)]);
        else if (made_number(random, 2))
            buffer_repeat(&text, (char)(' ' + made_number(random, 95)), 1);
        else
            buffer_repeat(&text, (char)(!zeros + made_number(random, 256 - !zeros)), 1);
    }
    return buffer_string(&text);
}

static struct place wild_place(uint32_t *random, const struct source *source)
{
    uint32_t start = made_number(random, source->length + 1);
    return made_range(source, start, start + made_number(random, source->length - start + 1));
}

static struct source *wild_source(uint32_t *random)
{
    struct buffer text = {.arena = &made_arena};
    for (int i = 0; i < 3; i++) {
        buffer_add_string(&text, wild_text(random, false));
        buffer_repeat(&text, '\0', made_number(random, 2));
    }
    return made_source_bytes(wild_text(random, false), buffer_string(&text), text.length);
}

static struct report *wild_report(uint32_t *random)
{
    struct source *sources[2] = {wild_source(random), wild_source(random)};
    sources[1]->used_at = wild_place(random, sources[0]);
    sources[1]->library = made_number(random, 2);
    const struct source *source = sources[made_number(random, 2)];
    struct report *report =
        report_add(&made_reports, &made_error, wild_place(random, source), "%s", wild_text(random, false));
    report->place_label = wild_text(random, false);
    for (uint32_t i = made_number(random, 4); i > 0; i--)
        report_label(&made_reports, report, wild_place(random, sources[made_number(random, 2)]), "%s",
                     wild_text(random, false));
    report_note(&made_reports, report, "%s", wild_text(random, false));
    report_help(&made_reports, report, "%s", wild_text(random, false));
    for (uint32_t i = made_number(random, 3); i > 0; i--)
        report_fix(&made_reports, report, made_number(random, 2), wild_place(random, sources[0]),
                   wild_text(random, false), wild_text(random, false));
    return report;
}

/* Nothing leaves that drives a terminal, hides or reorders text, or is not UTF-8; and only the first line of
 * a report may begin with text that is not ours. */
static void assert_harmless(const char *output)
{
    struct text text = text_of(output);
    size_t length;
    for (size_t at = 0; at < text.length; at += length) {
        uint32_t character = text_character(text, at, &length);
        unsigned char byte = (unsigned char)text.start[at];
        assert_false(length == 1 && byte >= 0x80);
        assert_false(character < 0x20 && character != '\n');
        assert_false(character >= 0x7F && character < 0xA0);
        assert_false(character >= 0x2028 && character <= 0x202E);
        assert_false(character >= 0x2066 && character <= 0x2069);
        assert_false(character >= 0xE0000);
        if (character == '\n' && at + 1 < text.length)
            assert_true(text.start[at + 1] == ' ' && text.start[at + 2] == ' ');
    }
}

static void test_wild(void **state)
{
    uint32_t random = 20270220;
    for (int round = 0; round < 2000; round++) {
        assert_harmless(printed(wild_report(&random)));
        made_teardown(state);
        made_setup(state);
    }
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
        TEST(test_labels),
        TEST(test_labels_apart),
        TEST(test_line_numbers),
        TEST(test_use_chain),
        TEST(test_library),
        TEST(test_fix),
        TEST(test_fix_of_two_edits),
        TEST(test_fix_of_several_lines),
        TEST(test_fix_of_two_files),
        TEST(test_fix_of_long_line),
        TEST(test_long_fix),
        TEST(test_allowed_and_counts),
        TEST(test_flood),
        TEST(test_colour),
        TEST(test_one_line_each),
        TEST(test_paths),
        TEST(test_wild),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
