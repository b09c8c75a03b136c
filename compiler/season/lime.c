/* What the pH asks: nothing mostly, lime by the test's table where it is too low. */
#include "compiler/model/tolerance.h"
#include "compiler/model/soil_test.h"
#include "compiler/season/need.h"

#include <assert.h>
#include <stdint.h>

/* ---- how much ---- */

static bool measured_by(struct lime_need *need, enum lime_measure measure)
{
    static const enum analyte columns[] = {[LIME_BY_ACIDITY] = ANALYTE_ACIDITY,
                                           [LIME_BY_ACIDITY_OF_VOLUME] = ANALYTE_ACIDITY_OF_VOLUME,
                                           [LIME_BY_BUFFER_PH] = ANALYTE_BUFFER_PH};
    need->measure = measure;
    need->measured = soil_test_mean(need->test, columns[measure], NULL);
    return !isnan(need->measured);
}

/* The table, its goal, its figure, its row or formula: the first that is missing is what is lacking. */
static enum lime_lack lime_find(struct lime_need *need)
{
    size_t column = 0;
    assert(need->test);
    need->table = need->test->lime;
    if (!need->table || need->table->symbol.broken) {
        need->table = NULL;
        return LIME_LACK_TABLE;
    }
    /* What the lawn states, or else the middle of what the grass does well in. A stated goal must be a column
     * of the table. Without one it is the column nearest to the middle of the range, of two as near the
     * lower, if it lies within the range at all. Of a formula the goal is any pH up to the end of its way. */
    const struct lime_table *table = need->table;
    double wanted =
        need->goal_stated ? need->zone->lawn->goal_ph : (need->range->low + need->range->high) / 2;
    if (!table->rows.count)
        need->goal = wanted;
    for (size_t i = 0; i < table->goals.count && table->rows.count; i++) {
        double goal = table->goals.items[i], gap = fabs(goal - wanted), best = fabs(need->goal - wanted);
        bool fits = need->goal_stated ? gap < COMPARE_TOLERANCE
                                      : !exceeds(goal, need->range->high) && !exceeds(need->range->low, goal);
        if (!fits || (!isnan(need->goal) && (gap > best || (gap >= best && goal > need->goal))))
            continue;
        need->goal = goal;
        column = i;
    }
    if (isnan(need->goal) || (!table->rows.count && exceeds(wanted, table->way_end)))
        return LIME_LACK_GOAL;
    /* What the table is based on; or acidity that a buffer pH shows, where the table says how. */
    enum lime_measure figure = table->rows.count ? table->rows.items[0].measure : table->way_measure;
    enum lime_measure other = figure == LIME_BY_ACIDITY ? LIME_BY_ACIDITY_OF_VOLUME : LIME_BY_ACIDITY;
    if (table->buffer && need->test->buffer && table->buffer != need->test->buffer)
        return LIME_LACK_BUFFER;
    need->buffer_assumed = table->buffer && !need->test->buffer;
    bool measured = measured_by(need, figure);
    if (!measured && !isnan(table->buffer_start) && measured_by(need, LIME_BY_BUFFER_PH)) {
        need->measured = fmax(table->buffer_start - need->measured, 0) * table->buffer_step;
        measured = true;
    }
    if (!measured)
        return figure != LIME_BY_BUFFER_PH && measured_by(need, other) ? LIME_LACK_UNIT : LIME_LACK_FIGURE;
    if (!table->rows.count) {
        need->way = (need->goal - need->ph) / (table->way_end - need->ph);
        need->kg_per_m2 = fmax(need->measured * table->whole_way * need->way, 0) * table->neutralizing;
    }

    /* The row nearest to the figure, of two as near the one with less lime. Laboratories report the figures
     * of the rows themselves, so a nearer one is there for every result but those outside the table, which
     * are further from its end than half the step of its last rows. */
    const struct lime_row *next = NULL;
    for (size_t i = 0; i < table->rows.count; i++) {
        const struct lime_row *row = &table->rows.items[i], *nearest = need->row;
        double gap = fabs(row->value - need->measured);
        double best = nearest ? fabs(nearest->value - need->measured) : (double)INFINITY;
        bool as_near = nearest && !exceeds(gap, best);
        if (exceeds(best, gap) || (as_near && row->amounts[column] < nearest->amounts[column])) {
            next = nearest;
            need->row = row;
        } else if (!next || gap < fabs(next->value - need->measured)) {
            next = row;
        }
    }
    if (need->row) {
        const struct lime_row *nearest = need->row;
        double step = next ? fabs(nearest->value - next->value) : 0;
        if (exceeds(fabs(nearest->value - need->measured), step / 2)) {
            need->row = NULL;
            return LIME_LACK_ROW;
        }
        need->kg_per_m2 = nearest->amounts[column] * table->neutralizing;
    }
    need->most_at_once = table->most_at_once;
    need->interval = table->interval;
    return LIME_LACK_NOTHING;
}

/* A pH that is fine or too high needs no lime, whatever the table says. */
bool lime_need_of(const struct season *season, const struct zone *zone, struct lime_need *need)
{
    *need = (struct lime_need){
        .zone = zone, .goal = NAN, .measured = NAN, .way = NAN, .most_at_once = NAN, .kg_per_m2 = NAN};
    need->test = soil_test_with_ph(zone);
    need->ph = need->test ? soil_test_mean(need->test, ANALYTE_PH, NULL) : (double)NAN;
    /* A goal that the lawn states counts in place of the range's lower end. */
    const struct lawn *lawn = zone->lawn;
    need->range = lawn_range_of(lawn, GRASS_PH, NUTRIENT_COUNT);
    need->goal_stated = !isnan(lawn->goal_ph);
    if (!isnan(need->ph) && (need->range || need->goal_stated))
        need->verdict = exceeds(need->goal_stated ? lawn->goal_ph : need->range->low, need->ph) ? PH_LOW
                        : need->range && exceeds(need->ph, need->range->high) ? PH_HIGH
                                                                              : PH_FINE;
    switch (need->verdict) {
    case PH_UNKNOWN:
        need->lack = need->test ? LIME_LACK_RANGE : LIME_LACK_PH;
        break;
    case PH_FINE:
    case PH_HIGH:
        need->kg_per_m2 = 0;
        break;
    case PH_LOW:
        need->lack = lime_find(need);
        break;
    }
    need->given = need->test ? zone_given(season, zone, NUTRIENT_LIME, need->test->day, INT32_MAX) : 0;
    need->left = fmax(0, need->kg_per_m2 - need->given);
    if (need->lack != LIME_LACK_NOTHING)
        need->left = NAN;
    return need->lack == LIME_LACK_NOTHING;
}

double lime_material(const struct product *product, double calcium_carbonate)
{
    return calcium_carbonate / product->neutralizing;
}

/* Rounding makes no application more. */
int lime_times(const struct lime_need *need, const struct product *product)
{
    double counted = fmax(need->kg_per_m2, product ? lime_material(product, need->kg_per_m2) : 0);
    if (isnan(need->most_at_once) || !(counted > 0))
        return 0;
    return (int)fmin(ceil(counted / need->most_at_once * (1 - COMPARE_TOLERANCE)), INT16_MAX);
}
