/* Kinds in the order that a limit states: on each zone, nothing of a later kind comes before anything of an
 * earlier one. */
#include "compiler/model/tolerance.h"
#include "compiler/season/zone_uses.h"

/* Two kinds are ordered pair by pair up to this many pairs; beyond, all of the earlier kind come before its
 * last one, which asks a little more than it must. */
enum { PAIR_LIMIT = 1024 };

struct member { /* of an ordered kind, in one zone */
    uint32_t occurrence, node;
    size_t rank; /* the first of the kinds that it is of */
    bool fixed;
    day_number day; /* the earliest by what is stated */
};

struct ordering {
    struct dating *dating;
    uint32_t cause;
    VECTOR(struct member) members;
};

static int by_rank(const void *a, const void *b)
{
    const struct member *first = a, *second = b;
    int rank = ascending((int64_t)first->rank, (int64_t)second->rank);
    int day = ascending(first->day, second->day);
    return rank ? rank : day ? day : ascending(first->occurrence, second->occurrence);
}

/* By ranks, each against all later ones: a kind that is missing on the zone parts none of the others. */
static void zone_order(struct ordering *ordering, const struct limit *limit,
                       const struct zone_uses *zone_uses, uint32_t zone)
{
    struct dating *dating = ordering->dating;
    ordering->members.count = 0;
    for (uint32_t i = zone_uses->start[zone]; i < zone_uses->start[zone + 1]; i++) {
        /* Of each occurrence the first kind that any of its amounts is of; these follow each other. */
        const struct zone_use *zone_use = &zone_uses->items[i];
        uint32_t node = dating->node_of[zone_use->occurrence];
        struct member member = {.occurrence = zone_use->occurrence,
                                .node = node,
                                .fixed = dating->nodes[node].fixed,
                                .day = dating->earliest[node]};
        struct member *last =
            ordering->members.count ? &ordering->members.items[ordering->members.count - 1] : NULL;
        while (member.rank < limit->classes.count &&
               !zone_use_in_class(dating, zone_use, &limit->classes.items[member.rank]))
            member.rank++;
        if (member.rank == limit->classes.count)
            continue;
        if (!last || last->occurrence != member.occurrence)
            VECTOR_PUSH(dating->scratch, &ordering->members, member);
        else if (member.rank < last->rank)
            last->rank = member.rank;
    }
    sort_items(ordering->members.items, ordering->members.count, sizeof *ordering->members.items, by_rank);
    const struct member *members = ordering->members.items;
    size_t count = ordering->members.count;
    for (size_t first = 0, end = 0; first < count; first = end) {
        while (end < count && members[end].rank == members[first].rank)
            end++;
        for (size_t second = end, second_end = end; second < count; second = second_end) {
            while (second_end < count && members[second_end].rank == members[second].rank)
                second_end++;

            /* All kinds, and not only neighbours: what was done between two that are to come holds neither
             * back. The order counts within a day, too, but for edges that lead to the last of a kind. */
            bool pairwise = (end - first) * (second_end - second) <= PAIR_LIMIT;
            for (size_t i = first; i < end; i++) {
                bool stated = pairwise || i + 1 == end;
                const struct member *from = &members[i], *to = &members[stated ? second : end - 1];
                for (size_t left = stated ? second_end - second : 1; left > 0; left--, to++) {
                    struct precedence order = {from->occurrence, to->occurrence};
                    struct timetable_edge edge =
                        timetable_at_least(from->node, to->node, (struct duration){0}, ordering->cause);
                    if (stated)
                        VECTOR_PUSH(dating->arena, &dating->orders, order);
                    if (from->node != to->node && !to->fixed)
                        VECTOR_PUSH(dating->arena, &dating->edges, edge);
                }
            }
        }
    }
}

/* What is ordered here is stated: these edges come before those of waits. */
bool limits_order(struct dating *dating)
{
    const struct model *model = dating->season->model;
    size_t edges = dating->edges.count;
    struct zone_uses zone_uses = {0};
    for (uint32_t number = 0; number < model->limits.count; number++) {
        const struct limit *limit = model->limits.items[number];
        struct ordering ordering = {.dating = dating, .cause = dating->rules->limit_cause + number};
        if (limit->kind != LIMIT_ORDER || !limit_dates(model, limit))
            continue;
        if (!zone_uses.start)
            zone_uses = zone_uses_gather(dating);
        for (uint32_t zone = 0; zone < model->zones.count; zone++)
            if (limit_binds(limit, model->zones.items[zone]))
                zone_order(&ordering, limit, &zone_uses, zone);
    }
    dating->first_wait = dating->edges.count;
    return dating->edges.count > edges;
}
