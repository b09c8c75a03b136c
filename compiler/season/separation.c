#include "compiler/season/separation.h"

/* Two runs of one class each are set apart pair by pair up to this many pairs. Beyond, all of the first run
 * come before its last one, which asks a little more than it must. */
enum { PAIR_LIMIT = 1024 };

void party_add(struct waiting *waiting, const struct zone_use *zone_use, unsigned classes)
{
    const struct dating *dating = waiting->dating;
    uint32_t node = dating->node_of[zone_use->occurrence];
    bool fixed = dating->nodes[node].fixed;
    struct party party = {.node = node,
                          .occurrence = zone_use->occurrence,
                          .classes = classes,
                          .fixed = fixed,
                          .pinned = fixed || dating->earliest[node] == dating->latest[node],
                          .day = dating->earliest[node]};
    VECTOR_PUSH(dating->scratch, &waiting->parties, party);
}

/* ---- groups ---- */

/* Those of one group side by side. */
static int by_group(const void *a, const void *b)
{
    const struct party *first = a, *second = b;
    if (first->pinned != second->pinned)
        return ascending(second->pinned, first->pinned);
    if (first->pinned && first->day != second->day)
        return ascending(first->day, second->day);
    return first->node != second->node ? ascending(first->node, second->node)
                                       : ascending(first->occurrence, second->occurrence);
}

static int by_order(const void *a, const void *b)
{
    const struct application_group *first = a, *second = b;
    int order = ascending(first->slot, second->slot);
    if (order == 0)
        order = ascending(second->fixed, first->fixed);
    if (order == 0)
        order = ascending(first->day, second->day);
    if (order == 0)
        order = ascending(second->pinned, first->pinned);
    return order ? order : ascending(first->rank, second->rank);
}

/* Parties that are one application: of one node, or pinned to one day; each party then knows the classes of
 * its group, and whether the application has been. */
static void groups_form(struct waiting *waiting)
{
    struct party *parties = waiting->parties.items;
    uint32_t count = (uint32_t)waiting->parties.count;
    waiting->groups.count = 0;
    sort_items(parties, count, sizeof *parties, by_group);
    for (uint32_t i = 0; i < count;) {
        const struct party *first = &parties[i];
        struct application_group group = {.first = i,
                                          .pinned = first->pinned,
                                          .day = first->day,
                                          .slot = waiting->slot[first->node],
                                          .rank = waiting->ranks[first->node]};
        for (; i < count && (parties[i].node == first->node ||
                             (first->pinned && parties[i].pinned && parties[i].day == first->day));
             i++) {
            group.classes |= parties[i].classes;
            group.fixed |= parties[i].fixed;
        }
        group.count = i - group.first;
        for (uint32_t j = group.first; j < i; j++) {
            parties[j].past = group.fixed;
            parties[j].together = group.classes;
        }
        VECTOR_PUSH(waiting->dating->scratch, &waiting->groups, group);
    }
    sort_items(waiting->groups.items, waiting->groups.count, sizeof *waiting->groups.items, by_order);
}

/* ---- edges ---- */

static void edge_keep(struct waiting *waiting, const struct wait_rule *rule, const struct party *from,
                      const struct party *to, struct timetable_edge edge)
{
    if ((from->past && to->past) || from->node == to->node)
        return;
    struct chosen chosen = {edge, {from->occurrence, to->occurrence, rule->zone->index}};
    VECTOR_PUSH(waiting->dating->scratch, &waiting->chosen, chosen);
}

static const struct duration NOT_BEFORE = {0, 0};

static void edge_choose(struct waiting *waiting, const struct wait_rule *rule, const struct party *from,
                        const struct party *to, struct duration least)
{
    edge_keep(waiting, rule, from, to, timetable_at_least(from->node, to->node, least, rule->cause));
}

/* Of the fixed ones of a run the one nearest to the other run speaks for all. */
static void runs_apart(struct waiting *waiting, const struct wait_rule *rule, const struct run *before,
                       const struct run *after)
{
    const struct party *line = waiting->line.items, *early = &line[before->first],
                       *late = &line[after->first];
    bool counts = (early->together & FIRST_CLASS) && (late->together & SECOND_CLASS);
    /* Where the wait runs the other way, the order chosen is kept. */
    struct duration days = rule->kind == WAIT_EITHER || counts ? rule->days : (struct duration){.days = 1};
    for (size_t j = 0; j < after->count && before->free < before->count; j++)
        edge_choose(waiting, rule, &line[before->last_fixed], &late[j], days);
    for (size_t i = 0; i < before->count && after->free < after->count; i++)
        edge_choose(waiting, rule, &early[i], &line[after->first_fixed], days);
    if (before->free * after->free > PAIR_LIMIT) {
        /* Runs of many treatments are kept apart through one of the first, so that the edges stay few. */
        const struct party *hub = &early[before->count - 1];
        while (hub->fixed)
            hub--;
        for (size_t i = 0; i < before->count; i++)
            if (!early[i].fixed)
                edge_choose(waiting, rule, &early[i], hub, NOT_BEFORE);
        for (size_t j = 0; j < after->count; j++)
            if (!late[j].fixed)
                edge_choose(waiting, rule, hub, &late[j], days);
        return;
    }
    for (size_t i = 0; i < before->count; i++)
        for (size_t j = 0; j < after->count && !early[i].fixed; j++)
            if (!late[j].fixed)
                edge_choose(waiting, rule, &early[i], &late[j], days);
}

/* ---- not too far apart ---- */

/* Keeps every party of the group that is of the second class, and to come, after `first` and near it; or,
 * with nothing before it, before `first`. */
static void group_follow(struct waiting *waiting, const struct wait_rule *rule, const struct party *first,
                         const struct application_group *group, bool after)
{
    for (size_t i = 0; i < group->count; i++) {
        const struct party *second = &waiting->parties.items[group->first + i];
        if (second->fixed || !(second->classes & SECOND_CLASS))
            continue;
        if (!after) {
            edge_choose(waiting, rule, second, first, NOT_BEFORE);
            continue;
        }
        edge_choose(waiting, rule, first, second, NOT_BEFORE);
        edge_keep(waiting, rule, second, first,
                  timetable_at_most(first->node, second->node, rule->days, rule->cause));
    }
}

/* Groups first, then runs of them: the work grows with the runs and not with the pairs. */
void parties_apart(struct waiting *waiting, const struct wait_rule *rule)
{
    groups_form(waiting);
    /* Neighbouring runs are set apart; those further off then are too, by way of the runs between. */
    struct arena *arena = waiting->dating->scratch;
    unsigned classes = BOTH_CLASSES; /* of the last run */
    waiting->line.count = waiting->runs.count = 0;
    for (size_t i = 0; i < waiting->groups.count; i++) {
        const struct application_group *group = &waiting->groups.items[i];
        if (group->classes != classes || classes == BOTH_CLASSES)
            VECTOR_PUSH(arena, &waiting->runs, ((struct run){.first = waiting->line.count}));
        classes = group->classes;
        struct run *run = &waiting->runs.items[waiting->runs.count - 1];
        for (const struct party *party = &waiting->parties.items[group->first], *end = party + group->count;
             party < end; party++) {
            if (party->fixed && run->free == run->count)
                run->first_fixed = waiting->line.count;
            if (party->fixed)
                run->last_fixed = waiting->line.count;
            run->free += !party->fixed;
            run->count++;
            VECTOR_PUSH(arena, &waiting->line, *party);
        }
    }
    for (size_t i = 1; i < waiting->runs.count && rule->kind != WAIT_WITHIN; i++)
        runs_apart(waiting, rule, &waiting->runs.items[i - 1], &waiting->runs.items[i]);
    if (rule->kind == WAIT_WITHIN) {
        /* The second class is bound to the last of the first before it, or without one to the next. */
        const struct party *last = NULL;
        for (size_t i = 0; i < waiting->groups.count; i++) {
            const struct application_group *group = &waiting->groups.items[i];
            const struct party *first = NULL;
            for (size_t j = 0; j < group->count && !first; j++)
                if (waiting->parties.items[group->first + j].classes & FIRST_CLASS)
                    first = &waiting->parties.items[group->first + j];
            for (size_t j = 0; j < i && first && !last; j++)
                group_follow(waiting, rule, first, &waiting->groups.items[j], false);
            if (last && !first)
                group_follow(waiting, rule, last, group, true);
            last = first ? first : last;
        }
    }
    waiting->parties.count = 0;
}
