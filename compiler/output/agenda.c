#include "compiler/output/agenda.h"

#include "compiler/model/display.h"

#include <stdlib.h>

enum { WEEK = 7 };

static int by_day(const void *a, const void *b)
{
    const struct errand *first = a, *second = b;
    if (first->day != second->day)
        return first->day < second->day ? -1 : 1;
    return (first->work > second->work) - (first->work < second->work); /* in one list: its order */
}

static void errand_file(struct arena *arena, struct agenda *agenda, struct errands *later,
                        struct errand errand)
{
    if (errand.work->occurrence->day < agenda->day)
        VECTOR_PUSH(arena, &agenda->overdue, errand);
    else if (errand.day == DAY_NEVER)
        VECTOR_PUSH(arena, &agenda->held, errand);
    else if (errand.day <= agenda->week_end)
        VECTOR_PUSH(arena, &agenda->due, errand);
    else
        VECTOR_PUSH(arena, later, errand);
}

static void errands_sort(struct errands *errands)
{
    if (errands->count)
        qsort(errands->items, errands->count, sizeof *errands->items, by_day);
}

struct agenda agenda_of(struct arena *arena, const struct work_list *list, const struct look *look)
{
    struct agenda agenda = {.day = look->day, .week_end = look->day + WEEK - 1};
    struct errands later = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct work *work = &list->items[i];
        if (!work->occurrence->done)
            errand_file(arena, &agenda, &later, (struct errand){work, look->from[work->occurrence->index]});
    }
    errands_sort(&agenda.due);
    errands_sort(&later);
    for (size_t i = 0; i < later.count && later.items[i].day == later.items[0].day; i++)
        VECTOR_PUSH(arena, &agenda.next, later.items[i]);
    return agenda;
}

const char *overdue_sentence(struct arena *arena, const struct errand *errand)
{
    const struct occurrence *occurrence = errand->work->occurrence;
    const char *planned = display_date(arena, occurrence->day);
    if (errand->day == DAY_NEVER)
        return text_format(arena, "%s: %s. No day that the plan allows is left for it.", planned,
                           errand->work->headline);
    if (occurrence->slip.end != SLIP_UNKNOWN && errand->day > occurrence->slip.latest)
        return text_format(arena,
                           "%s: %s. Its dates leave %s, but it breaks something so late: "
                           "`prill calendar --late` shows what.",
                           planned, errand->work->headline, display_date(arena, errand->day));
    if (occurrence->slip.end == SLIP_UNKNOWN)
        return text_format(arena, "%s: %s. Its dates leave %s.", planned, errand->work->headline,
                           display_date(arena, errand->day));
    return text_format(arena, "%s: %s. It fits on %s; latest %s, if nothing else is late.", planned,
                       errand->work->headline, display_date(arena, errand->day),
                       display_date(arena, occurrence->slip.latest));
}

const char *errand_sentence(struct arena *arena, const struct errand *errand)
{
    day_number planned = errand->work->occurrence->day;
    bool never = errand->day == DAY_NEVER;
    const char *day = display_date(arena, never ? planned : errand->day);
    if (never || errand->day == planned)
        return text_format(arena, "%s: %s", day, errand->work->headline);
    return text_format(arena, "%s: %s; moved from %s by what is overdue", day, errand->work->headline,
                       display_date(arena, planned));
}
