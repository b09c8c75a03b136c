/* Months in which the grass of a lawn does not grow, closed where a limit says so. */
#include "compiler/season/dating.h"

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

bool lawn_dormant(const struct lawn *lawn, day_number day)
{
    const struct grass_range *range = months_of_growth(lawn);
    return range && !grows_on(day, range);
}

struct growing {
    const struct day_set **open; /* by lawn, in model->lawns order */
    uint32_t limit;              /* the limit at hand, by its number */
    uint64_t *told;              /* by node: the limit (from 1) and the lawn last closed to it */
    uint32_t *lawn_of;           /* by zone index */
};

static const struct day_set *lawn_open(struct dating *dating, struct growing *growing, size_t lawn)
{
    const struct grass_range *range = months_of_growth(dating->season->model->lawns.items[lawn]);
    if (range && !growing->open[lawn])
        growing->open[lawn] = day_set_keep_if(dating->arena, dating->rules->all, grows_on, range);
    return growing->open[lawn];
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
    uint32_t lawn = growing->lawn_of[amount->zone->index];
    uint64_t told = (uint64_t)(growing->limit + 1) << 32 | lawn;
    if (!concerned || growing->told[node] == told)
        return;
    growing->told[node] = told;
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
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        uint32_t node = dating->node_of[i];
        if (node == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
            continue;
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            amount_close(dating, growing, &occurrence->amounts.items[j], node);
    }
}

static struct growing growing_new(struct dating *dating)
{
    const struct model *model = dating->season->model;
    struct growing growing = {.open = ARENA_ARRAY(dating->arena, model->lawns.count, const struct day_set *),
                              .told = ARENA_ARRAY(dating->arena, dating->node_count, uint64_t),
                              .lawn_of = ARENA_ARRAY(dating->arena, model->zones.count, uint32_t)};
    for (uint32_t i = 0; i < model->lawns.count; i++)
        for (size_t j = 0; j < model->lawns.items[i]->zones.count; j++)
            growing.lawn_of[model->lawns.items[i]->zones.items[j]->index] = i;
    return growing;
}

void dormancy_make(struct dating *dating)
{
    const struct model *model = dating->season->model;
    struct growing growing = growing_new(dating);
    for (growing.limit = 0; growing.limit < model->limits.count; growing.limit++)
        if (model->limits.items[growing.limit]->kind == LIMIT_DORMANT &&
            limit_dates(model, model->limits.items[growing.limit]))
            limit_close(dating, &growing);
}
