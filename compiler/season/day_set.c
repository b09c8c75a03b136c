/* A bit for each day of the horizon. Bits past its end are zero, so that whole words can be searched. */
#include "compiler/season/day_set.h"

#include <assert.h>
#include <string.h>

enum { WORD_BITS = 64 };

struct day_set {
    day_number first, last;
    size_t count; /* of words */
    uint64_t *words;
    /* Which days of a word are kept is asked when it is first looked at: of most of a horizon nobody asks. */
    bool *asked; /* by word; NULL: there is nothing to ask */
    bool (*keep)(day_number day, const void *context);
    const void *context;
};

static size_t offset_of(const struct day_set *set, day_number day)
{
    return (size_t)((int64_t)day - set->first);
}

static uint64_t word_of(const struct day_set *set, size_t word)
{
    if (!set->asked || set->asked[word])
        return set->words[word];
    set->asked[word] = true;
    day_number first = set->first + (day_number)(word * WORD_BITS);
    for (uint64_t rest = set->words[word]; rest; rest &= rest - 1)
        if (!set->keep(first + __builtin_ctzll(rest), set->context))
            set->words[word] &= ~(rest & -rest);
    return set->words[word];
}

static struct day_set *set_copy(struct arena *arena, const struct day_set *set)
{
    struct day_set *copy = ARENA_NEW(arena, struct day_set);
    *copy = (struct day_set){.first = set->first,
                             .last = set->last,
                             .count = set->count,
                             .words = ARENA_ARRAY(arena, set->count, uint64_t)};
    for (size_t word = 0; word < set->count; word++)
        copy->words[word] = word_of(set, word);
    return copy;
}

const struct day_set *day_set_all(struct arena *arena, day_number first, day_number last)
{
    assert(first <= last && (int64_t)last - first < DAY_SET_SPAN);
    size_t days = (size_t)((int64_t)last - first) + 1, count = (days + WORD_BITS - 1) / WORD_BITS;
    struct day_set *set = ARENA_NEW(arena, struct day_set);
    *set = (struct day_set){
        .first = first, .last = last, .count = count, .words = ARENA_ARRAY(arena, count, uint64_t)};
    memset(set->words, 0xff, count * sizeof(uint64_t));
    set->words[count - 1] = UINT64_MAX >> (WORD_BITS - 1 - offset_of(set, last) % WORD_BITS);
    return set;
}

/* A copy, but for the part of each word within the range. */
const struct day_set *day_set_remove_range(struct arena *arena, const struct day_set *set, day_number from,
                                           day_number to)
{
    if (from < set->first)
        from = set->first;
    if (to > set->last)
        to = set->last;
    if (from > to)
        return set;
    struct day_set *rest = set_copy(arena, set);
    size_t low = offset_of(set, from), high = offset_of(set, to);
    for (size_t word = low / WORD_BITS; word <= high / WORD_BITS; word++) {
        size_t start = word == low / WORD_BITS ? low % WORD_BITS : 0;
        size_t end = word == high / WORD_BITS ? high % WORD_BITS : WORD_BITS - 1;
        rest->words[word] &= ~(UINT64_MAX << start & UINT64_MAX >> (WORD_BITS - 1 - end));
    }
    return rest;
}

static bool on_weekday(day_number day, const void *weekdays)
{
    return *(const unsigned *)weekdays >> weekday_of_day(day) & 1;
}

const struct day_set *day_set_keep_weekdays(struct arena *arena, const struct day_set *set, unsigned weekdays)
{
    unsigned *kept = ARENA_NEW(arena, unsigned);
    *kept = weekdays;
    return day_set_keep_if(arena, set, on_weekday, kept);
}

const struct day_set *day_set_keep_if(struct arena *arena, const struct day_set *set,
                                      bool (*keep)(day_number day, const void *context), const void *context)
{
    struct day_set *kept = set_copy(arena, set);
    kept->asked = ARENA_ARRAY(arena, set->count, bool);
    kept->keep = keep;
    kept->context = context;
    return kept;
}

bool day_set_contains(const struct day_set *set, day_number day)
{
    if (day < set->first || day > set->last)
        return false;
    size_t offset = offset_of(set, day);
    return word_of(set, offset / WORD_BITS) >> offset % WORD_BITS & 1;
}

/* Word by word: the first bit set from the day on. */
bool day_set_next(const struct day_set *set, day_number day, day_number *found)
{
    if (day > set->last)
        return false;
    size_t offset = day < set->first ? 0 : offset_of(set, day);
    size_t word = offset / WORD_BITS;
    uint64_t bits = word_of(set, word) & UINT64_MAX << offset % WORD_BITS;
    while (!bits) {
        if (++word == set->count)
            return false;
        bits = word_of(set, word);
    }
    *found = set->first + (day_number)(word * WORD_BITS) + __builtin_ctzll(bits);
    return true;
}

/* The same towards the horizon's first day. */
bool day_set_previous(const struct day_set *set, day_number day, day_number *found)
{
    if (day < set->first)
        return false;
    size_t offset = offset_of(set, day > set->last ? set->last : day);
    size_t word = offset / WORD_BITS;
    uint64_t bits = word_of(set, word) & UINT64_MAX >> (WORD_BITS - 1 - offset % WORD_BITS);
    while (!bits) {
        if (word-- == 0)
            return false;
        bits = word_of(set, word);
    }
    *found = set->first + (day_number)(word * WORD_BITS) + (WORD_BITS - 1 - __builtin_clzll(bits));
    return true;
}
