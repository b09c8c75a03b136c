/* The calendar: what has a day, in the order in which it is to be done. */
#include "compiler/season/dating.h"

#include <stdlib.h>

struct entry {
    struct occurrence *occurrence;
    uint32_t rank;
};

static int by_day(const void *a, const void *b)
{
    const struct entry *first = a, *second = b;
    if (first->occurrence->day != second->occurrence->day)
        return first->occurrence->day < second->occurrence->day ? -1 : 1;
    return first->rank < second->rank ? -1 : first->rank > second->rank;
}

void calendar_make(struct season *season, const struct precedence *same_day, size_t pair_count)
{
    size_t count = season->occurrences.count;
    uint32_t *ranks = precedence_ranks(season->arena, (uint32_t)count, same_day, pair_count);
    struct entry *entries = ARENA_ARRAY(season->arena, count, struct entry);
    season->calendar = ARENA_ARRAY(season->arena, count, struct occurrence *);
    for (size_t i = 0; i < count; i++)
        if (season->occurrences.items[i].dated)
            entries[season->calendar_count++] = (struct entry){&season->occurrences.items[i], ranks[i]};
    qsort(entries, season->calendar_count, sizeof *entries, by_day);
    for (size_t i = 0; i < season->calendar_count; i++) {
        struct occurrence *occurrence = entries[i].occurrence;
        season->calendar[i] = occurrence;
        if (i > 0 && season->calendar[i - 1]->day == occurrence->day)
            occurrence->day_rank = season->calendar[i - 1]->day_rank + 1;
    }
}
