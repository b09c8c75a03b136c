/* The library's door: what a client gets from a plan, and what it gets from a call that cannot be answered.
 */
#include "tests/unit/client_calls.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static void assert_format(struct prill_compilation *compilation, const char *wanted)
{
    size_t length;
    const char *text = prill_format(compilation, &length);
    assert_text(text, length, wanted);
}

static void test_results(void **state)
{
    struct prill_compilation *compilation = client_compiled(client_plan, PRILL_FINE);
    assert_int_equal(prill_count(compilation, PRILL_ERROR), 0);
    const char *calendar = assert_result(compilation, "calendar", "text", "Sat 2027-04-17");
    assert_result(compilation, "calendar", "ics", "DTSTART;VALUE=DATE:20270417");
    assert_result(compilation, "explain", "text", "4 lb per 1000 sqft");
    /* What was given first is still there. */
    assert_non_null(strstr(calendar, "Sat 2027-04-17"));
    prill_free(compilation);
}

static void test_every_result_in_every_form(void **state)
{
    struct prill_compilation *compilation = client_compiled(client_plan, PRILL_FINE);
    const char *result, *form;
    size_t length, count = 0;
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++, count++) {
            assert_non_null(prill_result(compilation, result, form, client_subject(result), &length));
            assert_true(length > 0);
        }
    assert_true(count >= 6);
    prill_free(compilation);
}

static void test_no_result_after_an_error(void **state)
{
    struct prill_compilation *compilation = client_compiled("lawm green { }\n", PRILL_PLAN_HAS_ERRORS);
    const char *result, *form;
    size_t length;
    assert_true(prill_count(compilation, PRILL_ERROR) > 0);
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            assert_null(prill_result(compilation, result, form, "green", &length));
            assert_int_equal(length, 0);
            assert_int_equal(prill_status(compilation), PRILL_PLAN_HAS_ERRORS);
        }
    assert_reports(compilation, "lawn.prill:1:1: error: ");
    prill_free(compilation);
}

/* Of a plan whose form alone was read there is no season, with an error or without. */
static void test_no_result_of_a_form(void **state)
{
    const char *texts[] = {client_plan, "lawn green {\n"};
    for (int i = 0; i < 2; i++) {
        struct prill_options options = {
            .size = sizeof options, .text = texts[i], .text_length = strlen(texts[i]), .parse_only = true};
        struct prill_compilation *compilation;
        size_t length;
        const char *result, *form;
        assert_int_equal(prill_compile("lawn.prill", &options, &compilation),
                         i ? PRILL_PLAN_HAS_ERRORS : PRILL_FINE);
        for (size_t j = 0; (result = prill_result_name(j)); j++)
            for (size_t k = 0; (form = prill_result_form(result, k)); k++)
                assert_null(prill_result(compilation, result, form, "green", &length));
        prill_free(compilation);
    }
}

static void test_bad_calls(void **state)
{
    struct prill_compilation *compilation = client_compiled(client_plan, PRILL_FINE);
    size_t length;
    assert_null(prill_result(compilation, "calendar", "pdf", NULL, &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_non_null(strstr(prill_reason(compilation), "pdf"));
    assert_null(prill_result(compilation, "horoscope", "text", NULL, &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result(compilation, "explain", "text", "nothing-such", &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result(compilation, "explain", "text", NULL, &length));
    assert_null(prill_result(compilation, "day", "text", "2027-02-30", &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_non_null(strstr(prill_reason(compilation), "2027-02-30 is not a date"));
    assert_null(prill_reports(&compilation, 1, "xml", false, &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result_form("horoscope", 0));
    /* A bad call spoils nothing. */
    assert_non_null(prill_result(compilation, "calendar", "text", NULL, &length));
    assert_int_equal(prill_status(compilation), PRILL_FINE);
    assert_string_equal(prill_reason(compilation), "");
    prill_free(compilation);
}

static void test_unreadable_plan(void **state)
{
    struct prill_compilation *compilation;
    size_t length;
    assert_int_equal(prill_compile("/nowhere/lawn.prill", NULL, &compilation), PRILL_SYSTEM_FAILED);
    assert_non_null(strstr(prill_reason(compilation), "no such file"));
    assert_null(prill_option(compilation));
    assert_null(prill_result(compilation, "calendar", "text", NULL, &length));
    assert_null(prill_reports(&compilation, 1, "text", false, &length));
    assert_null(prill_report_after(compilation, NULL));
    assert_null(prill_format(compilation, &length));
    assert_null(prill_text(compilation, &length));
    assert_int_equal(prill_status(compilation), PRILL_SYSTEM_FAILED);
    assert_non_null(strstr(prill_reason(compilation), "no such file"));
    prill_free(compilation);
}

/* ---- reports as structs ---- */

static void test_reports_one_by_one(void **state)
{
    struct prill_compilation *compilation =
        client_compiled("lawn green { zone north area 1,000 sqft }\n"
                        "lawn green { zone \303\251t\303\251 are 5 sqft }\n",
                        PRILL_PLAN_HAS_ERRORS);
    const struct prill_report *report = NULL, *fixed = NULL, *labelled = NULL;
    size_t count = 0, errors = 0;
    for (unsigned line = 0; (report = prill_report_after(compilation, report)); count++) {
        assert_true(report->place.from.line >= line); /* in the order of the text */
        line = report->place.from.line;
        assert_string_equal(report->place.path, "lawn.prill");
        assert_true(strlen(report->check) > 0 && strlen(report->sentence) > 0);
        errors += report->severity == PRILL_ERROR;
        fixed = report->fix ? report : fixed;
        labelled = report->label_count ? report : labelled;
    }
    assert_int_equal(errors, prill_count(compilation, PRILL_ERROR));
    assert_true(count >= errors && errors >= 3);
    assert_non_null(fixed);
    assert_int_equal(fixed->edit_count, 1);
    assert_non_null(labelled);
    assert_int_equal(labelled->labels[0].place.from.line, 1);
    assert_int_equal(labelled->labels[0].place.from.column, 6);
    /* the word behind two letters of two bytes each: column 23 for a person, byte 24 of the line */
    for (report = NULL; (report = prill_report_after(compilation, report));)
        if (report->place.from.line == 2 && report->place.from.column == 23) {
            assert_int_equal(report->place.from.byte, 42 + 24);
            assert_int_equal(report->place.from.utf16_column, 23);
            count = 0;
        }
    assert_int_equal(count, 0);
    prill_free(compilation);
}

/* A client hands on what it got: a compilation that had no memory is NULL. */
static void test_null(void **state)
{
    struct prill_compilation *nothing = NULL;
    size_t length = 7;
    assert_int_equal(prill_status(NULL), PRILL_SYSTEM_FAILED);
    assert_non_null(strstr(prill_reason(NULL), "memory"));
    assert_null(prill_option(NULL));
    assert_int_equal(prill_count(NULL, PRILL_ERROR), 0);
    assert_null(prill_report_after(NULL, NULL));
    assert_null(prill_reports(&nothing, 1, "text", false, &length));
    assert_null(prill_reports(NULL, 0, "text", false, &length));
    assert_null(prill_result(NULL, "calendar", "text", NULL, &length));
    assert_null(prill_compare(NULL, NULL, "text", &length));
    assert_null(prill_late(NULL, NULL, &length));
    assert_null(prill_text(NULL, &length));
    assert_null(prill_format(NULL, &length));
    assert_int_equal(length, 0);
    assert_true(prill_reads_file(NULL, "lawn.prill"));
    prill_free(NULL);

    struct prill_compilation *compilation;
    assert_int_equal(prill_compile(NULL, NULL, &compilation), PRILL_BAD_CALL);
    assert_non_null(strstr(prill_reason(compilation), "no path"));
    prill_free(compilation);
    compilation = client_compiled(client_plan, PRILL_FINE);
    assert_null(prill_result(compilation, NULL, "text", NULL, NULL));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result(compilation, "calendar", NULL, NULL, NULL));
    assert_null(prill_reports(&compilation, 1, NULL, false, NULL));
    assert_null(prill_compare(compilation, compilation, NULL, NULL));
    assert_null(prill_result_form(NULL, 0));
    assert_non_null(prill_result(compilation, "calendar", "text", NULL, NULL));
    assert_non_null(prill_text(compilation, NULL));
    prill_free(compilation);
}

static void test_format(void **state)
{
    struct prill_compilation *compilation = client_compiled("lawn   x{zone a area 5sqft}", PRILL_FINE);
    size_t length;
    assert_format(compilation, "lawn x { zone a area 5 sqft }\n");
    prill_free(compilation);
    compilation = client_compiled("lawn x {", PRILL_PLAN_HAS_ERRORS);
    assert_null(prill_format(compilation, &length));
    prill_free(compilation);
}

/* Reading this plan moves a statement to where it was meant to stand; its layout keeps it where it is. */
static void test_format_of_a_mended_plan(void **state)
{
    struct prill_compilation *compilation =
        client_compiled("#\nsource u{\n mcf{ }\nlimits }\n", PRILL_PLAN_HAS_ERRORS);
    assert_format(compilation, "#\nsource u {\n    mcf { }\n    limits\n}\n");
    prill_free(compilation);
}

static void test_reports_together(void **state)
{
    struct prill_compilation *both[] = {client_compiled("lawm a { }\n", PRILL_PLAN_HAS_ERRORS),
                                        client_compiled("lawn b { gras x }\n", PRILL_PLAN_HAS_ERRORS)};
    size_t length;
    const char *text = prill_reports(both, 2, "text", false, &length);
    assert_text(text, length, "`lawm`");
    assert_text(text, length, "`gras`");
    const char *log = prill_reports(both, 2, "sarif", false, &length);
    assert_text(log, length, "\"runs\"");
    prill_free(both[0]);
    prill_free(both[1]);
}

static void test_same_bytes_again(void **state)
{
    struct prill_compilation *a = client_compiled(client_plan, PRILL_FINE),
                             *b = client_compiled(client_plan, PRILL_FINE);
    const char *result, *form;
    size_t a_length, b_length;
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            const char *a_text = prill_result(a, result, form, client_subject(result), &a_length);
            const char *b_text = prill_result(b, result, form, client_subject(result), &b_length);
            assert_int_equal(a_length, b_length);
            assert_memory_equal(a_text, b_text, a_length);
        }
    prill_free(a);
    prill_free(b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_results),
        cmocka_unit_test(test_every_result_in_every_form),
        cmocka_unit_test(test_no_result_after_an_error),
        cmocka_unit_test(test_no_result_of_a_form),
        cmocka_unit_test(test_bad_calls),
        cmocka_unit_test(test_unreadable_plan),
        cmocka_unit_test(test_reports_one_by_one),
        cmocka_unit_test(test_null),
        cmocka_unit_test(test_format),
        cmocka_unit_test(test_format_of_a_mended_plan),
        cmocka_unit_test(test_reports_together),
        cmocka_unit_test(test_same_bytes_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
