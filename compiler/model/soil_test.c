#include "compiler/model/tolerance.h"
#include "compiler/model/soil_test.h"

#include <math.h>
#include <stdlib.h>

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

struct dated_test {
    const struct soil_test *test;
    size_t position; /* in the text */
};

static int by_age(const void *a, const void *b)
{
    const struct dated_test *first = a, *second = b;
    int order = ascending(first->test->day, second->test->day);
    return order ? order : ascending((int64_t)first->position, (int64_t)second->position);
}

/* Sorted once, so that each zone's come in order. A test may name a zone twice. */
void soil_tests_enter(struct model *model)
{
    size_t count = 0;
    struct dated_test *tests = ARENA_ARRAY(model->arena, model->soil_tests.count, struct dated_test);
    for (size_t i = 0; i < model->soil_tests.count; i++)
        if (!model->soil_tests.items[i]->symbol.broken)
            tests[count++] = (struct dated_test){model->soil_tests.items[i], i};
    if (count)
        qsort(tests, count, sizeof *tests, by_age);
    for (size_t i = 0; i < count; i++) {
        const struct soil_test *test = tests[i].test;
        VECTOR_PUSH(model->arena, &model->tests_by_age, test);
        for (size_t j = 0; j < test->zones.count; j++) {
            struct zone *zone = model->zones.items[test->zones.items[j]->index];
            if (!zone->tests.count || zone->tests.items[zone->tests.count - 1] != test)
                VECTOR_PUSH(model->arena, &zone->tests, test);
        }
    }
}

const struct soil_test *soil_test_with_ph(const struct zone *zone)
{
    for (size_t i = zone->tests.count; i-- > 0;)
        if (!isnan(soil_test_mean(zone->tests.items[i], ANALYTE_PH, NULL)))
            return zone->tests.items[i];
    return NULL;
}

const struct recommendation *recommendation_of(const struct soil_test *test, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->recommends.count; i++)
        if (test->recommends.items[i].nutrient->nutrient == nutrient)
            return &test->recommends.items[i];
    return NULL;
}

const struct test_scale *test_scale_for_others(const struct soil_test *test)
{
    for (size_t i = 0; i < test->scales.count; i++)
        if (!test->scales.items[i].nutrients.count)
            return &test->scales.items[i];
    return NULL;
}

const struct test_scale *test_scale_of(const struct soil_test *test, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->scales.count; i++)
        for (size_t j = 0; j < test->scales.items[i].nutrients.count; j++)
            if (test->scales.items[i].nutrients.items[j]->nutrient->nutrient == nutrient)
                return &test->scales.items[i];
    return test_scale_for_others(test);
}
