/* Label-correcting propagation in passes, after A. Goldberg and T. Radzik, "A heuristic improvement of the
 * Bellman-Ford algorithm", Applied Mathematics Letters 6 (1993) (from memory): each pass scans the nodes
 * raised since they were last scanned, and those they will raise, in topological order of the arcs that
 * matter now. The first pass looks at all arcs, so a timetable without rings is settled by it alone, each arc
 * looked at twice.
 *
 * Moving on to an open day makes a ring of raised nodes no proof of a contradiction: the sets may still meet
 * later. So rings are looked for in the edges alone first (flow_ring): without that, a ring of many nodes
 * that asks for one more day each round would walk through the whole horizon. */
#include "compiler/season/timetable_flow.h"

#include <assert.h>

/* QUEUED: raised, to be scanned in the next pass. STACKED, then ORDERED: will be scanned in this one. */
enum { STATE_IDLE, STATE_QUEUED, STATE_STACKED, STATE_ORDERED };

/* Entries of one run. Enough for every node and arc several times over, and for a pair of treatments that
 * chase each other's weekdays through 300 years; a long ring that does so is told without its steps. */
enum { TRAIL_LEAST = 1 << 20, TRAIL_PER_ITEM = 8 };

/* Room for any variant, so that flow_load takes none. */
struct flow *flow_create(struct arena *arena, const struct timetable *timetable)
{
    size_t nodes = timetable->node_count;
    struct flow *flow = ARENA_NEW(arena, struct flow);
    *flow = (struct flow){
        .timetable = timetable,
        .arena = arena,
        .spans = ARENA_ARRAY(arena, nodes, struct flow_span),
        .arcs = ARENA_ARRAY(arena, timetable->edge_count, struct flow_arc),
        .arc_start = ARENA_ARRAY(arena, nodes + 1, uint32_t),
        .level = ARENA_ARRAY(arena, nodes, int64_t),
        .reason = ARENA_ARRAY(arena, nodes, uint32_t),
        .state = ARENA_ARRAY(arena, nodes, uint8_t),
        .pending = ARENA_ARRAY(arena, nodes, uint32_t),
        .order = ARENA_ARRAY(arena, nodes, uint32_t),
        .stack = ARENA_ARRAY(arena, nodes, uint32_t),
        .cursor = ARENA_ARRAY(arena, nodes, uint32_t),
    };
    return flow;
}

/* --- what is in force --------------------------------------------------------------------------------- */

bool flow_active(const struct flow *flow, uint32_t cause)
{
    return cause == TIMETABLE_NONE || !flow->variant.active || flow->variant.active[cause];
}

static int64_t easing(const struct flow *flow, enum timetable_kind kind, uint32_t cause)
{
    const struct flow_variant *variant = &flow->variant;
    bool eased =
        variant->ease_cause != TIMETABLE_NONE && variant->ease_cause == cause && variant->ease_kind == kind;
    return eased ? variant->ease_days : 0;
}

/* A wait of `days` as far as it is known, eased. Below what an arc can hold it bounds nothing anywhere. */
static int32_t least_eased(const struct flow *flow, const struct timetable_edge *edge, int32_t days,
                           int64_t least)
{
    if ((days < 0) == flow->variant.ease_back)
        least -= easing(flow, TIMETABLE_EDGE, edge->cause);
    return least < INT32_MIN ? INT32_MIN : (int32_t)least;
}

static bool edge_active(const struct flow *flow, const struct timetable_edge *edge)
{
    const struct timetable_node *nodes = flow->timetable->nodes;
    bool idle = flow->fixed && nodes[edge->from].fixed && nodes[edge->to].fixed;
    return flow_active(flow, edge->cause) && !idle;
}

/* The first and last level of each node, as the variant has them, and the arcs. Backward, the first and the
 * last level change places. */
void flow_load(struct flow *flow, struct flow_variant variant)
{
    const struct timetable *timetable = flow->timetable;
    bool forward = !variant.backward;
    flow->direction = forward ? FLOW_FORWARD : FLOW_BACKWARD;
    flow->variant = variant;
    for (uint32_t i = 0; i < timetable->node_count; i++) {
        /* From an answer known, the recorded day, or what conditions say, eased. */
        const struct timetable_node *node = &timetable->nodes[i];
        int64_t earliest = timetable->first, latest = timetable->last;
        flow->fixed |= node->fixed;
        if (variant.earliest) {
            earliest = variant.earliest[i];
            latest = variant.latest[i];
        } else if (node->fixed)
            earliest = latest = node->day;
        for (uint32_t j = 0; j < node->window_count && !node->fixed && !variant.earliest; j++) {
            const struct timetable_window *window = &node->windows[j];
            if (!flow_active(flow, window->cause))
                continue;
            int64_t first = window->first - easing(flow, TIMETABLE_NOT_BEFORE, window->cause);
            int64_t last = window->last + easing(flow, TIMETABLE_NOT_AFTER, window->cause);
            earliest = first > earliest ? first : earliest;
            latest = last < latest ? last : latest;
        }
        flow->spans[i] =
            forward ? (struct flow_span){earliest, latest} : (struct flow_span){-latest, -earliest};
    }

    /* Counting sort by tail: arc_start first holds the ends; filling in from the back makes them starts. */
    uint32_t *start = flow->arc_start, total = 0;
    for (uint32_t node = 0; node <= timetable->node_count; node++)
        start[node] = 0;
    for (uint32_t i = 0; i < timetable->edge_count; i++) {
        const struct timetable_edge *edge = &timetable->edges[i];
        start[forward ? edge->from : edge->to] += edge_active(flow, edge);
    }
    for (uint32_t node = 0; node <= timetable->node_count; node++)
        start[node] = total += start[node];
    for (uint32_t i = timetable->edge_count; i-- > 0;) {
        const struct timetable_edge *edge = &timetable->edges[i];
        if (!edge_active(flow, edge))
            continue;
        int32_t days = timetable_edge_days(edge);
        struct flow_arc arc = {.head = forward ? edge->to : edge->from,
                               .edge = i,
                               .least = least_eased(flow, edge, days, days),
                               .months = edge->from_months || edge->to_months};
        flow->arcs[--start[forward ? edge->from : edge->to]] = arc;
    }
}

/* --- raising a node ----------------------------------------------------------------------------------- */

day_number flow_day(int64_t day)
{
    if (day < INT32_MIN)
        return INT32_MIN;
    return day < DAY_NEVER ? (day_number)day : DAY_NEVER - 1;
}

/* Goes on by single sets until all agree with the one that moved it last. */
bool flow_open(const struct timetable_closure *closures, const bool *active, enum flow_direction direction,
               day_number *day)
{
    const struct timetable_closure *set = closures, *last = NULL;
    while (set) {
        day_number next = *day;
        if ((!active || set->cause == TIMETABLE_NONE || active[set->cause]) &&
            !(direction == FLOW_FORWARD ? day_set_next(set->days, *day, &next)
                                        : day_set_previous(set->days, *day, &next)))
            return false;
        if (next != *day)
            last = set;
        *day = next;
        set = set->next || !last ? set->next : closures;
        set = set == last ? NULL : set;
    }
    return true;
}

/* Puts the node on the first open level from `bound` on; false when there is none up to its limit. */
static bool raise_node(struct flow *flow, uint32_t node, int64_t bound, uint32_t edge, uint32_t antecedent)
{
    int64_t level = bound;
    bool placed = true;
    if (flow->bounded) {
        /* What is recorded lies on its day, open or closed. */
        const struct timetable_node *of = &flow->timetable->nodes[node];
        bool within = bound <= flow->spans[node].limit, open = true;
        if (within && !of->fixed) {
            day_number day = (day_number)(flow->direction * level);
            open = flow_open(of->closures, flow->variant.active, flow->direction, &day);
            level = flow->direction * (int64_t)day;
        }
        placed = within && open && level <= flow->spans[node].limit;
        if (flow->traced) {
            struct flow_entry entry = {
                .node = node,
                .edge = edge,
                .antecedent = antecedent,
                .before = flow_day(edge == TIMETABLE_NONE ? flow->timetable->first : flow->level[node]),
                .bound = flow_day(bound),
                .after = open ? flow_day(level) : DAY_NEVER};
            flow->entry_of[node] = (uint32_t)flow->trail.count;
            VECTOR_PUSH(flow->arena, &flow->trail, entry);
        }
    }
    flow->level[node] = level;
    flow->reason[node] = edge;
    return placed;
}

/* The level that the arc asks of its head. Where conditions do not count, levels are no days, and months are
 * the fewest days they can be. */
static int64_t arc_bound(const struct flow *flow, uint32_t tail, const struct flow_arc *arc)
{
    int64_t level = flow->level[tail];
    if (!arc->months || !flow->bounded)
        return level + arc->least;
    struct timetable_edge edge = flow->timetable->edges[arc->edge];
    edge.least = least_eased(flow, &edge, timetable_edge_days(&edge), edge.least);
    return flow->direction == FLOW_FORWARD ? timetable_edge_first(&edge, level)
                                           : -timetable_edge_last(&edge, -level);
}

/* --- passes ------------------------------------------------------------------------------------------- */

/* Depth-first search over the arcs that press, on a stack of its own; nodes enter `order` from its end, in
 * postorder, so that it reads in topological order. Later passes order only from nodes that still raise
 * another: most of a large plan then lies still. */
static void order_pass(struct flow *flow, bool first_pass)
{
    flow->order_start = flow->timetable->node_count;
    for (uint32_t i = flow->pending_count; i-- > 0;) {
        uint32_t root = flow->pending[i], depth = 0;
        if (flow->state[root] == STATE_ORDERED)
            continue;
        bool raises = first_pass;
        for (uint32_t j = flow->arc_start[root]; j < flow->arc_start[root + 1] && !raises; j++)
            raises = arc_bound(flow, root, &flow->arcs[j]) > flow->level[flow->arcs[j].head];
        flow->state[root] = raises ? STATE_STACKED : STATE_IDLE;
        flow->cursor[root] = flow->arc_start[root];
        flow->stack[depth] = root;
        depth += raises;
        while (depth) {
            uint32_t tail = flow->stack[depth - 1];
            if (flow->cursor[tail] == flow->arc_start[tail + 1]) {
                flow->order[--flow->order_start] = tail;
                flow->state[tail] = STATE_ORDERED;
                depth--;
                continue;
            }
            const struct flow_arc *arc = &flow->arcs[flow->cursor[tail]++];
            flow->work++;
            flow->rings = flow->rings || flow->state[arc->head] == STATE_STACKED;
            if (flow->state[arc->head] < STATE_STACKED &&
                (first_pass || arc_bound(flow, tail, arc) >= flow->level[arc->head])) {
                flow->state[arc->head] = STATE_STACKED;
                flow->cursor[arc->head] = flow->arc_start[arc->head];
                flow->stack[depth++] = arc->head;
            }
        }
    }
    flow->pending_count = 0;
}

/* False where a node finds no level, or the trail grew too long. */
static bool scan_pass(struct flow *flow)
{
    size_t items = (size_t)flow->timetable->node_count + flow->timetable->edge_count;
    size_t most = items > TRAIL_LEAST / TRAIL_PER_ITEM ? items * TRAIL_PER_ITEM : TRAIL_LEAST;
    for (uint32_t i = flow->order_start; i < flow->timetable->node_count; i++) {
        uint32_t tail = flow->order[i];
        flow->state[tail] = STATE_IDLE;
        for (uint32_t j = flow->arc_start[tail]; j < flow->arc_start[tail + 1]; j++) {
            const struct flow_arc *arc = &flow->arcs[j];
            int64_t bound = arc_bound(flow, tail, arc);
            flow->work++;
            if (bound <= flow->level[arc->head])
                continue;
            uint32_t antecedent = flow->traced ? flow->entry_of[tail] : TIMETABLE_NONE;
            if (!raise_node(flow, arc->head, bound, arc->edge, antecedent))
                return false;
            if (flow->state[arc->head] == STATE_IDLE) {
                flow->state[arc->head] = STATE_QUEUED;
                flow->pending[flow->pending_count++] = arc->head;
            }
        }
        /* A trail that grows without end would take the memory of the whole: it is given up. */
        flow->trail_full = flow->traced && flow->trail.count > most;
        if (flow->trail_full)
            return false;
    }
    return true;
}

/* Every node at the first level that it may have; those queued that others may wait for. The days of an
 * answer known are open. */
static bool enter_nodes(struct flow *flow, bool bounded)
{
    flow->bounded = bounded;
    flow->rings = flow->trail_full = false;
    flow->trail.count = 0;
    if (flow->traced && !flow->entry_of)
        flow->entry_of = ARENA_ARRAY(flow->arena, flow->timetable->node_count, uint32_t);
    flow->pending_count = 0;
    for (uint32_t i = 0, count = flow->timetable->node_count; i < count; i++) {
        uint32_t node = flow->direction == FLOW_FORWARD ? i : count - 1 - i;
        bool waited_for = flow->arc_start[node] < flow->arc_start[node + 1];
        flow->state[node] = waited_for ? STATE_QUEUED : STATE_IDLE;
        if (waited_for)
            flow->pending[flow->pending_count++] = node;
        flow->level[node] = bounded ? flow->spans[node].start : 0;
        flow->reason[node] = TIMETABLE_NONE;
        if (bounded && !flow->variant.earliest &&
            !raise_node(flow, node, flow->level[node], TIMETABLE_NONE, TIMETABLE_NONE))
            return false;
    }
    return true;
}

bool flow_run(struct flow *flow)
{
    if (!enter_nodes(flow, true))
        return false;
    for (bool first_pass = true; flow->pending_count; first_pass = false) {
        order_pass(flow, first_pass);
        if (!scan_pass(flow))
            return false;
    }
    return true;
}

/* --- rings -------------------------------------------------------------------------------------------- */

/* Edges alone raise the nodes, so `reason` can only close a ring whose waits add up to more than 0 (the
 * parent graph of Bellman and Ford's algorithm). With such a ring the passes never end and its nodes rise
 * beyond any path without a ring, so the reasons come to close one; looking for it after passes 1, 2, 4, 8,
 * ... costs little. */
uint32_t flow_ring(struct flow *flow)
{
    assert(flow->direction == FLOW_FORWARD);
    if (!flow->timetable->edge_count)
        return TIMETABLE_NONE;
    enter_nodes(flow, false);
    for (uint64_t pass = 1; flow->pending_count; pass++) {
        order_pass(flow, pass == 1);
        scan_pass(flow);
        if ((pass & (pass - 1)) != 0)
            continue;
        uint32_t *walk_of = flow->cursor; /* the walk on which a node was met */
        for (uint32_t node = 0; node < flow->timetable->node_count; node++)
            walk_of[node] = TIMETABLE_NONE;
        for (uint32_t walk = 0; walk < flow->timetable->node_count; walk++) {
            uint32_t node = walk;
            while (walk_of[node] == TIMETABLE_NONE && flow->reason[node] != TIMETABLE_NONE) {
                walk_of[node] = walk;
                node = flow->timetable->edges[flow->reason[node]].from;
            }
            if (walk_of[node] == walk)
                return node;
        }
    }
    return TIMETABLE_NONE;
}

/* Most timetables have no arcs that lead round: one pass over all, in topological order, is all they take.
 * From an answer known only what moves is looked at first, which mostly leaves nothing to do. */
bool flow_solve(struct flow *flow)
{
    bool known = flow->variant.earliest != NULL;
    if (!enter_nodes(flow, true))
        return false;
    for (int pass = 0; flow->pending_count; pass++) {
        order_pass(flow, pass == known);
        if (flow->rings && flow->direction == FLOW_FORWARD)
            return flow_ring(flow) == TIMETABLE_NONE && flow_run(flow);
        if (!scan_pass(flow))
            return false;
    }
    return true;
}

bool flow_feasible(struct flow *flow, struct flow_variant variant)
{
    flow_load(flow, variant);
    return flow_solve(flow);
}
