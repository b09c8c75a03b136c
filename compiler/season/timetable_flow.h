/* Propagation in one direction, behind timetable.h: raises every node's day only as far as something demands.
 * The greatest solution is the least one of the mirrored timetable: edges turned round, days counted
 * backwards. */
#ifndef PRILL_SEASON_TIMETABLE_FLOW_H
#define PRILL_SEASON_TIMETABLE_FLOW_H

#include "compiler/season/timetable.h"

enum flow_direction { FLOW_FORWARD = 1, FLOW_BACKWARD = -1 };

/* What of a timetable is in force. */
struct flow_variant {
    const bool *active;            /* by cause; NULL: every cause */
    enum timetable_kind ease_kind; /* of ease_cause, eased by ease_days >= 0 */
    uint32_t ease_cause;           /* TIMETABLE_NONE: nothing is eased */
    int64_t ease_days;
    bool ease_back; /* of edges: those of fewer than 0 days; otherwise the others. One cause may have both. */
    /* By node: days of the least and of the greatest solution without some of the edges, from which this one
     * goes on; NULL: from the conditions. */
    const day_number *earliest, *latest;
    bool backward; /* for the greatest solution */
};

#define FLOW_ALL ((struct flow_variant){.ease_cause = TIMETABLE_NONE})

/* A level is a day number times `direction`: levels only ever rise. 64 bits hold every sum of waits. */
struct flow_span {
    int64_t start, limit;
};

struct flow_arc {
    uint32_t head, edge;
    int32_t least; /* days; with months, the fewest there can be */
    bool months;
};

/* A node was raised. Entry i < node_count is the start of node i. */
struct flow_entry {
    uint32_t node;
    uint32_t edge;       /* TIMETABLE_NONE at the start */
    uint32_t antecedent; /* the entry of the edge's tail that this one rests on */
    day_number before;   /* the node's day until then */
    day_number bound;    /* what the edge demands */
    day_number after;    /* the next open day; DAY_NEVER: none */
};

struct flow {
    const struct timetable *timetable;
    enum flow_direction direction;
    struct flow_variant variant;
    struct flow_span *spans;
    struct flow_arc *arcs; /* by tail: arc_start[node] .. arc_start[node + 1] */
    uint32_t *arc_start;
    bool fixed; /* some node is */

    int64_t *level;   /* by node */
    uint32_t *reason; /* by node: the edge that raised it last; TIMETABLE_NONE */
    bool bounded;     /* conditions count; otherwise only edges do, from level 0 */
    bool rings;       /* a pass met arcs that lead round */
    size_t work;      /* arcs looked at, since the flow was made */

    uint8_t *state; /* where a node stands, see timetable_flow.c */
    uint32_t *pending, *order, *stack, *cursor;
    uint32_t pending_count, order_start;

    bool traced; /* keep entries; set before flow_run */
    struct arena *arena;
    struct {
        struct flow_entry *items;
        size_t count, capacity;
    } trail;
    uint32_t *entry_of; /* by node: its newest entry */
    bool trail_full;    /* the run was given up because the trail grew too long */
};

/* Room for any variant of the timetable, in both directions; flow_load fills it and may be called again and
 * again. */
struct flow *flow_create(struct arena *arena, const struct timetable *timetable);
void flow_load(struct flow *flow, struct flow_variant variant);

/* False when some node finds no day; with `traced` the trail's last entry is then the one that failed. Of
 * arcs without such a ring as flow_ring finds: with one it takes as many passes as there are days. */
bool flow_run(struct flow *flow);

/* Whether what is loaded has a solution: no such ring, and a day for every node, whose levels then stand in
 * `level`. Backward flows are run where a forward one has shown that there is no ring. */
bool flow_solve(struct flow *flow);

/* A node on a ring of edges whose waits add up to more than 0 (with `reason` leading round the ring), or
 * TIMETABLE_NONE. Months count as the fewest days they can be, so that such a ring has no solution in any
 * part of the year. Forward flows only. */
uint32_t flow_ring(struct flow *flow);

/* Whether the variant has a solution. */
bool flow_feasible(struct flow *flow, struct flow_variant variant);

/* The first day from `*day` on, in the direction, that all of these sets leave open which are active, by
 * cause (NULL: all of them); false, and a day on the way, where there is none. */
bool flow_open(const struct timetable_closure *closures, const bool *active, enum flow_direction direction,
               day_number *day);

/* The nearest day number short of DAY_NEVER, for days that are told and not reckoned with. */
day_number flow_day(int64_t day);

/* Whether the edge or condition of this cause counts in the variant. */
bool flow_active(const struct flow *flow, uint32_t cause);

#endif
