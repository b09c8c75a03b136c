/* Inside the room: what reaches which zone, for the waits. */
#ifndef PRILL_SEASON_ZONE_USES_H
#define PRILL_SEASON_ZONE_USES_H

#include "compiler/season/dating.h"

struct zone_use {
    uint32_t occurrence;
    const struct amount *amount; /* NULL for work, and for an application without amounts */
};

struct zone_uses {
    struct zone_use *items; /* by zone, then occurrence */
    uint32_t *start;        /* by zone index; one more than zones */
};

/* Of the occurrences that the plan's own statements leave a day. */
struct zone_uses zone_uses_gather(const struct dating *dating);

bool zone_use_in_class(const struct dating *dating, const struct zone_use *zone_use,
                       const struct treatment_class *class);

#endif
