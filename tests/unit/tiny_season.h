/* Small random timetables, and every assignment of days tried on them: what the propagation is held against.
 * The trials share nothing with it but the types in which a timetable is stated. */
#ifndef PRILL_TESTS_TINY_SEASON_H
#define PRILL_TESTS_TINY_SEASON_H

#include "compiler/season/timetable.h"

enum {
    TINY_NODES = 5,
    TINY_CONDITIONS = 4,
    TINY_EDGES = 12,
    TINY_CAUSES = TINY_NODES * TINY_CONDITIONS + TINY_EDGES,
    TINY_LONGEST = 14 /* days */
};

/* TIED: edges hold nodes together and few days are open, so that nodes chase each other through the horizon.
 * CROWDED: conditions alone contradict each other in several places. */
enum tiny_mood { TINY_MIXED, TINY_TIED, TINY_CROWDED };

struct tiny_season {
    struct arena *arena;
    enum tiny_mood mood;
    struct timetable table;
    struct timetable_node nodes[TINY_NODES];
    struct timetable_window windows[TINY_NODES][TINY_CONDITIONS];
    struct timetable_closure closures[TINY_NODES][TINY_CONDITIONS];
    struct timetable_edge edges[TINY_EDGES];
    uint8_t ranks[TINY_CAUSES];
    bool months;         /* some edges count calendar months */
    uint32_t cause_mode; /* 0: each statement its own cause; otherwise that many causes in all */
};

/* Numbers that look random and are the same in every run (xorshift); both ends included. */
int32_t tiny_between(uint64_t *seed, int32_t low, int32_t high);

/* Its tables point into the season itself: it stays where it was made. Sets of days are made in the arena. */
void tiny_season_make(struct tiny_season *season, struct arena *arena, uint64_t *seed);

struct exhaustion {
    const struct tiny_season *season;
    bool keep[TINY_NODES];    /* nodes that count */
    bool active[TINY_CAUSES]; /* causes that count */
    enum timetable_kind ease_kind;
    uint32_t ease_cause;
    int32_t ease_days;
    bool ease_back; /* of edges: those of fewer than 0 days */
    bool any;       /* one solution is enough */

    day_number day[TINY_NODES]; /* the assignment */
    bool found;
    day_number least[TINY_NODES], greatest[TINY_NODES]; /* over all solutions */
};

/* The whole season: every node, every cause, nothing eased. */
struct exhaustion exhaustion_of(const struct tiny_season *season);

/* Tries all assignments, or with `any` until one holds; sets `found`, `least` and `greatest`. */
void exhaustion_run(struct exhaustion *exhaustion);
bool exhaustion_solvable(struct exhaustion exhaustion);

/* Whether the node's own conditions allow the day. */
bool exhaustion_allows(const struct exhaustion *exhaustion, uint32_t node, day_number day);
/* Whether the two days keep the edge, with so many days of it taken off. */
bool tiny_edge_holds(const struct timetable_edge *edge, day_number from, day_number to, int32_t ease);
/* Whether the assignment keeps the edges between `newest` and the nodes up to it. */
bool exhaustion_edges_hold(const struct exhaustion *exhaustion, uint32_t newest);

#endif
