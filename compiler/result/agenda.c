#include "compiler/result/agenda.h"

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

static void errands_sort(struct errands *errands)
{
    if (errands->count)
        qsort(errands->items, errands->count, sizeof *errands->items, by_day);
}

struct obligations obligations_of(const struct season *season, const struct work_list *list)
{
    struct obligations obligations = {0};
    for (size_t i = 0; i < list->count; i++)
        for (size_t j = 0; j < list->items[i].duties.count; j++) {
            struct obligation obligation = {&list->items[i], &list->items[i].duties.items[j]};
            if (duty_in_force(obligation.duty, obligation.work, season))
                VECTOR_PUSH(season->arena, &obligations, obligation);
        }
    return obligations;
}

/* What is next counts from what is still to come: behind the week, all of the first day that has any. */
struct agenda agenda_of(const struct season *season, const struct work_list *list, const struct look *look)
{
    struct arena *arena = season->arena;
    struct agenda agenda = {
        .day = look->day, .week_end = look->day + WEEK - 1, .in_force = obligations_of(season, list)};
    struct errands later = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct work *work = &list->items[i];
        struct errand errand = {work, look->from[work->occurrence->index]};
        struct errands *errands = work->occurrence->day < agenda.day ? &agenda.overdue
                                  : errand.day == DAY_NEVER          ? &agenda.held
                                  : errand.day <= agenda.week_end    ? &agenda.due
                                                                     : &later;
        if (!work->occurrence->done)
            VECTOR_PUSH(arena, errands, errand);
    }
    errands_sort(&agenda.due);
    errands_sort(&later);
    for (size_t i = 0; i < later.count && later.items[i].day == later.items[0].day; i++)
        VECTOR_PUSH(arena, &agenda.next, later.items[i]);
    return agenda;
}

/* The dates may leave a day on which something else is broken: the latest day says so, and is not said to be
 * late. */
const char *overdue_sentence(struct arena *arena, const struct errand *errand)
{
    const struct occurrence *occurrence = errand->work->occurrence;
    const struct slip *slip = occurrence->slip;
    struct buffer text = {.arena = arena};
    buffer_format(&text, "%s: %s. ", display_date(arena, occurrence->day), errand->work->headline);
    if (errand->day == DAY_NEVER)
        buffer_add_string(&text, "No day is left that the plan allows.");
    else
        buffer_format(&text, "Next possible day %s", display_date(arena, errand->day));
    if (errand->day != DAY_NEVER && slip->end == SLIP_UNKNOWN)
        buffer_add_string(&text, ".");
    else if (errand->day != DAY_NEVER && errand->day > slip->latest)
        buffer_add_string(&text, ", but so late it breaks something: `prill calendar --late` shows what.");
    else if (errand->day != DAY_NEVER)
        buffer_format(&text, "; latest %s, if nothing else is late.", display_date(arena, slip->latest));
    return text.string;
}

const char *errand_sentence(struct arena *arena, const struct errand *errand)
{
    day_number planned = errand->work->occurrence->day;
    bool moved = errand->day != DAY_NEVER && errand->day != planned;
    const char *day = display_date(arena, moved ? errand->day : planned);
    if (!moved)
        return text_format(arena, "%s: %s", day, errand->work->headline);
    return text_format(arena, "%s: %s; moved from %s by overdue work", day, errand->work->headline,
                       display_date(arena, planned));
}
