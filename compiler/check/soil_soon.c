/* Soil tests sampled so soon after a feed, lime or sulfur that they say little of it. */
#include "compiler/check/checking.h"

/* The last amount of the class put on the zone too shortly before the test; NULL where there is none. Where a
 * limit requires a need and no earlier test is in force, another check says that nothing justified it. */
static const struct amount *amount_before(const struct checking *checking, const struct soil_test *test,
                                          const struct zone *zone, const struct sample_wait *wait,
                                          day_number *day)
{
    const struct nutrient_form *nutrient = wait->after.nutrient;
    const struct ledger *ledger = &checking->season->ledgers[zone->index];
    const struct amount *last = NULL;
    const struct limit *limit;
    bool required = false;
    for (size_t at = 0; nutrient && (limit = limit_next(checking, LIMIT_NEED, &at)) != NULL;)
        for (size_t i = 0; i < limit->nutrients.count; i++)
            required = required || (limit->nutrients.items[i]->nutrient == nutrient->nutrient &&
                                    limit_binds(limit, zone));
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        struct soil_reading reading;
        if (application->day >= test->day || day_after(application->day, wait->wait) <= test->day ||
            (required &&
             !soil_reading_on(checking->season, zone, nutrient->nutrient, application->day, &reading)))
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
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < test->zones.count; i++) {
        const struct zone *zone = test->zones.items[i];
        day_number day;
        const struct amount *amount = amount_before(checking, test, zone, wait, &day);
        if (!amount)
            continue;
        const char *went =
            text_format(checking->arena, "%s went onto %s, %s", name_string(amount->product->symbol.name),
                        name_string(zone->symbol.name), display_date(checking->arena, day));
        struct report *report =
            finding_add(checking, CHECK_SOIL_TEST_SOON, ABOUT(&zone->symbol, &amount->product->symbol),
                        test->symbol.statement, "sampled %s after %s: too soon to show what it did; wait %s",
                        display_days(checking->arena, test->day - day), went, wait->wait_text);
        report_label(reports, report, amount->place, "the application");
        report_label(reports, report, wait->place, "how long to wait");
        source_note(checking, report, wait->source);
        report_help(reports, report, "read this result with care; sample again on %s or later",
                    display_date(checking->arena, day_after(day, wait->wait)));
        return;
    }
}

/* A test is looked at where it measures what was put down: the nutrient, or pH after lime and sulfur. */
void check_soil_test_soon(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->sample_waits.count; j++) {
            const struct soil_test *test = model->soil_tests.items[i];
            const struct sample_wait *wait = &model->sample_waits.items[j];
            const struct nutrient_form *nutrient = wait->after.nutrient;
            bool measures = false;
            for (size_t k = 0; k < test->results.column_count; k++) {
                const struct table_column *column = &test->results.columns[k];
                measures = measures || (nutrient ? column->kind == ANALYTE_NUTRIENT && column->nutrient &&
                                                       column->nutrient->nutrient == nutrient->nutrient
                                                 : column->kind == ANALYTE_PH);
            }
            if (!test->symbol.broken && measures)
                check_test_soon(checking, test, wait);
        }
}
