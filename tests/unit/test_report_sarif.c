#include "compiler/form/report_sarif.h"

#include "tests/unit/made_reports.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static json_t *log_read; /* what log_of gave; given back when the test ends */

static int sarif_teardown(void **state)
{
    json_decref(log_read);
    log_read = NULL;
    return made_teardown(state);
}

static const char *log_text(void)
{
    struct buffer out = {.arena = &made_arena};
    struct sarif_log log = {.arena = &made_arena, .results.arena = &made_arena};
    sarif_log_add(&log, &made_arena, &made_reports);
    sarif_log_print(&out, &log, "1.2.3");
    return buffer_string(&out);
}

/* The one run of the log of all reports made so far. */
static json_t *run_read(void)
{
    json_error_t error;
    json_decref(log_read);
    log_read = json_loads(log_text(), JSON_REJECT_DUPLICATES | JSON_ALLOW_NUL, &error);
    if (!log_read)
        fail_msg("%s", error.text);
    return json_array_get(json_object_get(log_read, "runs"), 0);
}

/* A value under keys and indices, as in "results/0/message/text". */
static json_t *value_at(json_t *value, const char *path)
{
    while (*path && value) {
        char key[64] = {0};
        size_t length = strcspn(path, "/");
        assert_true(length < sizeof key);
        memcpy(key, path, length);
        path += length + (path[length] == '/');
        value = json_is_array(value) ? json_array_get(value, strtoul(key, NULL, 10))
                                     : json_object_get(value, key);
    }
    return value;
}

static const char *string_at(const char *path)
{
    return json_string_value(value_at(run_read(), path));
}

static json_int_t integer_at(const char *path)
{
    json_t *value = value_at(run_read(), path);
    return json_is_integer(value) ? json_integer_value(value) : -1;
}

static size_t length_at(const char *path)
{
    return json_array_size(value_at(run_read(), path));
}

#define REGION "results/0/locations/0/physicalLocation/region/"

static void assert_region(json_int_t start_line, json_int_t start_column, json_int_t end_line,
                          json_int_t end_column)
{
    assert_int_equal(integer_at(REGION "startLine"), start_line);
    assert_int_equal(integer_at(REGION "startColumn"), start_column);
    assert_int_equal(integer_at(REGION "endLine"), end_line);
    assert_int_equal(integer_at(REGION "endColumn"), end_column);
}

static void test_empty(void **state)
{
    run_read();
    assert_string_equal(json_string_value(json_object_get(log_read, "version")), "2.1.0");
    assert_string_equal(json_string_value(json_object_get(log_read, "$schema")),
                        "https://json.schemastore.org/sarif-2.1.0.json");
    assert_non_null(strstr(log_text(), "\n  \"version\": \"2.1.0\",\n"));
    assert_string_equal(string_at("tool/driver/name"), "prill");
    assert_string_equal(string_at("tool/driver/version"), "1.2.3");
    assert_string_equal(string_at("columnKind"), "utf16CodeUnits");
    assert_true(json_is_true(value_at(run_read(), "invocations/0/executionSuccessful")));
    /* No result found is said by an empty array; one that is absent says that nothing was looked for. */
    assert_true(json_is_array(value_at(run_read(), "results")));
    assert_int_equal(length_at("results"), 0);
    assert_int_equal(length_at("tool/driver/rules"), 0);
}

static void test_rules(void **state)
{
    report_add(&made_reports, &made_warning, (struct place){0}, "a");
    report_add(&made_reports, &made_error, (struct place){0}, "b");
    report_add(&made_reports, &made_warning, (struct place){0}, "c");
    report_add(&made_reports, &made_note, (struct place){0}, "d");
    assert_int_equal(length_at("tool/driver/rules"), 3);
    assert_string_equal(string_at("tool/driver/rules/0/id"), "unused-zone");
    assert_string_equal(string_at("tool/driver/rules/0/defaultConfiguration/level"), "warning");
    assert_string_equal(string_at("tool/driver/rules/0/fullDescription/text"),
                        "A zone may have been {{forgotten}}.");
    assert_string_equal(string_at("tool/driver/rules/1/shortDescription/text"),
                        "nitrogen of one application");
    assert_string_equal(string_at("tool/driver/rules/1/help/text"),
                        "Too much at once burns the grass.\nSource: an invented handbook, table 3\n"
                        "More: prill explain n-per-application");
    assert_string_equal(string_at("tool/driver/rules/2/fullDescription/text"), "soil samples of few spots");
    assert_int_equal(integer_at("results/0/ruleIndex"), 0);
    assert_int_equal(integer_at("results/1/ruleIndex"), 1);
    assert_int_equal(integer_at("results/2/ruleIndex"), 0);
    assert_int_equal(integer_at("results/3/ruleIndex"), 2);
    assert_string_equal(string_at("results/1/ruleId"), "n-per-application");
    assert_string_equal(string_at("results/0/level"), "warning");
    assert_string_equal(string_at("results/1/level"), "error");
    assert_string_equal(string_at("results/3/level"), "note");
    assert_int_equal(length_at("results/0/locations"), 0);
}

static void test_regions(void **state)
{
    struct source *source = made_source("p.prill", "x\r\n\t\u829D\U0001F331 4 lb\r\nend");
    struct report *report = report_add(&made_reports, &made_error, made_place(source, "4 lb"), "found");
    assert_region(2, 6, 2, 10);
    assert_int_equal(integer_at(REGION "byteOffset"), 12);
    assert_int_equal(integer_at(REGION "byteLength"), 4);
    assert_string_equal(string_at(REGION "snippet/text"), "4 lb");
    report->place = made_place(source, "lb\r\nend");
    assert_region(2, 8, 3, 4);
    assert_string_equal(string_at(REGION "snippet/text"), "lb\r\nend");
    report->place = made_place(source, "lb\r\n");
    assert_region(2, 8, 3, 1);
    report->place = made_range(source, source->length, source->length);
    assert_region(3, 4, 3, 4);
    assert_int_equal(integer_at(REGION "byteLength"), 0);
    report->place = made_range(made_source("p.prill", ""), 0, 0);
    assert_region(1, 1, 1, 1);
}

/* A byte order mark counts in bytes and not in columns (SARIF 2.1.0, 3.30.2). */
static void test_byte_order_mark(void **state)
{
    struct source *source = made_source("p.prill", "\uFEFFplan\nplan 2");
    struct report *report = report_add(&made_reports, &made_error, made_place(source, "plan"), "found");
    assert_region(1, 1, 1, 5);
    assert_int_equal(integer_at(REGION "byteOffset"), 3);
    report->place = made_place(source, "2");
    assert_region(2, 6, 2, 7);
}

static void test_long_snippet(void **state)
{
    struct buffer text = {.arena = &made_arena};
    buffer_repeat(&text, 'a', 5001);
    struct source *source = made_source("p.prill", text.string);
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 0, 4096), "found");
    assert_int_equal(strlen(string_at(REGION "snippet/text")), 4096);
    report->place.end++;
    assert_null(value_at(run_read(), REGION "snippet"));
    report->place = made_range(source, 5000, 5001);
    assert_string_equal(string_at(REGION "snippet/text"), "a");
}

static const char *uri_of(const char *path)
{
    made_reports.all.items[0]->place = made_range(made_source(path, ""), 0, 0);
    return string_at("results/0/locations/0/physicalLocation/artifactLocation/uri");
}

#define BASE "results/0/locations/0/physicalLocation/artifactLocation/uriBaseId"

static void test_uris(void **state)
{
    report_add(&made_reports, &made_error, (struct place){0}, "found");
    assert_string_equal(uri_of("plans/north side.prill"), "plans/north%20side.prill");
    assert_string_equal(string_at(BASE), "%SRCROOT%");
    assert_string_equal(uri_of("./a.prill"), "a.prill");
    assert_string_equal(uri_of("../a_b~c-1.prill"), "../a_b~c-1.prill");
    assert_string_equal(uri_of("c:\\x?y#z%41.prill"), "c%3A%5Cx%3Fy%23z%2541.prill");
    assert_string_equal(uri_of("<stdin>"), "%3Cstdin%3E");
    assert_string_equal(uri_of("\u00E9\xFF\n"), "%C3%A9%FF%0A");
    assert_string_equal(uri_of("/srv/a b.prill"), "file:///srv/a%20b.prill");
    assert_null(value_at(run_read(), BASE));
}

static void test_library(void **state)
{
    struct source *plan = made_source("p.prill", "follow law");
    struct source *library = made_source("library/law.prill", "limits law {");
    library->library = true;
    library->used_at = made_place(plan, "follow");
    report_add(&made_reports, &made_error, made_place(library, "law"), "found");
    assert_string_equal(string_at(BASE), "PRILL-LIBRARY");
    assert_non_null(string_at("originalUriBaseIds/PRILL-LIBRARY/description/text"));
    assert_string_equal(string_at("results/0/relatedLocations/0/message/text"), "used from here");
    assert_string_equal(string_at("results/0/relatedLocations/0/physicalLocation/artifactLocation/uri"),
                        "p.prill");
}

static void test_messages(void **state)
{
    struct source *source = made_source("p.prill", "abc");
    struct report *report =
        report_add(&made_reports, &made_error, made_place(source, "b"), "{0} of \"[x](javascript:y)\" [z]");
    report->place_label = "here";
    report_label(&made_reports, report, made_place(source, "a"), "first");
    report_label(&made_reports, report, (struct place){0}, "nowhere");
    report_label(&made_reports, report, made_place(source, "c"), "second");
    report_note(&made_reports, report, "a note");
    report_help(&made_reports, report, "a way out");
    report_fix(&made_reports, report, false, made_place(source, "b"), "d", "write d");
    assert_string_equal(string_at("results/0/message/text"), "{{0}} of \"[x] (javascript:y)\" [z]\n"
                                                             "note: a note\n"
                                                             "help: a way out\n"
                                                             "fix, yours to judge: write d");
    assert_string_equal(string_at("results/0/locations/0/message/text"), "here");
    assert_int_equal(length_at("results/0/relatedLocations"), 2);
    assert_int_equal(integer_at("results/0/relatedLocations/0/id"), 1);
    assert_string_equal(string_at("results/0/relatedLocations/1/message/text"), "second");
    assert_int_equal(integer_at("results/0/relatedLocations/1/id"), 2);
    /* A program that applies all fixes must not change a dose. */
    assert_null(value_at(run_read(), "results/0/fixes"));
}

#define CHANGES "results/0/fixes/0/artifactChanges"

static void test_fixes(void **state)
{
    struct source *source = made_source("p.prill", "from b to a");
    struct report *report = report_add(&made_reports, &made_error, made_range(source, 0, 0), "found");
    report_fix(&made_reports, report, true, made_place(source, "b"), "a", "swap");
    report_fix(&made_reports, report, true, made_place(source, "a"), "b{", "swap");
    assert_string_equal(string_at("results/0/fixes/0/description/text"), "swap");
    assert_int_equal(length_at(CHANGES), 1);
    assert_int_equal(length_at(CHANGES "/0/replacements"), 2);
    assert_int_equal(integer_at(CHANGES "/0/replacements/1/deletedRegion/startColumn"), 11);
    /* A text region with inserted text; with a byte region it would have to be binary (3.57.2). */
    assert_null(value_at(run_read(), CHANGES "/0/replacements/1/deletedRegion/byteOffset"));
    assert_string_equal(string_at(CHANGES "/0/replacements/1/insertedContent/text"), "b{");
    report->fix->edits[1].place = made_place(made_source("q.prill", "z"), "z");
    assert_int_equal(length_at(CHANGES), 2);
    assert_string_equal(string_at(CHANGES "/1/artifactLocation/uri"), "q.prill");
}

static void test_suppressions(void **state)
{
    struct source *source = made_source("p.prill", "zone bank\nallow unused-zone");
    struct report *report = report_add(&made_reports, &made_warning, made_place(source, "bank"), "a");
    report_add(&made_reports, &made_error, made_place(source, "zone"), "b");
    report_allow(&made_reports, report, "left to the wildflowers", made_place(source, "allow unused-zone"));
    assert_string_equal(string_at("results/0/suppressions/0/kind"), "inSource");
    assert_string_equal(string_at("results/0/suppressions/0/justification"), "left to the wildflowers");
    assert_int_equal(integer_at("results/0/suppressions/0/location/physicalLocation/region/startLine"), 2);
    assert_string_equal(string_at("results/0/level"), "warning");
    assert_true(json_is_array(value_at(run_read(), "results/1/suppressions")));
    assert_int_equal(length_at("results/1/suppressions"), 0);
}

static const char *fingerprint(const char *path, const char *text)
{
    made_reports.all.items[0]->place = made_place(made_source(path, text), "4 lb");
    return text_string(&made_arena,
                       text_of(string_at("results/0/partialFingerprints/primaryLocationLineHash")));
}

/* The same while the statement stays the same, wherever it stands and however it is set. */
static void test_fingerprints(void **state)
{
    struct report *report = report_add(&made_reports, &made_error, (struct place){0}, "4 lb is too much");
    const char *first = fingerprint("p.prill", "rate 4 lb of starter\n");
    assert_int_equal(strlen(first), 18);
    assert_string_equal(first + 16, ":1");
    assert_string_equal(fingerprint("p.prill", "\n\n\t  rate   4 lb of starter\r\n"), first);
    report->sentence = "4 lb is far too much";
    assert_string_equal(fingerprint("p.prill", "rate 4 lb of starter\n"), first);
    assert_string_not_equal(fingerprint("q.prill", "rate 4 lb of starter\n"), first);
    assert_string_not_equal(fingerprint("p.prill", "rate 4 lb of iron\n"), first);
    report->rule = &made_warning;
    assert_string_not_equal(fingerprint("p.prill", "rate 4 lb of starter\n"), first);
}

static void test_fingerprints_count(void **state)
{
    struct source *source = made_source("p.prill", "a b\na b\nc\n");
    report_add(&made_reports, &made_error, made_range(source, 0, 1), "x");
    report_add(&made_reports, &made_error, made_range(source, 4, 5), "y");
    report_add(&made_reports, &made_error, made_range(source, 8, 9), "z");
    const char *ends[] = {":1", ":2", ":1"};
    json_t *results = value_at(run_read(), "results");
    for (size_t i = 0; i < 3; i++) {
        json_t *hash = value_at(json_array_get(results, i), "partialFingerprints/primaryLocationLineHash");
        assert_string_equal(json_string_value(hash) + 16, ends[i]);
    }
    /* FNV-1a of the rule's name, the path and "ab", each closed by a zero byte: by a program of its own. */
    assert_string_equal(string_at("results/0/partialFingerprints/primaryLocationLineHash"),
                        "bde32eb3d2cad27e:1");
}

static void test_flood(void **state)
{
    report_add(&made_reports, &made_error, (struct place){0}, "x");
    assert_null(value_at(run_read(), "invocations/0/toolExecutionNotifications"));
    for (int i = 0; i < REPORT_LIMIT; i++)
        report_add(&made_reports, &made_error, (struct place){0}, "x");
    assert_string_equal(string_at("invocations/0/toolExecutionNotifications/0/level"), "warning");
    assert_int_equal(length_at("results"), REPORT_LIMIT);
}

static void test_ascii(void **state)
{
    struct source *source = made_source("\xFF.prill", "\xC2\x9B\xFF\x7F\u202E\n");
    report_add(&made_reports, &made_error, made_range(source, 0, 7), "\xFE\033");
    for (const char *c = log_text(); *c; c++)
        assert_true((*c >= ' ' && *c < 0x7F) || *c == '\n');
    assert_string_equal(string_at(REGION "snippet/text"), "\xC2\x9B\uFFFD\x7F\u202E");
    assert_string_equal(string_at("results/0/message/text"), "\uFFFD\033");
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, made_setup, sarif_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_empty),           TEST(test_rules),        TEST(test_regions),
        TEST(test_byte_order_mark), TEST(test_long_snippet), TEST(test_uris),
        TEST(test_library),         TEST(test_messages),     TEST(test_fixes),
        TEST(test_suppressions),    TEST(test_fingerprints), TEST(test_fingerprints_count),
        TEST(test_flood),           TEST(test_ascii),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
