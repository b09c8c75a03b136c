/* The argument by which propagation fails, told from its start.
 * Every raise of a node rests on one earlier raise, so the argument is a chain and not a tree. */
#include "compiler/season/timetable_conflict.h"

#include <assert.h>

struct telling {
    struct arena *arena;
    const struct flow *flow;
    struct timetable_story *story;
    bool *edge_reported;    /* by edge */
    bool *closure_reported; /* by the flow's number of the node's first closure, plus the closure's own */
    size_t *closure_start;
    uint32_t skipped;
};

static void tell(struct telling *telling, struct timetable_step step)
{
    step.skipped = telling->skipped;
    telling->skipped = 0;
    VECTOR_PUSH(telling->arena, telling->story, step);
}

/* A record is its own bound; where nothing is as tight as the horizon, that is. */
static void tell_bound(struct telling *telling, struct timetable_step step, enum timetable_kind kind)
{
    const struct timetable *timetable = telling->flow->timetable;
    const struct timetable_node *node = &timetable->nodes[step.node];
    const struct timetable_window *window = NULL; /* the tightest in force */
    bool start = kind == TIMETABLE_NOT_BEFORE;
    day_number day = start ? timetable->first : timetable->last;
    for (uint32_t i = 0; i < node->window_count; i++) {
        const struct timetable_window *other = &node->windows[i];
        if (!flow_active(telling->flow, other->cause) || !(start ? other->first > day : other->last < day))
            continue;
        window = other;
        day = start ? other->first : other->last;
    }
    step.from = TIMETABLE_NONE;
    if (node->fixed) {
        step.kind = TIMETABLE_RECORD;
        step.cause = node->cause;
        step.after = node->day;
    } else if (window) {
        step.kind = kind;
        step.cause = window->cause;
        step.after = day;
    } else {
        step.kind = start ? TIMETABLE_HORIZON_START : TIMETABLE_HORIZON_END;
        step.cause = TIMETABLE_NONE;
        step.after = day;
    }
    tell(telling, step);
}

/* Sets that close days together are told together or not at all: again only where one of them is new, or at
 * the end. */
static void tell_closed(struct telling *telling, const struct flow_entry *entry, bool final)
{
    const struct timetable_closure *closures = telling->flow->timetable->nodes[entry->node].closures, *set;
    if (entry->after == entry->bound)
        return;
    size_t start = telling->closure_start[entry->node], i = 0;
    bool *reported = telling->closure_reported + start;
    bool *moved = ARENA_ARRAY(telling->arena, telling->closure_start[entry->node + 1] - start, bool);
    bool skip = !final;
    /* The sets that take the node from entry->bound to entry->after. Goes by single sets until all agree, as
     * the propagation did; a set that never moves the day is no part of the argument. */
    day_number day = entry->bound;
    while (day < entry->after)
        for (set = closures, i = 0; set && day < entry->after; set = set->next, i++) {
            if (!flow_active(telling->flow, set->cause))
                continue;
            day_number open = DAY_NEVER;
            (void)day_set_next(set->days, day, &open);
            moved[i] = moved[i] || open > day;
            day = open;
        }
    for (set = closures, i = 0; set; set = set->next, i++)
        skip = skip && (!moved[i] || reported[i]);
    for (set = closures, i = 0; set; set = set->next, i++) {
        if (!moved[i])
            continue;
        reported[i] = true;
        if (skip)
            telling->skipped++;
        else
            tell(telling, (struct timetable_step){.kind = TIMETABLE_CLOSED_DAYS,
                                                  .cause = set->cause,
                                                  .node = entry->node,
                                                  .from = TIMETABLE_NONE,
                                                  .before = entry->bound,
                                                  .after = entry->after});
    }
}

/* From the entry that failed back to the start it rests on, then told the other way round. */
static void tell_trail(struct telling *telling)
{
    const struct timetable *timetable = telling->flow->timetable;
    const struct flow_entry *trail = telling->flow->trail.items;
    uint32_t last = (uint32_t)telling->flow->trail.count - 1;
    uint32_t length = 1;
    size_t closures = 0;
    for (uint32_t at = last; trail[at].edge != TIMETABLE_NONE; at = trail[at].antecedent)
        length++;
    uint32_t *chain = ARENA_ARRAY(telling->arena, length, uint32_t);
    for (uint32_t at = last, i = length; i-- > 0; at = trail[at].antecedent)
        chain[i] = at;
    telling->closure_start = ARENA_ARRAY(telling->arena, (size_t)timetable->node_count + 1, size_t);
    for (uint32_t node = 0; node < timetable->node_count; node++) {
        for (const struct timetable_closure *set = timetable->nodes[node].closures; set; set = set->next)
            closures++;
        telling->closure_start[node + 1] = closures;
    }
    telling->closure_reported = ARENA_ARRAY(telling->arena, closures, bool);
    telling->edge_reported = ARENA_ARRAY(telling->arena, timetable->edge_count, bool);
    for (uint32_t i = 0; i < length; i++) {
        const struct flow_entry *entry = &trail[chain[i]];
        bool final = i + 1 == length;
        if (entry->edge == TIMETABLE_NONE)
            tell_bound(telling, (struct timetable_step){.node = entry->node, .before = entry->before},
                       TIMETABLE_NOT_BEFORE);
        else if (telling->edge_reported[entry->edge] && !final)
            telling->skipped++; /* each edge once, but for the last step; what is left out is counted */
        else {
            const struct timetable_edge *edge = &timetable->edges[entry->edge];
            telling->edge_reported[entry->edge] = true;
            tell(telling, (struct timetable_step){.kind = TIMETABLE_EDGE,
                                                  .cause = edge->cause,
                                                  .node = entry->node,
                                                  .from = edge->from,
                                                  .least = timetable_edge_days(edge),
                                                  .wait = timetable_edge_wait(edge),
                                                  .before = entry->before,
                                                  .after = entry->bound});
        }
        tell_closed(telling, entry, final);
        if (final && entry->after != DAY_NEVER)
            tell_bound(telling, (struct timetable_step){.node = entry->node, .before = entry->after},
                       TIMETABLE_NOT_AFTER);
    }
}

/* A ring of edges alone is the whole story; else the run is made again and its trail kept. */
struct timetable_story timetable_story_of(struct arena *arena, struct flow *flow)
{
    struct timetable_story story = {0};
    struct telling telling = {.arena = arena, .flow = flow, .story = &story};
    uint32_t node = flow_ring(flow);
    if (node == TIMETABLE_NONE) {
        flow->traced = true;
        bool feasible = flow_run(flow);
        flow->traced = false;
        assert(!feasible);
        if (!feasible && !flow->trail_full)
            tell_trail(&telling);
        return story;
    }

    /* Round the ring once, from the day that its first node may have: the one with the lowest number, so that
     * the story does not depend on where the ring was found. */
    const struct timetable_edge *edges = flow->timetable->edges;
    uint32_t start = node, from = node, length = 0;
    do {
        from = edges[flow->reason[from]].from;
        start = from < start ? from : start;
        length++;
    } while (from != node);
    uint32_t *ring = ARENA_ARRAY(arena, length, uint32_t);
    for (uint32_t at = start, i = length; i-- > 0; at = edges[flow->reason[at]].from)
        ring[i] = flow->reason[at];
    int64_t days = 0;
    for (uint32_t i = 0; i < length; i++) {
        const struct timetable_edge *edge = &edges[ring[i]];
        days += timetable_edge_days(edge);
        tell(&telling, (struct timetable_step){.kind = TIMETABLE_EDGE,
                                               .cause = edge->cause,
                                               .node = edge->to,
                                               .from = edge->from,
                                               .least = timetable_edge_days(edge),
                                               .wait = timetable_edge_wait(edge),
                                               .before = flow_day(flow->spans[edge->to].start),
                                               .after = flow_day(flow->spans[start].start + days)});
    }
    story.ring_days = flow_day(days);
    return story;
}
