/* Dates by propagation: days that must lie apart or together, each within its own conditions.
 * Knows nothing of plans; the caller says which statement (`cause`) every condition and wait came from.
 *
 * A node is something that happens on one day. It obeys its conditions (not before, not after, only on the
 * days of a set) and the edges: day[to] >= day[from] + least, or calendar months later. A day so many months
 * on is never earlier for a later day, so both are bounds that only rise with the other end. Such systems are
 * closed under the minimum and maximum of two solutions taken day by day, so a least and a greatest solution
 * exist when any does, and raising every day only as far as something demands finds the least one exactly.
 * Source of the closure: R.
 * Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", Artificial Intelligence 49 (1991); P. Jeavons,
 * M. Cooper, "Tractable constraints on ordered domains", Artificial Intelligence 79 (1995) for the sets of
 * days (both from memory).
 *
 * Effort grows with nodes + edges. Only nodes tied to each other in rings whose sets of days meet rarely or
 * never, or whose months agree with their days in some parts of the year only, take more: they move on
 * together, in the worst case over every day of the horizon. */
#ifndef PRILL_SEASON_TIMETABLE_H
#define PRILL_SEASON_TIMETABLE_H

#include "compiler/season/day_set.h"

/* No cause (a condition that is always in force and is nobody's), no node. */
#define TIMETABLE_NONE UINT32_MAX

/* As a step's `after`, DAY_NEVER: no day is left. As a window's ends both: none. */
#define DAY_EVER INT32_MIN

enum timetable_kind {
    TIMETABLE_NOT_BEFORE,    /* a window's start */
    TIMETABLE_NOT_AFTER,     /* a window's end */
    TIMETABLE_CLOSED_DAYS,   /* only the days of a set */
    TIMETABLE_EDGE,          /* a wait, or an upper bound on one */
    TIMETABLE_RECORD,        /* a fixed day; in explanations only, like the two below */
    TIMETABLE_HORIZON_START, /* nothing is placed outside the horizon */
    TIMETABLE_HORIZON_END
};

/* NOT_BEFORE `first`, NOT_AFTER `last`; they may lie outside the horizon. */
struct timetable_window {
    uint32_t cause;
    day_number first, last;
};

/* CLOSED_DAYS, and those behind it; nodes that the same sets close their days to share them. */
struct timetable_closure {
    const struct timetable_closure *next;
    const struct day_set *days; /* those left open; its horizon holds the timetable's */
    uint32_t cause;
};

/* A fixed node is a recorded fact: it lies on `day` whatever conditions and edges say, even outside the
 * horizon. Edges between two fixed nodes are ignored; an edge between a fixed node and another binds the
 * other one, whichever end the fixed node is. */
struct timetable_node {
    const struct timetable_window *windows;
    const struct timetable_closure *closures;
    uint32_t window_count;
    bool fixed;
    day_number day; /* of a fixed node */
    uint32_t cause; /* of a fixed node: the record. Named in explanations, never left out or eased */
};

/* day[to] >= day[from] + least. "At most W days after": an edge back with least = -W.
 * Calendar months count from one end's day: `from_months` after day[from] (or before it) plus `least` is not
 * after `to_months` after day[to]. One of them is 0, or both. An edge of a node to itself with months has a
 * `least` of 0, so that it holds on every day or on none. */
struct timetable_edge {
    uint32_t from, to;
    int32_t least;
    uint32_t cause;
    int16_t from_months, to_months;
};

/* day[late] lies at least, or at most, so long after day[early]; months count from day[early]. */
struct timetable_edge timetable_at_least(uint32_t early, uint32_t late, struct duration duration,
                                         uint32_t cause);
struct timetable_edge timetable_at_most(uint32_t early, uint32_t late, struct duration duration,
                                        uint32_t cause);
/* The same with its months counted back from the other end's day: 1 month before Mar 31 is Feb 28, and not
 * the first day that has Mar 31 a month after it. */
struct timetable_edge timetable_counted_back(struct timetable_edge edge);

/* The fewest days that the edge can ask for: 0 or more where it keeps `to` behind `from`, below 0 where it
 * bounds how far behind `to` `from` may lie. Without months it asks for just these. */
int32_t timetable_edge_days(const struct timetable_edge *edge);
/* What its statement says: how long after, or at most how long after. */
struct duration timetable_edge_wait(const struct timetable_edge *edge);
/* The first day that `from` on `day` leaves to the edge's other end; the last that `to` on `day` leaves. */
int64_t timetable_edge_first(const struct timetable_edge *edge, int64_t day);
int64_t timetable_edge_last(const struct timetable_edge *edge, int64_t day);

/* Every node that is not fixed lies within first..last. The horizon belongs to no cause: where the season is
 * a statement to be named or eased, give it as conditions and take a wider horizon. A cause may stand behind
 * any number of conditions and edges. */
struct timetable {
    day_number first, last;
    const struct timetable_node *nodes;
    const struct timetable_edge *edges;
    uint32_t node_count, edge_count;
    uint32_t cause_count; /* every cause is below it, or TIMETABLE_NONE */
    /* By cause: 0 the softest (a wish), higher ones harder (a label, a law). NULL: all 0. */
    const uint8_t *cause_rank;
};

/* One step of the story how the days ran out. Every step rests on those before it.
 *   NOT_BEFORE, HORIZON_START, RECORD as the first step: the node cannot come before `after`.
 *   EDGE: as `from` cannot come before the day last told of it, the node cannot come before `after`,
 *     `wait` later (`least` below 0: as it cannot come later than `wait` after the node).
 *   CLOSED_DAYS: the set is closed to the node from `before` until `after` (DAY_NEVER: to the horizon's end).
 *     Steps of this kind that follow each other with one node and one `before` are read together: none of the
 *     sets alone reaches as far, their union does.
 *   NOT_AFTER, HORIZON_END, RECORD as the last step: the node, by now at `before`, cannot pass `after`. */
struct timetable_step {
    enum timetable_kind kind;
    uint32_t cause; /* TIMETABLE_NONE for the horizon */
    uint32_t node;
    uint32_t from;        /* EDGE; otherwise TIMETABLE_NONE */
    int32_t least;        /* EDGE: its fewest days, by timetable_edge_days */
    struct duration wait; /* EDGE: as stated */
    day_number before, after;
    uint32_t skipped; /* steps left out just before this one: the nodes moving on in the same way again */
};

struct timetable_contradiction {
    struct timetable_step *steps;
    uint32_t *causes; /* ascending; exactly those of the steps, records aside */
    uint32_t *nodes;  /* ascending; those that take part */
    uint32_t step_count, cause_count, node_count;
    /* Above 0: edges in a ring ask each of its nodes to lie this many days after itself, or more. The steps
     * are the ring's edges, each from the node of the step before; the days are those that follow where the
     * first `from` comes as early as the named causes alone let it, mostly at the horizon's start. */
    int32_t ring_days;
    /* The causes named contradict each other by themselves; with any one of them left out they do not.
     * False only where proving it would take too long (thousands of causes in one argument): then the causes
     * contradict each other but some of them may not be needed. */
    bool minimal;
};

enum { TIMETABLE_CONTRADICTIONS = 3 };

struct timetable_result {
    bool feasible;
    day_number *earliest; /* the least solution, by node; this and the next are NULL when not feasible */
    day_number *latest; /* the greatest solution: how far a node can slip when all that must may move along */
    struct timetable_contradiction *contradictions; /* when not feasible: 1 to TIMETABLE_CONTRADICTIONS */
    uint32_t contradiction_count;
    bool more; /* without the nodes of all these contradictions there is still no solution */
};

/* By how many days the one statement behind a step of contradiction `index` would have to be eased, nothing
 * else changed: every NOT_BEFORE of its cause earlier, every NOT_AFTER later, or the `least` of every edge of
 * the step's sign smaller. Stores the fewest days with which every node but those of the other contradictions
 * can be placed; when there are more contradictions than were found, the fewest with which the nodes of this
 * one can. False, nothing stored: no easing of this alone helps (for closed days and records always). */
bool timetable_ease(struct arena *arena, const struct timetable *timetable,
                    const struct timetable_result *result, uint32_t index, const struct timetable_step *step,
                    int32_t *days);

/* Solves it. A result that is all 0 is filled; a feasible one holds the days of the timetable without some of
 * its edges, and goes on from them to the days by all edges. False where there is no
 * solution; without `reasons`, which cost more than all else, there are no contradictions then.
 *
 * Contradictions share no node: each is found among the nodes that no earlier one names, and its causes are
 * minimal there. Softer causes are preferred: a cause of rank r is named only where the causes of lower rank
 * alone do not contradict each other (so a law is never named where wishes suffice); on the argument found,
 * harder causes are tried for leaving out before softer ones, and of one rank later causes before earlier
 * ones. */
bool timetable_tighten(struct arena *arena, const struct timetable *timetable,
                       struct timetable_result *result, bool reasons);

/* The least solution with one cause left out; NULL when there is none. */
day_number *timetable_least_without(struct arena *arena, const struct timetable *timetable, uint32_t cause);

/* Whether the nodes with keep[node] can be placed among themselves, nothing asked by the others. */
bool timetable_holds(struct arena *arena, const struct timetable *timetable, const bool *keep);

#endif
