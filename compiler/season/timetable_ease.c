/* By how much one statement must give for a contradiction to vanish. */
#include "compiler/season/timetable_conflict.h"

/* The fewest days from *days on that are enough for the nodes in `keep`; by halving, as more never hurts. */
static bool ease_within(struct arena *arena, const struct timetable *timetable, const bool *keep,
                        struct flow_variant variant, int64_t *days)
{
    uint32_t *node_of;
    const struct timetable *part = timetable_part(arena, timetable, keep, &node_of);
    struct flow *flow = flow_create(arena, part);
    variant.ease_days = *days;
    if (flow_feasible(flow, variant))
        return true;

    enum timetable_kind kind = variant.ease_kind;
    int64_t low = *days, high = 0; /* eased by `high` days, the statement binds nothing */
    /* The outermost days that any node may have: an edge longer than between them binds nothing. */
    int64_t lowest = part->first, highest = part->last;
    for (uint32_t i = 0; i < part->node_count; i++) {
        const struct timetable_node *node = &part->nodes[i];
        for (uint32_t j = 0; j < node->window_count && kind != TIMETABLE_EDGE; j++) {
            const struct timetable_window *window = &node->windows[j];
            int64_t eased = kind == TIMETABLE_NOT_BEFORE ? (int64_t)window->first - part->first
                                                         : (int64_t)part->last - window->last;
            if (window->cause == variant.ease_cause && eased > high)
                high = eased;
        }
        if (node->fixed && node->day < lowest)
            lowest = node->day;
        if (node->fixed && node->day > highest)
            highest = node->day;
    }
    for (uint32_t i = 0; i < part->edge_count; i++) {
        const struct timetable_edge *edge = &part->edges[i];
        /* More days than the months of a wait can be; 0 for those of an upper bound, which take days away. */
        int64_t months = edge->from_months - edge->to_months;
        int64_t eased = edge->least + (months > 0 ? 31 * months : 0) + highest - lowest;
        if (kind == TIMETABLE_EDGE && edge->cause == variant.ease_cause &&
            (timetable_edge_days(edge) < 0) == variant.ease_back && eased > high)
            high = eased;
    }
    variant.ease_days = high;
    if (high <= low || !flow_feasible(flow, variant))
        return false;
    while (high - low > 1) {
        variant.ease_days = low + (high - low) / 2;
        if (flow_feasible(flow, variant))
            high = variant.ease_days;
        else
            low = variant.ease_days;
    }
    *days = high;
    return true;
}

/* A closed day or a record is eased by no number of days. */
bool timetable_ease(struct arena *arena, const struct timetable *timetable,
                    const struct timetable_result *result, uint32_t index, const struct timetable_step *step,
                    int32_t *days)
{
    enum timetable_kind kind = step->kind;
    if (step->cause == TIMETABLE_NONE ||
        (kind != TIMETABLE_NOT_BEFORE && kind != TIMETABLE_NOT_AFTER && kind != TIMETABLE_EDGE))
        return false;
    struct flow_variant variant = {
        .ease_kind = kind, .ease_cause = step->cause, .ease_back = step->least < 0};
    int64_t needed = 0;
    bool *keep = ARENA_ARRAY(arena, timetable->node_count, bool);
    const struct timetable_contradiction *contradictions = result->contradictions;
    for (uint32_t i = 0; i < contradictions[index].node_count; i++)
        keep[contradictions[index].nodes[i]] = true;
    /* Few nodes first: what they need is a lower bound, and mostly enough for the others too. */
    if (!ease_within(arena, timetable, keep, variant, &needed))
        return false;
    if (!result->more) {
        for (uint32_t node = 0; node < timetable->node_count; node++)
            keep[node] = true;
        for (uint32_t i = 0; i < result->contradiction_count; i++)
            for (uint32_t j = 0; j < contradictions[i].node_count && i != index; j++)
                keep[contradictions[i].nodes[j]] = false;
        if (!ease_within(arena, timetable, keep, variant, &needed))
            return false;
    }
    *days = (int32_t)needed;
    return true;
}

bool timetable_holds(struct arena *arena, const struct timetable *timetable, const bool *keep)
{
    uint32_t *node_of;
    return flow_feasible(flow_create(arena, timetable_part(arena, timetable, keep, &node_of)), FLOW_ALL);
}
