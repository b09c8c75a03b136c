#include "compiler/result/fact_diff.h"

#include "compiler/model/tolerance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A fact that has not found its like yet. */
struct lone {
    const char *key;
    size_t index; /* among its plan's facts */
};

static int by_key(const void *a, const void *b)
{
    const struct lone *first = a, *second = b;
    int order = strcmp(first->key, second->key);
    return order ? order : (first->index > second->index) - (first->index < second->index);
}

/* Those of the facts that are still alone and have the key, sorted by it. Returns how many. */
static size_t lone_gather(struct lone *lone, const struct facts *facts, const size_t *found, int key)
{
    size_t count = 0;
    for (size_t i = 0; i < facts->count; i++)
        if (found[i] == SIZE_MAX && facts->items[i].keys[key])
            lone[count++] = (struct lone){facts->items[i].keys[key], i};
    if (count)
        qsort(lone, count, sizeof *lone, by_key);
    return count;
}

/* How many words of the one are words of the other, too. */
static size_t words_shared(const char *one, const char *other)
{
    size_t shared = 0;
    for (const char *at = one; *at;) {
        size_t length = strcspn(at, " ");
        bool found = false;
        for (const char *in = other; *in && !found;) {
            size_t other_length = strcspn(in, " ");
            found = length == other_length && memcmp(at, in, length) == 0;
            in += other_length + strspn(in + other_length, " ");
        }
        shared += found;
        at += length + strspn(at + length, " ");
    }
    return shared;
}

/* To the front, in front of those that keep their order. */
static void lone_lift(struct lone *lone, size_t index)
{
    struct lone lifted = lone[index];
    memmove(lone + 1, lone, index * sizeof *lone);
    lone[0] = lifted;
}

/* Sorts those of one key so that each stands beside the one whose words are most like its own: of two
 * sentences on one topic, neither is what became of the other. Many are left in the order they are in. */
static void lone_match(struct lone *left, size_t lefts, struct lone *right, size_t rights,
                       const struct facts *old, const struct facts *new)
{
    enum { MOST_TRIED = 1024 };
    if (lefts * rights > MOST_TRIED || lefts * rights == 1)
        return;
    for (; lefts && rights; left++, lefts--, right++, rights--) {
        size_t best_left = 0, best_right = 0, best = 0;
        for (size_t i = 0; i < lefts; i++)
            for (size_t j = 0; j < rights; j++) {
                const char *was = old->items[left[i].index].words, *is = new->items[right[j].index].words;
                size_t shared = words_shared(was, is);
                if (shared > best) {
                    best = shared;
                    best_left = i;
                    best_right = j;
                }
            }
        lone_lift(left, best_left);
        lone_lift(right, best_right);
    }
}

static size_t same_key(const struct lone *lone, size_t count)
{
    size_t same = 1;
    while (same < count && strcmp(lone[same].key, lone[0].key) == 0)
        same++;
    return same;
}

/* Key by key, so that a fact which has its very like is not taken by one that is only near it. Sorted lists
 * are merged: plans have tens of thousands of facts. */
struct fact_changes facts_compare(struct arena *arena, const struct facts *old, const struct facts *new)
{
    size_t *old_found = ARENA_ARRAY(arena, old->count + 1, size_t);
    size_t *new_found = ARENA_ARRAY(arena, new->count + 1, size_t);
    struct lone *left = ARENA_ARRAY(arena, old->count + 1, struct lone);
    struct lone *right = ARENA_ARRAY(arena, new->count + 1, struct lone);
    memset(old_found, 0xFF, old->count * sizeof *old_found); /* SIZE_MAX: alone */
    memset(new_found, 0xFF, new->count * sizeof *new_found);
    for (int key = 0; key < FACT_KEYS; key++) {
        size_t left_count = lone_gather(left, old, old_found, key);
        size_t right_count = lone_gather(right, new, new_found, key);
        for (size_t i = 0, j = 0; i < left_count && j < right_count;) {
            int order = strcmp(left[i].key, right[j].key);
            size_t lefts = order <= 0 ? same_key(&left[i], left_count - i) : 0;
            size_t rights = order >= 0 ? same_key(&right[j], right_count - j) : 0;
            if (lefts && rights)
                lone_match(&left[i], lefts, &right[j], rights, old, new);
            for (size_t k = 0; k < lefts && k < rights; k++) {
                old_found[left[i + k].index] = right[j + k].index;
                new_found[right[j + k].index] = left[i + k].index;
            }
            i += lefts;
            j += rights;
        }
    }
    struct fact_changes changes = {0};
    for (size_t j = 0; j < new->count; j++) {
        struct fact_change change = {NULL, &new->items[j]};
        if (new_found[j] != SIZE_MAX)
            change.old = &old->items[new_found[j]];
        bool figures = change.old && !isnan(change.old->si) && !isnan(change.new->si);
        if (!change.old || strcmp(change.old->words, change.new->words) != 0 ||
            (figures && differs(change.old->si, change.new->si)))
            VECTOR_PUSH(arena, &changes, change);
    }
    for (size_t i = 0; i < old->count; i++)
        if (old_found[i] == SIZE_MAX) {
            struct fact_change change = {&old->items[i], NULL};
            VECTOR_PUSH(arena, &changes, change);
        }
    return changes;
}
