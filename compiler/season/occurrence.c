/* How often each treatment occurs. */
#include "compiler/season/dating.h"

#include <assert.h>

day_number every_day(const struct when *every, day_number from, int64_t times)
{
    bool monthly = every->wait.months > 0;
    int64_t step = monthly ? every->wait.months : every->wait.days;
    int64_t farthest = 2 * (int64_t)DAY_SET_SPAN; /* beyond any plan either way */
    int64_t distance = times * step < farthest ? times * step : farthest;
    if (monthly)
        return day_add_months(from, (int)distance);
    return (day_number)(from + distance);
}

const struct when *treatment_every(const struct treatment *treatment)
{
    for (size_t i = 0; i < treatment->whens.count; i++)
        if (treatment->whens.items[i].kind == WHEN_EVERY)
            return &treatment->whens.items[i];
    return NULL;
}

bool treatment_sound(const struct treatment *treatment)
{
    return !treatment->symbol.broken && (treatment->task || treatment->zones.count > 0);
}

struct counting {    /* of the times, along chains of `same day after` */
    uint32_t *times; /* by treatment; 0: not known yet */
    bool *visiting;
    size_t *cursor;  /* by treatment: the next of its whens to look at */
    uint32_t *most;  /* by treatment: of those looked at */
    uint32_t *stack; /* the chain at hand; plans may be too long for recursion */
    size_t depth;
};

/* By treatment; 1 for what is broken. A rule counts to its last day by days, or month by month. */
static uint32_t *times_count(const struct model *model, struct arena *arena)
{
    size_t count = model->treatments.count;
    struct counting counting = {.times = ARENA_ARRAY(arena, count, uint32_t),
                                .visiting = ARENA_ARRAY(arena, count, bool),
                                .cursor = ARENA_ARRAY(arena, count, size_t),
                                .most = ARENA_ARRAY(arena, count, uint32_t),
                                .stack = ARENA_ARRAY(arena, count, uint32_t)};
    for (size_t i = 0; i < count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        const struct when *every = treatment_every(treatment);
        uint32_t *times = &counting.times[i];
        bool follows = false; /* the chains are looked at again, and the others counted here */
        for (size_t j = 0; j < treatment->whens.count; j++)
            follows |= treatment->whens.items[j].kind == WHEN_SAME_DAY;
        if (every || !follows || !treatment_sound(treatment))
            *times = 1;
        if (!every || !treatment_sound(treatment))
            continue;
        if (every->times > 0)
            *times = (uint32_t)every->times;
        else if (every->wait.days > 0 && every->last > every->first)
            *times += (uint32_t)(((int64_t)every->last - every->first) / every->wait.days);
        else
            while (every->wait.months > 0 && every_day(every, every->first, *times) <= every->last)
                ++*times;
    }
    for (uint32_t i = 0; i < count; i++) {
        if (counting.times[i] == 0)
            counting.stack[counting.depth++] = i;
        while (counting.depth) {
            /* Of the chain's last treatment: goes on to one that must be counted first, or settles it. */
            uint32_t index = counting.stack[counting.depth - 1], next = index;
            const struct treatment *treatment = model->treatments.items[index];
            counting.visiting[index] = true;
            for (size_t *at = &counting.cursor[index]; *at < treatment->whens.count; ++*at) {
                const struct when *when = &treatment->whens.items[*at];
                if (when->kind != WHEN_SAME_DAY || !when->other || !treatment_sound(when->other))
                    continue;
                uint32_t other = when->other->index;
                if (counting.times[other] == 0 && !counting.visiting[other]) {
                    next = other;
                    break;
                }
                if (counting.times[other] > counting.most[index])
                    counting.most[index] = counting.times[other];
            }
            if (next != index)
                counting.stack[counting.depth++] = next;
            else {
                counting.times[index] = counting.most[index] ? counting.most[index] : 1;
                counting.depth--;
            }
        }
    }
    return counting.times;
}

/* A treatment for whose times there is no room any more is taken as occurring once. */
void occurrences_make(struct season *season)
{
    const struct model *model = season->model;
    size_t count = model->treatments.count, total = count;
    struct arena *scratch = arena_scratch(season->arena);
    struct arena_mark mark = arena_mark(scratch);
    uint32_t *times = times_count(model, scratch);
    size_t room = model->bytes / ROOM_BYTES;
    season->date_room = room > OCCURRENCE_LIMIT ? room : OCCURRENCE_LIMIT;
    season->amount_room = room > AMOUNT_LIMIT ? room : AMOUNT_LIMIT;
    season->first_of = ARENA_ARRAY(season->arena, count + 1, uint32_t);
    season->added_of = ARENA_ARRAY(season->arena, count + 1, uint32_t);
    for (size_t i = 0; i < count; i++) {
        if (times[i] > 1 && total + times[i] - 1 > season->date_room) {
            season->crowded = season->crowded ? season->crowded : model->treatments.items[i];
            times[i] = 1;
        }
        total += times[i] - 1;
    }
    season->occurrences.capacity = (uint32_t)total + model->records.count;
    season->occurrences.items = ARENA_ARRAY(season->arena, season->occurrences.capacity, struct occurrence);
    for (size_t i = 0; i < count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        assert(treatment);
        for (uint32_t time = 0; time < times[i]; time++) {
            uint32_t index = (uint32_t)season->occurrences.count++;
            struct occurrence *occurrence = &season->occurrences.items[index];
            occurrence->treatment = treatment;
            occurrence->index = index;
            occurrence->dressings = &season->dressings[i];
            occurrence->slip = &SLIP_UNASKED;
            occurrence->time = (int)time + 1;
            occurrence->times = (int)times[i];
            occurrence->zones = treatment->zones;
        }
        season->first_of[i + 1] = (uint32_t)season->occurrences.count;
    }
    arena_rewind(scratch, mark);
    for (size_t i = 0; i < count; i++) {
        season->added_of[i] = (uint32_t)season->occurrences.count;
        if (model->records.count)
            records_place(season, model->treatments.items[i]);
    }
    season->added_of[count] = (uint32_t)season->occurrences.count;
}
