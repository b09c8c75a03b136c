/* Contradictions in the plan's words: which waits they rest on, and which orders nobody stated. */
#include "compiler/season/dating.h"

/* The edges of waits are sorted by from, to and cause, see wait_rules.c. */
const struct wait *season_wait(const struct season *season, const struct timetable_step *step)
{
    size_t low = season->first_wait, high = season->edges.count;
    while (low < high && step->kind == TIMETABLE_EDGE) {
        size_t middle = low + (high - low) / 2;
        const struct timetable_edge *edge = &season->edges.items[middle];
        if (edge->from == step->from && edge->to == step->node && edge->cause == step->cause)
            return &season->waits[middle - season->first_wait];
        bool before = edge->from != step->from ? edge->from < step->from
                      : edge->to != step->node ? edge->to < step->node
                                               : edge->cause < step->cause;
        if (before)
            low = middle + 1;
        else
            high = middle;
    }
    return NULL;
}

/* A chain leads to no day after its end: what lies later needs no looking at. */
bool season_order_stated(const struct season *season, uint32_t first, uint32_t second)
{
    struct order_search *search = season->order_search;
    if (!search->start) {
        struct arena *scratch = arena_scratch(season->arena);
        struct arena_mark mark = arena_mark(scratch);
        uint32_t *from = ARENA_ARRAY(scratch, season->first_wait, uint32_t);
        for (size_t i = 0; i < season->first_wait; i++) {
            const struct timetable_edge *edge = &season->edges.items[i];
            from[i] = timetable_edge_days(edge) >= 0 && edge->from != edge->to ? edge->from : NO_KEY;
        }
        struct keyed edges = sort_by_key(season->arena, from, season->first_wait, season->node_count);
        arena_rewind(scratch, mark);
        for (uint32_t i = 0; i < edges.start[season->node_count]; i++)
            edges.items[i] = season->edges.items[edges.items[i]].to;
        search->start = edges.start;
        search->next = edges.items;
        search->seen = ARENA_ARRAY(season->arena, season->node_count, uint32_t);
        search->stack = ARENA_ARRAY(season->arena, season->node_count, uint32_t);
    }
    const day_number *days = season->timetable.earliest; /* NULL where the whole has no solution */
    uint32_t depth = 0, number = ++search->number;
    search->stack[depth++] = first;
    search->seen[first] = number;
    while (depth && search->seen[second] != number) {
        uint32_t node = search->stack[--depth];
        for (uint32_t i = search->start[node]; i < search->start[node + 1]; i++) {
            uint32_t next = search->next[i];
            if (search->seen[next] == number || (days && days[next] > days[second]))
                continue;
            search->seen[next] = number;
            search->stack[depth++] = next;
        }
    }
    return search->seen[second] == number;
}

/* Looks at so many steps only: each look takes all of the plan's statements; nobody reads a longer story. */
enum { STEPS_LOOKED_AT = 64 };

/* Of each wait that took part in a contradiction and whose order nobody stated, that order, once. */
void conflicts_make(struct season *season)
{
    const struct timetable_result *answer = &season->timetable;
    season->conflicts = ARENA_ARRAY(season->arena, answer->contradiction_count, struct conflict);
    for (uint32_t i = 0; i < answer->contradiction_count; i++) {
        struct conflict *conflict = &season->conflicts[i];
        conflict->contradiction = &answer->contradictions[i];
        for (uint32_t j = 0; j < conflict->contradiction->step_count && j < STEPS_LOOKED_AT; j++) {
            const struct timetable_step *step = &conflict->contradiction->steps[j];
            const struct wait *wait = season_wait(season, step);
            bool named = false;
            if (!wait || step->least < 0 || season->occurrences.items[wait->first].done ||
                season->occurrences.items[wait->second].done || conflict->orders.count == ORDERS_NAMED)
                continue;
            for (size_t k = 0; k < conflict->orders.count && !named; k++)
                named = conflict->orders.items[k]->first == wait->first &&
                        conflict->orders.items[k]->second == wait->second;
            if (!named && !season_order_stated(season, step->from, step->node))
                VECTOR_PUSH(season->arena, &conflict->orders, wait);
        }
    }
}
