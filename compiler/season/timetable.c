#include "compiler/season/timetable.h"

#include "compiler/season/timetable_conflict.h"
#include "compiler/season/timetable_flow.h"

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
        variant.backward = true;
        flow_load(flow, variant);
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

/* What a run needs is given back with it. */
day_number *timetable_least_without(struct arena *arena, const struct timetable *timetable, uint32_t cause)
{
    struct arena *scratch = arena_scratch(arena);
    struct arena_mark mark = arena_mark(scratch);
    struct flow_variant variant = FLOW_ALL;
    struct flow *flow = flow_create(scratch, timetable);
    bool *active = ARENA_ARRAY(scratch, timetable->cause_count, bool);
    day_number *days = NULL;
    for (uint32_t i = 0; i < timetable->cause_count; i++)
        active[i] = i != cause;
    variant.active = active;
    flow_load(flow, variant);
    days_take(arena, flow, &days);
    arena_rewind(scratch, mark);
    return days;
}
