/* Sentences about zones: zones of which the same is to be said are named together. */
#ifndef PRILL_RESULT_ZONE_GROUPS_H
#define PRILL_RESULT_ZONE_GROUPS_H

#include "compiler/model/model.h"

struct zone_group {
    const char *sentence, *reason; /* the same for all of them */
    int kind;                      /* reasons of one kind differ in figures only: the first is printed */
    struct buffer zones;           /* "north, south" */
};

struct zone_groups {
    struct zone_group *items;
    size_t count, capacity;
};

/* Names the zone in the group of that sentence and reason, which is added where there is none. */
void zone_groups_add(struct arena *arena, struct zone_groups *groups, const struct zone *zone,
                     struct zone_group said);

/* "north, south: Needs 1.19 lb P2O5 per 1000 sqft a year. Minimum 1.50 ..." of one of the groups; without
 * zones where there is one group only. */
const char *zone_group_text(struct arena *arena, const struct zone_groups *groups, size_t index);

/* As a sentence of its own: a capital at its start, a point at its end. */
const char *sentence_of(struct arena *arena, const char *text);

#endif
