/* Inside the room: what one rule keeps apart, or near, on one zone; and the order of all of it.
 *
 * One order serves all rules, else they would contradict each other: by the earliest day that the plan's own
 * statements leave a node, but what does not fit before something done goes behind it (after_records.c). */
#ifndef PRILL_SEASON_SEPARATION_H
#define PRILL_SEASON_SEPARATION_H

#include "compiler/model/tolerance.h"
#include "compiler/season/zone_uses.h"

enum { FIRST_CLASS = 1, SECOND_CLASS = 2, BOTH_CLASSES = 3 };

enum wait_kind {
    WAIT_EITHER, /* at least so many days between, whichever comes first */
    WAIT_FROM,   /* at least so many days from the first class to the second */
    WAIT_WITHIN  /* at most so many from the first class to the second */
};

struct wait_rule {
    enum wait_kind kind;
    struct duration days;
    uint32_t cause;
    const struct zone *zone;
};

/* A node in a zone as one rule sees it. */
struct party {
    uint32_t node, occurrence;
    unsigned classes;
    unsigned together; /* the classes of its group */
    bool fixed;        /* by a record */
    bool past;         /* in a group of which one is fixed: the application has been */
    bool pinned;       /* can only be on `day`, by a record or by what is stated */
    day_number day;    /* the earliest by what is stated */
};

struct party_list {
    struct party *items;
    size_t count, capacity;
};

/* Parties that are one application: of one node, or pinned to one day. */
struct application_group {
    uint32_t first, count; /* in waiting->parties */
    unsigned classes;
    bool fixed, pinned;
    day_number slot, day; /* what it is ordered by; see struct waiting */
    uint32_t rank;
};

/* A group, or neighbours of one and the same class that need not lie apart from each other; in
 * waiting->line. */
struct run {
    size_t first, count, free;      /* how many are not fixed */
    size_t first_fixed, last_fixed; /* where there are fixed ones */
};

struct chosen { /* an edge with its wait */
    struct timetable_edge edge;
    struct wait wait;
};

struct waiting {
    struct dating *dating;
    uint32_t *ranks;   /* by node: among those of one earliest day */
    day_number *slot;  /* by node: its earliest day, or the day of the last thing done that it must follow */
    day_number *after; /* by node: the earliest day that the waits for what was done leave it */
    struct party_list parties;
    VECTOR(struct application_group) groups;
    struct party_list line; /* the parties in the order chosen */
    VECTOR(struct run) runs;
    VECTOR(struct chosen) chosen;
    bool moved;                /* by parties_slot */
    VECTOR(size_t) done_of[2]; /* of parties_slot: how many of the first parties end in one of the class */
};

/* What is done with the parties of one rule on one zone, which it forgets then. */
typedef void parties_use(struct waiting *waiting, const struct wait_rule *rule);

void party_add(struct waiting *waiting, const struct zone_use *zone_use, unsigned classes);

parties_use parties_apart;
parties_use parties_slot; /* moves the slots of what must follow something done; sets waiting->moved */

#endif
