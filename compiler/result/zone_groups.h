/* What is asked by several zones: those that ask the same for the same reason are told together. */
#ifndef PRILL_RESULT_ZONE_GROUPS_H
#define PRILL_RESULT_ZONE_GROUPS_H

#include "compiler/model/model.h"

struct asked {
    const char *sentence, *reason;
    int kind; /* reasons of one kind differ in figures only: the first is told */
    struct buffer zones;
    size_t count;
};

struct asking {
    VECTOR(struct asked) kinds;
};

void asking_add(struct arena *arena, struct asking *asking, const struct zone *zone, struct asked asked);

/* "north, south: Needs 1.19 lb P2O5 per 1000 sqft a year. Minimum 1.50 ..." of one of the kinds; without
 * zones where all ask the same. */
const char *asking_text(struct arena *arena, const struct asking *asking, size_t index);

/* As a sentence of its own: a capital at its start, a point at its end. */
const char *sentence_of(struct arena *arena, const char *text);

#endif
