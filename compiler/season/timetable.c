#include "compiler/season/timetable.h"

#include "compiler/season/timetable_conflict.h"
#include "compiler/season/timetable_flow.h"

#include <assert.h>
#include <string.h>

/* What a run needs is given back with it. */
static day_number *days_by(struct arena *arena, const struct timetable *timetable,
                           enum flow_direction direction, struct flow_variant variant)
{
    struct arena *scratch = arena_scratch(arena);
    struct arena_mark mark = arena_mark(scratch);
    struct flow *flow = flow_create(scratch, timetable, direction);
    flow_load(flow, variant);
    bool rings = direction == FLOW_FORWARD && flow_ring(flow) != TIMETABLE_NONE;
    day_number *days = NULL;
    if (!rings && flow_run(flow)) {
        days = ARENA_ARRAY(arena, timetable->node_count, day_number);
        for (uint32_t node = 0; node < timetable->node_count; node++)
            days[node] = (day_number)(direction * flow->level[node]);
    }
    arena_rewind(scratch, mark);
    return days;
}

day_number *timetable_greatest(struct arena *arena, const struct timetable *timetable)
{
    return days_by(arena, timetable, FLOW_BACKWARD, FLOW_ALL);
}

void timetable_solve(struct arena *arena, const struct timetable *timetable, struct timetable_result *result)
{
    *result = (struct timetable_result){.earliest = timetable_least(arena, timetable)};
    result->feasible = result->earliest != NULL;
    if (!result->feasible) {
        timetable_contradict(arena, timetable, result);
        return;
    }
    result->latest = timetable_greatest(arena, timetable);
    assert(result->latest); /* a least solution exists */
}

day_number *timetable_least(struct arena *arena, const struct timetable *timetable)
{
    return days_by(arena, timetable, FLOW_FORWARD, FLOW_ALL);
}

day_number *timetable_least_without(struct arena *arena, const struct timetable *timetable, uint32_t cause)
{
    struct flow_variant variant = FLOW_ALL;
    bool *active = ARENA_ARRAY(arena, timetable->cause_count, bool);
    for (uint32_t i = 0; i < timetable->cause_count; i++)
        active[i] = i != cause;
    variant.active = active;
    return days_by(arena, timetable, FLOW_FORWARD, variant);
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
