#include "lexer/report.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static const struct rule NOTE = {"few-spots", SEVERITY_NOTE, "soil samples of few spots", "", NULL};
static const struct rule WARNING = {"rate-low", SEVERITY_WARNING, "rates below the label's", "", NULL};
static const struct rule ERROR = {"rate-high", SEVERITY_ERROR, "rates above the label's", "", NULL};

static struct arena arena;
static struct reports reports;

static int reports_setup(void **state)
{
    arena_init(&arena, NULL);
    reports_init(&reports, &arena);
    *state = &reports;
    return 0;
}

static int reports_teardown(void **state)
{
    (void)state;
    arena_free(&arena);
    return 0;
}

static const struct place NOWHERE = {0};

static void test_furnish(void **state)
{
    (void)state;
    struct source source = {.index = 0};
    struct place place = {&source, 3, 7};
    struct report *report = report_add(&reports, &ERROR, place, "%s lb is above the label's %d lb", "6.5", 6);
    report_label(&reports, report, (struct place){&source, 1, 2}, "the label of %s", "starter");
    report_label(&reports, report, NOWHERE, "a second");
    report_note(&reports, report, "%d applications", 3);
    report_help(&reports, report, "6 lb would pass");
    assert_string_equal(report->sentence, "6.5 lb is above the label's 6 lb");
    assert_ptr_equal(report->rule, &ERROR);
    assert_int_equal(report->severity, SEVERITY_ERROR);
    assert_ptr_equal(report->place.source, &source);
    assert_int_equal(report->labels.count, 2);
    assert_string_equal(report->labels.items[0].text, "the label of starter");
    assert_int_equal(report->labels.items[0].place.start, 1);
    assert_string_equal(report->labels.items[1].text, "a second");
    assert_int_equal(report->notes.count, 1);
    assert_string_equal(report->notes.items[0], "3 applications");
    assert_string_equal(report->help, "6 lb would pass");
    assert_null(report->fix);
    assert_int_equal(reports.all.count, 1);
    assert_ptr_equal(reports.all.items[0], report);
}

static void test_fix(void **state)
{
    (void)state;
    struct source source = {.index = 0};
    struct report *report = report_add(&reports, &ERROR, NOWHERE, "a comma in a number");
    report_fix(&reports, report, true, (struct place){&source, 1, 2}, "", "write 4500");
    assert_true(report->fix->safe);
    report_fix(&reports, report, false, (struct place){&source, 5, 5}, " lb", NULL);
    assert_false(report->fix->safe);
    assert_string_equal(report->fix->sentence, "write 4500");
    assert_int_equal(report->fix->edit_count, 2);
    assert_string_equal(report->fix->edits[1].replacement, " lb");
    assert_int_equal(report->fix->edits[1].place.start, 5);
}

static void assert_counts(size_t errors, size_t warnings, size_t notes, size_t allowed)
{
    assert_int_equal(reports.errors, errors);
    assert_int_equal(reports.warnings, warnings);
    assert_int_equal(reports.notes, notes);
    assert_int_equal(reports.allowed, allowed);
}

static void test_counts_and_allow(void **state)
{
    (void)state;
    report_add(&reports, &ERROR, NOWHERE, "one");
    struct report *warning = report_add(&reports, &WARNING, NOWHERE, "two");
    struct report *note = report_add(&reports, &NOTE, NOWHERE, "three");
    assert_counts(1, 1, 1, 0);
    struct source source = {.index = 4};
    report_allow(&reports, warning, "left to the wildflowers", (struct place){&source, 2, 9});
    assert_counts(1, 0, 1, 1);
    assert_string_equal(warning->allowed_because, "left to the wildflowers");
    assert_int_equal(warning->allowed_at.end, 9);
    assert_true(reports_allowed_by(&reports, (struct place){&source, 2, 9}));
    assert_false(reports_allowed_by(&reports, (struct place){&source, 3, 9}));
    assert_false(reports_allowed_by(&reports, NOWHERE));
    report_allow(&reports, warning, "again", NOWHERE);
    assert_true(reports_allowed_by(&reports, NOWHERE)); /* the second of one report counts as used */
    assert_string_equal(warning->allowed_because, "left to the wildflowers");
    assert_counts(1, 0, 1, 1);
    report_allow(&reports, note, "known", NOWHERE);
    assert_counts(1, 0, 0, 2);
    assert_int_equal(reports.all.count, 3);
    assert_false(reports.flooded);
}

static void test_flood(void **state)
{
    (void)state;
    for (int i = 0; i < REPORT_LIMIT; i++)
        report_add(&reports, &NOTE, NOWHERE, "note %d", i);
    assert_false(reports.flooded);
    size_t memory = arena.total;
    for (int i = 0; i < 100000; i++) {
        struct report *report = report_add(&reports, &NOTE, NOWHERE, "one more %d", i);
        assert_int_equal(report->labels.count, 0);
        report_label(&reports, report, NOWHERE, "label %d", i);
        report_note(&reports, report, "note %d", i);
        report_help(&reports, report, "help %d", i);
        report_fix(&reports, report, true, NOWHERE, "", "mend");
    }
    assert_true(reports.flooded);
    assert_int_equal(arena.total, memory);
    assert_int_equal(reports.all.count, REPORT_LIMIT);
    assert_counts(0, 0, REPORT_LIMIT + 100000, 0);

    struct report *error = report_add(&reports, &ERROR, NOWHERE, "still seen");
    assert_int_equal(reports.all.count, REPORT_LIMIT + 1);
    assert_ptr_equal(reports.all.items[REPORT_LIMIT], error);
    struct report *unkept = report_add(&reports, &NOTE, NOWHERE, "silenced");
    report_allow(&reports, unkept, "known", NOWHERE);
    assert_counts(1, 0, REPORT_LIMIT + 100000, 1);
    assert_null(report_add(&reports, &NOTE, NOWHERE, "not silenced")->allowed_because);
}

/* Of five, the notes behind the first go, but for the one that is allowed; what was not kept goes too. */
static void test_drop_notes(void **state)
{
    (void)state;
    struct report *early = report_add(&reports, &NOTE, NOWHERE, "early");
    report_add(&reports, &NOTE, NOWHERE, "late");
    struct report *error = report_add(&reports, &ERROR, NOWHERE, "wrong");
    struct report *allowed = report_add(&reports, &NOTE, NOWHERE, "known");
    report_allow(&reports, allowed, "yes", NOWHERE);
    for (int i = 0; i < REPORT_LIMIT + 5; i++)
        report_add(&reports, &NOTE, NOWHERE, "late %d", i);
    assert_true(reports.flooded);
    reports_drop_notes(&reports, 1);
    assert_false(reports.flooded);
    assert_counts(1, 0, 1, 1);
    assert_int_equal(reports.all.count, 3);
    assert_ptr_equal(reports.all.items[0], early);
    assert_ptr_equal(reports.all.items[1], error);
    assert_ptr_equal(reports.all.items[2], allowed);
    report_add(&reports, &NOTE, NOWHERE, "there is room again");
    assert_counts(1, 0, 2, 1);
    assert_int_equal(reports.all.count, 4);
}

static bool stands_before(const struct report *a, const struct report *b)
{
    uint64_t a_source = a->place.source ? a->place.source->index : UINT64_MAX;
    uint64_t b_source = b->place.source ? b->place.source->index : UINT64_MAX;
    if (a_source != b_source)
        return a_source < b_source;
    if (a->place.source && a->place.start != b->place.start)
        return a->place.start < b->place.start;
    return a->order < b->order;
}

static void test_sort(void **state)
{
    (void)state;
    reports_sort(&reports); /* of nothing */
    struct source sources[3] = {{.index = 2}, {.index = 0}, {.index = 1}};
    static const struct rule *const rules[] = {&NOTE, &ERROR, &WARNING};
    for (uint32_t i = 0; i < 900; i++) {
        struct place place = {i % 4 ? &sources[i % 4 - 1] : NULL, i * 37 % 50, 60};
        struct report *report = report_add(&reports, rules[i % 3], place, "%u", i);
        if (i % 5 == 0) /* what is allowed keeps its order too */
            report_allow(&reports, report, "known", NOWHERE);
    }
    reports_sort(&reports);
    assert_int_equal(reports.all.count, 900);
    for (size_t i = 1; i < 900; i++)
        assert_true(stands_before(reports.all.items[i - 1], reports.all.items[i]));
    assert_null(reports.all.items[899]->place.source);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_furnish, reports_setup, reports_teardown),
        cmocka_unit_test_setup_teardown(test_fix, reports_setup, reports_teardown),
        cmocka_unit_test_setup_teardown(test_counts_and_allow, reports_setup, reports_teardown),
        cmocka_unit_test_setup_teardown(test_flood, reports_setup, reports_teardown),
        cmocka_unit_test_setup_teardown(test_drop_notes, reports_setup, reports_teardown),
        cmocka_unit_test_setup_teardown(test_sort, reports_setup, reports_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
