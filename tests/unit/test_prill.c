/* The library's door: what a client sees, and that it sees a status and never an abort when memory ends. */
#include "compiler/prill.h"
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

/* A plan in memory, and no file. */
static struct prill_options options_of(const char *text)
{
    return (struct prill_options){
        .size = sizeof(struct prill_options), .text = text, .text_length = strlen(text), .sealed = true};
}

static struct prill_compilation *compiled(const char *text, enum prill_status wanted)
{
    struct prill_compilation *compilation;
    struct prill_options options = options_of(text);
    assert_int_equal(prill_compile("lawn.prill", &options, &compilation), wanted);
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

/* A name for a result about one thing, a day for the page of a day. */
static const char *subject_of(const char *result)
{
    return strcmp(result, "day") == 0 ? "2027-04-17" : "feed";
}

static const char *assert_result(struct prill_compilation *compilation, const char *result, const char *form,
                                 const char *words)
{
    size_t length;
    const char *text = prill_result(compilation, result, form, subject_of(result), &length);
    assert_holds(text, length, words);
    return text;
}

static void assert_reports(struct prill_compilation *compilation, const char *words)
{
    size_t length;
    const char *text = prill_reports(&compilation, 1, "text", false, &length);
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
    struct prill_compilation *compilation = compiled(plan_text, PRILL_FINE);
    const char *result, *form;
    size_t length, count = 0;
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++, count++) {
            assert_non_null(prill_result(compilation, result, form, subject_of(result), &length));
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

static void assert_stamp(long long stamp, const char *words)
{
    struct prill_compilation *compilation;
    struct prill_options options = options_of(plan_text);
    options.stamped = true;
    options.stamp = stamp;
    assert_int_equal(prill_compile("lawn.prill", &options, &compilation),
                     words ? PRILL_FINE : PRILL_BAD_CALL);
    if (words)
        assert_result(compilation, "calendar", "ics", words);
    else
        assert_string_equal(prill_option(compilation), "stamp");
    prill_free(compilation);
}

static void test_stamp(void **state)
{
    struct prill_compilation *compilation = compiled(plan_text, PRILL_FINE);
    assert_result(compilation, "calendar", "ics", "DTSTAMP:20270220T000000Z");
    prill_free(compilation);
    assert_stamp(-1, NULL);
    assert_stamp(0, "DTSTAMP:19700101T000000Z");
    assert_stamp(7258118399, "DTSTAMP:21991231T235959Z");
    assert_stamp(7258118400, NULL);
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

/* ---- options ---- */

/* A client that was built with fewer members, or with more, has a struct of another size. */
static void test_size_of_options(void **state)
{
    struct {
        struct prill_options options;
        long long later;
    } longer = {.options = options_of(plan_text)};
    struct prill_options shorter = options_of(plan_text);
    struct prill_compilation *compilation;
    longer.options.size = sizeof longer;
    assert_int_equal(prill_compile("lawn.prill", &longer.options, &compilation), PRILL_FINE);
    prill_free(compilation);
    longer.later = 1;
    assert_int_equal(prill_compile("lawn.prill", &longer.options, &compilation), PRILL_BAD_CALL);
    assert_string_equal(prill_option(compilation), "size");
    assert_null(prill_format(compilation, NULL));
    prill_free(compilation);
    shorter.size = offsetof(struct prill_options, late);
    shorter.day = "no day at all"; /* beyond what such a client knows */
    assert_int_equal(prill_compile("lawn.prill", &shorter, &compilation), PRILL_FINE);
    prill_free(compilation);
    shorter.size = 0;
    assert_int_equal(prill_compile("lawn.prill", &shorter, &compilation), PRILL_BAD_CALL);
    prill_free(compilation);
}

/* What an editor has open: names and texts, ended by a name of NULL; it counts what it is asked. */
struct open_file {
    const char *path, *text;
    int asked;
};

static const char *read_open(void *reader, const char *path, size_t *length)
{
    for (struct open_file *file = reader; file->path; file++)
        if (strcmp(file->path, path) == 0) {
            file->asked++;
            *length = strlen(file->text);
            return file->text;
        }
    return NULL;
}

static struct prill_compilation *compiled_open(const char *path, struct open_file *files, bool sealed,
                                               enum prill_status wanted)
{
    struct prill_compilation *compilation;
    struct prill_options options = {
        .size = sizeof options, .read_file = read_open, .reader = files, .sealed = sealed};
    assert_int_equal(prill_compile(path, &options, &compilation), wanted);
    return compilation;
}

static void test_files_of_the_client(void **state)
{
    struct open_file files[] = {
        {"garden/lawn.prill", "use \"shop.prill\"\nuse \"./shop.prill\"\nuse \"more/feeds.prill\"\n", 0},
        {"garden/shop.prill", "product starter { grade 14-20-10 granular }\n", 0},
        {"garden/more/feeds.prill", "use \"../shop.prill\"\nproduct urea { grade 46-0-0 granular }\n", 0},
        {0}};
    struct prill_compilation *compilation = compiled_open("garden/lawn.prill", files, true, PRILL_FINE);
    for (int i = 0; i < 3; i++)
        assert_int_equal(files[i].asked, 1);
    assert_result(compilation, "needs", "json", "\"plan\"");
    prill_free(compilation);

    files[2].text = "use \"lawn.prill\"\nuse \"../lawn.prill\"\n";
    compilation = compiled_open("garden/lawn.prill", files, true, PRILL_PLAN_HAS_ERRORS);
    assert_reports(
        compilation,
        "garden/more/feeds.prill:1:5: error: \"lawn.prill\" is not read: this plan may use no other file");
    assert_reports(compilation, "garden/more/feeds.prill:2:5: error: \"../lawn.prill\" uses this file");
    prill_free(compilation);

    files[0].path = "garden/other.prill";
    compilation = compiled_open("garden/lawn.prill", files, true, PRILL_SYSTEM_FAILED);
    assert_non_null(strstr(prill_reason(compilation), "no text is given"));
    prill_free(compilation);
}

/* What is on the disk is read where the client has nothing newer, and counts as the plan's where it has. */
static void test_client_before_the_disk(void **state)
{
    char folder[] = "/tmp/prill-client.XXXXXX", plan[64], shop[64], kept[64];
    assert_non_null(mkdtemp(folder));
    snprintf(plan, sizeof plan, "%s/lawn.prill", folder);
    snprintf(shop, sizeof shop, "%s/shop.prill", folder);
    snprintf(kept, sizeof kept, "%s/kept.prill", folder);
    struct {
        const char *path, *text;
    } disk[] = {
        {plan, "nonsense\n"}, {shop, "nonsense\n"}, {kept, "product urea { grade 46-0-0 granular }\n"}};
    for (size_t i = 0; i < 3; i++) {
        FILE *file = fopen(disk[i].path, "w");
        assert_non_null(file);
        fputs(disk[i].text, file);
        assert_int_equal(fclose(file), 0);
    }
    struct open_file files[] = {{plan, "use \"shop.prill\"\nuse \"kept.prill\"\n", 0},
                                {shop, "product starter { grade 14-20-10 granular }\n", 0},
                                {0}};
    struct prill_compilation *compilation = compiled_open(plan, files, false, PRILL_FINE);
    assert_int_equal(files[0].asked + files[1].asked, 2);
    assert_true(prill_reads_file(compilation, plan));
    assert_true(prill_reads_file(compilation, shop));
    assert_true(prill_reads_file(compilation, kept));
    assert_false(prill_reads_file(compilation, folder));
    prill_free(compilation);
    for (size_t i = 0; i < 3; i++)
        remove(disk[i].path);
    remove(folder);
}

/* ---- reports as structs ---- */

struct seen {
    size_t begun, count;
};

static void see_question(void *watcher, size_t number, size_t count)
{
    struct seen *seen = watcher;
    assert_int_equal(number, ++seen->begun);
    seen->count = count;
}

/* The client hears of each question as it is begun: here two blends, and nothing of a plan without any. */
static void test_questions_begun(void **state)
{
    (void)state;
    struct prill_compilation *compilation;
    struct seen seen = {0, 0}, none = {0, 0};
    struct prill_options options =
        options_of("plan \"Test\"\n"
                   "edition 1 on 2027-02-20\n"
                   "season 2027-03-01 to 2027-11-20\n"
                   "lawn green { zone north area 1000 sqft }\n"
                   "product urea   { grade 46-0-0 granular, kind urea }\n"
                   "product potash { grade 0-0-60 granular }\n"
                   "blend first { grade 20-0-10, of urea, potash, filler sand }\n"
                   "blend second { grade 10-0-10, of urea, potash, filler sand }\n");
    options.question = see_question;
    options.watcher = &seen;
    prill_compile("lawn.prill", &options, &compilation);
    assert_int_equal(seen.begun, 2);
    assert_int_equal(seen.count, 2);
    prill_free(compilation);
    options = options_of(plan_text);
    options.question = see_question;
    options.watcher = &none;
    assert_int_equal(prill_compile("lawn.prill", &options, &compilation), PRILL_FINE);
    assert_int_equal(none.begun, 0);
    prill_free(compilation);
}

static void test_reports_one_by_one(void **state)
{
    struct prill_compilation *compilation = compiled("lawn green { zone north area 1,000 sqft }\n"
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
    compilation = compiled(plan_text, PRILL_FINE);
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
    const char *text = prill_reports(both, 2, "text", false, &length);
    assert_holds(text, length, "`lawm`");
    assert_holds(text, length, "`gras`");
    const char *log = prill_reports(both, 2, "sarif", false, &length);
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
            const char *a_text = prill_result(a, result, form, subject_of(result), &a_length);
            const char *b_text = prill_result(b, result, form, subject_of(result), &b_length);
            assert_int_equal(a_length, b_length);
            assert_memory_equal(a_text, b_text, a_length);
        }
    prill_free(a);
    prill_free(b);
}

/* ---- memory that ends ---- */

#ifdef MEMORY_NEVER_ENDS
static void test_memory_ends(void **state)
{
    skip();
}
#else
/* One compilation with every result, of which the n-th allocation fails, and all after it. */
static void compile_with(long allocations, const char *result, const char *form)
{
    struct prill_compilation *compilation;
    const char *text = NULL;
    size_t length;
    end_was_met = false;
    allocations_left = allocations;
    struct prill_options options = options_of(plan_text);
    enum prill_status status = prill_compile("lawn.prill", &options, &compilation);
    if (compilation && status == PRILL_FINE)
        text = prill_result(compilation, result, form, subject_of(result), &length);
    if (compilation)
        status = prill_status(compilation);
    allocations_left = -1;
    assert_int_equal(status, text ? PRILL_FINE : PRILL_SYSTEM_FAILED);
    assert_true(text || end_was_met);
    prill_free(compilation);
}

static void test_memory_ends(void **state)
{
    const char *result, *form;
    if (!memory_can_end())
        skip();
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            long allocations = 0;
            do
                compile_with(allocations++, result, form);
            while (end_was_met && allocations < 2000);
            assert_true(allocations > 4); /* the compilation, its scratch, and a block of each */
            assert_false(end_was_met);    /* at last there was enough */
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
        cmocka_unit_test(test_size_of_options),
        cmocka_unit_test(test_files_of_the_client),
        cmocka_unit_test(test_client_before_the_disk),
        cmocka_unit_test(test_questions_begun),
        cmocka_unit_test(test_reports_one_by_one),
        cmocka_unit_test(test_null),
        cmocka_unit_test(test_format),
        cmocka_unit_test(test_format_of_a_mended_plan),
        cmocka_unit_test(test_reports_together),
        cmocka_unit_test(test_same_bytes_again),
        cmocka_unit_test(test_memory_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
