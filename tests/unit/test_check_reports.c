/* What a check's report is made of: fixes that mend, places, labels in the order of the argument, notes. */
#include "tests/unit/check_trials.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

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
        /* what passes the limit told of must pass the others, the label, and every time of it */
        HEAD GREEN FEED LIMIT("at most 0.9 lb N per 1000 sqft per application\n"
                              "at most 0.6 lb soluble N per 1000 sqft per application")
            APPLY("x", "Apr 10", "6 lb"),
        HEAD GREEN FEED LIMIT(
            "at most 0.9 lb N per 1000 sqft per application\n"
            "at most 1 lb N per 1000 sqft in any 60 days\n"
            "at most 1.2 lb N per 1000 sqft per year") "apply x {\nto a\nwhen every 40 days "
                                                       "from Apr 10, 3 times\nrate 6 lb per "
                                                       "1000 sqft of feed\n}\n",
        HEAD GREEN
        "product feed { grade 20-0-10 granular\nlabel 2 to 3 lb per 1000 sqft, "
        "at most 4 lb per 1000 sqft a year }\n" LIMIT(
            "at most 0.9 lb N per 1000 sqft per application") "apply x {\nto a\nwhen every 40 days "
                                                              "from Apr 10, 2 times\nrate 5 lb per "
                                                              "1000 sqft of feed\n}\n",
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
                        "note: Sat 2027-04-10: 0.6 lb N per 1000 sqft from x\n"
                        "note: Mon 2027-05-10: 0.6 lb N per 1000 sqft from y\n"
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
    assert_non_null(strstr(parts, "note: Mon 2027-05-10: 0.2 lb N per 1000 sqft from x\nnote: and 2 more\n"));
    season_text_free(&read);
}

static void test_label_year_tells_its_days(void **state)
{
    struct season_text read;
    checks_of(&read, HEAD GREEN "product feed {\ngrade 20-0-10 granular\nlabel at most 1 a year\n}\n"
                                "product potash { grade 0-0-50 granular }\n" APPLY("x", "Apr 10", "1 lb")
                                    APPLY_OF("k", "Apr 20", "1 lb", "potash") APPLY("y", "May 10", "1 lb"));
    assert_string_equal(parts_of(&read, "label-count"),
                        "rate 1 lb per 1000 sqft of feed\n"
                        "label at most 1 a year: the label\n"
                        "note: applied on Sat 2027-04-10 and Mon 2027-05-10\n");
    season_text_free(&read);
}

static void test_spots_that_differ_are_pointed_at(void **state)
{
    struct season_text read;
    checks_of(&read,
              HEAD GREEN "source sheet { title \"A sheet\" }\nscale levels {\nmethod mehlich-3\nspread 20%\n"
                         "minimum P 20 ppm from sheet\n}\nsoil-test 2027-02-01 {\nof a\nmethod mehlich-3\n"
                         "scale levels\nresults {\nspot P ppm\none 10\ntwo 15\nthree 20\n}\n}\n");
    assert_string_equal(parts_of(&read, "soil-spots-disagree"), "P\n10: the lowest\n20: the highest\n");
    season_text_free(&read);
}

/* Zones that get nothing are left out; the one furthest from the range is named. */
static void test_yearly_names_the_worst_zone(void **state)
{
    struct season_text read;
    checks_of(
        &read, HEAD
        "source sheet { title \"A sheet\" }\ngrass meadow { yearly 2 to 4 lb N per 1000 sqft from sheet }\n"
        "lawn green {\ngrass meadow\nzone a area 1000 sqft\nzone b area 500 sqft\nzone c area 500 "
        "sqft\n}\n" FEED APPLY(
            "x", "Apr 10",
            "5 lb") "apply y {\nto a, b\nwhen on May 10\nrate 1 lb per 1000 sqft of feed\n}\n");
    assert_says(&read, "yearly-below",
                "b gets 0.2 lb N per 1000 sqft this season; meadow usually needs at least 2 lb N per 1000 "
                "sqft a year");
    assert_string_equal(parts_of(&read, "yearly-below"),
                        "meadow\n"
                        "yearly 2 to 4 lb N per 1000 sqft from sheet: what meadow needs\n"
                        "note: also 1 other zone of this lawn\n"
                        "note: source: A sheet\n");
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
                        "nothing from Apr 1 to Apr 20: it rules out x from Mon 2027-04-05 to Tue 2027-04-20\n"
                        "when between Apr 5 and Apr 20: but x comes on Tue 2027-04-20 at the latest\n");
    assert_string_equal(report_of(&read, "no-day")->help,
                        "extend the window of x by 1 day, to Wed 2027-04-21");
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fix_mends),
        cmocka_unit_test(test_year_is_told_by_its_parts),
        cmocka_unit_test(test_long_years_are_cut_short),
        cmocka_unit_test(test_label_year_tells_its_days),
        cmocka_unit_test(test_spots_that_differ_are_pointed_at),
        cmocka_unit_test(test_yearly_names_the_worst_zone),
        cmocka_unit_test(test_conflict_is_told_step_by_step),
        cmocka_unit_test(test_conflict_with_closed_days),
        cmocka_unit_test(test_conflict_with_a_record),
    };
    return cmocka_run_group_tests_name("check reports", tests, NULL, NULL);
}
