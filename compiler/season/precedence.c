/* A. B. Kahn, "Topological sorting of large networks", Communications of the ACM 5 (1962), with a heap of the
 * items that are ready (from memory). */
#include "compiler/season/precedence.h"

#include <stdlib.h>

void sort_items(void *items, size_t count, size_t size, int (*compare)(const void *, const void *))
{
    const char *item = items;
    for (size_t i = 1; i < count; i++, item += size)
        if (compare(item, item + size) > 0) {
            qsort(items, count, size, compare);
            return;
        }
}

/* A counting sort: the numbers of each key first, then where each key begins. */
struct keyed sort_by_key(struct arena *arena, const uint32_t *keys, size_t count, uint32_t key_count)
{
    struct keyed keyed = {ARENA_ARRAY(arena, (size_t)key_count + 2, uint32_t),
                          ARENA_ARRAY(arena, count, uint32_t)};
    uint32_t *next = keyed.start + 1; /* becomes the starts while the items are filled in */
    for (size_t i = 0; i < count; i++)
        if (keys[i] != NO_KEY)
            next[keys[i] + 1]++;
    for (uint32_t key = 0; key < key_count; key++)
        next[key + 1] += next[key];
    for (uint32_t i = 0; i < count; i++)
        if (keys[i] != NO_KEY)
            keyed.items[next[keys[i]]++] = i;
    return keyed;
}

/* Whatever has nothing left before it, the smallest first. Items in a ring never come to that. */
uint32_t *precedence_ranks(struct arena *arena, uint32_t count, const struct precedence *pairs,
                           size_t pair_count)
{
    uint32_t *ranks = ARENA_ARRAY(arena, count, uint32_t), rank = 0, ready = 0;
    for (uint32_t i = 0; i < count && !pair_count; i++)
        ranks[i] = i;
    if (!pair_count)
        return ranks;
    uint32_t *heap = ARENA_ARRAY(arena, count, uint32_t);      /* those with nothing left before them */
    uint32_t *waits_for = ARENA_ARRAY(arena, count, uint32_t); /* how many are still to come before it */
    uint32_t *before = ARENA_ARRAY(arena, pair_count, uint32_t);
    for (size_t i = 0; i < pair_count; i++) {
        waits_for[pairs[i].after]++;
        before[i] = pairs[i].before;
    }
    struct keyed by_before = sort_by_key(arena, before, pair_count, count);
    for (uint32_t i = 0; i < count; i++)
        if (waits_for[i] == 0)
            heap[ready++] = i; /* in ascending order they are a heap */
    while (ready) {
        /* The least item comes off the heap, and the last one sinks to its place. */
        uint32_t item = heap[0], last = heap[--ready], at = 0;
        for (uint32_t child = 1; child < ready; child = 2 * at + 1) {
            if (child + 1 < ready && heap[child + 1] < heap[child])
                child++;
            if (heap[child] >= last)
                break;
            heap[at] = heap[child];
            at = child;
        }
        heap[at] = last;
        ranks[item] = rank++;
        for (uint32_t i = by_before.start[item]; i < by_before.start[item + 1]; i++) {
            uint32_t after = pairs[by_before.items[i]].after;
            if (--waits_for[after] > 0)
                continue;
            /* It rises from the free place to its own. */
            for (at = ready++; at > 0 && heap[(at - 1) / 2] > after; at = (at - 1) / 2)
                heap[at] = heap[(at - 1) / 2];
            heap[at] = after;
        }
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
