/* Nutrients that a limit lets down only where a soil test finds a need. */
#include "compiler/check/checking.h"

#include <assert.h>

/* Most laws that ask for a test take one of at most three years (limit sets of the library cite them). */
enum { TEST_MONTHS = 36 };

/* A nutrient that a limit lets down only where there is a need, in one application. */
struct want {
    const struct limit *limit;
    const struct nutrient_form *form;
    const struct ledger *ledger;
    const struct application *application;
    struct part lead;
};

/* The reading in force on the day; before the first test that one, which cannot be why but says what was so.
 */
static bool reading_for(const struct checking *checking, const struct want *want,
                        struct soil_reading *reading)
{
    const struct soil_history *history =
        soil_history_of(checking->season, want->ledger->zone, want->form->nutrient);
    if (!history->readings.count)
        return false;
    if (!soil_reading_on(checking->season, want->ledger->zone, want->form->nutrient, want->application->day,
                         reading))
        *reading = *history->readings.items[0];
    return true;
}

/* The zone's newest test by the day, or else its first; whatever it has figures for. */
static const struct soil_test *test_of_zone(const struct want *want)
{
    const struct zone *zone = want->ledger->zone;
    size_t at = zone->tests.count;
    while (at > 0 && zone->tests.items[at - 1]->day > want->application->day)
        at--;
    return at > 0 ? zone->tests.items[at - 1] : zone->tests.count ? zone->tests.items[0] : NULL;
}

/* "feed would put 0.2 lb P2O5 per 1000 sqft on north on Sat 2027-04-10, and ...": `reason`. */
static struct report *want_report(struct checking *checking, enum check_id id, const struct want *want,
                                  const char *reason)
{
    const struct treatment *treatment = want->lead.occurrence->treatment;
    const struct product *product = want->lead.amount->product;
    const struct zone *zone = want->ledger->zone;
    const char *use = text_format(checking->arena, "%s %s %s on %s", name_string(treatment->symbol.name),
                                  want->lead.done ? "applied" : "applies",
                                  check_supply_text(checking, want->lead.value, want->form),
                                  name_string(zone->symbol.name));
    struct report *report =
        limit_finding(checking, want->limit, id, ABOUT(&zone->symbol, &treatment->symbol, &product->symbol),
                      want->lead.amount->place, "%s on %s; %s", use,
                      display_date(checking->arena, want->application->day), reason);
    limit_label(checking, report, want->limit);
    if (want->limit->content > 0)
        report_note(checking->model->reports, report, "%s has %s %s; the limit starts above %s",
                    name_string(product->symbol.name),
                    display_share(checking->arena, product_share(product, want->form)), want->form->name,
                    display_share(checking->arena, want->limit->content));
    if (want->limit->classes.count)
        report_note(checking->model->reports, report,
                    "the limit's exception does not apply: %s got nothing of these kinds in the %s before",
                    name_string(zone->symbol.name), display_duration(checking->arena, want->limit->new_for));
    return report;
}

static enum check_id need_id(const struct want *want)
{
    return want->lead.done ? CHECK_RECORD_NO_NEED : CHECK_NO_NEED;
}

/* "12 ppm" of what the results name, or "40 index". */
static const char *level_text(struct checking *checking, const struct soil_reading *reading)
{
    return text_format(checking->arena, "%s %s",
                       number_short(checking->arena, reading->index ? reading->mean : reading->mean * 1e6),
                       reading->index ? "index" : "ppm");
}

/* The scale finds enough; or the laboratory says there is no need, which is what a limit asks for. */
static struct report *report_enough(struct checking *checking, const struct want *want,
                                    const struct soil_reading *reading)
{
    const struct recommendation *recommended = reading->recommended;
    const char *date = display_date(checking->arena, reading->test->day);
    bool advised = recommended && !(recommended->high > 0);
    bool rated = !recommended && reading->need != NEED_NONE;
    const char *reason =
        advised ? text_format(checking->arena, "in the soil test of %s the laboratory recommends none", date)
        : rated ? text_format(checking->arena, "in the soil test of %s the laboratory rates %s %s", date,
                              reading->nutrient->name, reading->rated_text)
                : text_format(checking->arena, "the soil test of %s finds enough: %s %s", date,
                              level_text(checking, reading), reading->nutrient->name);
    struct report *report = want_report(checking, need_id(want), want, reason);
    report_label(checking->model->reports, report,
                 advised ? recommended->place : reading->test->results_place,
                 advised ? "the recommendation" : "the results");
    if (advised)
        source_note(checking, report, recommended->source);
    else if (rated)
        report_note(checking->model->reports, report, "the limit uses the laboratory's rating");
    else if (reading->level) {
        report_label(checking->model->reports, report, reading->level->place,
                     reading->level->minimum ? "enough from here" : "the class it falls in");
        source_note(checking, report, reading->level->source);
    }
    if (!want->lead.done)
        report_help(checking->model->reports, report, "use a product without %s", want->form->name);
    return report;
}

static bool test_too_old(const struct want *want, const struct soil_test *test)
{
    assert(test);
    return day_after(test->day, want->limit->time) < want->application->day;
}

/* What a day outside the test's time is called; CHECK_COUNT where the test was in force and young enough. To
 * a law such a test is none. */
static enum check_id test_day_id(const struct want *want, const struct soil_test *test)
{
    if (want->limit->set->basis == BASIS_LAW &&
        (test_too_old(want, test) || test->day > want->application->day))
        return need_id(want);
    if (test_too_old(want, test))
        return want->lead.done ? CHECK_RECORD_TEST_OLD : CHECK_SOIL_TEST_OLD;
    if (test->day > want->application->day)
        return want->lead.done ? CHECK_RECORD_BEFORE_TEST : CHECK_SOIL_TEST_AFTER_USE;
    return CHECK_COUNT;
}

/* By what is known of the nutrient on the day. */
static struct report *tell_want(struct checking *checking, const struct instance *instance)
{
    struct reports *reports = checking->model->reports;
    const struct want *want = instance->what;
    const char *nutrient = want->form->name, *zone = name_string(want->ledger->zone->symbol.name);
    struct soil_reading reading;
    struct report *report;
    bool known = reading_for(checking, want, &reading);
    if (known && reading.shown == NEED_NONE)
        return report_enough(checking, want, &reading);
    const struct soil_test *test = known ? reading.test : test_of_zone(want);
    const char *date = test ? display_date(checking->arena, test->day) : NULL;
    if (!known) { /* no test of the zone, or one without a figure for it */
        report = want_report(
            checking, need_id(want), want,
            test ? text_format(checking->arena, "its soil test of %s has no figure for %s", date, nutrient)
                 : text_format(checking->arena, "the limit needs a soil test, and %s has none", zone));
        if (test)
            report_label(reports, report, test->results_place, "no column for %s", nutrient);
        if (!want->lead.done)
            report_help(reports, report, "test the soil of %s first, or use a product without %s", zone,
                        nutrient);
    } else if (reading.shown == NEED_UNKNOWN) { /* there is a figure, and nothing says what it means */
        assert(test);
        const char *read = reading.nutrient->name;
        report = want_report(checking, need_id(want), want,
                             text_format(checking->arena,
                                         "no scale says whether %s %s in the soil test of %s is a need",
                                         level_text(checking, &reading), read, date));
        if (reading.scale)
            report_label(reports, report, reading.scale->place, "this scale does not say");
        else
            report_label(reports, report, test->results_place, "this test names no scale%s",
                         test->scales.count ? text_format(checking->arena, " for %s", read) : "");
        if (!want->lead.done)
            report_help(reports, report, "name a scale that reads %s by %s, or use a product without it",
                        read, text_string(checking->arena, test->method->text));
    } else { /* it finds a need; but was too old on the day, or is later than what it is to justify */
        bool old = test_too_old(want, test);
        report = want_report(
            checking, test_day_id(want, test), want,
            old ? text_format(checking->arena, "its soil test of %s is more than %s older", date,
                              display_duration(checking->arena, want->limit->time))
                : text_format(checking->arena, "the soil test that finds the need is later, of %s", date));
        report_help(reports, report, "%s",
                    old ? "test the soil again" : "apply it after the test, or state the test it relied on");
        report_label(reports, report, test->symbol.statement, "the soil test");
    }
    return report;
}

/* Told once for a zone, statement and kind of fault, not for each time of it: a time that is fine, or one
 * that is done, hides no other. Zones of one soil test, or of none, share what is told of them. */
static void gather_want(struct checking *checking, struct gathering *gathering, const struct want *want,
                        uint64_t limit_at)
{
    const struct part *lead = &want->lead;
    struct soil_reading reading;
    bool low = reading_for(checking, want, &reading) && reading.shown == NEED_LOW;
    enum check_id id = low ? test_day_id(want, reading.test) : need_id(want);
    uint64_t nutrient = want->form->nutrient;
    if (id == CHECK_COUNT || !finding_once(checking, id, lead->amount->place,
                                           limit_at << 40 | nutrient << 32 | want->ledger->zone->index))
        return;
    struct want *kept = ARENA_NEW(checking->arena, struct want);
    *kept = *want;
    const struct soil_test *test = test_of_zone(want);
    struct instance instance = {.place = lead->amount->place,
                                .record = lead->done ? lead->occurrence->record : NULL,
                                .bound = limit_at << 48 | nutrient << 43,
                                .excess = lead->value,
                                .ledger = want->ledger,
                                .day = DAY_NONE,
                                .what = kept};
    if (test)
        instance.bound |= (uint64_t)test->symbol.statement.source->index << 32 | test->symbol.statement.start;
    gather_unless_allowed(checking, gathering, instance, id,
                          ABOUT(&want->ledger->zone->symbol, &lead->occurrence->treatment->symbol,
                                &lead->amount->product->symbol),
                          tell_want);
}

/* Only products that hold enough of the nutrient count for the limit. */
void check_needs(struct checking *checking)
{
    struct gathering gathering = {.groups = {0}};
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            bool bound = ledger_bound(checking, limit, ledger);
            for (size_t j = 0; j < ledger->applications.count && bound; j++)
                for (size_t k = 0; k < limit->nutrients.count; k++) {
                    const struct application *application = &ledger->applications.items[j];
                    const struct nutrient_form *form = limit->nutrients.items[k];
                    struct want want = {limit, form, ledger, application,
                                        part_lead(application, form, limit, limit_concerns_content)};
                    if (want.lead.amount &&
                        !limit_spares_new(checking->season, limit, ledger->zone, application->day))
                        gather_want(checking, &gathering, &want, at);
                }
        }
    gathering_tell(checking, &gathering, tell_want);
}
