/* What soil tests say: the mean of the spots, and where a scale places it. */
#include "compiler/model/compare.h"
#include "compiler/season/build.h"

#include <assert.h>
#include <stdlib.h>

/* kg of the element in 1 kg of soil, so that P and P2O5 can be compared. */
static double as_element(double fraction, const struct nutrient_form *form)
{
    return fraction * form->element_per_unit;
}

static const struct level *level_at(const struct scale *scale, size_t index)
{
    assert(index < scale->levels.count && scale->levels.items);
    return &scale->levels.items[index];
}

static double level_low(const struct level *level)
{
    return as_element(level->low, level->nutrient);
}

static bool level_usable(const struct level *level, enum nutrient nutrient, bool minimum)
{
    return level->nutrient && level->nutrient->nutrient == nutrient && level->minimum == minimum &&
           !isnan(level->low);
}

/* A class reaches up to where the next one begins: tables of whole numbers (25 to 45, 46 to 71) leave gaps
 * that a mean may fall into. Above the end of the last class there is none. */
static const struct level *class_of_mean(const struct scale *scale, enum nutrient nutrient, double mean)
{
    const struct level *class = NULL;
    bool higher = false;
    for (size_t i = 0; i < scale->levels.count; i++) {
        const struct level *level = level_at(scale, i);
        if (!level_usable(level, nutrient, false))
            continue;
        if (exceeds(level_low(level), mean))
            higher = true;
        else if (!class || level_low(level) > level_low(class))
            class = level;
    }
    if (class && !higher && exceeds(mean, as_element(class->high, class->nutrient)))
        return NULL;
    return class;
}

static const struct level *level_find(const struct scale *scale, enum nutrient nutrient, bool minimum,
                                      const struct name *name)
{
    for (size_t i = 0; i < scale->levels.count; i++) {
        const struct level *level = level_at(scale, i);
        if (level_usable(level, nutrient, minimum) && (!name || level->name == name))
            return level;
    }
    return NULL;
}

static bool scale_reads(const struct scale *scale, const struct soil_test *test)
{
    return scale && !scale->thing.broken && scale->method == test->method;
}

/* A minimum decides before classes do. */
static void reading_judge(struct soil_reading *reading, const struct scale *scale)
{
    enum nutrient nutrient = reading->nutrient->nutrient;
    double mean = as_element(reading->mean, reading->nutrient);
    const struct level *minimum = level_find(scale, nutrient, true, NULL);
    const struct level *enough = scale->enough ? level_find(scale, nutrient, false, scale->enough) : NULL;
    reading->level = minimum ? minimum : class_of_mean(scale, nutrient, mean);
    if (minimum)
        reading->need = exceeds(level_low(minimum), mean) ? NEED_LOW : NEED_NONE;
    else if (reading->level && enough)
        reading->need = level_low(reading->level) < level_low(enough) ? NEED_LOW : NEED_NONE;
    double deviation = fmax(reading->highest - reading->mean, reading->mean - reading->lowest);
    reading->disagree = exceeds(deviation, scale->spread * reading->mean);
}

/* Counts below detection stand at the limit of detection. False where no spot has a figure. */
static bool spots_read(const struct soil_test *test, size_t column, struct soil_reading *reading)
{
    double sum = 0;
    reading->lowest = INFINITY;
    reading->highest = -INFINITY;
    for (size_t i = 0; i < test->results.row_count; i++) {
        const struct table_cell *cell = &test->results.rows[i].cells[column];
        if (isnan(cell->number))
            continue;
        sum += cell->number;
        reading->spots++;
        reading->below_detection += cell->below;
        reading->lowest = fmin(reading->lowest, cell->number);
        reading->highest = fmax(reading->highest, cell->number);
    }
    reading->mean = sum / (double)reading->spots;
    return reading->spots > 0;
}

static struct soil_reading *reading_make(struct season *season, const struct soil_test *test, size_t column)
{
    const struct table_column *header = &test->results.columns[column];
    if (header->kind != ANALYTE_NUTRIENT || !header->nutrient)
        return NULL;
    struct soil_reading *reading = ARENA_NEW(season->arena, struct soil_reading);
    reading->test = test;
    reading->nutrient = header->nutrient;
    if (!spots_read(test, column, reading))
        return NULL;
    if (scale_reads(test->scale, test))
        reading_judge(reading, test->scale);
    return reading;
}

struct dated_test {
    const struct soil_test *test;
    size_t position; /* in the text */
};

static int by_age(const void *a, const void *b)
{
    const struct dated_test *first = a, *second = b;
    if (first->test->day != second->test->day)
        return first->test->day < second->test->day ? -1 : 1;
    return first->position < second->position ? -1 : first->position > second->position;
}

/* A newer test's reading takes the place of an older one's; of two columns of a nutrient the first counts. */
static void test_enter(struct season *season, const struct soil_test *test)
{
    for (size_t column = test->results.column_count; column-- > 0;) {
        const struct soil_reading *reading = reading_make(season, test, column);
        for (size_t i = 0; i < test->zones.count && reading; i++)
            season->readings[(size_t)test->zones.items[i]->index * NUTRIENT_COUNT +
                             reading->nutrient->nutrient] = reading;
    }
}

void readings_make(struct season *season)
{
    const struct model *model = season->model;
    size_t count = 0;
    struct dated_test *tests = ARENA_ARRAY(season->arena, model->soil_tests.count, struct dated_test);
    season->readings =
        ARENA_ARRAY(season->arena, model->zones.count * NUTRIENT_COUNT, const struct soil_reading *);
    for (size_t i = 0; i < model->soil_tests.count; i++)
        if (!model->soil_tests.items[i]->thing.broken)
            tests[count++] = (struct dated_test){model->soil_tests.items[i], i};
    qsort(tests, count, sizeof *tests, by_age);
    for (size_t i = 0; i < count; i++)
        test_enter(season, tests[i].test);
}

bool soil_reading_of(const struct season *season, const struct zone *zone, enum nutrient nutrient,
                     struct soil_reading *reading)
{
    const struct soil_reading *found = season->readings[(size_t)zone->index * NUTRIENT_COUNT + nutrient];
    if (found)
        *reading = *found;
    return found != NULL;
}
