/* The calendar, what has a day in the order of the work; and the ledgers, what each zone received when. */
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

/* `day_rank` counts within each day, by the order stated and then by that of the text. */
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

/* All amounts of a zone on one day are one application. The calendar is in order of days, so each zone's
 * entries come in order too. */
void ledgers_make(struct season *season)
{
    const struct model *model = season->model;
    season->ledgers = ARENA_ARRAY(season->arena, model->zones.count, struct ledger);
    for (size_t i = 0; i < model->zones.count; i++)
        season->ledgers[i].zone = model->zones.items[i];
    for (size_t i = 0; i < season->calendar_count; i++)
        for (size_t j = 0; j < season->calendar[i]->amounts.count; j++) {
            const struct occurrence *occurrence = season->calendar[i];
            struct amount *amount = &season->calendar[i]->amounts.items[j];
            struct ledger *ledger = &season->ledgers[amount->zone->index];
            struct application begun = {.day = occurrence->day}, *last = NULL;
            if (ledger->applications.count == 0 ||
                ledger->applications.items[ledger->applications.count - 1].day != occurrence->day)
                VECTOR_PUSH(season->arena, &ledger->applications, begun);
            last = &ledger->applications.items[ledger->applications.count - 1];
            for (int n = 0; n < NUTRIENT_COUNT; n++)
                last->supplied[n] += amount->supplied[n];
            VECTOR_PUSH(season->arena, &last->amounts, amount);
            size_t count = last->occurrences.count;
            if (count == 0 || last->occurrences.items[count - 1] != occurrence)
                VECTOR_PUSH(season->arena, &last->occurrences, occurrence);
        }
}
