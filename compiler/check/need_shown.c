/* Nutrients that a limit lets down only where a soil test finds a need. */
#include "compiler/check/checking.h"

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
static const struct soil_test *test_of_zone(const struct checking *checking, const struct want *want)
{
    const struct soil_test *found = NULL;
    for (size_t i = 0; i < checking->model->soil_tests.count; i++) {
        const struct soil_test *test = checking->model->soil_tests.items[i];
        bool later = test->day > want->application->day;
        for (size_t j = 0; j < test->zones.count && !test->symbol.broken; j++)
            if (test->zones.items[j] == want->ledger->zone &&
                (!found || (later ? test->day < found->day
                                  : test->day >= found->day || found->day > want->application->day)))
                found = test;
    }
    return found;
}

static struct report *want_report(struct checking *checking, enum check_id id, const struct want *want,
                                  const char *reason)
{
    const struct treatment *treatment = want->lead.occurrence->treatment;
    struct report *report = limit_finding(
        checking, want->limit, id,
        ABOUT(&want->ledger->zone->symbol, &treatment->symbol, &want->lead.amount->product->symbol),
        want->lead.amount->place, "%s %s %s on %s on %s, %s", name_string(treatment->symbol.name),
        verb_put(want->lead.done), check_supply_text(checking, want->lead.value, want->form),
        name_string(want->ledger->zone->symbol.name), display_date(checking->arena, want->application->day),
        reason);
    limit_label(checking, report, want->limit);
    if (want->limit->content > 0)
        report_note(checking->model->reports, report, "%s has %s %s; this limit begins above %s",
                    name_string(want->lead.amount->product->symbol.name),
                    display_share(checking->arena, want->lead.amount->product->content[want->form->nutrient] /
                                                       want->form->element_per_unit),
                    want->form->name, display_share(checking->arena, want->limit->content));
    return report;
}

static enum check_id need_id(const struct want *want)
{
    return want->lead.done ? CHECK_RECORD_NO_NEED : CHECK_NO_NEED;
}

static struct report *report_unread(struct checking *checking, const struct want *want)
{
    const struct soil_test *test = test_of_zone(checking, want);
    const char *reason = test ? text_format(checking->arena, "and the soil test of %s has no figure for it",
                                            display_date(checking->arena, test->day))
                              : text_format(checking->arena, "and no soil test is of this zone");
    struct report *report = want_report(checking, need_id(want), want, reason);
    if (test)
        report_label(checking->model->reports, report, test->results_place, "no column for %s",
                     want->form->name);
    if (!want->lead.done)
        report_help(checking->model->reports, report,
                    "test the soil of %s for it, or use a product without %s",
                    name_string(want->ledger->zone->symbol.name), want->form->name);
    return report;
}

/* "12 ppm" of what the results name, or "40 index". */
static const char *level_text(struct checking *checking, const struct soil_reading *reading)
{
    return text_format(checking->arena, "%s %s",
                       number_short(checking->arena, reading->index ? reading->mean : reading->mean * 1e6),
                       reading->index ? "index" : "ppm");
}

static struct report *report_enough(struct checking *checking, const struct want *want,
                                    const struct soil_reading *reading)
{
    const struct recommendation *recommended = reading->recommended;
    const char *date = display_date(checking->arena, reading->test->day);
    bool advised = recommended && !(recommended->high > 0);
    bool rated = !recommended && reading->need != NEED_NONE;
    const char *reason =
        advised
            ? text_format(checking->arena, "and by the soil test of %s the laboratory recommends none", date)
        : rated ? text_format(checking->arena, "and in the soil test of %s the laboratory rates %s %s", date,
                              reading->nutrient->name, reading->rated_text)
                : text_format(checking->arena, "and the soil test of %s finds enough: %s %s", date,
                              level_text(checking, reading), reading->nutrient->name);
    struct report *report = want_report(checking, need_id(want), want, reason);
    report_label(checking->model->reports, report,
                 advised ? recommended->place : reading->test->results_place,
                 advised ? "the recommendation" : "the results");
    if (advised)
        source_note(checking, report, recommended->source);
    else if (rated)
        report_note(checking->model->reports, report, "the limit asks what the laboratory found");
    else if (reading->level) {
        report_label(checking->model->reports, report, reading->level->place,
                     reading->level->minimum ? "enough from here" : "the class it falls in");
        source_note(checking, report, reading->level->source);
    }
    if (!want->lead.done)
        report_help(checking->model->reports, report, "a product without %s would pass", want->form->name);
    return report;
}

static struct report *report_unjudged(struct checking *checking, const struct want *want,
                                      const struct soil_reading *reading)
{
    const char *reason =
        text_format(checking->arena, "and no scale tells whether the %s %s of the soil test of %s is a need",
                    level_text(checking, reading), reading->nutrient->name,
                    display_date(checking->arena, reading->test->day));
    struct report *report = want_report(checking, need_id(want), want, reason);
    const char *which =
        reading->test->scales.count ? text_format(checking->arena, " for %s", reading->nutrient->name) : "";
    if (reading->scale)
        report_label(checking->model->reports, report, reading->scale->place, "this scale does not");
    else
        report_label(checking->model->reports, report, reading->test->results_place,
                     "this test names no scale%s", which);
    if (!want->lead.done)
        report_help(checking->model->reports, report,
                    "name a scale that reads %s by %s, or use a product without it", reading->nutrient->name,
                    text_string(checking->arena, reading->test->method->text));
    return report;
}

static day_number test_expires(const struct limit *limit, const struct soil_test *test)
{
    return day_after(test->day, limit->time);
}

static bool test_too_old(const struct want *want, const struct soil_test *test)
{
    return test_expires(want->limit, test) < want->application->day;
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

static struct report *report_test_day(struct checking *checking, const struct want *want,
                                      const struct soil_test *test)
{
    const char *date = display_date(checking->arena, test->day);
    bool old = test_too_old(want, test);
    struct report *report = want_report(
        checking, test_day_id(want, test), want,
        old ? text_format(checking->arena, "by a soil test of %s, more than %s before", date,
                          display_duration(checking->arena, want->limit->time))
            : text_format(checking->arena, "before the soil test that finds the need, of %s", date));
    report_help(checking->model->reports, report, "%s",
                old ? "test the soil again" : "apply it after the test, or state the test it relied on");
    report_label(checking->model->reports, report, test->symbol.statement, "the soil test");
    return report;
}

static struct report *tell_want(struct checking *checking, const struct instance *instance)
{
    const struct want *want = instance->what;
    struct soil_reading reading;
    if (!reading_for(checking, want, &reading))
        return report_unread(checking, want);
    if (reading.shown == NEED_NONE)
        return report_enough(checking, want, &reading);
    if (reading.shown == NEED_UNKNOWN)
        return report_unjudged(checking, want, &reading);
    return report_test_day(checking, want, reading.test);
}

/* What would be told of it; CHECK_COUNT where nothing would. */
static enum check_id want_id(struct checking *checking, const struct want *want)
{
    struct soil_reading reading;
    if (!reading_for(checking, want, &reading) || reading.shown != NEED_LOW)
        return need_id(want);
    return test_day_id(want, reading.test);
}

/* Zones of one soil test, or of none, share what is told of them. */
static uint64_t want_bound(const struct checking *checking, const struct want *want, size_t limit_at)
{
    const struct soil_test *test = test_of_zone(checking, want);
    uint64_t bound = (uint64_t)limit_at << 48 | (uint64_t)want->form->nutrient << 43;
    if (!test)
        return bound;
    return bound | (uint64_t)test->symbol.statement.source->index << 32 | test->symbol.statement.start;
}

static void gather_want(struct checking *checking, struct gathering *gathering, const struct want *want,
                        size_t limit_at)
{
    enum check_id id = want_id(checking, want);
    uint64_t key =
        (uint64_t)limit_at << 40 | (uint64_t)want->form->nutrient << 32 | want->ledger->zone->index;
    if (id == CHECK_COUNT || !finding_once(checking, id, want->lead.amount->place, key))
        return;
    struct want *kept = ARENA_NEW(checking->arena, struct want);
    *kept = *want;
    struct instance instance = {.place = want->lead.amount->place,
                                .record = want->lead.done ? want->lead.occurrence->record : NULL,
                                .bound = want_bound(checking, want, limit_at),
                                .excess = want->lead.value,
                                .ledger = want->ledger,
                                .day = DAY_NONE,
                                .what = kept};
    if (finding_allowed(checking, id,
                        ABOUT(&want->ledger->zone->symbol, &want->lead.occurrence->treatment->symbol,
                              &want->lead.amount->product->symbol)))
        tell_want(checking, &instance);
    else
        gather(checking, gathering, instance);
}

/* The greatest part among products that hold enough of the nutrient to count for the limit. */
static struct part concerned_lead(const struct limit *limit, const struct application *application,
                                  const struct nutrient_form *form)
{
    struct part found = {0};
    for (size_t i = 0; i < application->amounts.count; i++) {
        const struct amount *amount = application->amounts.items[i];
        double value = supplied_as(amount->supplied, form);
        if (!limit_concerns_content(limit, amount->product) || !(value > 0))
            continue;
        struct part part = {amount, application_owner(application, amount), value,
                            amount_done(application, amount)};
        if (!found.amount || (part.done == found.done ? part.value > found.value : found.done))
            found = part;
    }
    return found;
}

/* Told once for a zone, statement and kind of fault, not for each time of it: a time that is fine, or one
 * that is done, hides no other. */
static void check_application_needs(struct checking *checking, struct gathering *gathering,
                                    const struct limit *limit, size_t limit_at, const struct ledger *ledger,
                                    const struct application *application)
{
    for (size_t i = 0; i < limit->nutrients.count; i++) {
        const struct nutrient_form *form = limit->nutrients.items[i];
        struct part lead = concerned_lead(limit, application, form);
        struct want want = {limit, form, ledger, application, lead};
        if (lead.amount)
            gather_want(checking, gathering, &want, limit_at);
    }
}

void check_needs(struct checking *checking)
{
    struct gathering gathering = {.groups = {0}};
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        for (size_t i = 0; i < checking->model->zones.count; i++) {
            const struct ledger *ledger = &checking->season->ledgers[i];
            for (size_t j = 0; j < ledger->applications.count && limit_binds(limit, ledger->zone); j++)
                check_application_needs(checking, &gathering, limit, at, ledger,
                                        &ledger->applications.items[j]);
        }
    gathering_tell(checking, &gathering, tell_want);
}
