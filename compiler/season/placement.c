/* Days for nodes, also where not every one can have a day: what hangs together is placed or left out as a
 * whole. */
#include "compiler/season/dating.h"

static void answer_keep(const struct timetable_result *answer, uint32_t from, uint32_t node,
                        struct placement *placement)
{
    placement->placed[node] = true;
    placement->earliest[node] = answer->earliest[from];
    placement->latest[node] = answer->latest[from];
}

/* The parts of a timetable that are tied together by edges; a fixed node ties nothing. */
struct parts {
    struct dating *dating;
    uint32_t *group;      /* by node */
    uint32_t *nodes;      /* those not fixed, by group */
    uint32_t *node_start; /* by the group's name, which is its smallest node; one more than nodes */
    uint32_t *edges, *edge_start;
    uint32_t *number; /* by node: its number in its part */
    bool *refuted;    /* by group: known to have no solution */
};

/* Which group an edge belongs to; TIMETABLE_NONE between fixed nodes. */
static uint32_t edge_group(const struct parts *parts, const struct timetable_edge *edge)
{
    const struct timetable_node *nodes = parts->dating->nodes;
    if (!nodes[edge->from].fixed)
        return parts->group[edge->from];
    return nodes[edge->to].fixed ? TIMETABLE_NONE : parts->group[edge->to];
}

/* Nodes and edges by the group they belong to; edges between fixed nodes belong to none. */
static void parts_sort(struct parts *parts)
{
    struct dating *dating = parts->dating;
    uint32_t count = dating->node_count;
    parts->nodes = ARENA_ARRAY(dating->arena, count, uint32_t);
    parts->edges = ARENA_ARRAY(dating->arena, dating->edges.count, uint32_t);
    parts->node_start = ARENA_ARRAY(dating->arena, (size_t)count + 2, uint32_t);
    parts->edge_start = ARENA_ARRAY(dating->arena, (size_t)count + 2, uint32_t);
    uint32_t *next_node = parts->node_start + 1, *next_edge = parts->edge_start + 1; /* become the starts */
    for (uint32_t node = 0; node < count; node++)
        next_node[parts->group[node] + 1] += !dating->nodes[node].fixed;
    for (size_t i = 0; i < dating->edges.count; i++)
        if (edge_group(parts, &dating->edges.items[i]) != TIMETABLE_NONE)
            next_edge[edge_group(parts, &dating->edges.items[i]) + 1]++;
    for (uint32_t node = 0; node < count; node++) {
        next_node[node + 1] += next_node[node];
        next_edge[node + 1] += next_edge[node];
    }
    for (uint32_t node = 0; node < count; node++)
        if (!dating->nodes[node].fixed)
            parts->nodes[next_node[parts->group[node]]++] = node;
    for (uint32_t i = 0; i < dating->edges.count; i++)
        if (edge_group(parts, &dating->edges.items[i]) != TIMETABLE_NONE)
            parts->edges[next_edge[edge_group(parts, &dating->edges.items[i])]++] = i;
}

/* The part as a timetable by itself. A fixed node is copied into it for each edge to it; its last node is
 * fixed and tied to nothing. */
static struct timetable part_table(const struct parts *parts, uint32_t group)
{
    const struct dating *dating = parts->dating;
    const struct timetable_node fixed = {.fixed = true, .cause = TIMETABLE_NONE};
    uint32_t node_count = parts->node_start[group + 1] - parts->node_start[group];
    uint32_t edge_count = parts->edge_start[group + 1] - parts->edge_start[group];
    struct timetable_node *nodes =
        ARENA_ARRAY(dating->arena, (size_t)node_count + edge_count + 1, struct timetable_node);
    struct timetable_edge *edges = ARENA_ARRAY(dating->arena, edge_count, struct timetable_edge);
    for (uint32_t i = 0; i < node_count; i++) {
        uint32_t node = parts->nodes[parts->node_start[group] + i];
        nodes[i] = dating->nodes[node];
        parts->number[node] = i;
    }
    for (uint32_t i = 0; i < edge_count; i++) {
        uint32_t spare = node_count + i;
        edges[i] = dating->edges.items[parts->edges[parts->edge_start[group] + i]];
        const struct timetable_node *from = &dating->nodes[edges[i].from], *to = &dating->nodes[edges[i].to];
        nodes[spare] = fixed;
        if (from->fixed || to->fixed)
            nodes[spare].day = from->fixed ? from->day : to->day;
        edges[i].from = from->fixed ? spare : parts->number[edges[i].from];
        edges[i].to = to->fixed ? spare : parts->number[edges[i].to];
    }
    nodes[node_count + edge_count] = fixed;
    struct timetable table = dating->question;
    table.nodes = nodes;
    table.edges = edges;
    table.node_count = node_count + edge_count + 1;
    table.edge_count = edge_count;
    return table;
}

/* A part without a solution is left alone: asked so, it gives no reasons, which would cost more than the
 * days. */
static void parts_place(const struct parts *parts, struct placement *placement)
{
    struct arena *arena = parts->dating->arena;
    for (uint32_t group = 0; group < parts->dating->node_count; group++) {
        uint32_t first = parts->node_start[group], end = parts->node_start[group + 1];
        if (first == end || parts->refuted[group])
            continue;
        struct timetable table = part_table(parts, group);
        if (!timetable_what_if(arena, &table, table.node_count - 1, 0))
            continue;
        struct timetable_result answer;
        timetable_solve(arena, &table, &answer);
        for (uint32_t i = first; i < end; i++)
            answer_keep(&answer, i - first, parts->nodes[i], placement);
    }
}

/* A trial is one of many: it finds whether there are days, and which, and goes without what costs more. Of a
 * whole without a solution the parts known to contradict themselves are left out. */
void placement_make(struct dating *dating, struct placement *placement)
{
    uint32_t count = dating->node_count;
    dating->question.nodes = dating->nodes;
    dating->question.node_count = count;
    dating->question.edges = dating->edges.items;
    dating->question.edge_count = (uint32_t)dating->edges.count;
    *placement = (struct placement){.placed = ARENA_ARRAY(dating->arena, count, bool),
                                    .earliest = ARENA_ARRAY(dating->arena, count, day_number),
                                    .latest = ARENA_ARRAY(dating->arena, count, day_number)};
    for (uint32_t node = 0; node < count; node++) {
        placement->placed[node] = dating->nodes[node].fixed;
        placement->earliest[node] = placement->latest[node] = dating->nodes[node].day;
    }
    struct timetable_result *answer = &dating->answer;
    if (dating->trial && !dating->trial->reasons) {
        day_number *days = timetable_least(dating->arena, &dating->question);
        bool own = placement == &dating->own; /* whose latest days tell what can be on one day only */
        *answer = (struct timetable_result){.feasible = days != NULL, .earliest = days, .latest = days};
        if (days && own)
            answer->latest = timetable_greatest(dating->arena, &dating->question);
        for (uint32_t node = 0; node < count && days; node++)
            answer_keep(answer, node, node, placement);
        answer->earliest = answer->latest = NULL; /* no outputs ask a trial for them */
        return;
    }
    timetable_solve(dating->arena, &dating->question, answer);
    for (uint32_t node = 0; node < count && answer->feasible; node++)
        if (!dating->nodes[node].fixed)
            answer_keep(answer, node, node, placement);
    if (answer->feasible)
        return;
    struct parts parts = {.dating = dating,
                          .group = groups_new(dating->arena, count),
                          .number = ARENA_ARRAY(dating->arena, count, uint32_t),
                          .refuted = ARENA_ARRAY(dating->arena, count, bool)};
    for (size_t i = 0; i < dating->edges.count; i++) {
        const struct timetable_edge *edge = &dating->edges.items[i];
        if (!dating->nodes[edge->from].fixed && !dating->nodes[edge->to].fixed)
            group_join(parts.group, edge->from, edge->to);
    }
    for (uint32_t node = 0; node < count; node++)
        parts.group[node] = group_of(parts.group, node);
    parts_sort(&parts);
    for (uint32_t i = 0; i < answer->contradiction_count; i++)
        for (uint32_t j = 0; j < answer->contradictions[i].node_count; j++)
            parts.refuted[parts.group[answer->contradictions[i].nodes[j]]] = true;
    parts_place(&parts, placement);
}
