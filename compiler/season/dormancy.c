/* Months in which the grass of a lawn does not grow, closed where a limit says so. */
#include "compiler/season/dating.h"
#include "compiler/season/need.h"

static bool grows_on(day_number day, const void *context)
{
    const struct grass_range *range = context;
    int month = date_of_day(day).month, first = (int)range->low, last = (int)range->high;
    return first <= last ? month >= first && month <= last : month >= first || month <= last;
}

bool lawn_dormant(const struct lawn *lawn, day_number day)
{
    const struct grass_range *range = lawn_range_of(lawn, GRASS_MONTHS, NUTRIENT_N);
    return range && !grows_on(day, range);
}

/* Each limit on dormant grass, for all that is still to come: once for each node and lawn; the days on which
 * a lawn's grass grows are found once. The last comes first: see closure_add. */
void dormancy_make(struct dating *dating)
{
    const struct season *season = dating->season;
    const struct model *model = season->model;
    const struct day_set **open = ARENA_ARRAY(dating->scratch, model->lawns.count, const struct day_set *);
    uint32_t *lawn_of = ARENA_ARRAY(dating->scratch, model->zones.count, uint32_t);
    uint64_t *closed = NULL; /* by node: the limit (from 1) and the lawn last closed to it */
    for (uint32_t i = 0; i < model->lawns.count; i++)
        for (size_t j = 0; j < model->lawns.items[i]->zones.count; j++)
            lawn_of[model->lawns.items[i]->zones.items[j]->index] = i;
    for (uint32_t number = (uint32_t)model->limits.count; number-- > 0;) {
        const struct limit *limit = model->limits.items[number];
        if (limit->kind != LIMIT_DORMANT || !limit_dates(model, limit))
            continue;
        if (!closed)
            closed = ARENA_ARRAY(dating->scratch, dating->node_count, uint64_t);
        for (size_t i = season->occurrences.count; i-- > 0;) {
            const struct occurrence *occurrence = &season->occurrences.items[i];
            uint32_t node = dating->node_of[i];
            if (node == TIMETABLE_NONE || dating->nodes[node].fixed)
                continue;
            for (size_t j = occurrence->amounts.count; j-- > 0;) {
                const struct amount *amount = &occurrence->amounts.items[j];
                uint32_t lawn = lawn_of[amount->zone->index];
                uint64_t key = (uint64_t)(number + 1) << 32 | lawn;
                bool concerned = limit->nutrients.count == 0;
                for (size_t k = 0; k < limit->nutrients.count; k++)
                    concerned |= amount_brings(amount, limit->nutrients.items[k]->nutrient);
                if (!concerned || closed[node] == key || !limit_binds(limit, amount->zone))
                    continue;
                closed[node] = key;
                const struct grass_range *range =
                    lawn_range_of(model->lawns.items[lawn], GRASS_MONTHS, NUTRIENT_N);
                if (range && !open[lawn])
                    open[lawn] = day_set_keep_if(dating->arena, dating->rules->all, grows_on, range);
                if (open[lawn])
                    closure_add(dating, node, open[lawn], dating->rules->limit_cause + number);
            }
        }
    }
}
