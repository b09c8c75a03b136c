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

day_number *timetable_greatest(struct arena *arena, const struct timetable *timetable)
{
    struct flow *flow = flow_create(arena, timetable, FLOW_BACKWARD);
    flow_load(flow, FLOW_ALL);
    return flow_run(flow) ? flow_days(arena, flow) : NULL;
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
    result->latest = timetable_greatest(arena, timetable);
    assert(result->latest); /* a least solution exists */
}

day_number *timetable_least(struct arena *arena, const struct timetable *timetable)
{
    struct flow *flow = flow_create(arena, timetable, FLOW_FORWARD);
    return flow_feasible(flow, FLOW_ALL) ? flow_days(arena, flow) : NULL;
}

day_number *timetable_least_without(struct arena *arena, const struct timetable *timetable, uint32_t cause)
{
    struct flow *flow = flow_create(arena, timetable, FLOW_FORWARD);
    struct flow_variant variant = FLOW_ALL;
    bool *active = ARENA_ARRAY(arena, timetable->cause_count, bool);
    for (uint32_t i = 0; i < timetable->cause_count; i++)
        active[i] = i != cause;
    variant.active = active;
    return flow_feasible(flow, variant) ? flow_days(arena, flow) : NULL;
}

day_number *timetable_what_if(struct arena *arena, const struct timetable *timetable, uint32_t node,
                              day_number day)
{
    struct timetable changed = *timetable;
    struct timetable_node *nodes = ARENA_ARRAY(arena, timetable->node_count, struct timetable_node);
    memcpy(nodes, timetable->nodes, timetable->node_count * sizeof *nodes);
    nodes[node] = (struct timetable_node){.fixed = true, .day = day, .cause = TIMETABLE_NONE};
    changed.nodes = nodes;
    return timetable_least(arena, &changed);
}
