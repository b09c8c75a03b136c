/* The calendar's forms, given texts that try to break out of them. Sources: RFC 5545, sections 3.1 (lines)
 * and 3.3.11 (TEXT); RFC 4180; CWE-1236 (formulas in a cell). tests/reference reads real calendars back with
 * other readers. */
#include "compiler/result/result.h"
#include "compiler/form/paragraph.h"
#include "tests/unit/output_season.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct output_season made;

static int season_setup(void **state)
{
    output_season_make(&made);
    *state = &made;
    return 0;
}

static int season_teardown(void **state)
{
    output_season_free(&made);
    return 0;
}

/* Bytes that end a line or a field, or drive a terminal, in some format. */
static const char HOSTILE[] = "=x,\"y\";\\z\r\nEND:VEVENT\r\n\033[2J\x7f\xc2\x85\xff\xe2\x80\xa8:q";

/* Puts the text wherever a plan can put one. */
static void make_hostile(void)
{
    made.model.title = HOSTILE;
    made.lawn->symbol.name = output_name(&made, HOSTILE);
    made.north->symbol.name = made.starter->symbol.name = made.spring_feed->symbol.name =
        made.lawn->symbol.name;
    made.spring_feed->symbol.note = made.starter->symbol.note = HOSTILE;
    VECTOR_PUSH(&made.arena, &made.spring_feed->kinds, made.lawn->symbol.name);
}

static const char *printed(const char *form, const int64_t *stamp)
{
    struct buffer out = {.arena = &made.arena};
    struct result_input input = {.season = &made.season, .reports = &made.reports, .stamp = stamp};
    assert_true(result_print(&out, result_find("calendar"), form, &input));
    return out.string;
}

static const char *ics(const int64_t *stamp)
{
    return printed("ics", stamp);
}

static const char *csv(void)
{
    return printed("csv", NULL);
}

static const char *json(void)
{
    return printed("json", NULL);
}

static const char *text(void)
{
    return printed("text", NULL);
}

static size_t count_of(const char *text, const char *part)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, part)) != NULL; at += strlen(part))
        count++;
    return count;
}

/* ---- iCalendar ---- */

/* Content lines: those that do not go on from the line before. */
static size_t content_lines(const char *calendar)
{
    return count_of(calendar, "\r\n") - count_of(calendar, "\r\n ");
}

static void test_ics_lines(void **state)
{
    const char *calendar = ics(NULL);
    for (const char *at = calendar; *at;) {
        const char *end = strstr(at, "\r\n");
        assert_non_null(end);
        assert_true(end - at <= 75);
        at = end + 2;
    }
    assert_int_equal(count_of(calendar, "\n"), count_of(calendar, "\r\n"));
}

static void test_ics_text_makes_no_lines(void **state)
{
    size_t lines = content_lines(ics(NULL));
    make_hostile();
    const char *calendar = ics(NULL);
    assert_int_equal(content_lines(calendar), lines);
    assert_int_equal(count_of(calendar, "\nEND:VEVENT"), 5);
    for (const char *at = calendar; *at; at++)
        assert_true((unsigned char)*at >= 0x20 || *at == '\r' || *at == '\n');
}

static void test_ics_event(void **state)
{
    const char *calendar = ics(NULL);
    assert_int_equal(count_of(calendar, "BEGIN:VEVENT\r\n"), 5);
    assert_non_null(strstr(calendar, "\r\nDTSTART;VALUE=DATE:20270410\r\nDTEND;VALUE=DATE:20270411\r\n"));
    assert_int_equal(count_of(calendar, "\r\nDTSTAMP:20270220T000000Z\r\n"), 5);
    assert_int_equal(count_of(calendar, "\r\nSEQUENCE:0\r\n"), 5);
    assert_null(strstr(calendar, "VALARM"));
    assert_null(strstr(calendar, "METHOD"));
}

/* The end of an all-day event lies in the next month, the next year, after a leap day. */
static void test_ics_end_is_not_included(void **state)
{
    made.season.occurrences.items[0].day = output_day(2028, 2, 29);
    made.season.occurrences.items[2].day = output_day(2027, 12, 31);
    output_season_order(&made);
    const char *calendar = ics(NULL);
    assert_non_null(strstr(calendar, "DTSTART;VALUE=DATE:20280229\r\nDTEND;VALUE=DATE:20280301\r\n"));
    assert_non_null(strstr(calendar, "DTSTART;VALUE=DATE:20271231\r\nDTEND;VALUE=DATE:20280101\r\n"));
}

static void test_ics_stamp(void **state)
{
    int64_t stamp = 1800000000; /* date -u -d @1800000000 */
    assert_int_equal(count_of(ics(&stamp), "\r\nDTSTAMP:20270115T080000Z\r\n"), 5);
    stamp = STAMP_LIMIT;
    assert_int_equal(count_of(ics(&stamp), "\r\nDTSTAMP:21991231T235959Z\r\n"), 5);
    made.model.edition = 0;
    assert_int_equal(count_of(ics(NULL), "\r\nDTSTAMP:20270301T000000Z\r\n"), 5);
    assert_int_equal(count_of(ics(NULL), "\r\nSEQUENCE:0\r\n"), 5);
    made.model.edition = 3;
    assert_int_equal(count_of(ics(NULL), "\r\nSEQUENCE:2\r\n"), 5);
}

static void expect_trigger(int days, int minutes, const char *wanted)
{
    made.model.has_reminder = true;
    made.model.reminder_days = days;
    made.model.reminder_minutes = minutes;
    assert_int_equal(count_of(ics(NULL), wanted), 5);
}

/* RFC 5545, section 3.8.6.3: of an event that lasts whole days the alarm counts from 00:00. */
static void test_ics_alarm(void **state)
{
    expect_trigger(1, 18 * 60, "\r\nTRIGGER:-PT6H\r\n");
    expect_trigger(2, 18 * 60, "\r\nTRIGGER:-P1DT6H\r\n");
    expect_trigger(0, 7 * 60 + 30, "\r\nTRIGGER:PT7H30M\r\n");
    expect_trigger(1, 0, "\r\nTRIGGER:-P1D\r\n");
    made.season.occurrences.items[0].done = true;
    assert_int_equal(count_of(ics(NULL), "BEGIN:VALARM"), 4); /* what is done needs no reminder */
}

static void test_ics_categories(void **state)
{
    VECTOR_PUSH(&made.arena, &made.spring_feed->kinds, output_name(&made, "a,b;c"));
    assert_non_null(strstr(ics(NULL), "\r\nCATEGORIES:application,a b c\r\n"));
    assert_non_null(strstr(ics(NULL), "\r\nCATEGORIES:task\r\n"));
}

/* ---- CSV ---- */

/* Reads RFC 4180 strictly. Returns the cells of all rows and checks that all rows have as many. */
static size_t csv_cells(const char *table, size_t *rows)
{
    size_t cells = 0, width = 0, row_cells = 0;
    *rows = 0;
    for (const char *at = table; *at;) {
        if (*at == '"') {
            for (at++; *at != '"' || at[1] == '"'; at += *at == '"' ? 2 : 1)
                assert_true(*at != '\0');
            at++;
        } else {
            at += strcspn(at, ",\r\n\"");
        }
        cells++;
        row_cells++;
        if (*at == ',') {
            at++;
            continue;
        }
        assert_true(at[0] == '\r' && at[1] == '\n');
        at += 2;
        assert_true(*rows == 0 || row_cells == width);
        width = row_cells;
        row_cells = 0;
        ++*rows;
    }
    return cells;
}

static void test_csv_shape(void **state)
{
    size_t rows;
    size_t cells = csv_cells(csv(), &rows);
    assert_int_equal(rows, 1 + 3 + 3 + 1 + 3 + 3);
    assert_int_equal(cells, rows * 20);
    make_hostile();
    assert_int_equal(csv_cells(csv(), &rows), cells);
    assert_int_equal(rows, 14);
}

static void test_csv_formulas(void **state)
{
    const char *const signs[] = {"=1+1", "+1", "-1", "@x", "  =1", "\t=1", "\r=1", "\uff1d1"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
        made.spring_feed->symbol.name = output_name(&made, signs[i]);
        assert_int_equal(count_of(csv(), ",Saturday,'"), 3);
    }
    made.spring_feed->symbol.name = output_name(&made, "4-way =");
    assert_int_equal(count_of(csv(), ",Saturday,4-way =,"), 3);
}

static void test_csv_row(void **state)
{
    assert_non_null(
        strstr(csv(), "\r\n2027-04-10,Saturday,spring-feed,1,1,planned,reading-green,strip,380,starter,"
                      "5.34,lb per 1000 sqft,2.02,lb,0.75,0.525,1.071,0.5357,2027-04-17,2027-04-17\r\n"));
    assert_non_null(strstr(csv(),
                           "\r\n2027-05-29,Saturday,topdress,1,1,planned,reading-green,north,2416,,,,,,,,,,"
                           "2027-06-05,2027-06-05\r\n"));
}

/* ---- JSON ---- */

static void test_json_reads_back(void **state)
{
    make_hostile();
    json_error_t error;
    json_t *root = json_loads(json(), JSON_REJECT_DUPLICATES, &error);
    assert_non_null(root);
    json_t *work = json_array_get(json_object_get(root, "work"), 0);
    const char *treatment = json_string_value(json_object_get(work, "treatment"));
    assert_string_equal(treatment, "=x,\"y\";\\z\r\nEND:VEVENT\r\n\033[2J\x7f\xc2\x85\ufffd\u2028:q");
    json_t *material = json_array_get(json_object_get(work, "materials"), 0);
    json_t *portion = json_array_get(json_object_get(material, "portions"), 2);
    json_t *amount = json_object_get(portion, "amount");
    assert_string_equal(json_string_value(json_object_get(amount, "text")), "2.02 lb");
    /* 0.75 / 0.14 * 0.38 lb */
    assert_true(fabs(json_real_value(json_object_get(amount, "si")) / LB - 2.035714285714) < 1e-9);
    json_decref(root);
}

/* ---- text ---- */

static void test_text_stays_narrow(void **state)
{
    const char *calendar = text();
    for (const char *at = calendar; *at; at = strchr(at, '\n') + 1)
        assert_true(strchr(at, '\n') - at <= PARAGRAPH_CELLS);
    make_hostile();
    calendar = text();
    for (const char *at = calendar; *at; at++)
        assert_true((unsigned char)*at >= 0x20 || *at == '\n');
}

static void test_text_says_what_stands(void **state)
{
    static const struct rule rule = {"unused-zone", SEVERITY_NOTE, "", "", NULL};
    struct place place = {&made.source, 14, 19};
    struct report *report = report_add(&made.reports, &rule, place, "bank is in no treatment");
    report_add(&made.reports, &rule, place, "another");
    report_allow(&made.reports, report, "it is left to the wildflowers", place);
    made.season.occurrences.items[1].skipped = true;
    struct record record = {.why = "the lawn was dry"};
    made.season.occurrences.items[1].record = &record;
    const char *calendar = text();
    assert_non_null(strstr(calendar, "\nSkipped:\n  - tonic: the lawn was dry\n"));
    assert_non_null(strstr(calendar,
                           "\nAccepted in this plan:\n  - unused-zone (green.prill:2: bank is in no "
                           "treatment) because it is left to\n    the wildflowers\n"));
    assert_non_null(strstr(calendar, "\n1 note not shown here: run `prill check`.\n"));
    assert_non_null(strstr(calendar, "\nThe product's label, the rules of the place"));
}

/* A plan may add words of its own at the end, and take none away. */
static void test_closing(void **state)
{
    struct caution closing = {.symbol = {.name = output_name(&made, "closing"), .library = true},
                              .text = "Mind all."};
    struct caution *item = &closing;
    VECTOR_PUSH(&made.arena, &made.model.cautions, item);
    assert_non_null(strstr(text(), "\nMind all.\nWorked out from what"));
    closing.symbol.library = false;
    assert_non_null(strstr(text(), "\nMind all.\nThe product's label"));
    closing.text = NULL;
    assert_non_null(strstr(text(), "\n\nThe product's label"));
}

static void test_same_bytes_again(void **state)
{
    const char *first = ics(NULL);
    assert_string_equal(first, ics(NULL));
    first = text();
    assert_string_equal(first, text());
}

int main(void)
{
#define TEST_OF(name) cmocka_unit_test_setup_teardown(name, season_setup, season_teardown)
    const struct CMUnitTest tests[] = {
        TEST_OF(test_ics_lines),
        TEST_OF(test_ics_text_makes_no_lines),
        TEST_OF(test_ics_event),
        TEST_OF(test_ics_end_is_not_included),
        TEST_OF(test_ics_stamp),
        TEST_OF(test_ics_alarm),
        TEST_OF(test_ics_categories),
        TEST_OF(test_csv_shape),
        TEST_OF(test_csv_formulas),
        TEST_OF(test_csv_row),
        TEST_OF(test_json_reads_back),
        TEST_OF(test_text_stays_narrow),
        TEST_OF(test_text_says_what_stands),
        TEST_OF(test_closing),
        TEST_OF(test_same_bytes_again),
    };
    return cmocka_run_group_tests_name("output_calendar", tests, NULL, NULL);
}
