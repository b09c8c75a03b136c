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

/* The days of each node by its own conditions; false where some node has none. Most nodes end with the
 * season, and the sets that close their days are their neighbour's: the open day before the end is looked for
 * once. */
static bool days_alone(struct arena *arena, const struct timetable *timetable,
                       struct timetable_result *result)
{
    bool feasible = true, open = true;
    const struct timetable_closure *closures = NULL;
    day_number end = DAY_NEVER, open_end = end;
    result->earliest = ARENA_ARRAY(arena, timetable->node_count, day_number);
    result->latest = ARENA_ARRAY(arena, timetable->node_count, day_number);
    for (uint32_t i = 0; i < timetable->node_count && feasible; i++) {
        const struct timetable_node *node = &timetable->nodes[i];
        day_number first = timetable->first, last = timetable->last;
        for (uint32_t j = 0; j < node->window_count; j++) {
            first = node->windows[j].first > first ? node->windows[j].first : first;
            last = node->windows[j].last < last ? node->windows[j].last : last;
        }
        if (!node->fixed && (node->closures != closures || last != end)) {
            closures = node->closures;
            end = open_end = last;
            open = flow_open(closures, NULL, FLOW_BACKWARD, &open_end);
        }
        if (node->fixed)
            first = last = node->day;
        else {
            last = open_end;
            feasible = open && first <= last && flow_open(node->closures, NULL, FLOW_FORWARD, &first) &&
                       first <= last;
        }
        result->earliest[i] = first;
        result->latest[i] = last;
    }
    return feasible;
}

/* Both solutions by one flow, from each node's days alone on; the greatest exists where the least does. */
bool timetable_tighten(struct arena *arena, const struct timetable *timetable,
                       struct timetable_result *result, bool reasons)
{
    struct arena *scratch = arena_scratch(arena);
    struct arena_mark mark = arena_mark(scratch);
    result->feasible = result->earliest || days_alone(arena, timetable, result);
    if (result->feasible && timetable->edge_count) {
        struct flow *flow = flow_create(scratch, timetable);
        struct flow_variant variant = FLOW_ALL;
        variant.earliest = result->earliest;
        variant.latest = result->latest;
        for (int back = 0; back < 2 && result->feasible; back++) {
            variant.backward = back;
            flow_load(flow, variant);
            result->feasible = days_take(arena, flow, back ? &result->latest : &result->earliest);
        }
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
