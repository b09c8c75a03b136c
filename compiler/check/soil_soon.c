/* Soil tests sampled so soon after a feed, lime or sulfur that they say little of it. */
#include "compiler/check/checking.h"

static bool test_measures(const struct soil_test *test, const struct treatment_class *class)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *column = &test->results.columns[i];
        if (class->nutrient ? column->kind == ANALYTE_NUTRIENT && column->nutrient &&
                                  column->nutrient->nutrient == class->nutrient->nutrient
                            : column->kind == ANALYTE_PH)
            return true;
    }
    return false;
}

/* Whether another check says of this application that no test justified it yet, the one asked about being
 * later. */
static bool told_as_unjustified(const struct checking *checking, const struct zone *zone,
                                const struct treatment_class *class, day_number day)
{
    struct soil_reading reading;
    if (!class->nutrient || soil_reading_on(checking->season, zone, class->nutrient->nutrient, day, &reading))
        return false;
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        for (size_t i = 0; i < limit->nutrients.count; i++)
            if (limit->nutrients.items[i]->nutrient == class->nutrient->nutrient && limit_binds(limit, zone))
                return true;
    return false;
}

/* The last amount of the class put on the zone too shortly before the test; NULL where there is none. */
static const struct amount *amount_before(const struct checking *checking, const struct soil_test *test,
                                          const struct zone *zone, const struct sample_wait *wait,
                                          day_number *day)
{
    const struct amount *last = NULL;
    const struct ledger *ledger = &checking->season->ledgers[zone->index];
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        if (application->day >= test->day || day_after(application->day, wait->wait) <= test->day ||
            told_as_unjustified(checking, zone, &wait->after, application->day))
            continue;
        for (size_t j = 0; j < application->amounts.count; j++)
            if (product_in_class(application->amounts.items[j]->product, &wait->after)) {
                last = application->amounts.items[j];
                *day = application->day;
            }
    }
    return last;
}

/* Once for a test and what it is too soon after: of the first zone. */
static void check_test_soon(struct checking *checking, const struct soil_test *test,
                            const struct sample_wait *wait)
{
    for (size_t i = 0; i < test->zones.count; i++) {
        const struct zone *zone = test->zones.items[i];
        day_number day;
        const struct amount *amount = amount_before(checking, test, zone, wait, &day);
        if (!amount)
            continue;
        int days = test->day - day;
        struct report *report =
            finding_add(checking, CHECK_SOIL_TEST_SOON, ABOUT(&zone->symbol, &amount->product->symbol),
                        test->symbol.statement,
                        "sampled %d %s after %s went onto %s, %s: too soon to show what it did; wait %s",
                        days, days == 1 ? "day" : "days", name_string(amount->product->symbol.name),
                        name_string(zone->symbol.name), display_date(checking->arena, day), wait->wait_text);
        report_label(checking->model->reports, report, amount->place, "the application");
        report_label(checking->model->reports, report, wait->place, "how long to wait");
        source_note(checking, report, wait->source);
        report_help(checking->model->reports, report,
                    "read this result with care; sample again on %s or later",
                    display_date(checking->arena, day_after(day, wait->wait)));
        return;
    }
}

void check_soil_test_soon(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->sample_waits.count; j++) {
            const struct soil_test *test = model->soil_tests.items[i];
            const struct sample_wait *wait = &model->sample_waits.items[j];
            if (!test->symbol.broken && test_measures(test, &wait->after))
                check_test_soon(checking, test, wait);
        }
}
