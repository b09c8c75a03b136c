#include "compiler/model/soil_test.h"

#include <math.h>

/* A spot without a figure is left out. */
double soil_test_mean(const struct soil_test *test, enum analyte analyte, const struct table_column **at)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        double sum = 0, count = 0;
        for (size_t j = 0; j < test->results.row_count && test->results.columns[i].kind == (int)analyte;
             j++) {
            double number = test->results.rows[j].cells[i].number;
            sum += isnan(number) ? 0 : number;
            count += !isnan(number);
        }
        if (!(count > 0))
            continue;
        if (at)
            *at = &test->results.columns[i];
        return sum / count;
    }
    return NAN;
}

const struct soil_test *soil_test_with_ph(const struct model *model, const struct zone *zone)
{
    const struct soil_test *newest = NULL;
    for (size_t i = 0; i < model->soil_tests.count; i++) {
        const struct soil_test *test = model->soil_tests.items[i];
        bool of_zone = false;
        for (size_t j = 0; j < test->zones.count && !test->symbol.broken; j++)
            of_zone = of_zone || test->zones.items[j] == zone;
        if (of_zone && (!newest || test->day >= newest->day) &&
            !isnan(soil_test_mean(test, ANALYTE_PH, NULL)))
            newest = test;
    }
    return newest;
}

const struct recommendation *recommendation_of(const struct soil_test *test, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->recommends.count; i++)
        if (test->recommends.items[i].nutrient->nutrient == nutrient)
            return &test->recommends.items[i];
    return NULL;
}
