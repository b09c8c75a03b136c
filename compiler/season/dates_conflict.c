/* Contradictions in the plan's words: which waits they rest on, and which orders nobody stated. */
#include "compiler/season/dating.h"

static int edge_compare(const struct timetable_edge *edge, const struct timetable_step *step)
{
    if (edge->from != step->from)
        return edge->from < step->from ? -1 : 1;
    if (edge->to != step->node)
        return edge->to < step->node ? -1 : 1;
    return edge->cause < step->cause ? -1 : edge->cause > step->cause;
}

/* The edges of waits are sorted, see wait_rules.c. */
const struct wait *season_wait(const struct season *season, const struct timetable_step *step)
{
    size_t low = season->first_wait, high = season->edges.count;
    while (low < high && step->kind == TIMETABLE_EDGE) {
        size_t middle = low + (high - low) / 2;
        int order = edge_compare(&season->edges.items[middle], step);
        if (order == 0)
            return &season->waits[middle - season->first_wait];
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return NULL;
}

struct order_search {       /* for chains of statements */
    uint32_t *start, *next; /* by node: its edges, as a range of `next` */
    uint32_t *seen;         /* by node: the number of the search that came there last */
    uint32_t *stack;
    uint32_t number;
};

static bool edge_orders(const struct timetable_edge *edge)
{
    return timetable_edge_days(edge) >= 0 && edge->from != edge->to;
}

void orders_make(struct season *season)
{
    uint32_t count = season->node_count;
    struct order_search *search = ARENA_NEW(season->arena, struct order_search);
    search->start = ARENA_ARRAY(season->arena, (size_t)count + 2, uint32_t);
    search->next = ARENA_ARRAY(season->arena, season->first_wait, uint32_t);
    search->seen = ARENA_ARRAY(season->arena, count, uint32_t);
    search->stack = ARENA_ARRAY(season->arena, count, uint32_t);
    uint32_t *fill = search->start + 1; /* becomes the starts while it is filled */
    for (size_t i = 0; i < season->first_wait; i++)
        if (edge_orders(&season->edges.items[i]))
            fill[season->edges.items[i].from + 1]++;
    for (uint32_t node = 0; node < count; node++)
        fill[node + 1] += fill[node];
    for (size_t i = 0; i < season->first_wait; i++)
        if (edge_orders(&season->edges.items[i]))
            search->next[fill[season->edges.items[i].from]++] = season->edges.items[i].to;
    season->order_search = search;
}

/* A chain leads to no day after its end: what lies later needs no looking at. */
static bool beyond(const struct season *season, uint32_t node, uint32_t end)
{
    const day_number *days = season->timetable.earliest;
    return days && days[node] > days[end];
}

bool season_order_stated(const struct season *season, uint32_t first, uint32_t second)
{
    struct order_search *search = season->order_search;
    uint32_t depth = 0, number = ++search->number;
    search->stack[depth++] = first;
    search->seen[first] = number;
    while (depth && search->seen[second] != number) {
        uint32_t node = search->stack[--depth];
        for (uint32_t i = search->start[node]; i < search->start[node + 1]; i++) {
            uint32_t next = search->next[i];
            if (search->seen[next] == number || beyond(season, next, second))
                continue;
            search->seen[next] = number;
            search->stack[depth++] = next;
        }
    }
    return search->seen[second] == number;
}

static bool order_named(const struct conflict *conflict, const struct wait *wait)
{
    for (size_t i = 0; i < conflict->orders.count; i++)
        if (conflict->orders.items[i].first == wait->first &&
            conflict->orders.items[i].second == wait->second)
            return true;
    return false;
}

static void order_add(struct season *season, struct conflict *conflict, const struct timetable_step *step)
{
    const struct wait *wait = season_wait(season, step);
    if (!wait || step->least < 0 || wait->first->done || wait->second->done || order_named(conflict, wait) ||
        season_order_stated(season, step->from, step->node))
        return;
    struct bound order = {.kind = BOUND_ORDER,
                          .place = wait->second->treatment->symbol.place,
                          .zone = wait->zone,
                          .wait = season->bounds.items[step->cause].wait,
                          .first = wait->first,
                          .second = wait->second};
    VECTOR_PUSH(season->arena, &conflict->orders, order);
}

/* Looks at so many steps only: each look goes through the plan's statements, and a longer story is read by
 * nobody. */
enum { STEPS_LOOKED_AT = 64 };

void conflicts_make(struct season *season)
{
    const struct timetable_result *answer = &season->timetable;
    season->conflicts = ARENA_ARRAY(season->arena, answer->contradiction_count, struct conflict);
    for (uint32_t i = 0; i < answer->contradiction_count; i++) {
        struct conflict *conflict = &season->conflicts[i];
        conflict->contradiction = &answer->contradictions[i];
        for (uint32_t j = 0; j < conflict->contradiction->step_count && j < STEPS_LOOKED_AT; j++)
            if (conflict->orders.count < ORDERS_NAMED)
                order_add(season, conflict, &conflict->contradiction->steps[j]);
    }
}
