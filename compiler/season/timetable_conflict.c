/* Minimal contradictions by a deletion filter: leave out one cause after the other, and for good where the
 * rest still contradicts itself. Source: J. W. Chinneck, "Feasibility and Infeasibility in Optimization",
 * Springer 2008, as described in manuals of solvers. It starts from the causes of one failed propagation,
 * which are few. */
#include "compiler/model/tolerance.h"
#include "compiler/season/timetable_conflict.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* Arcs the filter of one contradiction may look at, some tenths of a second: an argument of some thousand
 * causes over as many nodes. What is left untried then stays in, and `minimal` says so. */
enum { FILTER_WORK = 100 * 1000 * 1000 };

struct search {
    struct arena *arena;
    const struct timetable *timetable;
    const uint8_t *rank;         /* by cause */
    bool *active;                /* by cause */
    struct flow_variant variant; /* of the active ones */
};

/* --- parts of a timetable ------------------------------------------------------------------------------ */

/* Edges go with both their nodes, or not at all. */
struct timetable *timetable_part(struct arena *arena, const struct timetable *timetable, const bool *keep,
                                 uint32_t **node_of)
{
    struct timetable *part = ARENA_NEW(arena, struct timetable);
    struct timetable_node *nodes = ARENA_ARRAY(arena, timetable->node_count, struct timetable_node);
    struct timetable_edge *edges = ARENA_ARRAY(arena, timetable->edge_count, struct timetable_edge);
    uint32_t *number = ARENA_ARRAY(arena, timetable->node_count, uint32_t);
    *node_of = ARENA_ARRAY(arena, timetable->node_count, uint32_t);
    *part = *timetable;
    part->nodes = nodes;
    part->edges = edges;
    part->node_count = part->edge_count = 0;
    for (uint32_t node = 0; node < timetable->node_count; node++) {
        if (!keep[node])
            continue;
        number[node] = part->node_count;
        (*node_of)[part->node_count] = node;
        nodes[part->node_count++] = timetable->nodes[node];
    }
    for (uint32_t i = 0; i < timetable->edge_count; i++) {
        struct timetable_edge edge = timetable->edges[i];
        if (!keep[edge.from] || !keep[edge.to])
            continue;
        edge.from = number[edge.from];
        edge.to = number[edge.to];
        edges[part->edge_count++] = edge;
    }
    return part;
}

/* --- narrowing the causes ------------------------------------------------------------------------------ */

/* Leaves in force the causes up to the lowest rank that contradict each other; of these those of one
 * argument, unless it was too long to keep. */
static void keep_argued_causes(const struct search *search, struct flow *flow)
{
    uint32_t count = search->timetable->cause_count;
    bool rank_used[UINT8_MAX + 1] = {false}, feasible = true;
    for (uint32_t cause = 0; cause < count; cause++)
        rank_used[search->rank[cause]] = true;
    for (unsigned rank = 0; rank <= UINT8_MAX && feasible; rank++) {
        for (uint32_t cause = 0; cause < count && rank_used[rank]; cause++)
            search->active[cause] = search->rank[cause] <= rank;
        feasible = !rank_used[rank] || flow_feasible(flow, search->variant);
    }
    flow_load(flow, search->variant);
    struct timetable_story story = timetable_story_of(search->arena, flow);
    if (!story.count)
        return;
    memset(search->active, 0, count * sizeof *search->active);
    for (size_t i = 0; i < story.count; i++)
        if (story.items[i].kind != TIMETABLE_RECORD && story.items[i].cause != TIMETABLE_NONE)
            search->active[story.items[i].cause] = true;
}

struct candidate {
    uint32_t cause;
    uint8_t rank;
};

/* Harder ones first, later ones first among equals: the order in which they are tried for leaving out. */
static int candidate_compare(const void *a, const void *b)
{
    const struct candidate *one = a, *other = b;
    int rank = ascending(other->rank, one->rank);
    return rank ? rank : ascending(other->cause, one->cause);
}

/* False when the work ran out before every cause was tried. */
static bool keep_needed_causes(const struct search *search, struct flow *flow)
{
    struct candidate *candidates =
        ARENA_ARRAY(search->arena, search->timetable->cause_count, struct candidate);
    size_t count = 0;
    for (uint32_t cause = 0; cause < search->timetable->cause_count; cause++)
        if (search->active[cause])
            candidates[count++] = (struct candidate){cause, search->rank[cause]};
    if (count)
        qsort(candidates, count, sizeof *candidates, candidate_compare);
    size_t size = (size_t)flow->timetable->node_count + flow->timetable->edge_count;
    flow->work = 0;
    for (size_t i = 0; i < count; i++) {
        if (flow->work > FILTER_WORK)
            return false;
        search->active[candidates[i].cause] = false;
        flow->work += size;
        if (flow_feasible(flow, search->variant))
            search->active[candidates[i].cause] = true;
    }
    return true;
}

/* --- one contradiction --------------------------------------------------------------------------------- */

static uint32_t *flagged(struct arena *arena, const bool *flags, uint32_t flag_count, uint32_t *count)
{
    uint32_t *list = ARENA_ARRAY(arena, flag_count, uint32_t);
    *count = 0;
    for (uint32_t i = 0; i < flag_count; i++)
        if (flags[i])
            list[(*count)++] = i;
    return list;
}

/* Fewer causes, then fewer nodes, then fewer causes again: each step makes the next one cheap. The nodes of
 * each contradiction are set aside, and the rest is looked at again. */
void timetable_contradict(struct arena *arena, const struct timetable *timetable,
                          struct timetable_result *result)
{
    struct search search = {
        .arena = arena,
        .timetable = timetable,
        .rank = timetable->cause_rank ? timetable->cause_rank
                                      : ARENA_ARRAY(arena, timetable->cause_count, uint8_t),
        .active = ARENA_ARRAY(arena, timetable->cause_count, bool),
        .variant = FLOW_ALL,
    };
    search.variant.active = search.active;
    bool *keep = ARENA_ARRAY(arena, timetable->node_count, bool); /* not named by an earlier one */
    memset(keep, true, timetable->node_count * sizeof *keep);
    result->contradictions = ARENA_ARRAY(arena, TIMETABLE_CONTRADICTIONS, struct timetable_contradiction);
    for (;;) {
        uint32_t *node_of;
        const struct timetable *part = timetable_part(arena, timetable, keep, &node_of);
        struct flow *flow = flow_create(arena, part);
        result->more = !flow_feasible(flow, FLOW_ALL);
        if (!result->more || result->contradiction_count == TIMETABLE_CONTRADICTIONS)
            return;
        struct timetable_contradiction *contradiction =
            &result->contradictions[result->contradiction_count++];
        keep_argued_causes(&search, flow);

        /* The nodes that something in force speaks of: the others lie wherever they like. */
        bool *touched = ARENA_ARRAY(arena, timetable->node_count, bool);
        for (uint32_t i = 0; i < timetable->edge_count; i++) {
            const struct timetable_edge *edge = &timetable->edges[i];
            bool active = edge->cause == TIMETABLE_NONE || search.active[edge->cause];
            if (active && keep[edge->from] && keep[edge->to])
                touched[edge->from] = touched[edge->to] = true;
        }
        for (uint32_t i = 0; i < timetable->node_count; i++) {
            const struct timetable_node *node = &timetable->nodes[i];
            for (uint32_t j = 0; j < node->window_count && keep[i]; j++)
                touched[i] |=
                    node->windows[j].cause == TIMETABLE_NONE || search.active[node->windows[j].cause];
            for (const struct timetable_closure *set = node->closures; set && keep[i]; set = set->next)
                touched[i] |= set->cause == TIMETABLE_NONE || search.active[set->cause];
        }
        flow = flow_create(arena, timetable_part(arena, timetable, touched, &node_of));
        contradiction->minimal = keep_needed_causes(&search, flow);

        /* The story is of the part's nodes, the contradiction of the whole's. Without steps all nodes that
         * the causes speak of take part. An edge's `from` is a node of another step. */
        flow_load(flow, search.variant);
        struct timetable_story story = timetable_story_of(arena, flow);
        bool *named = story.count ? ARENA_ARRAY(arena, timetable->node_count, bool) : touched;
        for (size_t i = 0; i < story.count; i++) {
            struct timetable_step *step = &story.items[i];
            step->node = node_of[step->node];
            named[step->node] = true;
            if (step->from != TIMETABLE_NONE)
                step->from = node_of[step->from];
        }
        contradiction->steps = story.items;
        contradiction->step_count = (uint32_t)story.count;
        contradiction->ring_days = story.ring_days;
        contradiction->causes =
            flagged(arena, search.active, timetable->cause_count, &contradiction->cause_count);
        contradiction->nodes = flagged(arena, named, timetable->node_count, &contradiction->node_count);
        for (uint32_t i = 0; i < contradiction->node_count; i++)
            keep[contradiction->nodes[i]] = false;
        assert(contradiction->node_count > 0); /* so that this ends */
    }
}
