#include "compiler/season/timetable.h"

#include "compiler/season/timetable_conflict.h"
#include "compiler/season/timetable_flow.h"

#include <string.h>

/* Into `*days`, which are made where there are none yet. */
static bool days_take(struct arena *arena, struct flow *flow, day_number **days)
{
    bool solved = flow_solve(flow);
    if (solved && !*days)
        *days = ARENA_ARRAY(arena, flow->timetable->node_count, day_number);
    for (uint32_t node = 0; node < flow->timetable->node_count && solved; node++)
        (*days)[node] = (day_number)(flow->direction * flow->level[node]);
    return solved;
}

/* What a run needs is given back with it. */
static day_number *least_by(struct arena *arena, const struct timetable *timetable,
                            struct flow_variant variant)
{
    struct arena *scratch = arena_scratch(arena);
    struct arena_mark mark = arena_mark(scratch);
    day_number *days = NULL;
    struct flow *flow = flow_create(scratch, timetable);
    flow_load(flow, variant);
    days_take(arena, flow, &days);
    arena_rewind(scratch, mark);
    return days;
}

/* Both solutions by one flow; the greatest one exists where the least does. */
bool timetable_tighten(struct arena *arena, const struct timetable *timetable,
                       struct timetable_result *result, bool reasons)
{
    struct arena *scratch = arena_scratch(arena);
    struct arena_mark mark = arena_mark(scratch);
    struct flow *flow = flow_create(scratch, timetable);
    struct flow_variant variant = FLOW_ALL;
    variant.earliest = result->earliest;
    variant.latest = result->latest;
    flow_load(flow, variant);
    result->feasible = days_take(arena, flow, &result->earliest);
    if (result->feasible) {
        flow_mirror(flow);
        result->feasible = days_take(arena, flow, &result->latest);
    }
    arena_rewind(scratch, mark);
    if (result->feasible)
        return true;
    *result = (struct timetable_result){0};
    if (reasons)
        timetable_contradict(arena, timetable, result);
    return false;
}

void timetable_solve(struct arena *arena, const struct timetable *timetable, struct timetable_result *result)
{
    *result = (struct timetable_result){0};
    timetable_tighten(arena, timetable, result, true);
}

day_number *timetable_least(struct arena *arena, const struct timetable *timetable)
{
    return least_by(arena, timetable, FLOW_ALL);
}

day_number *timetable_least_without(struct arena *arena, const struct timetable *timetable, uint32_t cause)
{
    struct flow_variant variant = FLOW_ALL;
    bool *active = ARENA_ARRAY(arena, timetable->cause_count, bool);
    for (uint32_t i = 0; i < timetable->cause_count; i++)
        active[i] = i != cause;
    variant.active = active;
    return least_by(arena, timetable, variant);
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
