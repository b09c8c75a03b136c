/* The calendar, what has a day in the order of the work; and the ledgers, what each zone received when. */
#include "compiler/season/dating.h"

/* `day_rank` counts within each day, by the order stated, in a `when` or as one of kinds, and then by that of
 * the text: they are put into that order first, then sorted by counting days, of which a season has few. */
void calendar_make(struct season *season, const struct dating *dating)
{
    struct arena *scratch = arena_scratch(season->arena);
    struct arena_mark mark = arena_mark(scratch);
    size_t count = season->occurrences.count, relations = dating->relations.count;
    VECTOR(struct precedence) pairs = {0};
    uint32_t *day_of =
        ARENA_ARRAY(scratch, count, uint32_t); /* counted from the first; NO_KEY: it has none */
    day_number first = INT32_MAX;
    uint32_t last = 0;
    for (size_t i = 0; i < count; i++)
        if (season->occurrences.items[i].dated && season->occurrences.items[i].day < first)
            first = season->occurrences.items[i].day;
    for (size_t i = 0; i < count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        day_of[i] = occurrence->dated ? (uint32_t)(occurrence->day - first) : NO_KEY;
        last = occurrence->dated && day_of[i] > last ? day_of[i] : last;
        season->calendar_count += occurrence->dated;
    }
    for (size_t i = 0; i < relations + dating->orders.count; i++) {
        struct precedence order;
        if (i < relations)
            order = (struct precedence){dating->relations.items[i].early, dating->relations.items[i].late};
        else
            order = dating->orders.items[i - relations];
        if (day_of[order.before] == day_of[order.after] && day_of[order.before] != NO_KEY)
            VECTOR_PUSH(scratch, &pairs, order);
    }
    uint32_t *ranks = precedence_ranks(scratch, (uint32_t)count, pairs.items, pairs.count);
    uint32_t *ranked = ARENA_ARRAY(scratch, count, uint32_t), *days = ARENA_ARRAY(scratch, count, uint32_t);
    for (uint32_t i = 0; i < count; i++) {
        ranked[ranks[i]] = i;
        days[ranks[i]] = day_of[i];
    }
    struct keyed sorted = sort_by_key(scratch, days, count, last + 1);
    season->calendar = ARENA_ARRAY(season->arena, count, struct occurrence *);
    for (size_t i = 0; i < season->calendar_count; i++)
        season->calendar[i] = &season->occurrences.items[ranked[sorted.items[i]]];
    arena_rewind(scratch, mark);
    for (size_t i = 1; i < season->calendar_count; i++)
        if (season->calendar[i - 1]->day == season->calendar[i]->day)
            season->calendar[i]->day_rank = season->calendar[i - 1]->day_rank + 1;
}

/* All amounts of a zone on one day are one application. The calendar is in order of days, so each zone's
 * entries come in order too, and those of one day side by side. */
void ledgers_make(struct season *season)
{
    const struct model *model = season->model;
    season->ledgers = ARENA_ARRAY(season->arena, model->zones.count, struct ledger);
    /* How many applications and amounts each ledger will hold, so that each is made in one piece. */
    struct arena *scratch = arena_scratch(season->arena);
    struct arena_mark mark = arena_mark(scratch);
    day_number *last_day = ARENA_ARRAY(scratch, season->model->zones.count, day_number);
    for (size_t i = 0; i < season->calendar_count; i++)
        for (size_t j = 0; j < season->calendar[i]->amounts.count; j++) {
            uint32_t zone = season->calendar[i]->amounts.items[j].zone->index;
            struct ledger *ledger = &season->ledgers[zone];
            day_number day = season->calendar[i]->day;
            ledger->applications.capacity += !ledger->amount_count || last_day[zone] != day;
            ledger->amount_count++;
            last_day[zone] = day;
        }
    arena_rewind(scratch, mark);
    for (size_t i = 0; i < model->zones.count; i++) {
        struct ledger *ledger = &season->ledgers[i];
        ledger->zone = model->zones.items[i];
        ledger->applications.items =
            ARENA_ARRAY(season->arena, ledger->applications.capacity, struct application);
        ledger->amounts = ARENA_ARRAY(season->arena, ledger->amount_count, struct amount *);
        ledger->occurrences = ARENA_ARRAY(season->arena, ledger->amount_count, const struct occurrence *);
        ledger->amount_count = 0;
    }
    for (size_t i = 0; i < season->calendar_count; i++)
        for (size_t j = 0; j < season->calendar[i]->amounts.count; j++) {
            const struct occurrence *occurrence = season->calendar[i];
            struct amount *amount = &season->calendar[i]->amounts.items[j];
            struct ledger *ledger = &season->ledgers[amount->zone->index];
            size_t at = ledger->amount_count++, count = ledger->applications.count;
            struct application *last = count ? &ledger->applications.items[count - 1] : NULL;
            if (!last || last->day != occurrence->day) {
                last = &ledger->applications.items[ledger->applications.count++];
                *last = (struct application){.day = occurrence->day, .supplied = amount->supplied};
                last->amounts.items = &ledger->amounts[at];
                last->occurrences.items = &ledger->occurrences[at];
            }
            last->amounts.items[last->amounts.count++] = amount;
            count = last->occurrences.count;
            if (count == 0 || last->occurrences.items[count - 1] != occurrence)
                last->occurrences.items[last->occurrences.count++] = occurrence;
        }
    for (size_t i = 0; i < model->zones.count; i++)
        for (size_t j = 0; j < season->ledgers[i].applications.count; j++) {
            struct application *application = &season->ledgers[i].applications.items[j];
            if (application->amounts.count < 2)
                continue;
            /* In the order of the work: a sum depends on it. */
            double *sum = ARENA_ARRAY(season->arena, NUTRIENT_COUNT, double);
            for (size_t k = 0; k < application->amounts.count; k++)
                for (int n = 0; n < NUTRIENT_COUNT; n++)
                    sum[n] += application->amounts.items[k]->supplied[n];
            application->supplied = sum;
        }
}
