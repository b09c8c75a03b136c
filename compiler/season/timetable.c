#include "compiler/season/timetable.h"

#include "compiler/season/timetable_conflict.h"
#include "compiler/season/timetable_flow.h"

#include <assert.h>
#include <string.h>

static day_number *flow_days(struct arena *arena, const struct flow *flow)
{
    uint32_t count = flow->timetable->node_count;
    day_number *days = ARENA_ARRAY(arena, count, day_number);
    for (uint32_t node = 0; node < count; node++)
        days[node] = (day_number)(flow->direction * flow->level[node]);
    return days;
}

static day_number *greatest_solution(struct arena *arena, const struct timetable *timetable)
{
    struct flow *flow = flow_create(arena, timetable, FLOW_BACKWARD);
    flow_load(flow, FLOW_ALL);
    bool feasible = flow_run(flow);
    assert(feasible); /* a least solution exists */
    (void)feasible;
    return flow_days(arena, flow);
}

static day_number last_open(const struct timetable_node *node, day_number day)
{
    for (uint32_t agreed = 0, i = 0; agreed < node->condition_count; i = (i + 1) % node->condition_count) {
        const struct timetable_condition *condition = &node->conditions[i];
        day_number open = day;
        if (condition->kind == TIMETABLE_CLOSED_DAYS)
            (void)day_set_previous(condition->days, day,
                                   &open); /* the least solution's day is open at the latest */
        if (condition->kind == TIMETABLE_NOT_AFTER && condition->day < day)
            open = condition->day;
        agreed = open == day ? agreed + 1 : 1;
        day = open;
    }
    return day;
}

/* The edges that lead away from a node hold it back; those that lead to it are content with any later day. */
static day_number *slips_alone(struct arena *arena, const struct timetable *timetable,
                               const day_number *earliest)
{
    day_number *slip = ARENA_ARRAY(arena, timetable->node_count, day_number);
    for (uint32_t i = 0; i < timetable->node_count; i++)
        slip[i] = timetable->nodes[i].fixed ? timetable->nodes[i].day : timetable->last;
    for (uint32_t i = 0; i < timetable->edge_count; i++) {
        const struct timetable_edge *edge = &timetable->edges[i];
        int64_t latest = timetable_edge_last(edge, earliest[edge->to]);
        if (edge->from != edge->to && !timetable->nodes[edge->from].fixed && latest < slip[edge->from])
            slip[edge->from] = (day_number)latest;
    }
    for (uint32_t i = 0; i < timetable->node_count; i++)
        if (!timetable->nodes[i].fixed)
            slip[i] = last_open(&timetable->nodes[i], slip[i]);
    return slip;
}

void timetable_solve(struct arena *arena, const struct timetable *timetable, struct timetable_result *result)
{
    *result = (struct timetable_result){0};
    struct flow *flow = flow_create(arena, timetable, FLOW_FORWARD);
    result->feasible = flow_feasible(flow, FLOW_ALL);
    if (!result->feasible) {
        timetable_contradict(arena, timetable, result);
        return;
    }
    result->earliest = flow_days(arena, flow);
    result->latest = greatest_solution(arena, timetable);
    result->slip_alone = slips_alone(arena, timetable, result->earliest);
}

day_number *timetable_what_if(struct arena *arena, const struct timetable *timetable, uint32_t node,
                              day_number day)
{
    struct timetable changed = *timetable;
    struct timetable_node *nodes = ARENA_ARRAY(arena, timetable->node_count, struct timetable_node);
    memcpy(nodes, timetable->nodes, timetable->node_count * sizeof *nodes);
    nodes[node] = (struct timetable_node){.fixed = true, .day = day, .cause = TIMETABLE_NONE};
    changed.nodes = nodes;
    struct flow *flow = flow_create(arena, &changed, FLOW_FORWARD);
    return flow_feasible(flow, FLOW_ALL) ? flow_days(arena, flow) : NULL;
}
