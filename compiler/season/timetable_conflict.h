/* Why a timetable has no solution, behind timetable.h. */
#ifndef PRILL_SEASON_TIMETABLE_CONFLICT_H
#define PRILL_SEASON_TIMETABLE_CONFLICT_H

#include "compiler/season/timetable_flow.h"

/* Fills in the contradictions of a timetable that is not feasible. */
void timetable_contradict(struct arena *arena, const struct timetable *timetable,
                          struct timetable_result *result);

/* The timetable of the nodes with keep[node], and the edges among them. Nodes are renumbered in order:
 * (*node_of)[new number] is the old one. Conditions are shared with the original. */
struct timetable *timetable_part(struct arena *arena, const struct timetable *timetable, const bool *keep,
                                 uint32_t **node_of);

/* The argument by which the loaded variant fails, as steps over the flow's own nodes. */
struct timetable_story {
    struct timetable_step *items;
    size_t count, capacity; /* no steps when the argument is too long to keep */
    int32_t ring_days;
};

struct timetable_story timetable_story_of(struct arena *arena, struct flow *flow);

#endif
