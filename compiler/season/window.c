/* The days that the plan's own `when` statements and its season leave an occurrence, and nodes given
 * conditions. */
#include "compiler/model/suppose.h"
#include "compiler/season/dating.h"

void condition_add(struct dating *dating, uint32_t node, struct timetable_condition condition)
{
    struct placed_condition placed = {node, condition};
    VECTOR_PUSH(dating->arena, &dating->conditions, placed);
}

static void not_before(struct dating *dating, uint32_t node, day_number day, uint32_t cause)
{
    condition_add(dating, node, (struct timetable_condition){TIMETABLE_NOT_BEFORE, day, NULL, cause});
}

static void not_after(struct dating *dating, uint32_t node, day_number day, uint32_t cause)
{
    condition_add(dating, node, (struct timetable_condition){TIMETABLE_NOT_AFTER, day, NULL, cause});
}

static void within_season(struct dating *dating, uint32_t node)
{
    not_before(dating, node, dating->season->model->season_first, dating->rules->season_cause);
    not_after(dating, node, dating->season->model->season_last, dating->rules->season_cause);
}

static void window_add(struct dating *dating, uint32_t node, const struct when *when, uint32_t cause)
{
    switch (when->kind) {
    case WHEN_ON:
        not_before(dating, node, when->first, cause);
        not_after(dating, node, when->first, cause);
        return;
    case WHEN_BETWEEN:
        not_before(dating, node, when->first, cause);
        not_after(dating, node, when->last, cause);
        return;
    case WHEN_FROM:
        not_before(dating, node, when->first, cause);
        return;
    case WHEN_BY:
        not_after(dating, node, when->last, cause);
        return;
    case WHEN_SAME_DAY:
    case WHEN_AT_LEAST_AFTER:
    case WHEN_AT_LEAST_BEFORE:
    case WHEN_WITHIN:
    case WHEN_EXACTLY_AFTER:
    case WHEN_EXACTLY_BEFORE:
    case WHEN_EVERY:   /* every_windows */
    case WHEN_WEATHER: /* weather_closed.c */
        return;
    }
}

/* Each time has its own window. What was done late (`done`) takes the ends of the later windows with it. */
static void every_windows(struct dating *dating, const struct treatment *treatment, const struct when *every)
{
    const struct season *season = dating->season;
    uint32_t cause = dating->rules->when_cause[treatment->index] + (uint32_t)(every - treatment->whens.items);
    const struct occurrence *done = NULL;
    for (uint32_t i = season->first_of[treatment->index]; i < season->first_of[treatment->index + 1]; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        uint32_t node = dating->node_of[i];
        if (occurrence_fixed(dating, occurrence))
            done = occurrence;
        if (node == TIMETABLE_NONE || done == occurrence)
            continue;
        day_number end = every_day(every, every->first, occurrence->time) - 1;
        day_number moved =
            done ? every_day(every, done->record->day, occurrence->time - done->time + 1) - 1 : end;
        not_before(dating, node, every_day(every, every->first, occurrence->time - 1), cause);
        not_after(dating, node, moved > end ? moved : end, cause);
        if (every->times == 0)
            not_after(dating, node, every->last, cause);
    }
}

static void occurrence_window(struct dating *dating, const struct occurrence *occurrence)
{
    const struct treatment *treatment = occurrence->treatment;
    uint32_t node = dating->node_of[occurrence->index];
    for (uint32_t i = 0; i < treatment->whens.count; i++)
        window_add(dating, node, &treatment->whens.items[i], dating->rules->when_cause[treatment->index] + i);
    if (!treatment->task || treatment->whens.count == 0)
        within_season(dating, node);
}

void windows_make(struct dating *dating)
{
    const struct season *season = dating->season;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        if (dating->node_of[i] != TIMETABLE_NONE && !occurrence_fixed(dating, occurrence))
            occurrence_window(dating, occurrence);
    }
    for (size_t i = 0; i < season->model->treatments.count; i++) {
        const struct treatment *treatment = season->model->treatments.items[i];
        const struct when *every = treatment_every(treatment);
        if (every && treatment_sound(treatment))
            every_windows(dating, treatment, every);
    }
}

/* ---- a day that is only supposed ---- */

void supposed_make(struct dating *dating)
{
    if (dating->trial) {
        uint32_t node = dating->node_of[dating->trial->occurrence];
        not_before(dating, node, dating->trial->day, TIMETABLE_NONE);
        not_after(dating, node, dating->trial->day, TIMETABLE_NONE);
        return;
    }
    struct season *season = dating->season;
    const struct supposition *supposed = season->model->supposed;
    uint32_t cause = dating->rules->supposed_cause;
    if (!supposed || !dating->rules->supposing)
        return;
    uint32_t first = season->first_of[supposed->treatment->index],
             end = season->first_of[supposed->treatment->index + 1];
    for (uint32_t i = first; i < end; i++) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        bool meant = supposed->time == 0 || supposed->time == occurrence->time;
        if (!meant || dating->node_of[i] == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
            continue;
        not_before(dating, dating->node_of[i], supposed->day, cause);
        not_after(dating, dating->node_of[i], supposed->day, cause);
        season->supposed = occurrence;
        return;
    }
}

/* ---- the season where nothing else gives a first day ---- */

struct grounding {
    struct dating *dating;
    uint32_t *start, *heads; /* by node: where its edges lead */
    bool *grounded;          /* by node: something says that it cannot come before some day */
    uint32_t *stack, depth;
};

static void edges_load(struct grounding *grounding)
{
    struct dating *dating = grounding->dating;
    grounding->start = ARENA_ARRAY(dating->arena, (size_t)dating->node_count + 2, uint32_t);
    grounding->heads = ARENA_ARRAY(dating->arena, dating->edges.count, uint32_t);
    uint32_t *next = grounding->start + 1; /* becomes the starts while it is filled */
    for (size_t i = 0; i < dating->edges.count; i++)
        next[dating->edges.items[i].from + 1]++;
    for (uint32_t node = 0; node < dating->node_count; node++)
        next[node + 1] += next[node];
    for (size_t i = 0; i < dating->edges.count; i++)
        grounding->heads[next[dating->edges.items[i].from]++] = dating->edges.items[i].to;
}

static void ground(struct grounding *grounding, uint32_t node)
{
    if (!grounding->grounded[node])
        grounding->stack[grounding->depth++] = node;
    grounding->grounded[node] = true;
}

/* What comes a known time after something that has a first day has one too. */
static void ground_on(struct grounding *grounding)
{
    while (grounding->depth) {
        uint32_t node = grounding->stack[--grounding->depth];
        for (uint32_t i = grounding->start[node]; i < grounding->start[node + 1]; i++)
            ground(grounding, grounding->heads[i]);
    }
}

void seasons_make(struct dating *dating)
{
    struct grounding grounding = {.dating = dating,
                                  .grounded = ARENA_ARRAY(dating->arena, dating->node_count, bool),
                                  .stack = ARENA_ARRAY(dating->arena, dating->node_count, uint32_t)};
    const struct occurrence *occurrences = dating->season->occurrences.items;
    edges_load(&grounding);
    for (size_t i = 0; i < dating->conditions.count; i++)
        if (dating->conditions.items[i].condition.kind == TIMETABLE_NOT_BEFORE)
            ground(&grounding, dating->conditions.items[i].node);
    for (uint32_t node = 0; node < dating->node_count; node++)
        if (occurrence_fixed(dating, &occurrences[dating->members[dating->member_start[node]]]))
            ground(&grounding, node);
    ground_on(&grounding);
    for (uint32_t node = 0; node < dating->node_count; node++)
        if (!grounding.grounded[node])
            within_season(dating, node);
}

/* ---- nodes ---- */

static void fixed_furnish(struct dating *dating)
{
    for (uint32_t node = 0; node < dating->node_count; node++) {
        const struct occurrence *occurrence =
            &dating->season->occurrences.items[dating->members[dating->member_start[node]]];
        if (occurrence_fixed(dating, occurrence))
            dating->nodes[node] = (struct timetable_node){
                .fixed = true, .day = occurrence->record->day, .cause = TIMETABLE_NONE};
    }
}

void nodes_furnish(struct dating *dating)
{
    size_t count = dating->conditions.count;
    struct timetable_condition *all = ARENA_ARRAY(dating->arena, count, struct timetable_condition);
    uint32_t *end = ARENA_ARRAY(dating->arena, (size_t)dating->node_count + 1, uint32_t);
    dating->nodes = ARENA_ARRAY(dating->arena, dating->node_count, struct timetable_node);
    for (size_t i = 0; i < count; i++)
        dating->nodes[dating->conditions.items[i].node].condition_count++;
    for (uint32_t node = 0; node < dating->node_count; node++) {
        dating->nodes[node].conditions = all + end[node];
        end[node + 1] = end[node] + dating->nodes[node].condition_count;
    }
    for (size_t i = 0; i < count; i++) /* end[node] runs from the node's start to the next one's */
        all[end[dating->conditions.items[i].node]++] = dating->conditions.items[i].condition;
    fixed_furnish(dating);
}
