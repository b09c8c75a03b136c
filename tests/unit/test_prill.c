/* The library's door: what a client sees, and that it sees a status and never an abort when memory ends. */
#include "compiler/prill.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char plan_text[] = "plan \"Test\"\n"
                                "edition 1 on 2027-02-20\n"
                                "season 2027-03-01 to 2027-11-20\n"
                                "lawn green { zone north area 1000 sqft }\n"
                                "product starter {\n"
                                "    grade  14-20-10 granular\n"
                                "    label  2 to 6 lb per 1000 sqft\n"
                                "}\n"
                                "apply feed {\n"
                                "    to    north\n"
                                "    when  on Apr 17\n"
                                "    rate  4 lb per 1000 sqft of starter\n"
                                "}\n";

static struct prill_compilation *compiled(const char *text, enum prill_status wanted)
{
    struct prill_compilation *compilation;
    assert_int_equal(prill_compile_text("lawn.prill", text, strlen(text), true, &compilation), wanted);
    assert_non_null(compilation);
    assert_int_equal(prill_status(compilation), wanted);
    return compilation;
}

static void assert_holds(const char *text, size_t length, const char *words)
{
    assert_non_null(text);
    assert_int_equal(strlen(text), length);
    if (!strstr(text, words))
        fail_msg("\"%s\" is not in:\n%s", words, text);
}

static const char *assert_result(struct prill_compilation *compilation, const char *result, const char *form,
                                 const char *words)
{
    size_t length;
    const char *text = prill_result(compilation, result, form, "feed", &length);
    assert_holds(text, length, words);
    return text;
}

static void assert_reports(struct prill_compilation *compilation, const char *words)
{
    size_t length;
    const char *text = prill_reports(compilation, "text", false, &length);
    assert_holds(text, length, words);
}

static void assert_format(struct prill_compilation *compilation, const char *wanted)
{
    size_t length;
    const char *text = prill_format(compilation, &length);
    assert_holds(text, length, wanted);
}

static void test_results(void **state)
{
    struct prill_compilation *compilation = compiled(plan_text, PRILL_FINE);
    assert_int_equal(prill_error_count(compilation), 0);
    const char *calendar = assert_result(compilation, "calendar", "text", "Sat 2027-04-17");
    assert_result(compilation, "calendar", "ics", "DTSTART;VALUE=DATE:20270417");
    assert_result(compilation, "explain", "text", "4 lb per 1000 sqft");
    /* What was given first is still there. */
    assert_non_null(strstr(calendar, "Sat 2027-04-17"));
    prill_free(compilation);
}

static void test_every_result_in_every_form(void **state)
{
    struct prill_compilation *compilation = compiled(plan_text, PRILL_FINE);
    const char *result, *form;
    size_t length, count = 0;
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++, count++) {
            assert_non_null(prill_result(compilation, result, form, "feed", &length));
            assert_true(length > 0);
        }
    assert_true(count >= 6);
    prill_free(compilation);
}

static void test_no_result_after_an_error(void **state)
{
    struct prill_compilation *compilation = compiled("lawm green { }\n", PRILL_PLAN_HAS_ERRORS);
    const char *result, *form;
    size_t length;
    assert_true(prill_error_count(compilation) > 0);
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            assert_null(prill_result(compilation, result, form, "green", &length));
            assert_int_equal(length, 0);
            assert_int_equal(prill_status(compilation), PRILL_PLAN_HAS_ERRORS);
        }
    assert_reports(compilation, "lawn.prill:1:1: error: ");
    prill_free(compilation);
}

static void test_bad_calls(void **state)
{
    struct prill_compilation *compilation = compiled(plan_text, PRILL_FINE);
    size_t length;
    assert_null(prill_result(compilation, "calendar", "pdf", NULL, &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_non_null(strstr(prill_reason(compilation), "pdf"));
    assert_null(prill_result(compilation, "horoscope", "text", NULL, &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result(compilation, "explain", "text", "nothing-such", &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result(compilation, "explain", "text", NULL, &length));
    assert_null(prill_reports(compilation, "xml", false, &length));
    assert_int_equal(prill_status(compilation), PRILL_BAD_CALL);
    assert_null(prill_result_form("horoscope", 0));
    /* A bad call spoils nothing. */
    assert_non_null(prill_result(compilation, "calendar", "text", NULL, &length));
    assert_int_equal(prill_status(compilation), PRILL_FINE);
    assert_string_equal(prill_reason(compilation), "");
    prill_free(compilation);
}

static void test_stamp(void **state)
{
    struct prill_compilation *compilation = compiled(plan_text, PRILL_FINE);
    assert_false(prill_set_stamp(compilation, -1));
    assert_false(prill_set_stamp(compilation, 7258118400));
    assert_result(compilation, "calendar", "ics", "DTSTAMP:20270220T000000Z");
    assert_true(prill_set_stamp(compilation, 7258118399));
    assert_result(compilation, "calendar", "ics", "DTSTAMP:21991231T235959Z");
    prill_free(compilation);
}

static void test_unreadable_plan(void **state)
{
    struct prill_compilation *compilation;
    size_t length;
    assert_int_equal(prill_compile_file("/nowhere/lawn.prill", NULL, &compilation), PRILL_SYSTEM_FAILED);
    assert_non_null(strstr(prill_reason(compilation), "no such file"));
    assert_null(prill_result(compilation, "calendar", "text", NULL, &length));
    assert_null(prill_reports(compilation, "text", false, &length));
    assert_null(prill_format(compilation, &length));
    assert_null(prill_text(compilation, &length));
    assert_false(prill_set_stamp(compilation, 0));
    assert_int_equal(prill_status(compilation), PRILL_SYSTEM_FAILED);
    assert_non_null(strstr(prill_reason(compilation), "no such file"));
    prill_free(compilation);
    prill_free(NULL);
}

static void test_format(void **state)
{
    struct prill_compilation *compilation = compiled("lawn   x{zone a area 5sqft}", PRILL_FINE);
    size_t length;
    assert_format(compilation, "lawn x { zone a area 5 sqft }\n");
    prill_free(compilation);
    compilation = compiled("lawn x {", PRILL_PLAN_HAS_ERRORS);
    assert_null(prill_format(compilation, &length));
    prill_free(compilation);
}

/* Reading this plan moves a statement to where it was meant to stand; its layout keeps it where it is. */
static void test_format_of_a_mended_plan(void **state)
{
    struct prill_compilation *compilation =
        compiled("#\nsource u{\n mcf{ }\nlimits }\n", PRILL_PLAN_HAS_ERRORS);
    assert_format(compilation, "#\nsource u {\n    mcf { }\n    limits\n}\n");
    prill_free(compilation);
}

static void test_reports_together(void **state)
{
    struct prill_compilation *both[] = {compiled("lawm a { }\n", PRILL_PLAN_HAS_ERRORS),
                                        compiled("lawn b { gras x }\n", PRILL_PLAN_HAS_ERRORS)};
    size_t length;
    const char *text = prill_reports_of(both, 2, "text", false, &length);
    assert_holds(text, length, "`lawm`");
    assert_holds(text, length, "`gras`");
    const char *log = prill_reports_of(both, 2, "sarif", false, &length);
    assert_holds(log, length, "\"runs\"");
    prill_free(both[0]);
    prill_free(both[1]);
}

static void test_same_bytes_again(void **state)
{
    struct prill_compilation *a = compiled(plan_text, PRILL_FINE), *b = compiled(plan_text, PRILL_FINE);
    const char *result, *form;
    size_t a_length, b_length;
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            const char *a_text = prill_result(a, result, form, "feed", &a_length);
            const char *b_text = prill_result(b, result, form, "feed", &b_length);
            assert_int_equal(a_length, b_length);
            assert_memory_equal(a_text, b_text, a_length);
        }
    prill_free(a);
    prill_free(b);
}

/* ---- memory that ends ---- */

#if defined __SANITIZE_ADDRESS__
#define INSTRUMENTED 1
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define INSTRUMENTED 1
#endif
#endif

#ifdef INSTRUMENTED
static void test_memory_ends(void **state)
{
    skip(); /* the sanitizer has an allocator of its own */
}
#else
void *__libc_malloc(size_t size);  /* glibc's own, behind the one below */
static long allocations_left = -1; /* -1: no end */
static bool end_was_met;

/* The program's only allocator function that the library and what it links call for new memory under test. */
void *malloc(size_t size)
{
    if (allocations_left == 0) {
        end_was_met = true;
        return NULL;
    }
    allocations_left -= allocations_left > 0;
    return __libc_malloc(size);
}

/* One compilation with every result, of which the n-th allocation fails, and all after it. */
static void compile_with(long allocations, const char *result, const char *form)
{
    struct prill_compilation *compilation;
    const char *text = NULL;
    size_t length;
    end_was_met = false;
    allocations_left = allocations;
    enum prill_status status =
        prill_compile_text("lawn.prill", plan_text, strlen(plan_text), true, &compilation);
    if (compilation && status == PRILL_FINE)
        text = prill_result(compilation, result, form, "feed", &length);
    if (compilation)
        status = prill_status(compilation);
    allocations_left = -1;
    assert_int_equal(status, text ? PRILL_FINE : PRILL_SYSTEM_FAILED);
    assert_true(text || end_was_met);
    prill_free(compilation);
}

/* Under valgrind the program's malloc is valgrind's. */
static bool memory_can_end(void)
{
    void *(*volatile allocate)(size_t) = malloc;
    allocations_left = 0;
    void *piece = allocate(1);
    allocations_left = -1;
    free(piece);
    return piece == NULL;
}

/* libical itself looks at no allocation, so what needs it is left out: "ics". */
static void test_memory_ends(void **state)
{
    const char *result, *form;
    if (!memory_can_end())
        skip();
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            if (strcmp(form, "ics") == 0)
                continue;
            long allocations = 0;
            do
                compile_with(allocations++, result, form);
            while (end_was_met && allocations < 2000);
            assert_true(allocations > 5);
            assert_false(end_was_met); /* at last there was enough */
        }
}
#endif

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_results),
        cmocka_unit_test(test_every_result_in_every_form),
        cmocka_unit_test(test_no_result_after_an_error),
        cmocka_unit_test(test_bad_calls),
        cmocka_unit_test(test_stamp),
        cmocka_unit_test(test_unreadable_plan),
        cmocka_unit_test(test_format),
        cmocka_unit_test(test_format_of_a_mended_plan),
        cmocka_unit_test(test_reports_together),
        cmocka_unit_test(test_same_bytes_again),
        cmocka_unit_test(test_memory_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
