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

/* Where it measures what was put down: the nutrient, or pH after lime and sulfur. Once for a test and what it
 * is too soon after: of the first zone. */
void check_soil_test_soon(struct checking *checking, const struct soil_test *test)
{
    struct reports *reports = checking->model->reports;
    for (size_t i = 0; i < checking->model->sample_waits.count; i++) {
        const struct sample_wait *wait = &checking->model->sample_waits.items[i];
        const struct nutrient_form *nutrient = wait->after.nutrient;
        const struct amount *amount = NULL;
        day_number day = DAY_NONE;
        bool measures = false;
        for (size_t j = 0; j < test->results.column_count; j++) {
            const struct table_column *column = &test->results.columns[j];
            measures = measures || (nutrient ? column->kind == ANALYTE_NUTRIENT && column->nutrient &&
                                                   column->nutrient->nutrient == nutrient->nutrient
                                             : column->kind == ANALYTE_PH);
        }
        size_t at = 0;
        while (measures && !amount && at < test->zones.count)
            amount = amount_before(checking, test, test->zones.items[at++], wait, &day);
        if (!amount)
            continue;
        const struct symbol *zone = &test->zones.items[at - 1]->symbol;
        const char *went =
            text_format(checking->arena, "%s went onto %s, %s", name_string(amount->product->symbol.name),
                        name_string(zone->name), display_date(checking->arena, day));
        struct report *report =
            finding_add(checking, CHECK_SOIL_TEST_SOON, ABOUT(zone, &amount->product->symbol),
                        test->symbol.statement, "sampled %s after %s: too soon to show what it did; wait %s",
                        display_days(checking->arena, test->day - day), went, wait->wait_text);
        report_label(reports, report, amount->place, "the application");
        report_label(reports, report, wait->place, "how long to wait");
        source_note(checking, report, wait->source);
        report_help(reports, report, "read this result with care; sample again on %s or later",
                    display_date(checking->arena, day_after(day, wait->wait)));
    }
}
