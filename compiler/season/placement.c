/* Days for nodes, also where not all can have one: what hangs together is placed or left out as a whole. */
#include "compiler/season/dating.h"

/* A trial is one of many: it finds whether there are days, and which, and goes without what costs more. */
void placement_make(struct dating *dating)
{
    uint32_t count = dating->node_count;
    bool brief = dating->trial && !dating->trial->reasons;
    dating->question.nodes = dating->nodes;
    dating->question.node_count = count;
    dating->question.edges = dating->edges.items;
    dating->question.edge_count = (uint32_t)dating->edges.count;
    if (timetable_tighten(dating->arena, &dating->question, &dating->answer, !brief)) {
        dating->earliest = dating->answer.earliest;
        dating->latest = dating->answer.latest;
        return;
    }
    dating->earliest = ARENA_ARRAY(dating->arena, count, day_number);
    dating->latest = ARENA_ARRAY(dating->arena, count, day_number);
    for (uint32_t node = 0; node < count; node++)
        dating->earliest[node] = dating->latest[node] =
            dating->nodes[node].fixed ? dating->nodes[node].day : DAY_NEVER;
    if (brief)
        return;

    /* Each part of the timetable that edges tie together is asked as a timetable by itself. A fixed node ties
     * nothing: it is copied into a part for each edge to it. */
    struct arena *scratch = dating->scratch;
    struct arena_mark mark = arena_mark(scratch);
    const struct timetable_node *nodes = dating->nodes;
    const struct timetable_edge *edges = dating->edges.items;
    uint32_t *group = groups_new(scratch, count);
    uint32_t *edge_group = ARENA_ARRAY(scratch, dating->edges.count, uint32_t);
    uint32_t *number = ARENA_ARRAY(scratch, count, uint32_t); /* by node: its number in its part */
    for (size_t i = 0; i < dating->edges.count; i++)
        if (!nodes[edges[i].from].fixed && !nodes[edges[i].to].fixed)
            group_join(group, edges[i].from, edges[i].to);
    for (uint32_t node = 0; node < count; node++)
        group[node] = nodes[node].fixed ? NO_KEY : group_of(group, node);
    for (size_t i = 0; i < dating->edges.count; i++)
        edge_group[i] = group[nodes[edges[i].from].fixed ? edges[i].to : edges[i].from];
    struct keyed members = sort_by_key(scratch, group, count, count);
    struct keyed ties = sort_by_key(scratch, edge_group, dating->edges.count, count);
    for (uint32_t part = 0; part < count; part++) {
        const uint32_t *member = members.items + members.start[part], *tie = ties.items + ties.start[part];
        uint32_t member_count = members.start[part + 1] - members.start[part];
        uint32_t tie_count = ties.start[part + 1] - ties.start[part];
        struct arena_mark part_mark = arena_mark(scratch);
        struct timetable_node *part_nodes =
            ARENA_ARRAY(scratch, (size_t)member_count + tie_count, struct timetable_node);
        struct timetable_edge *part_edges = ARENA_ARRAY(scratch, tie_count, struct timetable_edge);
        struct timetable table = dating->question;
        table.nodes = part_nodes;
        table.edges = part_edges;
        table.node_count = table.edge_count = 0;
        for (uint32_t i = 0; i < member_count; i++) {
            number[member[i]] = table.node_count;
            part_nodes[table.node_count++] = nodes[member[i]];
        }
        for (uint32_t i = 0; i < tie_count; i++) {
            struct timetable_edge edge = edges[tie[i]];
            uint32_t *ends[] = {&edge.from, &edge.to};
            for (int j = 0; j < 2; j++)
                if (nodes[*ends[j]].fixed) {
                    part_nodes[table.node_count] = nodes[*ends[j]];
                    *ends[j] = table.node_count++;
                } else
                    *ends[j] = number[*ends[j]];
            part_edges[table.edge_count++] = edge;
        }
        struct timetable_result answer = {0};
        timetable_tighten(dating->arena, &table, &answer, false);
        for (uint32_t i = 0; i < member_count && answer.feasible; i++) {
            dating->earliest[member[i]] = answer.earliest[i];
            dating->latest[member[i]] = answer.latest[i];
        }
        arena_rewind(scratch, part_mark);
    }
    arena_rewind(scratch, mark);
}
