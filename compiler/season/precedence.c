/* A. B. Kahn, "Topological sorting of large networks", Communications of the ACM 5 (1962), with a heap of the
 * items that are ready (from memory). */
#include "compiler/season/precedence.h"

struct ranking {
    uint32_t *heap; /* those with nothing left before them, the smallest number first */
    uint32_t heap_count;
};

static void heap_push(struct ranking *ranking, uint32_t item)
{
    uint32_t at = ranking->heap_count++;
    while (at > 0 && ranking->heap[(at - 1) / 2] > item) {
        ranking->heap[at] = ranking->heap[(at - 1) / 2];
        at = (at - 1) / 2;
    }
    ranking->heap[at] = item;
}

/* A counting sort of the pairs by what comes first; then whatever has nothing left before it, the smallest
 * first. Items in a ring never come to that. */
uint32_t *precedence_ranks(struct arena *arena, uint32_t count, const struct precedence *pairs,
                           size_t pair_count)
{
    uint32_t *ranks = ARENA_ARRAY(arena, count, uint32_t), rank = 0;
    for (uint32_t i = 0; i < count && !pair_count; i++)
        ranks[i] = i;
    if (!pair_count)
        return ranks;
    struct ranking ranking = {.heap = ARENA_ARRAY(arena, count, uint32_t)};
    uint32_t *waits_for = ARENA_ARRAY(arena, count, uint32_t); /* how many are still to come before it */
    uint32_t *start = ARENA_ARRAY(arena, (size_t)count + 2, uint32_t), *next = start + 1;
    uint32_t *after = ARENA_ARRAY(arena, pair_count, uint32_t); /* by what is before: start */
    for (size_t i = 0; i < pair_count; i++) {
        waits_for[pairs[i].after]++;
        next[pairs[i].before + 1]++;
    }
    for (uint32_t i = 0; i < count; i++)
        next[i + 1] += next[i];
    for (size_t i = 0; i < pair_count; i++) /* `next` becomes the starts while it is filled */
        after[next[pairs[i].before]++] = pairs[i].after;
    for (uint32_t i = 0; i < count; i++)
        if (waits_for[i] == 0)
            heap_push(&ranking, i);
    while (ranking.heap_count) {
        /* The least item comes off the heap, and the last one sinks to its place. */
        uint32_t *heap = ranking.heap, item = heap[0], last = heap[--ranking.heap_count], at = 0;
        for (uint32_t child = 1; child < ranking.heap_count; child = 2 * at + 1) {
            if (child + 1 < ranking.heap_count && heap[child + 1] < heap[child])
                child++;
            if (heap[child] >= last)
                break;
            heap[at] = heap[child];
            at = child;
        }
        heap[at] = last;
        ranks[item] = rank++;
        for (uint32_t i = start[item]; i < start[item + 1]; i++)
            if (--waits_for[after[i]] == 0)
                heap_push(&ranking, after[i]);
    }
    for (uint32_t i = 0; i < count; i++)
        if (waits_for[i] > 0)
            ranks[i] = rank++;
    return ranks;
}

uint32_t *groups_new(struct arena *arena, uint32_t count)
{
    uint32_t *groups = ARENA_ARRAY(arena, count, uint32_t);
    for (uint32_t i = 0; i < count; i++)
        groups[i] = i;
    return groups;
}

uint32_t group_of(uint32_t *groups, uint32_t item)
{
    while (groups[item] != item) {
        groups[item] = groups[groups[item]];
        item = groups[item];
    }
    return item;
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
