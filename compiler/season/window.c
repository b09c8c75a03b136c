/* The days that the plan's own `when` statements and its season leave an occurrence, and nodes given
 * their windows. */
#include "compiler/model/suppose.h"
#include "compiler/season/dating.h"

void window_add(struct dating *dating, uint32_t node, day_number first, day_number last, uint32_t cause)
{
    struct placed_window placed = {node, {cause, first, last}};
    VECTOR_PUSH(dating->scratch, &dating->windows, placed);
}

/* Nodes follow each other with the same sets, of which the last is added first: so they share them. */
void closure_add(struct dating *dating, uint32_t node, const struct day_set *days, uint32_t cause)
{
    const struct timetable_closure **closures = &dating->nodes[node].closures, *newest = dating->closure;
    if (!newest || newest->next != *closures || newest->days != days || newest->cause != cause) {
        struct timetable_closure *closure = ARENA_NEW(dating->arena, struct timetable_closure);
        *closure = (struct timetable_closure){*closures, days, cause};
        dating->closure = newest = closure;
    }
    *closures = newest;
}

/* What a statement says of its own days; what it says of another's is a relation (relation.c). Applications
 * lie within the season, and so does a task without a `when` of its own. */
void windows_make(struct dating *dating)
{
    const struct season *season = dating->season;
    const struct model *model = season->model;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        uint32_t node = dating->node_of[i], cause = season->when_cause[treatment->index];
        if (node == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
            continue;
        for (uint32_t j = 0; j < treatment->whens.count; j++) {
            const struct when *when = &treatment->whens.items[j];
            switch (when->kind) {
            case WHEN_ON:
                window_add(dating, node, when->first, when->first, cause + j);
                break;
            case WHEN_BETWEEN:
                window_add(dating, node, when->first, when->last, cause + j);
                break;
            case WHEN_FROM:
                window_add(dating, node, when->first, DAY_NEVER, cause + j);
                break;
            case WHEN_BY:
                window_add(dating, node, DAY_EVER, when->last, cause + j);
                break;
            case WHEN_SAME_DAY:
            case WHEN_AT_LEAST_AFTER:
            case WHEN_AT_LEAST_BEFORE:
            case WHEN_WITHIN:
            case WHEN_EXACTLY_AFTER:
            case WHEN_EXACTLY_BEFORE:
            case WHEN_EVERY:   /* below */
            case WHEN_WEATHER: /* weather_closed.c */
                break;
            }
        }
        if (!treatment->task || treatment->whens.count == 0)
            window_add(dating, node, model->season_first, model->season_last, dating->rules->season_cause);
    }
    /* Each time of an `every` has its own window. What was done late (`done`) takes the ends of the later
     * windows with it. */
    const struct occurrence *done = NULL;
    for (uint32_t i = 0; i < season->first_of[model->treatments.count]; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        const struct when *every = treatment_every(treatment);
        uint32_t node = dating->node_of[i];
        if (every && occurrence_fixed(dating, occurrence))
            done = occurrence;
        if (!every || node == TIMETABLE_NONE || done == occurrence)
            continue;
        uint32_t cause = season->when_cause[treatment->index] + (uint32_t)(every - treatment->whens.items);
        bool moves = done && done->treatment == treatment;
        day_number end = every_day(every, every->first, occurrence->time) - 1;
        day_number moved =
            moves ? every_day(every, done->record->day, occurrence->time - done->time + 1) - 1 : end;
        window_add(dating, node, every_day(every, every->first, occurrence->time - 1),
                   moved > end ? moved : end, cause);
        if (every->times == 0)
            window_add(dating, node, DAY_EVER, every->last, cause);
    }
}

/* ---- a day that is only supposed ---- */

/* Of a trial; or the day supposed of the first time still to come that is meant, which season->supposed
 * keeps. */
void supposed_make(struct dating *dating)
{
    struct season *season = dating->season;
    const struct supposition *supposed = season->model->supposed;
    if (dating->trial) {
        uint32_t node = dating->node_of[dating->trial->member];
        window_add(dating, node, dating->trial->day, dating->trial->day, TIMETABLE_NONE);
        return;
    }
    if (!supposed || !dating->rules->supposing)
        return;
    for (uint32_t i = season->first_of[supposed->treatment->index];
         i < season->first_of[supposed->treatment->index + 1]; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        bool named = supposed->time == 0 || supposed->time == occurrence->time;
        if (!named || dating->node_of[i] == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
            continue;
        window_add(dating, dating->node_of[i], supposed->day, supposed->day, dating->rules->supposed_cause);
        season->supposed = occurrence;
        return;
    }
}

/* ---- the season where nothing else gives a first day ---- */

/* What comes a known time after something that has a first day has one too. */
void seasons_make(struct dating *dating)
{
    const struct model *model = dating->season->model;
    bool *grounded = ARENA_ARRAY(dating->scratch, dating->node_count, bool); /* has a first day */
    uint32_t *stack = ARENA_ARRAY(dating->scratch, (size_t)dating->node_count + 1, uint32_t), depth = 0;
    for (size_t i = 0; i < dating->windows.count; i++) {
        const struct placed_window *placed = &dating->windows.items[i];
        bool first = placed->window.first != DAY_EVER && !grounded[placed->node];
        stack[depth] = placed->node;
        depth += first;
        grounded[placed->node] |= first;
    }
    for (uint32_t node = 0; node < dating->node_count; node++)
        if (dating->nodes[node].fixed) {
            grounded[node] = true;
            stack[depth++] = node;
        }
    if (depth == dating->node_count)
        return;
    uint32_t *from = ARENA_ARRAY(dating->scratch, dating->edges.count, uint32_t);
    for (size_t i = 0; i < dating->edges.count; i++)
        from[i] = dating->edges.items[i].from;
    struct keyed edges = sort_by_key(dating->scratch, from, dating->edges.count, dating->node_count);
    while (depth) {
        uint32_t node = stack[--depth];
        for (uint32_t i = edges.start[node]; i < edges.start[node + 1]; i++) {
            uint32_t next = dating->edges.items[edges.items[i]].to;
            stack[depth] = next;
            depth += !grounded[next];
            grounded[next] = true;
        }
    }
    for (uint32_t node = 0; node < dating->node_count; node++)
        if (!grounded[node])
            window_add(dating, node, model->season_first, model->season_last, dating->rules->season_cause);
}

/* ---- nodes ---- */

/* Windows sorted by node. */
void nodes_furnish(struct dating *dating)
{
    size_t count = dating->windows.count;
    const struct placed_window *placed = dating->windows.items;
    struct timetable_window *all = ARENA_ARRAY(dating->arena, count, struct timetable_window);
    for (size_t i = 0; i < count; i++)
        dating->nodes[placed[i].node].window_count++;
    struct timetable_window **end =
        ARENA_ARRAY(dating->scratch, dating->node_count, struct timetable_window *);
    for (uint32_t node = 0; node < dating->node_count; node++) {
        dating->nodes[node].windows = end[node] = all;
        all += dating->nodes[node].window_count;
    }
    for (size_t i = 0; i < count; i++)
        *end[placed[i].node]++ = placed[i].window;
}
