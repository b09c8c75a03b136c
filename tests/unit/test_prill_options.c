/* What a client gives with a plan: a stamp, options of another size, the files that it has open, and whom the
 * questions are named to. */
#include "tests/unit/client_calls.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

static void assert_stamp(long long stamp, const char *words)
{
    struct prill_compilation *compilation;
    struct prill_options options = client_options(client_plan);
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
    struct prill_compilation *compilation = client_compiled(client_plan, PRILL_FINE);
    assert_result(compilation, "calendar", "ics", "DTSTAMP:20270220T000000Z");
    prill_free(compilation);
    assert_stamp(-1, NULL);
    assert_stamp(0, "DTSTAMP:19700101T000000Z");
    assert_stamp(7258118399, "DTSTAMP:21991231T235959Z");
    assert_stamp(7258118400, NULL);
}

/* A client that was built with fewer members, or with more, has a struct of another size. */
static void test_size_of_options(void **state)
{
    struct {
        struct prill_options options;
        long long later;
    } longer = {.options = client_options(client_plan)};
    struct prill_options shorter = client_options(client_plan);
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
    struct prill_compilation *compilation;
    struct seen seen = {0, 0}, none = {0, 0};
    struct prill_options options =
        client_options("plan \"Test\"\n"
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
    options = client_options(client_plan);
    options.question = see_question;
    options.watcher = &none;
    assert_int_equal(prill_compile("lawn.prill", &options, &compilation), PRILL_FINE);
    assert_int_equal(none.begun, 0);
    prill_free(compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stamp),
        cmocka_unit_test(test_size_of_options),
        cmocka_unit_test(test_files_of_the_client),
        cmocka_unit_test(test_client_before_the_disk),
        cmocka_unit_test(test_questions_begun),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
