/* What must lie apart: days between uses of one product (its label), and between applications of a nutrient
 * or of two classes (limits). No statement says which goes first, so an order is chosen, zone by zone; see
 * season.h. */
#include "compiler/season/reach.h"

#include <stdlib.h>

enum { FIRST_CLASS = 1, SECOND_CLASS = 2, BOTH_CLASSES = 3 };

/* Two runs of one class each are set apart pair by pair up to this many pairs. Beyond, all of the first run
 * come before its last one, which asks a little more than it must. */
enum { PAIR_LIMIT = 1024 };

struct wait_rule {
    int32_t days;
    uint32_t cause;
    struct zone *zone;
};

/* A node in a zone as one rule sees it. */
struct party {
    uint32_t node, occurrence;
    unsigned classes;
    bool fixed;  /* by a record */
    bool past;   /* in a group of which one is fixed: the application has been */
    bool pinned; /* can only be on `day`, by a record or by what is stated */
    day_number day;
    uint32_t rank; /* among those of the same earliest day */
};

/* Parties that are one application: of one node, or pinned to one day. */
struct application_group {
    size_t first, count; /* in waiting->parties */
    unsigned classes;
    bool fixed, pinned;
    int64_t key; /* the day it is ordered by */
    uint32_t rank;
};

struct chosen { /* an edge with its wait */
    struct timetable_edge edge;
    struct wait wait;
};

struct waiting {
    struct dating *dating;
    uint32_t *ranks; /* by node */
    VECTOR(struct party) parties;
    VECTOR(struct application_group) groups;
    VECTOR(struct party) line; /* the parties in the order chosen */
    VECTOR(size_t) runs;       /* where in the line each run begins */
    VECTOR(struct chosen) chosen;
};

static void party_add(struct waiting *waiting, const struct reach *reach, unsigned classes)
{
    const struct dating *dating = waiting->dating;
    uint32_t node = dating->node_of[reach->occurrence];
    bool fixed = dating->nodes[node].fixed;
    struct party party = {.node = node,
                          .occurrence = reach->occurrence,
                          .classes = classes,
                          .fixed = fixed,
                          .pinned = fixed || dating->own.earliest[node] == dating->own.latest[node],
                          .day = dating->own.earliest[node],
                          .rank = waiting->ranks[node]};
    VECTOR_PUSH(dating->arena, &waiting->parties, party);
}

/* ---- groups ---- */

static int ascending(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

/* Those of one group side by side. */
static int by_group(const void *a, const void *b)
{
    const struct party *first = a, *second = b;
    int order = ascending(second->pinned, first->pinned);
    if (order == 0 && first->pinned)
        order = ascending(first->day, second->day);
    if (order == 0)
        order = ascending(first->node, second->node);
    return order ? order : ascending(first->occurrence, second->occurrence);
}

static bool same_group(const struct party *a, const struct party *b)
{
    return a->node == b->node || (a->pinned && b->pinned && a->day == b->day);
}

/* A record's day counts as `days - 1` earlier, so that only what fits before it is ordered before it. */
static void group_finish(const struct waiting *waiting, struct application_group *group, int32_t days)
{
    struct party *parties = &waiting->parties.items[group->first];
    group->rank = parties->rank;
    group->pinned = parties->pinned;
    for (size_t i = 0; i < group->count; i++) {
        group->classes |= parties[i].classes;
        group->fixed |= parties[i].fixed;
    }
    for (size_t i = 0; i < group->count; i++)
        parties[i].past = group->fixed;
    group->key = group->fixed ? (int64_t)parties->day - days + 1 : parties->day;
}

static int by_order(const void *a, const void *b)
{
    const struct application_group *first = a, *second = b;
    int order = ascending(first->key, second->key);
    if (order == 0)
        order = ascending(second->pinned, first->pinned);
    return order ? order : ascending(first->rank, second->rank);
}

static void groups_form(struct waiting *waiting, int32_t days)
{
    struct party *parties = waiting->parties.items;
    size_t count = waiting->parties.count;
    waiting->groups.count = 0;
    if (count == 0)
        return;
    qsort(parties, count, sizeof *parties, by_group);
    for (size_t i = 0; i < count;) {
        struct application_group group = {.first = i};
        while (i < count && same_group(&parties[group.first], &parties[i]))
            i++;
        group.count = i - group.first;
        group_finish(waiting, &group, days);
        VECTOR_PUSH(waiting->dating->arena, &waiting->groups, group);
    }
    qsort(waiting->groups.items, waiting->groups.count, sizeof *waiting->groups.items, by_order);
}

/* ---- edges ---- */

static void edge_choose(struct waiting *waiting, const struct wait_rule *rule, const struct party *from,
                        const struct party *to, int32_t least)
{
    const struct occurrence *occurrences = waiting->dating->season->occurrences.items;
    if ((from->past && to->past) || from->node == to->node)
        return;
    struct chosen chosen = {
        .edge = {from->node, to->node, least, rule->cause},
        .wait = {&occurrences[from->occurrence], &occurrences[to->occurrence], rule->zone}};
    VECTOR_PUSH(waiting->dating->arena, &waiting->chosen, chosen);
}

struct run {
    const struct party *parties;
    size_t count, free; /* how many are not fixed */
};

static struct run run_at(const struct waiting *waiting, size_t index)
{
    size_t first = waiting->runs.items[index];
    size_t end = index + 1 < waiting->runs.count ? waiting->runs.items[index + 1] : waiting->line.count;
    struct run run = {&waiting->line.items[first], end - first, 0};
    for (size_t i = 0; i < run.count; i++)
        run.free += !run.parties[i].fixed;
    return run;
}

/* The fixed party of a run nearest to the other run: it speaks for all fixed ones. NULL without. */
static const struct party *fixed_nearest(const struct run *run, bool last)
{
    const struct party *nearest = NULL;
    for (size_t i = 0; i < run->count; i++)
        if (run->parties[i].fixed && (last || !nearest))
            nearest = &run->parties[i];
    return nearest;
}

static void pairs_apart(struct waiting *waiting, const struct wait_rule *rule, const struct run *before,
                        const struct run *after)
{
    for (size_t i = 0; i < before->count; i++)
        for (size_t j = 0; j < after->count && !before->parties[i].fixed; j++)
            if (!after->parties[j].fixed)
                edge_choose(waiting, rule, &before->parties[i], &after->parties[j], rule->days);
}

static void hub_apart(struct waiting *waiting, const struct wait_rule *rule, const struct run *before,
                      const struct run *after)
{
    const struct party *hub = &before->parties[before->count - 1];
    while (hub->fixed)
        hub--;
    for (size_t i = 0; i < before->count; i++)
        if (!before->parties[i].fixed)
            edge_choose(waiting, rule, &before->parties[i], hub, 0);
    for (size_t j = 0; j < after->count; j++)
        if (!after->parties[j].fixed)
            edge_choose(waiting, rule, hub, &after->parties[j], rule->days);
}

static void runs_apart(struct waiting *waiting, const struct wait_rule *rule, struct run before,
                       struct run after)
{
    const struct party *left = fixed_nearest(&before, true), *right = fixed_nearest(&after, false);
    for (size_t j = 0; j < after.count && left; j++)
        edge_choose(waiting, rule, left, &after.parties[j], rule->days);
    for (size_t i = 0; i < before.count && right; i++)
        edge_choose(waiting, rule, &before.parties[i], right, rule->days);
    if (before.free * after.free <= PAIR_LIMIT)
        pairs_apart(waiting, rule, &before, &after);
    else
        hub_apart(waiting, rule, &before, &after);
}

/* A run is a group, or neighbours of one and the same class that need not lie apart from each other.
 * Neighbouring runs are set apart; those further off then are too, by way of the runs between. */
static void line_up(struct waiting *waiting)
{
    struct arena *arena = waiting->dating->arena;
    unsigned classes = BOTH_CLASSES; /* of the last run */
    waiting->line.count = waiting->runs.count = 0;
    for (size_t i = 0; i < waiting->groups.count; i++) {
        const struct application_group *group = &waiting->groups.items[i];
        if (group->classes != classes || classes == BOTH_CLASSES)
            VECTOR_PUSH(arena, &waiting->runs, waiting->line.count);
        classes = group->classes;
        for (size_t j = 0; j < group->count; j++)
            VECTOR_PUSH(arena, &waiting->line, waiting->parties.items[group->first + j]);
    }
}

/* Sets apart the parties gathered, and forgets them. */
static void parties_apart(struct waiting *waiting, const struct wait_rule *rule)
{
    groups_form(waiting, rule->days);
    line_up(waiting);
    for (size_t i = 1; i < waiting->runs.count; i++)
        runs_apart(waiting, rule, run_at(waiting, i - 1), run_at(waiting, i));
    waiting->parties.count = 0;
}

/* ---- rules ---- */

static void label_intervals_apart(struct waiting *waiting, struct reaches *reaches)
{
    const struct model *model = waiting->dating->season->model;
    for (size_t zone = 0; zone < model->zones.count; zone++) {
        struct reach *begin = reaches->items + reaches->start[zone],
                     *end = reaches->items + reaches->start[zone + 1];
        reaches_by_product(begin, end);
        for (const struct reach *at = begin; at < end && at->amount; at++) {
            const struct product *product = at->amount->product;
            if (product->label.interval_days > 0)
                party_add(waiting, at, BOTH_CLASSES);
            if (at + 1 < end && at[1].amount && at[1].amount->product == product)
                continue;
            struct wait_rule rule = {product->label.interval_days,
                                     waiting->dating->rules->product_cause + product->index,
                                     model->zones.items[zone]};
            parties_apart(waiting, &rule);
        }
    }
}

static unsigned classes_of(const struct dating *dating, const struct limit *limit, const struct reach *reach)
{
    if (limit->kind == LIMIT_WAIT)
        return reach->amount && amount_brings(reach->amount, limit->nutrient->nutrient) ? BOTH_CLASSES : 0;
    bool first = reach_in_class(dating, reach, &limit->first);
    bool second = reach_in_class(dating, reach, &limit->second);
    if (class_equal(&limit->first, &limit->second))
        return first ? BOTH_CLASSES : 0;
    return (first ? FIRST_CLASS : 0) | (second ? SECOND_CLASS : 0);
}

static void limit_apart(struct waiting *waiting, const struct reaches *reaches, uint32_t number,
                        struct zone *zone)
{
    const struct limit *limit = waiting->dating->season->model->limits.items[number];
    struct wait_rule rule = {limit->days, waiting->dating->rules->limit_cause + number, zone};
    for (uint32_t i = reaches->start[zone->index]; i < reaches->start[zone->index + 1]; i++) {
        unsigned classes = classes_of(waiting->dating, limit, &reaches->items[i]);
        if (classes)
            party_add(waiting, &reaches->items[i], classes);
    }
    parties_apart(waiting, &rule);
}

static void limits_apart(struct waiting *waiting, const struct reaches *reaches)
{
    const struct model *model = waiting->dating->season->model;
    for (uint32_t number = 0; number < model->limits.count; number++) {
        const struct limit *limit = model->limits.items[number];
        if (!limit->set->bound || limit->set->thing.broken ||
            (limit->kind != LIMIT_WAIT && limit->kind != LIMIT_WAIT_BETWEEN))
            continue;
        for (size_t i = 0; i < limit->set->places.count; i++)
            limit_apart(waiting, reaches, number, limit->set->places.items[i]);
        for (size_t i = 0; i < model->zones.count && limit->set->places.count == 0; i++)
            limit_apart(waiting, reaches, number, model->zones.items[i]);
    }
}

/* ---- all of it ---- */

/* Order stated between nodes of one earliest day counts before the order of the text. */
static uint32_t *tie_ranks(const struct dating *dating)
{
    VECTOR(struct precedence) pairs = {0};
    for (size_t i = 0; i < dating->first_wait; i++) {
        const struct timetable_edge *edge = &dating->edges.items[i];
        struct precedence pair = {edge->from, edge->to};
        if (edge->least >= 0 && edge->from != edge->to &&
            dating->own.earliest[edge->from] == dating->own.earliest[edge->to])
            VECTOR_PUSH(dating->arena, &pairs, pair);
    }
    return precedence_ranks(dating->arena, dating->node_count, pairs.items, pairs.count);
}

/* By edge; of equal edges the longest wait first, then the first zone. */
static int by_edge(const void *a, const void *b)
{
    const struct chosen *first = a, *second = b;
    int order = ascending(first->edge.from, second->edge.from);
    if (order == 0)
        order = ascending(first->edge.to, second->edge.to);
    if (order == 0)
        order = ascending(first->edge.cause, second->edge.cause);
    if (order == 0)
        order = ascending(second->edge.least, first->edge.least);
    if (order == 0)
        order = ascending(first->wait.zone->index, second->wait.zone->index);
    if (order == 0)
        order = ascending(first->wait.first->index, second->wait.first->index);
    return order ? order : ascending(first->wait.second->index, second->wait.second->index);
}

static bool same_edge(const struct timetable_edge *a, const struct timetable_edge *b)
{
    return a->from == b->from && a->to == b->to && a->cause == b->cause;
}

/* Two treatments that meet in many zones wait for each other once. */
static void chosen_keep(struct waiting *waiting)
{
    struct dating *dating = waiting->dating;
    struct chosen *chosen = waiting->chosen.items;
    size_t count = waiting->chosen.count, kept = 0;
    if (count)
        qsort(chosen, count, sizeof *chosen, by_edge);
    dating->waits = ARENA_ARRAY(dating->arena, count, struct wait);
    for (size_t i = 0; i < count; i++) {
        if (i > 0 && same_edge(&chosen[i - 1].edge, &chosen[i].edge))
            continue;
        dating->waits[kept++] = chosen[i].wait;
        VECTOR_PUSH(dating->arena, &dating->edges, chosen[i].edge);
    }
}

void waits_make(struct dating *dating)
{
    struct waiting waiting = {.dating = dating, .ranks = tie_ranks(dating)};
    struct reaches reaches = reaches_gather(dating);
    limits_apart(&waiting, &reaches);
    label_intervals_apart(&waiting, &reaches);
    chosen_keep(&waiting);
}
