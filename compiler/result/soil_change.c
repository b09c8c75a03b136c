#include "compiler/result/soil_change.h"

#include "compiler/model/tolerance.h"
#include "compiler/result/soil_figure.h"
#include "compiler/season/need.h"

/* Upper critical values of Student's t at 0.025, by degrees of freedom from 1: NIST/SEMATECH e-Handbook of
 * Statistical Methods; beyond 30 those of 30, which errs to the side of calling a change noise. */
static const double T_VALUES[] = {12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
                                  2.201,  2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
                                  2.080,  2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042};
enum { T_COUNT = sizeof T_VALUES / sizeof *T_VALUES };

/* ---- which tests ---- */

/* The test's column of that kind with a figure; NULL without. */
static const struct table_column *column_like(const struct soil_test *test, const struct table_column *column)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *other = &test->results.columns[i];
        bool same = other->kind == column->kind && (other->kind != ANALYTE_NUTRIENT ||
                                                    other->nutrient->nutrient == column->nutrient->nutrient);
        for (size_t row = 0; row < test->results.row_count && same; row++)
            if (!isnan(test->results.rows[row].cells[i].number))
                return other;
    }
    return NULL;
}

/* The newest of the zone's first `count` tests that has such a figure, counted from 1; 0: none. */
static size_t test_with(const struct zone *zone, const struct table_column *column, size_t count)
{
    while (count > 0 && !column_like(zone->tests.items[count - 1], column))
        count--;
    return count;
}

/* ---- figures ---- */

/* A cell of a column in the unit of the newer report. */
static double as_reported(const struct soil_change *change, const struct table_column *column, double si)
{
    bool oxide = column->kind == ANALYTE_NUTRIENT && !column->index;
    double element =
        oxide ? column->nutrient->element_per_unit / change->column->nutrient->element_per_unit : 1;
    return (si * element - change->column->offset) / change->column->factor;
}

static double column_mean(const struct soil_change *change, const struct soil_test *test,
                          const struct table_column *column)
{
    size_t at = (size_t)(column - test->results.columns), count = 0;
    double sum = 0;
    for (size_t i = 0; i < test->results.row_count; i++) {
        double number = test->results.rows[i].cells[at].number;
        if (isnan(number))
            continue;
        sum += as_reported(change, column, number);
        count++;
    }
    return sum / (double)count;
}

static const struct soil_reading *reading_of(const struct season *season, const struct soil_change *change,
                                             const struct soil_test *test)
{
    if (change->column->kind != ANALYTE_NUTRIENT)
        return NULL;
    const struct soil_history *history =
        soil_history_of(season, change->zones.items[0], change->column->nutrient->nutrient);
    for (size_t i = 0; i < history->readings.count; i++)
        if (history->readings.items[i]->test == test)
            return history->readings.items[i];
    return NULL;
}

/* ---- spot by spot ---- */

static const struct table_cell *cell_of(const struct soil_test *test, const struct table_column *column,
                                        const struct name *spot)
{
    for (size_t i = 0; i < test->results.row_count; i++)
        if (test->results.rows[i].name == spot)
            return &test->results.rows[i].cells[column - test->results.columns];
    return NULL;
}

/* A confidence interval of the mean change (Student): a spot is compared with itself, since spots differ
 * from each other by more than a season changes them. */
static void pairs_find(struct soil_change *change, const struct table_column *before)
{
    struct soil_pairs *pairs = &change->pairs;
    const struct table *results = &change->then->results;
    double sum = 0, squares = 0;
    for (size_t i = 0; i < results->row_count; i++) {
        const struct table_cell *now = cell_of(change->then, change->column, results->rows[i].name);
        const struct table_cell *was = cell_of(change->first, before, results->rows[i].name);
        if (!was || isnan(was->number) || isnan(now->number) || was->below || now->below || was->above ||
            now->above)
            continue;
        double moved =
            as_reported(change, change->column, now->number) - as_reported(change, before, was->number);
        sum += moved;
        squares += moved * moved;
        pairs->count++;
    }
    double count = (double)pairs->count;
    pairs->mean = sum / count;
    if (pairs->count < 2)
        return;
    double variance = fmax(0, (squares - sum * pairs->mean) / (count - 1));
    size_t freedom = pairs->count - 1;
    double half = T_VALUES[(freedom < T_COUNT ? freedom : T_COUNT) - 1] * sqrt(variance / count);
    pairs->low = pairs->mean - half;
    pairs->high = pairs->mean + half;
    pairs->noise = !(exceeds(pairs->low, 0) || exceeds(0, pairs->high));
}

/* ---- all of it ---- */

enum nutrient change_nutrient(const struct soil_change *change)
{
    if (change->column->kind == ANALYTE_PH)
        return NUTRIENT_LIME;
    return change->column->kind == ANALYTE_NUTRIENT ? change->column->nutrient->nutrient : NUTRIENT_COUNT;
}

/* All that needs both tests and the zones, which are known only now. */
static void change_fill(const struct season *season, struct soil_change *change)
{
    const struct table_column *before = column_like(change->first, change->column);
    size_t at = (size_t)(change->column - change->then->results.columns);
    struct soil_figure figure = soil_figure_of(season, change->then, at);
    change->name = figure.name;
    change->unit = figure.unit;
    change->lack = CHANGE_COMPARED;
    if (change->column->kind == ANALYTE_NUTRIENT && before->index != change->column->index)
        change->lack = CHANGE_INDEX;
    else if (change->column->kind == ANALYTE_NUTRIENT && change->first->method != change->then->method)
        change->lack = CHANGE_METHOD;
    change->is = figure.mean;
    change->was = change->lack == CHANGE_COMPARED ? column_mean(change, change->first, before) : (double)NAN;
    change->pairs = (struct soil_pairs){.mean = NAN, .low = NAN, .high = NAN};
    if (change->lack == CHANGE_COMPARED)
        pairs_find(change, before);
    bool plain = figure.read && !figure.reading.step && !figure.reading.activity;
    change->enough = plain ? figure.enough : (double)NAN;
    change->is_read = reading_of(season, change, change->then);
    change->was_read = reading_of(season, change, change->first);
    change->other_depth = exceeds(fabs(change->first->depth_m - change->then->depth_m), 0);
    change->least = INFINITY;
    for (size_t i = 0; i < change->zones.count; i++) {
        enum nutrient nutrient = change_nutrient(change);
        double given = nutrient == NUTRIENT_COUNT ? 0
                                                  : zone_given(season, change->zones.items[i], nutrient,
                                                               change->first->day, change->then->day - 1);
        change->least = fmin(change->least, given);
        change->most = fmax(change->most, given);
    }
}

/* Each column of each test against the newest test before it: zones may have different ones. */
struct soil_changes soil_changes_of(struct arena *arena, const struct season *season)
{
    const struct model *model = season->model;
    struct soil_changes changes = {.items = {0}};
    for (size_t i = 0; i < model->soil_tests.count; i++) {
        const struct soil_test *test = model->soil_tests.items[i];
        for (size_t j = 0; j < test->results.column_count && !test->symbol.broken; j++) {
            const struct table_column *column = &test->results.columns[j];
            size_t from = changes.items.count;
            for (size_t k = 0; k < test->zones.count && column_like(test, column) == column; k++) {
                const struct zone *zone = test->zones.items[k];
                struct soil_change found = {.then = test, .column = column};
                size_t newest = test_with(zone, column, zone->tests.count), before = newest;
                if (!newest || zone->tests.items[newest - 1] != test)
                    continue;
                while (before > 0 && zone->tests.items[before - 1]->day == test->day)
                    before--;
                if (!(before = test_with(zone, column, before)))
                    continue;
                found.first = zone->tests.items[before - 1];
                /* Zones that have the same two tests share a change. */
                size_t at = from;
                while (at < changes.items.count && changes.items.items[at].first != found.first)
                    at++;
                if (at == changes.items.count)
                    VECTOR_PUSH(arena, &changes.items, found);
                VECTOR_PUSH(arena, &changes.items.items[at].zones, zone);
            }
        }
    }
    for (size_t i = 0; i < changes.items.count; i++)
        change_fill(season, &changes.items.items[i]);
    return changes;
}
