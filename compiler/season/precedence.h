/* Orders and groups of numbered items: what comes before what, what belongs together, what has one key. */
#ifndef PRILL_SEASON_PRECEDENCE_H
#define PRILL_SEASON_PRECEDENCE_H

#include "lexer/arena.h"

#include <stdint.h>

/* Items by a key that each has, below `key_count`, and of one key in the order of their numbers: those of key
 * k are items[start[k]] up to items[start[k + 1]]. What has NO_KEY is left out. */
struct keyed {
    uint32_t *start, *items;
};
#define NO_KEY UINT32_MAX
struct keyed sort_by_key(struct arena *arena, const uint32_t *keys, size_t count, uint32_t key_count);

/* qsort, but that what is in order already stays as it is: most comes in the order of the text. */
void sort_items(void *items, size_t count, size_t size, int (*compare)(const void *, const void *));

struct precedence {
    uint32_t before, after;
};

/* Ranks 0 to count - 1, by item: each after those stated before it, otherwise by number. Items in a ring of
 * statements come after all others, by number. n log n in count + pair_count. */
uint32_t *precedence_ranks(struct arena *arena, uint32_t count, const struct precedence *pairs,
                           size_t pair_count);

/* Disjoint groups, each named after its smallest member; at first every item is its own. */
uint32_t *groups_new(struct arena *arena, uint32_t count);
uint32_t group_of(uint32_t *groups, uint32_t item);
void group_join(uint32_t *groups, uint32_t a, uint32_t b);

#endif
