/* The checks: the table itself, the catalogue of small plans, and allow statements. */
#include "compiler/check/checking.h"
#include "tests/unit/check_trials.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const struct check_trial *const CATALOGUE[] = {APPLIED_TRIALS, LABEL_TRIALS, DAY_TRIALS,
                                                      GROUND_TRIALS,  THING_TRIALS, RECORD_TRIALS};
enum { CATALOGUE_PARTS = sizeof CATALOGUE / sizeof *CATALOGUE };

static void checks_of(struct season_text *read, const char *plan)
{
    season_text_read_faulty(read, plan);
    checks_run(read->season);
}

static const struct report *report_of(const struct season_text *read, const char *check)
{
    for (size_t i = 0; i < read->reports.all.count; i++)
        if (strcmp(read->reports.all.items[i]->rule->name, check) == 0)
            return read->reports.all.items[i];
    return NULL;
}

static size_t count_of(const struct season_text *read, const char *check)
{
    size_t count = 0;
    for (size_t i = 0; i < read->reports.all.count; i++)
        count += strcmp(read->reports.all.items[i]->rule->name, check) == 0 &&
                 !read->reports.all.items[i]->allowed_because;
    return count;
}

/* ---- the table ---- */

static bool kebab(const char *name)
{
    bool sound = *name >= 'a' && *name <= 'z';
    for (const char *c = name; *c; c++) {
        bool letter = (*c >= 'a' && *c <= 'z') || (*c >= '0' && *c <= '9');
        sound = sound && (letter || (*c == '-' && c[1] != '-' && c[1] != '\0'));
    }
    return sound;
}

static void test_table_is_complete(void **state)
{
    for (size_t i = 0; i < CHECK_COUNT; i++) {
        const struct rule *rule = &CHECKS[i].rule;
        assert_non_null(rule->name);
        assert_true(kebab(rule->name));
        assert_true(strlen(rule->sentence) > 10 && strlen(rule->explanation) > 20);
        assert_null(strchr(rule->sentence, '\n'));
        assert_true(rule->sentence[strlen(rule->sentence) - 1] != '.');
        assert_true(rule->explanation[strlen(rule->explanation) - 1] == '.');
        assert_non_null(CHECKS[i].family);
    }
    assert_true(CHECK_COUNT >= 35);
}

static void test_names_are_unique(void **state)
{
    for (size_t i = 0; i < rule_count(); i++) {
        assert_non_null(rule_at(i)->name);
        assert_ptr_equal(rule_find(text_of(rule_at(i)->name)), rule_at(i));
    }
    assert_null(rule_find(TEXT("no-such-check")));
    assert_null(rule_find(TEXT("")));
}

/* A family's rows stand together, so that its heading comes once. */
static void test_families_are_grouped(void **state)
{
    for (size_t i = 1; i < CHECK_COUNT; i++)
        for (size_t j = 0; j + 1 < i && strcmp(CHECKS[i].family, CHECKS[i - 1].family) != 0; j++)
            assert_string_not_equal(CHECKS[i].family, CHECKS[j].family);
}

static void test_nearest_rule(void **state)
{
    assert_string_equal(rule_nearest(TEXT("unused-zones"))->name, "unused-zone");
    assert_string_equal(rule_nearest(TEXT("UNUSED-ZONE"))->name, "unused-zone");
    assert_null(rule_nearest(TEXT("a")));
    assert_null(rule_nearest(TEXT("something-else-entirely")));
}

static void test_documentation(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer page = {.arena = &arena}, list = {.arena = &arena};
    checks_markdown(&page);
    checks_list(&list);
    size_t lines = 0;
    for (const char *c = list.string; *c; c++)
        lines += *c == '\n';
    assert_int_equal(lines, rule_count());
    for (size_t i = 0; i < rule_count(); i++) {
        assert_non_null(strstr(page.string, text_format(&arena, "\n### %s\n", rule_at(i)->name)));
        assert_non_null(strstr(list.string, rule_at(i)->sentence));
    }
    assert_true(page.string[page.length - 1] == '\n' && page.string[page.length - 2] != '\n');
    arena_free(&arena);
}

/* ---- the catalogue ---- */

static bool trial_wrong(struct season_text *read, const struct check_trial *trial, const char *what,
                        const char *found)
{
    print_error("%s: %s\nplan:\n%s\nfound:    %s\nexpected: %s\nreports:\n", trial->check, what, trial->plan,
                found ? found : "nothing", trial->sentence ? trial->sentence : "nothing");
    for (size_t i = 0; i < read->reports.all.count; i++)
        print_error("  %s: %s\n", read->reports.all.items[i]->rule->name,
                    read->reports.all.items[i]->sentence);
    return false;
}

static bool plan_readable(const struct season_text *read)
{
    for (size_t i = 0; i < read->reports.all.count; i++) {
        const struct rule *rule = read->reports.all.items[i]->rule;
        if (rule < &CHECKS[0].rule || rule > &CHECKS[CHECK_COUNT - 1].rule)
            return false;
    }
    return true;
}

static bool trial_passes(struct season_text *read, const struct check_trial *trial)
{
    const struct report *report = report_of(read, trial->check);
    const char *sentence = report ? report->sentence : NULL;
    const char *help = report && report->help ? report->help : "";
    if (!plan_readable(read))
        return trial_wrong(read, trial, "the plan cannot be read", sentence);
    if (!trial->sentence != !sentence || (sentence && strcmp(sentence, trial->sentence) != 0))
        return trial_wrong(read, trial, "another sentence", sentence);
    if (trial->help && strcmp(help, trial->help) != 0)
        return trial_wrong(read, trial, trial->help, help);
    return true;
}

static void test_catalogue(void **state)
{
    size_t wrong = 0;
    for (size_t part = 0; part < CATALOGUE_PARTS; part++)
        for (const struct check_trial *trial = CATALOGUE[part]; trial->check; trial++) {
            struct season_text read;
            checks_of(&read, trial->plan);
            wrong += !trial_passes(&read, trial);
            season_text_free(&read);
        }
    assert_int_equal(wrong, 0);
}

static bool fires_in_catalogue(const char *check)
{
    for (size_t part = 0; part < CATALOGUE_PARTS; part++)
        for (const struct check_trial *trial = CATALOGUE[part]; trial->check; trial++)
            if (trial->sentence && strcmp(trial->check, check) == 0)
                return true;
    return false;
}

/* Those that look again at what the dates were chosen to keep, and one that takes a million dates. */
static bool looks_again(const char *check)
{
    static const char *const checks[] = {"wait-too-short", "label-interval", "closed-day", "closed-weekday",
                                         "too-many-times"};
    for (size_t i = 0; i < sizeof checks / sizeof *checks; i++)
        if (strcmp(check, checks[i]) == 0)
            return true;
    return false;
}

static void test_every_check_has_a_trial(void **state)
{
    for (size_t i = 0; i < CHECK_COUNT; i++)
        if (!looks_again(CHECKS[i].rule.name) && !fires_in_catalogue(CHECKS[i].rule.name))
            fail_msg("no trial makes %s fire", CHECKS[i].rule.name);
}

/* ---- looking again: limits that the dates knew nothing of ---- */

#define UNFOLLOWED(text) "limits late {\n" text "\n}\n"

static void bind_late(struct season_text *read, const char *plan)
{
    season_text_read(read, plan);
    for (size_t i = 0; i < read->model->limit_sets.count; i++)
        if (!read->model->limit_sets.items[i]->thing.library)
            read->model->limit_sets.items[i]->bound = true;
    checks_run(read->season);
}

static void assert_says(const struct season_text *read, const char *check, const char *sentence)
{
    const struct report *report = report_of(read, check);
    assert_non_null(report);
    assert_string_equal(report->sentence, sentence);
}

static void test_closed_days_are_looked_at_again(void **state)
{
    struct season_text read;
    bind_late(&read, HEAD GREEN FEED UNFOLLOWED("no N from Apr 1 to Apr 10\nonly on Mon")
                         APPLY("x", "Apr 10", "1 lb"));
    assert_says(&read, "closed-day", "x is planned on Sat 2027-04-10; the day is closed to N");
    assert_says(&read, "closed-weekday", "x is planned on Sat 2027-04-10; applications are only on Monday");
    season_text_free(&read);
}

static void test_waits_are_looked_at_again(void **state)
{
    struct season_text read;
    bind_late(&read, HEAD GREEN FEED UNFOLLOWED("at least 31 days between N applications")
                         APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 10", "1 lb"));
    assert_says(
        &read, "wait-too-short",
        "y on Mon 2027-05-10 comes 30 days after x on a; at least 31 days are to lie between N applications");
    assert_string_equal(report_of(&read, "wait-too-short")->help, "not before Tue 2027-05-11 would pass");
    season_text_free(&read);
}

static void test_intervals_are_looked_at_again(void **state)
{
    struct season_text read;
    season_text_read(&read, HEAD GREEN FEED APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 10", "1 lb"));
    read.model->products.items[read.model->products.count - 1]->label.interval_days = 31;
    checks_run(read.season);
    assert_says(
        &read, "label-interval",
        "y on Mon 2027-05-10 comes 30 days after x on a; at least 31 days are to lie between treatments with "
        "feed");
    season_text_free(&read);
}

static void test_crowded_season(void **state)
{
    struct season_text read;
    season_text_read(&read, HEAD GREEN FEED APPLY("x", "Apr 10", "1 lb"));
    read.season->crowded = read.model->treatments.items[0];
    checks_run(read.season);
    assert_says(&read, "too-many-times",
                text_format(&read.arena, "x brings the plan to more than %d dates", OCCURRENCE_LIMIT));
    season_text_free(&read);
}

/* ---- how often ---- */

#define EVERYWHERE                                                                                           \
    "apply x {\nto a, b\nwhen every 40 days from Apr 10, 2 times\nrate 5 lb per 1000 sqft of feed\n}\n"

/* A limit passed is told for each zone and day; what is the statement's own fault once. */
static void test_counts_of_reports(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD TWO_ZONES
              "product feed {\ngrade 20-0-10 granular\nlabel 2 to 4 lb per 1000 sqft\n}\n" LIMIT(
                  "at most 0.9 lb N per 1000 sqft per application\nat most 1.5 lb N per 1000 sqft per year")
                  EVERYWHERE);
    assert_int_equal(count_of(&read, "limit-per-application"), 4);
    assert_int_equal(count_of(&read, "limit-per-year"), 2);
    assert_int_equal(count_of(&read, "label-rate-high"), 1);
    assert_int_equal(count_of(&read, "machine-missing"), 1);
    season_text_free(&read);
}

/* Runs that overlap are told once, not for each pair in them. */
static void test_periods_are_told_once(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD GREEN FEED LIMIT(
                         "at most 0.5 lb N per 1000 sqft in any 30 days") "apply x {\nto a\nwhen every 10 "
                                                                          "days from Apr 1, 6 times\nrate 2 "
                                                                          "lb per 1000 sqft of feed\n}\n");
    /* 0.4 each on Apr 1, 11, 21, May 1, 11, 21: passed on Apr 11, May 1 and May 21 */
    assert_int_equal(count_of(&read, "limit-per-period"), 3);
    season_text_free(&read);
}

/* ---- allow ---- */

static void test_allow_silences(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD TWO_ZONES FEED APPLY(
                         "x", "Apr 10",
                         "1 lb") "allow unused-zone for b \"wildflowers\"\n"
                                 "allow machine-missing \"by hand\"\nallow untested-zone \"later\"\n");
    assert_int_equal(read.reports.errors + read.reports.warnings + read.reports.notes, 0);
    assert_int_equal(read.reports.allowed, 3);
    assert_string_equal(report_of(&read, "unused-zone")->allowed_because, "wildflowers");
    season_text_free(&read);
}

static void test_allow_is_for_its_subject(void **state)
{
    struct season_text read;
    checks_of(&read,
              HEAD TWO_ZONES FEED APPLY("x", "Apr 10", "1 lb") "allow unused-zone for a \"wildflowers\"\n");
    assert_int_equal(count_of(&read, "unused-zone"), 1);
    assert_int_equal(count_of(&read, "allow-unused"), 1);
    season_text_free(&read);
}

/* In a treatment's block it is for that treatment alone. */
static void test_allow_within_a_treatment(void **state)
{
    struct season_text read;
    checks_of(&read,
              HEAD GREEN FEED APPLY(
                  "x", "Apr 10", "1 lb") "apply y {\nto a\nwhen on May 10\nrate 1 lb per 1000 sqft of feed\n"
                                         "allow machine-missing \"by hand\"\n}\n");
    assert_int_equal(count_of(&read, "machine-missing"), 1);
    const struct report *report = read.reports.all.items[0];
    for (size_t i = 0; i < read.reports.all.count; i++)
        if (!read.reports.all.items[i]->allowed_because)
            report = read.reports.all.items[i];
    assert_true(text_is(place_text(report->place), "x"));
    assert_int_equal(read.reports.allowed, 1);
    season_text_free(&read);
}

static void test_allow_never_silences_errors(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD GREEN FEED LIMIT("at most 0.1 lb N per 1000 sqft per application")
                         APPLY("x", "Apr 10", "1 lb") "allow limit-per-application \"why not\"\n");
    assert_int_equal(count_of(&read, "limit-per-application"), 1);
    assert_int_equal(count_of(&read, "allow-error"), 1);
    assert_int_equal(read.reports.errors, 1);
    season_text_free(&read);
}

/* ---- fixes ---- */

static const char *fixed_plan(struct season_text *read, const char *plan, const char *check)
{
    const struct report *report = report_of(read, check);
    assert_non_null(report);
    assert_non_null(report->fix);
    assert_false(report->fix->safe); /* it changes a dose */
    const struct edit *edit = &report->fix->edits[0];
    return text_format(&read->arena, "%.*s%s%s", (int)edit->place.start, plan, edit->replacement,
                       plan + edit->place.end);
}

static void test_fix_mends(void **state)
{
    static const char *const plans[] = {
        HEAD GREEN FEED LIMIT("at most 0.9 lb N per 1000 sqft per application")
            APPLY("x", "Apr 10", "4.7 lb"),
        HEAD GREEN FEED LIMIT("at most 0.9 lb N per 1000 sqft per application")
            SUPPLY("x", "Apr 10", "1 lb N"),
        HEAD GREEN FEED LIMIT("at most 0.6 lb soluble N per 1000 sqft per application")
            SUPPLY("x", "Apr 10", "1 lb N"),
        HEAD "units metric\n" GREEN FEED LIMIT("at most 0.9 lb N per 1000 sqft per application")
            APPLY("x", "Apr 10", "4.7 lb"),
        HEAD "units metric\n" GREEN FEED LIMIT("at most 0.9 lb N per 1000 sqft per application")
            SUPPLY("x", "Apr 10", "1 lb N"),
        HEAD GREEN "product leaf { grade 10-0-0 liquid, 10 lb per gal }\n" LIMIT(
            "at most 0.01 lb N per 1000 sqft per application") APPLY_OF("x", "Apr 10", "4 fl oz", "leaf"),
        HEAD "units metric\n" GREEN "product leaf { grade 10-0-0 liquid, 10 lb per gal }\n" LIMIT(
            "at most 0.01 lb N per 1000 sqft per application") APPLY_OF("x", "Apr 10", "4 fl oz", "leaf"),
    };
    for (size_t i = 0; i < sizeof plans / sizeof *plans; i++) {
        struct season_text read, mended;
        checks_of(&read, plans[i]);
        checks_of(&mended, fixed_plan(&read, plans[i], "limit-per-application"));
        if (mended.reports.errors)
            print_error("%s\n", fixed_plan(&read, plans[i], "limit-per-application"));
        assert_int_equal(mended.reports.errors, 0);
        season_text_free(&mended);
        season_text_free(&read);
    }
}

/* ---- places, notes and labels ---- */

static const char *parts_of(struct season_text *read, const char *check)
{
    const struct report *report = report_of(read, check);
    struct buffer text = {.arena = &read->arena};
    assert_non_null(report);
    buffer_format(&text, "%.*s\n", (int)place_text(report->place).length, place_text(report->place).start);
    for (size_t i = 0; i < report->labels.count; i++) {
        struct text place = place_text(report->labels.items[i].place);
        buffer_format(&text, "%.*s: %s\n", (int)place.length, place.start, report->labels.items[i].text);
    }
    for (size_t i = 0; i < report->notes.count; i++)
        buffer_format(&text, "note: %s\n", report->notes.items[i]);
    return buffer_string(&text);
}

static void test_year_is_told_by_its_parts(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD GREEN FEED
              "product potash { grade 0-0-50 granular }\n"
              "source code { title \"A code\", by \"a town\", year 2020 }\n"
              "limits law {\nfrom code\nat most 1 lb N per 1000 sqft per year\n}\nfollow law\n" APPLY(
                  "x", "Apr 10", "3 lb") APPLY_OF("k", "Apr 20", "3 lb", "potash")
                  APPLY("y", "May 10", "3 lb"));
    assert_string_equal(parts_of(&read, "limit-per-year"),
                        "rate 3 lb per 1000 sqft of feed\n"
                        "rate 3 lb per 1000 sqft of feed: 0.6 lb N per 1000 sqft from feed\n"
                        "at most 1 lb N per 1000 sqft per year: the limit of law\n"
                        "note: Sat 2027-04-10: 0.6 lb N per 1000 sqft by x\n"
                        "note: Mon 2027-05-10: 0.6 lb N per 1000 sqft by y\n"
                        "note: source: A code, a town, 2020\n");
    season_text_free(&read);
}

static void test_long_years_are_cut_short(void **state)
{
    struct season_text read;
    checks_of(&read,
              HEAD GREEN FEED LIMIT(
                  "at most 1 lb N per 1000 sqft per year") "apply x {\nto a\nwhen every 10 days from Mar 1, "
                                                           "10 times\nrate 1 lb per 1000 sqft of feed\n}\n");
    const char *parts = parts_of(&read, "limit-per-year");
    assert_non_null(strstr(parts, "note: Mon 2027-05-10: 0.2 lb N per 1000 sqft by x\nnote: and 2 more\n"));
    season_text_free(&read);
}

#define CHAIN "task x { when on May 10 }\ntask y { when at least 7 days after x, within 9 days after x }\n"

static void test_conflict_is_told_step_by_step(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD CHAIN "task z { when 3 days after y }\ntask w { when before z, by May 12 }\n"
                                "task v { when from May 25, before y }\n");
    assert_string_equal(
        parts_of(&read, "no-day"),
        "x\n"
        "when from May 25: v comes on Tue 2027-05-25 at the earliest\n"
        "before y: y comes at least 1 day after v, not before Wed 2027-05-26\n"
        "within 9 days after x: x lies at most 9 days before y, so not before Mon 2027-05-17\n"
        "when on May 10: but x comes on Mon 2027-05-10 at the latest\n");
    season_text_free(&read);
}

static void test_conflict_with_closed_days(void **state)
{
    struct season_text read;
    checks_of(&read,
              HEAD GREEN FEED LIMIT("nothing from Apr 1 to Apr 20") "apply x {\nto a\n"
                                                                    "when between Apr 5 and Apr 20\nrate 1 "
                                                                    "lb per 1000 sqft of feed\n}\n");
    assert_string_equal(parts_of(&read, "no-day"),
                        "x\n"
                        "when between Apr 5 and Apr 20: x comes on Mon 2027-04-05 at the earliest\n"
                        "nothing from Apr 1 to Apr 20: it keeps x from Mon 2027-04-05 until Wed 2027-04-21\n"
                        "when between Apr 5 and Apr 20: but x comes on Tue 2027-04-20 at the latest\n");
    assert_string_equal(report_of(&read, "no-day")->help,
                        "the window of x would do if it ended 1 day later, on Wed 2027-04-21");
    season_text_free(&read);
}

static void test_conflict_with_a_record(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD "task x { when on May 10 }\ntask y { when at least 7 days after x, by May 20 }\n"
                          "done x 2027-05-15 { note \"late\" }\n");
    assert_string_equal(
        parts_of(&read, "no-day"),
        "y\n"
        "2027-05-15: x was done on Sat 2027-05-15\n"
        "when at least 7 days after x: y comes at least 7 days after x, not before Sat 2027-05-22\n"
        "by May 20: but y comes on Thu 2027-05-20 at the latest\n");
    season_text_free(&read);
}

/* ---- nothing is concluded from what could not be read ---- */

static void test_broken_things_are_left_alone(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD TWO_ZONES FEED "apply x {\nto a, b\nwhen on Apr 10\nrate 1 furlong of feed\n}\n"
                                         "product odd {\ngrade 90-90-90 granular\ncontains Xx 5%\n}\n");
    assert_true(read.reports.errors > 0);
    for (size_t i = 0; i < CHECK_COUNT; i++)
        if (strcmp(CHECKS[i].rule.name, "unused-product") != 0)
            assert_int_equal(count_of(&read, CHECKS[i].rule.name), 0);
    season_text_free(&read);
}

static void test_undated_treatments_are_left_alone(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD GREEN FEED LIMIT("at most 0.1 lb N per 1000 sqft per application\nonly on Mon")
                         APPLY("x", "Apr 10", "1 lb"));
    assert_int_equal(count_of(&read, "no-day"), 1);
    assert_int_equal(count_of(&read, "limit-per-application"), 0);
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_table_is_complete),
        cmocka_unit_test(test_names_are_unique),
        cmocka_unit_test(test_families_are_grouped),
        cmocka_unit_test(test_nearest_rule),
        cmocka_unit_test(test_documentation),
        cmocka_unit_test(test_catalogue),
        cmocka_unit_test(test_every_check_has_a_trial),
        cmocka_unit_test(test_closed_days_are_looked_at_again),
        cmocka_unit_test(test_waits_are_looked_at_again),
        cmocka_unit_test(test_intervals_are_looked_at_again),
        cmocka_unit_test(test_crowded_season),
        cmocka_unit_test(test_counts_of_reports),
        cmocka_unit_test(test_periods_are_told_once),
        cmocka_unit_test(test_allow_silences),
        cmocka_unit_test(test_allow_is_for_its_subject),
        cmocka_unit_test(test_allow_within_a_treatment),
        cmocka_unit_test(test_allow_never_silences_errors),
        cmocka_unit_test(test_fix_mends),
        cmocka_unit_test(test_year_is_told_by_its_parts),
        cmocka_unit_test(test_long_years_are_cut_short),
        cmocka_unit_test(test_conflict_is_told_step_by_step),
        cmocka_unit_test(test_conflict_with_closed_days),
        cmocka_unit_test(test_conflict_with_a_record),
        cmocka_unit_test(test_broken_things_are_left_alone),
        cmocka_unit_test(test_undated_treatments_are_left_alone),
    };
    return cmocka_run_group_tests_name("checks", tests, NULL, NULL);
}
