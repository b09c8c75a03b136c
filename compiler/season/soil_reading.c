/* What soil tests say: the mean of the spots, and which test counts. */
#include "compiler/season/dating.h"
#include "compiler/model/soil_test.h"
#include "compiler/season/scale_class.h"

/* In the order of the tests' days, so that the last of a history is the newest. */
void readings_make(struct season *season)
{
    const struct model *model = season->model;
    if (!model->tests_by_age.count)
        return;
    season->histories =
        ARENA_ARRAY(season->arena, (size_t)model->zones.count * NUTRIENT_COUNT, struct soil_history);
    season->fed = ARENA_ARRAY(season->arena, model->zones.count, bool);
    for (size_t i = 0; i < model->zones.count; i++)
        season->fed[i] = model->zones.items[i]->tests.count && zone_fed(season, model->zones.items[i]);
    for (size_t i = 0; i < model->tests_by_age.count; i++) {
        /* Of two columns of a nutrient the first counts; one without a figure of any spot does not. */
        const struct soil_test *test = model->tests_by_age.items[i];
        for (size_t column = test->results.column_count; column-- > 0;) {
            const struct table_column *header = &test->results.columns[column];
            if (header->kind != ANALYTE_NUTRIENT || !header->nutrient)
                continue;
            struct soil_reading *reading = ARENA_NEW(season->arena, struct soil_reading);
            *reading = (struct soil_reading){.test = test,
                                             .nutrient = header->nutrient,
                                             .scale = test_scale_of(test, header->nutrient->nutrient),
                                             .index = header->index,
                                             .ph = soil_test_mean(test, ANALYTE_PH, NULL),
                                             .lowest = INFINITY,
                                             .highest = -INFINITY};
            double sum = 0;
            for (size_t j = 0; j < test->results.row_count; j++) {
                /* Counts below detection stand at the limit of detection. */
                const struct table_cell *cell = &test->results.rows[j].cells[column];
                if (isnan(cell->number))
                    continue;
                sum += cell->number;
                reading->spots++;
                reading->below_detection += cell->below;
                reading->above_range += cell->above;
                reading->lowest = fmin(reading->lowest, cell->number);
                reading->highest = fmax(reading->highest, cell->number);
            }
            reading->mean = sum / (double)reading->spots;
            if (!(reading->spots > 0))
                continue;
            reading_judge(reading);
            reading_follow(reading);
            for (size_t j = 0; j < test->zones.count; j++) {
                struct soil_history *history =
                    &season->histories[(size_t)test->zones.items[j]->index * NUTRIENT_COUNT +
                                       reading->nutrient->nutrient];
                size_t count = history->readings.count;
                if (count && history->readings.items[count - 1]->test == test)
                    history->readings.items[count - 1] = reading;
                else
                    VECTOR_PUSH(season->arena, &history->readings, reading);
            }
        }
    }
}

const struct soil_history *soil_history_of(const struct season *season, const struct zone *zone,
                                           enum nutrient nutrient)
{
    static const struct soil_history untested = {0};
    return season->histories ? &season->histories[(size_t)zone->index * NUTRIENT_COUNT + nutrient]
                             : &untested;
}

/* By halves: a zone may have hundreds. */
size_t soil_history_until(const struct soil_history *history, day_number day)
{
    size_t low = 0, high = history->readings.count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (history->readings.items[middle]->test->day <= day)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

bool soil_reading_on(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                     day_number day, struct soil_reading *reading)
{
    const struct soil_history *history = soil_history_of(season, zone, nutrient);
    size_t count = soil_history_until(history, day);
    if (count)
        *reading = *history->readings.items[count - 1];
    return count > 0;
}
