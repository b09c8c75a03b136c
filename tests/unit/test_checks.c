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
                                                      GROUND_TRIALS,  THING_TRIALS, RECORD_TRIALS,
                                                      SCALE_TRIALS,   LIMIT_TRIALS, ASSUMED_TRIALS};
enum { CATALOGUE_PARTS = sizeof CATALOGUE / sizeof *CATALOGUE };

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
    for (size_t i = 0; i < CHECK_COUNT; i++)
        assert_non_null(strstr(page.string, text_format(&arena, "\n## %s\n", CHECKS[i].family)));
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

/* Those that look again at what the dates were chosen to keep, one that takes a million dates, those that
 * take a file of weather (test_weather_plan.c), one on what stands in the library, and one on rates that were
 * chosen (tests/cases/assumed). */
static bool looks_again(const char *check)
{
    static const char *const checks[] = {
        "wait-too-short", "wait-too-long", "label-interval", "closed-day", "closed-weekday",
        "too-many-times", "weather-day",   "record-weather", "few-years",  "too-hot",
        "cold",           "law-source",    "zone-left-out"};
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
        if (!read->model->limit_sets.items[i]->symbol.library)
            read->model->limit_sets.items[i]->bound = true;
    checks_run(read->season);
}

static void test_closed_days_are_looked_at_again(void **state)
{
    struct season_text read;
    bind_late(&read, HEAD GREEN FEED UNFOLLOWED("no N from Apr 1 to Apr 10\nonly on Mon")
                         APPLY("x", "Apr 10", "1 lb"));
    assert_says(&read, "closed-day", "x is planned on Sat 2027-04-10; a limit closes the day to N");
    assert_says(&read, "closed-weekday",
                "x is planned on Sat 2027-04-10; a limit allows applications only on Monday");
    season_text_free(&read);
}

static void test_weather_is_looked_at_again(void **state)
{
    struct season_text read;
    bind_late(&read, HEAD GREEN FEED "weather {\nnormals {\nmonth high F low F\nApr 64 30\n}\n}\n" UNFOLLOWED(
                         "no N above 60 F\nno N below 32 F") APPLY("x", "Apr 10", "1 lb"));
    assert_says(&read, "heat",
                "x falls on Sat 2027-04-10, when a high of 64 F is usual; a limit allows no more than 60 F");
    assert_says(&read, "weather-day",
                "x is planned on Sat 2027-04-10; a low of 30 F is usual on Sat 2027-04-10");
    season_text_free(&read);
}

static void test_heat_of_a_label_is_looked_at_again(void **state)
{
    struct season_text read;
    season_text_read(&read,
                     HEAD GREEN FEED "weather {\nnormals {\nmonth high F low F\nApr 64 30\n}\n}\n" APPLY(
                         "x", "Apr 10", "1 lb") "allow heat \"in the evening\"\n");
    struct product *feed = read.model->products.items[read.model->products.count - 1];
    feed->heat_below = 288.7055555555556; /* 60 F */
    feed->cold_above = 277.5944444444444; /* 40 F */
    feed->heat_place = feed->cold_place = feed->symbol.place;
    checks_run(read.season);
    assert_says(&read, "too-hot",
                "x falls on Sat 2027-04-10, when a high of 64 F is usual; the label of feed requires a high "
                "below 60 F");
    assert_says(&read, "cold",
                "x falls on Sat 2027-04-10, when a low of 30 F is usual; the label of feed requires a low "
                "above 40 F");
    assert_int_equal(count_of(&read, "too-hot"), 1);
    season_text_free(&read);
}

/* ---- laws of the library: that each one shipped has its source, tests/reference/law-edges.check sees ----
 */

static void assert_law(const char *source, const char *sentence)
{
    struct season_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    season_text_read(&read, text_format(&arena, "%slimits law {\nbasis law\n%s\n}\n" HEAD, source,
                                        *source ? "from statute" : ""));
    for (size_t i = 0; i < read.model->limit_sets.count; i++)
        read.model->limit_sets.items[i]->symbol.library = true;
    checks_run(read.season);
    if (sentence)
        assert_says(&read, "law-source", sentence);
    else
        assert_int_equal(count_of(&read, "law-source"), 0);
    season_text_free(&read);
    arena_free(&arena);
}

static void test_laws_have_sources(void **state)
{
#define STATUTE(rest) "source statute {\ntitle \"A statute\"\n" rest "\n}\n"
    assert_law("", "limits law state a law without a source");
    assert_law(STATUTE(""), "limits law state a law whose source has no `at`, `year` and `read`");
    assert_law(STATUTE("at \"x\"\nyear 2012"), "limits law state a law whose source has no `read`");
    assert_law(STATUTE("year 2012\nread 2026-11-29"), "limits law state a law whose source has no `at`");
    assert_law(STATUTE("at \"x\"\nread 2026-11-29"), "limits law state a law whose source has no `year`");
    assert_law(STATUTE("at \"x\"\nyear 2012\nread 2026-11-29"), NULL);
    assert_law(STATUTE("at \"x\"\nyear 2012\nstatus not-read"), NULL);
    assert_law(STATUTE("at \"x\"\nyear 2012\nstatus second-hand"),
               "limits law state a law whose source has no `read`");
}

static void test_waits_are_looked_at_again(void **state)
{
    struct season_text read;
    bind_late(&read, HEAD GREEN FEED UNFOLLOWED("at least 31 days between N applications")
                         APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 10", "1 lb"));
    assert_says(&read, "wait-too-short",
                "y on Mon 2027-05-10 comes 30 days after x on a; the limit requires at least 31 days between "
                "N applications");
    assert_string_equal(report_of(&read, "wait-too-short")->help, "move it to Tue 2027-05-11 or later");
    season_text_free(&read);
}

static void test_bounds_are_looked_at_again(void **state)
{
    struct season_text read;
    bind_late(&read, HEAD GREEN FEED UNFOLLOWED("within 29 days from K2O to dig\norder dig, K2O")
                         APPLY("x", "Apr 10", "1 lb") "task y {\nto a\nkind dig\nwhen on May 10\n}\n");
    assert_says(
        &read, "wait-too-long",
        "y on Mon 2027-05-10 comes 30 days after x on a; the limit allows at most 29 days from K2O to dig");
    assert_says(
        &read, "kinds-out-of-order",
        "x falls on Sat 2027-04-10, before y on Mon 2027-05-10; the limit requires the other order on a");
    season_text_free(&read);
}

static void test_intervals_are_looked_at_again(void **state)
{
    struct season_text read;
    season_text_read(&read, HEAD GREEN FEED APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 10", "1 lb"));
    read.model->products.items[read.model->products.count - 1]->label.interval.days = 31;
    checks_run(read.season);
    assert_says(&read, "label-interval",
                "y on Mon 2027-05-10 comes 30 days after x on a; the label requires at least 31 days between "
                "treatments with feed");
    season_text_free(&read);
}

static void test_crowded_season(void **state)
{
    struct season_text read;
    season_text_read(&read, HEAD GREEN FEED APPLY("x", "Apr 10", "1 lb"));
    read.season->crowded = read.model->treatments.items[0];
    checks_run(read.season);
    assert_says(&read, "too-many-times",
                text_format(&read.arena, "x takes the plan over %d dates", OCCURRENCE_LIMIT));
    season_text_free(&read);
}

/* ---- how often ---- */

#define EVERYWHERE                                                                                           \
    "apply x {\nto a, b\nwhen every 40 days from Apr 10, 2 times\nrate 5 lb per 1000 sqft of feed\n}\n"

/* A limit passed by one statement is told once, whatever the zones and days. */
static void test_counts_of_reports(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD TWO_ZONES
              "product feed {\ngrade 20-0-10 granular\nlabel 2 to 4 lb per 1000 sqft\n}\n" LIMIT(
                  "at most 0.9 lb N per 1000 sqft per application\nat most 1.5 lb N per 1000 sqft per year")
                  EVERYWHERE);
    assert_int_equal(count_of(&read, "limit-per-application"), 1);
    assert_int_equal(count_of(&read, "limit-per-year"), 1);
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
    assert_int_equal(count_of(&read, "limit-per-period"), 1);
    const struct report *report = report_of(&read, "limit-per-period");
    assert_string_equal(report->notes.items[report->notes.count - 1],
                        "this happens on Sun 2027-04-11, Sat 2027-05-01 and Fri 2027-05-21");
    season_text_free(&read);
}

/* ---- allow ---- */

static void test_allow_silences(void **state)
{
    struct season_text read;
    checks_of(&read,
              HEAD TWO_ZONES FEED APPLY(
                  "x", "Apr 10", "1 lb") "allow unused-zone for b \"wildflowers\"\n"
                                         "allow machine-missing \"by hand\"\nallow untested-zone \"later\"\n"
                                         "allow label-missing \"none\"\nallow title-missing \"one plan\"\n");
    assert_int_equal(read.reports.errors + read.reports.warnings + read.reports.notes, 0);
    assert_int_equal(read.reports.allowed, 5);
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
    const struct report *report = NULL;
    for (size_t i = 0; i < read.reports.all.count; i++)
        if (!read.reports.all.items[i]->allowed_because &&
            strcmp(read.reports.all.items[i]->rule->name, "machine-missing") == 0)
            report = read.reports.all.items[i];
    assert_non_null(report);
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
        cmocka_unit_test(test_weather_is_looked_at_again),
        cmocka_unit_test(test_heat_of_a_label_is_looked_at_again),
        cmocka_unit_test(test_waits_are_looked_at_again),
        cmocka_unit_test(test_laws_have_sources),
        cmocka_unit_test(test_bounds_are_looked_at_again),
        cmocka_unit_test(test_intervals_are_looked_at_again),
        cmocka_unit_test(test_crowded_season),
        cmocka_unit_test(test_counts_of_reports),
        cmocka_unit_test(test_periods_are_told_once),
        cmocka_unit_test(test_allow_silences),
        cmocka_unit_test(test_allow_is_for_its_subject),
        cmocka_unit_test(test_allow_within_a_treatment),
        cmocka_unit_test(test_allow_never_silences_errors),
        cmocka_unit_test(test_broken_things_are_left_alone),
        cmocka_unit_test(test_undated_treatments_are_left_alone),
    };
    return cmocka_run_group_tests_name("checks", tests, NULL, NULL);
}
