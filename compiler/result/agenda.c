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

static void obligations_file(const struct season *season, struct agenda *agenda, const struct work *work)
{
    for (size_t i = 0; i < work->duties.count; i++) {
        struct obligation obligation = {work, &work->duties.items[i]};
        if (duty_in_force(obligation.duty, work, season))
            VECTOR_PUSH(season->arena, &agenda->in_force, obligation);
    }
}

struct agenda agenda_of(const struct season *season, const struct work_list *list, const struct look *look)
{
    struct arena *arena = season->arena;
    struct agenda agenda = {.day = look->day, .week_end = look->day + WEEK - 1};
    struct errands later = {0};
    for (size_t i = 0; i < list->count; i++) {
        const struct work *work = &list->items[i];
        obligations_file(season, &agenda, work);
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

const char *obligation_sentence(struct arena *arena, const struct obligation *obligation)
{
    const struct work *work = obligation->work;
    const char *where = work->lawn ? text_format(arena, " on %s", name_string(work->lawn->symbol.name)) : "";
    const char *title = occurrence_title(arena, work->occurrence);
    if (obligation->duty->caution) /* says itself how long */
        return text_format(arena, "After %s%s: %s", title, where, obligation->duty->text);
    return text_format(arena, "Until %s, after %s%s: %s", display_date(arena, obligation->duty->last), title,
                       where, obligation->duty->text);
}
