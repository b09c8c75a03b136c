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

struct growing {
    const struct day_set **open; /* by lawn, in model->lawns order */
    uint32_t limit;              /* the limit at hand, by its number */
    uint64_t *closed;            /* by node: the limit (from 1) and the lawn last closed to it */
    uint32_t *lawn_of;           /* by zone index */
};

/* Once for each node, limit and lawn; the days on which a lawn's grass grows are found once. */
static void amount_close(struct dating *dating, struct growing *growing, const struct amount *amount,
                         uint32_t node)
{
    const struct model *model = dating->season->model;
    const struct limit *limit = model->limits.items[growing->limit];
    if (!limit_binds(limit, amount->zone))
        return;
    bool concerned = limit->nutrients.count == 0;
    for (size_t i = 0; i < limit->nutrients.count; i++)
        concerned |= amount_brings(amount, limit->nutrients.items[i]->nutrient);
    uint32_t lawn = growing->lawn_of[amount->zone->index];
    uint64_t closed = (uint64_t)(growing->limit + 1) << 32 | lawn;
    if (!concerned || growing->closed[node] == closed)
        return;
    growing->closed[node] = closed;
    const struct grass_range *range = lawn_range_of(model->lawns.items[lawn], GRASS_MONTHS, NUTRIENT_N);
    if (range && !growing->open[lawn])
        growing->open[lawn] = day_set_keep_if(dating->arena, dating->rules->all, grows_on, range);
    if (growing->open[lawn])
        condition_add(dating, node,
                      (struct timetable_condition){.kind = TIMETABLE_CLOSED_DAYS,
                                                   .days = growing->open[lawn],
                                                   .cause = dating->rules->limit_cause + growing->limit});
}

/* Each limit on dormant grass, for all that is still to come. */
void dormancy_make(struct dating *dating)
{
    const struct season *season = dating->season;
    const struct model *model = season->model;
    struct growing growing = {.open =
                                  ARENA_ARRAY(dating->scratch, model->lawns.count, const struct day_set *),
                              .closed = ARENA_ARRAY(dating->scratch, dating->node_count, uint64_t),
                              .lawn_of = ARENA_ARRAY(dating->scratch, model->zones.count, uint32_t)};
    for (uint32_t i = 0; i < model->lawns.count; i++)
        for (size_t j = 0; j < model->lawns.items[i]->zones.count; j++)
            growing.lawn_of[model->lawns.items[i]->zones.items[j]->index] = i;
    for (growing.limit = 0; growing.limit < model->limits.count; growing.limit++) {
        const struct limit *limit = model->limits.items[growing.limit];
        if (limit->kind != LIMIT_DORMANT || !limit_dates(model, limit))
            continue;
        for (size_t i = 0; i < season->occurrences.count; i++) {
            const struct occurrence *occurrence = &season->occurrences.items[i];
            uint32_t node = dating->node_of[i];
            if (node == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
                continue;
            for (size_t j = 0; j < occurrence->amounts.count; j++)
                amount_close(dating, &growing, &occurrence->amounts.items[j], node);
        }
    }
}
