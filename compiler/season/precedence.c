/* A. B. Kahn, "Topological sorting of large networks", Communications of the ACM 5 (1962), with a heap of the
 * things that are ready (from memory). */
#include "compiler/season/precedence.h"

struct ranking {
    uint32_t *heap; /* things with nothing left before them, the smallest number first */
    uint32_t heap_count;
    uint32_t *waits_for; /* by thing: how many are still to come before it */
    uint32_t *start;     /* by thing: its range in `after` */
    uint32_t *after;
    uint32_t *ranks;
    uint32_t next;
};

static void heap_push(struct ranking *ranking, uint32_t thing)
{
    uint32_t at = ranking->heap_count++;
    while (at > 0 && ranking->heap[(at - 1) / 2] > thing) {
        ranking->heap[at] = ranking->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    ranking->heap[at] = thing;
}

static uint32_t heap_pop(struct ranking *ranking)
{
    uint32_t *heap = ranking->heap, first = heap[0], last = heap[--ranking->heap_count], at = 0;
    for (uint32_t child = 1; child < ranking->heap_count; child = 2 * at + 1) {
        if (child + 1 < ranking->heap_count && heap[child + 1] < heap[child])
            child++;
        if (heap[child] >= last)
            break;
        heap[at] = heap[child];
        at = child;
    }
    heap[at] = last;
    return first;
}

static void pairs_load(struct ranking *ranking, uint32_t count, const struct precedence *pairs,
                       size_t pair_count)
{
    for (size_t i = 0; i < pair_count; i++) {
        ranking->waits_for[pairs[i].after]++;
        ranking->start[pairs[i].before + 1]++;
    }
    for (uint32_t i = 0; i < count; i++)
        ranking->start[i + 1] += ranking->start[i];
    for (size_t i = pair_count; i-- > 0;)
        ranking->after[--ranking->start[pairs[i].before + 1]] = pairs[i].after;
    /* Filling moved each end down to its start: entry i + 1 is where thing i begins. */
    for (uint32_t i = 0; i < count; i++)
        ranking->start[i] = ranking->start[i + 1];
    ranking->start[count] = (uint32_t)pair_count;
}

static void rank_ready(struct ranking *ranking)
{
    while (ranking->heap_count) {
        uint32_t thing = heap_pop(ranking);
        ranking->ranks[thing] = ranking->next++;
        for (uint32_t i = ranking->start[thing]; i < ranking->start[thing + 1]; i++)
            if (--ranking->waits_for[ranking->after[i]] == 0)
                heap_push(ranking, ranking->after[i]);
    }
}

uint32_t *precedence_ranks(struct arena *arena, uint32_t count, const struct precedence *pairs,
                           size_t pair_count)
{
    struct ranking ranking = {.heap = ARENA_ARRAY(arena, count, uint32_t),
                              .waits_for = ARENA_ARRAY(arena, count, uint32_t),
                              .start = ARENA_ARRAY(arena, (size_t)count + 1, uint32_t),
                              .after = ARENA_ARRAY(arena, pair_count, uint32_t),
                              .ranks = ARENA_ARRAY(arena, count, uint32_t)};
    pairs_load(&ranking, count, pairs, pair_count);
    for (uint32_t i = 0; i < count; i++)
        if (ranking.waits_for[i] == 0)
            heap_push(&ranking, i);
    rank_ready(&ranking);
    for (uint32_t i = 0; i < count; i++)
        if (ranking.waits_for[i] > 0)
            ranking.ranks[i] = ranking.next++;
    return ranking.ranks;
}

uint32_t *groups_new(struct arena *arena, uint32_t count)
{
    uint32_t *groups = ARENA_ARRAY(arena, count, uint32_t);
    for (uint32_t i = 0; i < count; i++)
        groups[i] = i;
    return groups;
}

uint32_t group_of(uint32_t *groups, uint32_t thing)
{
    while (groups[thing] != thing) {
        groups[thing] = groups[groups[thing]];
        thing = groups[thing];
    }
    return thing;
}

void group_join(uint32_t *groups, uint32_t a, uint32_t b)
{
    a = group_of(groups, a);
    b = group_of(groups, b);
    if (a < b)
        groups[b] = a;
    else
        groups[a] = b;
}
