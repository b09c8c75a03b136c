/* Calls of the library beside a plan's own: a day to look from, an edition before, a day supposed, two plans;
 * and that each has a way out when memory ends. */
#include "tests/unit/client_calls.h"
#include "tests/unit/ending_memory.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

/* feed comes on Apr 10, rake a week later, test twenty days after that. */
#define PLAN(edition, window, rest)                                                                          \
    "plan \"Test\"\nedition " edition " on 2027-02-20\nseason 2027-03-01 to 2027-11-20\n"                    \
    "lawn green { zone north area 1000 sqft }\n"                                                             \
    "product starter { grade 14-20-10 granular }\n"                                                          \
    "apply feed { to north\n when between " window "\n rate 4 lb per 1000 sqft of starter\n}\n"              \
    "task rake { to north\n when 7 days after feed }\n" rest
#define TEST "task test { when within 20 days after rake\n when at least 20 days after rake }\n"

static const char old_text[] = PLAN("1", "Apr 10 and Apr 30", TEST);
static const char new_text[] = PLAN("2", "Apr 12 and Apr 30", "");
static const char bad_text[] = PLAN("2", "Apr 12 and Apr 30", "nonsense\n");

static struct prill_compilation *compiled_with(struct prill_options options, enum prill_status status)
{
    struct prill_compilation *compilation;
    assert_int_equal(prill_compile("lawn.prill", &options, &compilation), status);
    assert_non_null(compilation);
    return compilation;
}

static struct prill_compilation *compiled(const char *text)
{
    return compiled_with(client_options(text), text == bad_text ? PRILL_PLAN_HAS_ERRORS : PRILL_FINE);
}

static struct prill_compilation *compiled_on(const char *text, const char *day, enum prill_status status)
{
    struct prill_options options = client_options(text);
    options.day = day;
    return compiled_with(options, status);
}

static struct prill_compilation *compiled_after(const char *text, const char *earlier,
                                                enum prill_status status)
{
    struct prill_options options = client_options(text);
    options.earlier = earlier;
    return compiled_with(options, status);
}

static void assert_holds(const char *text, const char *words)
{
    if (!text || !strstr(text, words))
        fail_msg("\"%s\" is not in:\n%s", words, text ? text : "(nothing)");
}

static void assert_calendar(struct prill_compilation *compilation, const char *form, const char *words)
{
    size_t length;
    const char *text = prill_result(compilation, "calendar", form, NULL, &length);
    assert_holds(text, words);
    assert_int_equal(strlen(text), length);
}

/* ---- a day ---- */

static void test_day(void **state)
{
    static const char *const no_days[] = {"",         "2027-4-1",    "2027-02-29", "2027-13-01",
                                          "Apr 1",    "2027-04-01 ", "1899-01-01", "2200-01-01",
                                          "20270401", "2027/04/01"};
    for (size_t i = 0; i < sizeof no_days / sizeof *no_days; i++) {
        struct prill_compilation *bad = compiled_on(old_text, no_days[i], PRILL_BAD_CALL);
        assert_holds(prill_reason(bad), "is not a date");
        assert_string_equal(prill_option(bad), "day");
        assert_null(prill_result(bad, "calendar", "text", NULL, NULL));
        assert_int_equal(prill_status(bad), PRILL_BAD_CALL);
        prill_free(bad);
    }
    struct prill_compilation *compilation = compiled_on(old_text, "2027-04-15", PRILL_FINE);
    assert_calendar(compilation, "text",
                    "As of Thu 2027-04-15\n"
                    "  Overdue, with no record that says done or skipped:\n"
                    "    - Sat 2027-04-10: feed on green: starter 4 lb. Next possible day Thu\n"
                    "      2027-04-15; latest Fri 2027-04-30, if nothing else is late.\n"
                    "  Nothing else is due by Wed 2027-04-21.\n"
                    "  Next:\n"
                    "    - Thu 2027-04-22: rake on green: north; moved from Sat 2027-04-17 by overdue\n"
                    "      work\n");
    prill_free(compilation);
    compilation = compiled_on(old_text, "2027-05-01", PRILL_FINE);
    assert_calendar(compilation, "text", "No day is left that the plan\n      allows.\n");
    assert_calendar(compilation, "text",
                    "No day is left for these while that is overdue:\n    - Fri 2027-05-07: test\n");
    assert_calendar(compilation, "json", "\"fits\": null");
    prill_free(compilation);
    compilation = compiled_on(old_text, "2027-04-04", PRILL_FINE);
    assert_calendar(compilation, "text",
                    "  Nothing is overdue.\n  Due by Sat 2027-04-10:\n    - Sat 2027-04-10: feed on green");
    prill_free(compilation);
}

/* ---- an edition before ---- */

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static void test_earlier_documents(void **state)
{
    static const struct {
        const char *document, *why;
    } bad[] = {
        {"", "it is empty"},
        {"[1, 2", "it is not JSON"},
        {"{\"format\": \"prill cal", "it is cut off"},
        {"{\"format\": \"prill calendar 1\",", "it is cut off"},
        {"{\"a\": 1, \"a\": 2}", "it is not JSON"},
        {"[]", "it is not a calendar of prill"},
        {"{}", "it is not a calendar of prill"},
        {"{\"format\": 3}", "it is not a calendar of prill"},
        {"{\"format\": \"prill calendar 3\"}", "of another version"},
        {"{\"format\": \"prill calendar 2\", \"plan\": {}}", "it has no edition"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {}}", "it has no edition"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": -1}, \"work\": []}",
         "it has no edition"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 99999999999}}", "it has no edition"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 1}}", "it is not a calendar"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 1}, \"work\": [1]}", "no UID"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 1}, \"work\": [{\"uid\": "
         "\"x\\r\\nEND:VEVENT\", \"headline\": \"x\", \"date\": \"2027-04-01\"}]}",
         "no UID"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 1}, \"work\": [{\"uid\": "
         "\"01234567-89ab-5def-8123-0123456789ab\", \"headline\": \"x\", \"date\": \"2027-02-30\"}]}",
         "no date"},
        {"{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 2}, \"work\": []}", "it has edition 2"},
    };
    char path[] = "/tmp/prill-earlier.XXXXXX";
    close(mkstemp(path));
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        write_file(path, bad[i].document);
        struct prill_compilation *compilation = compiled_after(new_text, path, PRILL_BAD_CALL);
        assert_string_equal(prill_option(compilation), "earlier");
        assert_holds(prill_reason(compilation), bad[i].why);
        prill_free(compilation);
    }
    unlink(path);
    prill_free(compiled_after(new_text, path, PRILL_SYSTEM_FAILED));
}

static void test_earlier(void **state)
{
    struct prill_compilation *old = compiled(old_text), *new;
    char path[] = "/tmp/prill-earlier.XXXXXX";
    size_t length;
    close(mkstemp(path));
    write_file(path, prill_result(old, "calendar", "json", NULL, &length));
    new = compiled_after(new_text, path, PRILL_FINE);
    assert_string_equal(prill_reason(new), "");
    assert_calendar(new, "ics", "SUMMARY:test\r\n");
    assert_calendar(new, "ics", "STATUS:CANCELLED\r\n");
    assert_calendar(new, "json", "\"gone\": [\n    {\n      \"uid\": ");
    /* a text with marks of the form stays text */
    write_file(path, "{\"format\": \"prill calendar 1\", \"plan\": {\"edition\": 1}, \"work\": [{\"uid\": "
                     "\"01234567-89ab-5def-8123-0123456789ab\", \"headline\": \"x\\r\\nEND:VEVENT, y\", "
                     "\"date\": \"2027-04-01\"}]}");
    prill_free(new);
    new = compiled_after(new_text, path, PRILL_FINE);
    assert_holds(prill_reason(new), "this plan has none of its events");
    const char *ics = prill_result(new, "calendar", "ics", NULL, &length);
    assert_null(strstr(ics, "\r\nEND:VEVENT\\, y"));
    assert_null(strstr(ics, "\r\nEND:VEVENT, y"));
    unlink(path);
    prill_free(old);
    prill_free(new);
}

/* ---- a day supposed ---- */

static void assert_late(const char *what, const char *day, enum prill_status status, const char *words)
{
    struct prill_compilation *compilation = compiled(old_text), *late;
    struct prill_options options = client_options(old_text);
    size_t length;
    options.late = what;
    options.late_day = day;
    late = compiled_with(options, status);
    const char *text = prill_late(compilation, late, &length);
    if (status == PRILL_BAD_CALL) {
        assert_null(text);
        text = prill_reason(late);
    }
    assert_holds(text, words);
    prill_free(late);
    prill_free(compilation);
}

static void test_late(void **state)
{
    assert_late("feed", "2027-04-24", PRILL_FINE,
                "With feed on Sat 2027-04-24, 14 days later than Sat 2027-04-10:\n"
                "  Sat 2027-05-01: rake on green: north; from Sat 2027-04-17, 14 days later\n"
                "  Fri 2027-05-21: test; from Fri 2027-05-07, 14 days later\n");
    assert_late("feed:1", "2027-04-30", PRILL_FINE, "20 days later");
    assert_late("rake", "2027-04-20", PRILL_FINE, "Tue 2027-04-13: feed on green: starter 4 lb; from Sat");
    assert_late("feed", "2027-05-01", PRILL_PLAN_HAS_ERRORS, "feed cannot be on Sat 2027-05-01:");
    assert_late("feed", "2027-05-01", PRILL_PLAN_HAS_ERRORS,
                "extend the window of feed by 1 day, to Sat 2027-05-01");
    assert_late("rake", "2027-04-16", PRILL_PLAN_HAS_ERRORS, "rake cannot be on Fri 2027-04-16:");
    assert_late("feed", "2027-02-30", PRILL_BAD_CALL, "is not a date");
    assert_late("fed", "2027-04-24", PRILL_BAD_CALL, "no treatment called fed");
    assert_late("feed:2", "2027-04-24", PRILL_BAD_CALL, "feed comes 1 time, so it has no time 2");
    assert_late("feed:", "2027-04-24", PRILL_BAD_CALL, "no treatment called feed:");
    assert_late("feed:0", "2027-04-24", PRILL_BAD_CALL, "no treatment called feed:0");
    assert_late("feed:99999999999999999999", "2027-04-24", PRILL_BAD_CALL, "feed:99999999999999999999");
}

/* ---- two plans ---- */

static void test_compare(void **state)
{
    struct prill_compilation *old = compiled(old_text), *new = compiled(new_text), *bad = compiled(bad_text);
    size_t length;
    const char *text = prill_compare(old, new, "text", &length);
    assert_holds(text, "\nMon 2027-04-12, was Sat 2027-04-10 (2 days later): feed on green: starter 4 lb\n");
    assert_holds(text, "\nRemoved, was Fri 2027-05-07: test\n");
    assert_int_equal(strlen(text), length);
    assert_holds(prill_compare(new, new, "text", &length), "Nothing changes on the lawn.\n");
    assert_holds(prill_compare(new, old, "json", &length), "\"change\": \"added\"");
    assert_null(prill_compare(old, new, "csv", &length));
    assert_null(prill_result(new, "compare", "text", NULL, &length));
    assert_int_equal(prill_status(new), PRILL_BAD_CALL);
    assert_null(prill_compare(old, bad, "text", &length));
    assert_null(prill_compare(bad, new, "text", &length));
    prill_free(old);
    prill_free(new);
    prill_free(bad);
}

/* ---- the end of memory ---- */

#ifdef MEMORY_NEVER_ENDS
static void test_memory_ends(void **state)
{
    skip();
}
#else
typedef const char *asking(struct prill_compilation *old, struct prill_compilation *new);

static char earlier_path[] = "/tmp/prill-earlier.XXXXXX";

static const char *ask_compare(struct prill_compilation *old, struct prill_compilation *new)
{
    size_t length;
    return prill_compare(old, new, "json", &length);
}

static const char *ask_late(struct prill_compilation *old, struct prill_compilation *new)
{
    struct prill_compilation *late;
    struct prill_options options = client_options(old_text);
    (void)new;
    options.late = "feed";
    options.late_day = "2027-04-24";
    prill_compile("lawn.prill", &options, &late);
    bool done = prill_late(old, late, NULL);
    prill_free(late);
    return done ? "done" : NULL;
}

static const char *ask_options(struct prill_compilation *old, struct prill_compilation *new)
{
    struct prill_compilation *compilation;
    struct prill_options options = client_options(new_text);
    (void)old;
    (void)new;
    options.day = "2027-05-01";
    options.earlier = earlier_path;
    prill_compile("lawn.prill", &options, &compilation);
    bool done = prill_result(compilation, "calendar", "json", NULL, NULL);
    prill_free(compilation);
    return done ? "done" : NULL;
}

/* A bad plan has some to show. */
static const char *ask_reports(struct prill_compilation *old, struct prill_compilation *new)
{
    struct prill_compilation *compilation;
    struct prill_options options = client_options(bad_text);
    (void)old;
    (void)new;
    prill_compile("lawn.prill", &options, &compilation);
    bool done = prill_report_after(compilation, NULL);
    prill_free(compilation);
    return done ? "done" : NULL;
}

static void ask_with(long allocations, asking *ask)
{
    struct prill_compilation *old = compiled(old_text), *new = compiled(new_text);
    end_was_met = false;
    allocations_left = allocations;
    const char *text = ask(old, new);
    allocations_left = -1;
    assert_true(text || end_was_met);
    prill_free(old);
    prill_free(new);
}

static void test_memory_ends(void **state)
{
    static asking *const all[] = {ask_compare, ask_late, ask_options, ask_reports};
    size_t length;
    if (!memory_can_end())
        skip();
    struct prill_compilation *old = compiled(old_text);
    close(mkstemp(earlier_path));
    write_file(earlier_path, prill_result(old, "calendar", "json", NULL, &length));
    prill_free(old);
    long refused = 0; /* a call whose text fits what its compilations already hold asks for none */
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        long allocations = 0;
        do
            ask_with(allocations++, all[i]);
        while (end_was_met && allocations < 3000);
        refused += allocations - 1;
        assert_false(end_was_met); /* at last there was enough */
    }
    assert_true(refused > 1);
    unlink(earlier_path);
}
#endif

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_day),     cmocka_unit_test(test_earlier_documents),
        cmocka_unit_test(test_earlier), cmocka_unit_test(test_late),
        cmocka_unit_test(test_compare), cmocka_unit_test(test_memory_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
