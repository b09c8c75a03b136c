/* Sets of limits that bind every plan, and how they give way: to a tighter limit of the plan, or to an
 * `allow` of their name. */
#ifndef PRILL_MODEL_ALWAYS_H
#define PRILL_MODEL_ALWAYS_H

#include "compiler/model/model.h"

/* Binds the sets that are `always`, unless an entry of the plan took the name, and marks where they are
 * spared. Once everything is read. Effort: limits of such sets times all limits, and the zones where one
 * covers another. */
void always_settle(struct model *model);

/* Marks the waits between two classes of one of which the plan has nothing, put down or not: most have no
 * lime. Once every product is read. Effort: such limits times products, and the kinds of treatments. */
void limits_idle(struct model *model);

/* Whether the limit's places and grass are the zone's. */
bool limit_names_zone(const struct limit *limit, const struct zone *zone);

/* Whether an `allow` names a set that is always, not a check. */
bool allowance_of_set(const struct model *model, const struct allowance *allowance);

/* The `allow` that lifts the limit's set for all of what is about (ends with NULL; with nothing about, for
 * the whole plan); NULL where none does, as of a law or a label. */
const struct allowance *limit_allowance(const struct model *model, const struct limit *limit,
                                        const struct symbol *const *about);

/* Whether the season's days and waits are kept to it: it binds, and is neither advice,
 * lifted nor idle. */
bool limit_dates(const struct model *model, const struct limit *limit);

#endif
