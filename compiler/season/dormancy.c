/* Months in which the grass of a lawn does not grow, closed where a limit says so. */
#include "compiler/season/build.h"

/* For the lawn's region, or else anywhere; NULL when the plan does not know. */
static const struct grass_range *months_of_growth(const struct lawn *lawn)
{
    const struct grass_range *anywhere = NULL;
    for (size_t i = 0; lawn->grass && i < lawn->grass->ranges.count; i++) {
        const struct grass_range *range = &lawn->grass->ranges.items[i];
        if (range->kind != GRASS_MONTHS)
            continue;
        if (lawn->region && range->region == lawn->region)
            return range;
        if (!range->region)
            anywhere = range;
    }
    return anywhere;
}

static bool grows_on(day_number day, const void *context)
{
    const struct grass_range *range = context;
    int month = date_of_day(day).month, first = (int)range->low, last = (int)range->high;
    return first <= last ? month >= first && month <= last : month >= first || month <= last;
}

struct growing { /* by lawn, in model->lawns order */
    const struct day_set **open;
    uint32_t limit; /* the limit at hand, by its number */
    uint32_t *told; /* by node: the lawn last closed to it by this limit, + 1 */
};

static const struct day_set *lawn_open(struct dating *dating, struct growing *growing, size_t lawn)
{
    const struct grass_range *range = months_of_growth(dating->season->model->lawns.items[lawn]);
    if (range && !growing->open[lawn])
        growing->open[lawn] = day_set_keep_if(dating->arena, dating->rules->all, grows_on, range);
    return growing->open[lawn];
}

static size_t lawn_index(const struct model *model, const struct lawn *lawn)
{
    size_t index = 0;
    while (model->lawns.items[index] != lawn)
        index++;
    return index;
}

static void amount_close(struct dating *dating, struct growing *growing, const struct amount *amount,
                         uint32_t node)
{
    const struct limit *limit = dating->season->model->limits.items[growing->limit];
    if (!limit_binds(limit, amount->zone))
        return;
    bool concerned = limit->nutrients.count == 0;
    for (size_t i = 0; i < limit->nutrients.count; i++)
        concerned |= amount_brings(amount, limit->nutrients.items[i]->nutrient);
    size_t lawn = lawn_index(dating->season->model, amount->zone->lawn);
    if (!concerned || growing->told[node] == lawn + 1)
        return;
    growing->told[node] = (uint32_t)lawn + 1;
    const struct day_set *open = lawn_open(dating, growing, lawn);
    if (open)
        condition_add(dating, node,
                      (struct timetable_condition){.kind = TIMETABLE_CLOSED_DAYS,
                                                   .days = open,
                                                   .cause = dating->rules->limit_cause + growing->limit});
}

static void limit_close(struct dating *dating, struct growing *growing)
{
    const struct season *season = dating->season;
    growing->told = ARENA_ARRAY(dating->arena, dating->node_count, uint32_t);
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        uint32_t node = dating->node_of[i];
        if (node == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
            continue;
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            amount_close(dating, growing, &occurrence->amounts.items[j], node);
    }
}

void dormancy_make(struct dating *dating)
{
    const struct model *model = dating->season->model;
    struct growing growing = {.open = ARENA_ARRAY(dating->arena, model->lawns.count, const struct day_set *)};
    for (growing.limit = 0; growing.limit < model->limits.count; growing.limit++)
        if (model->limits.items[growing.limit]->kind == LIMIT_DORMANT &&
            model->limits.items[growing.limit]->set->bound)
            limit_close(dating, &growing);
}
