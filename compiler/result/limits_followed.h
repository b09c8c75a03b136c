/* What a plan is held to: the sets of limits that bind it, from which text they are, and what they lack. */
#ifndef PRILL_RESULT_LIMITS_FOLLOWED_H
#define PRILL_RESULT_LIMITS_FOLLOWED_H

#include "compiler/form/data.h"

#include "compiler/model/model.h"

/* The sets that the plan follows, in the order of its `follow` statements; its own blocks have no name and
 * are not among them. */
struct held_sets {
    const struct limit_set **items;
    size_t count, capacity;
};
struct held_sets held_sets_of(const struct model *model);

/* "Held to: maryland-home (law of 2013, read 2026-11-29). Laws change; check before you rely on it." NULL
 * where nothing is followed. */
const char *held_sentence(const struct model *model);
/* "The plan's own, in place of the library's: limits maryland-home, scale minimum-levels." NULL without. */
const char *held_replaced(const struct model *model);
/* "These limits are incomplete: orange-county (...). Read the rules themselves." NULL where nothing followed
 * is known to be incomplete, or to be read by nobody. */
const char *held_incomplete(const struct model *model);

/* "held_to": an array of the sets with their sources, notes and what they lack; "replaces_library": the
 * plan's own entries that count in place of the library's. */
void data_held(struct data *root, const struct model *model);

#endif
