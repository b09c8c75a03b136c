#include "tests/unit/tiny_season.h"

#include <assert.h>
#include <string.h>

/* --- making a season ----------------------------------------------------------------------------------- */

static uint64_t random_bits(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

int32_t tiny_between(uint64_t *seed, int32_t low, int32_t high)
{
    assert(low <= high);
    return low + (int32_t)((random_bits(seed) >> 11) % (uint64_t)(high - low + 1));
}

static bool one_in(uint64_t *seed, int32_t count)
{
    return tiny_between(seed, 1, count) == 1;
}

static uint32_t random_cause(struct tiny_season *season, uint64_t *seed)
{
    if (one_in(seed, 12))
        return TIMETABLE_NONE;
    if (season->cause_mode)
        return (uint32_t)tiny_between(seed, 0, (int32_t)season->cause_mode - 1);
    return season->table.cause_count++;
}

static const struct day_set *random_set(struct tiny_season *season, uint64_t *seed)
{
    const struct timetable *table = &season->table;
    const struct day_set *set = day_set_all(season->arena, table->first - 2, table->last + 2);
    int32_t open_chance = season->mood == TINY_MIXED ? tiny_between(seed, 2, 4) : tiny_between(seed, 1, 2);
    for (day_number day = table->first; day <= table->last; day++)
        if (tiny_between(seed, 0, open_chance) == 0 || (season->mood != TINY_MIXED && one_in(seed, 3)))
            set = day_set_remove_range(season->arena, set, day, day);
    return set;
}

static void make_node(struct tiny_season *season, uint64_t *seed, uint32_t index)
{
    struct timetable_node *node = &season->nodes[index];
    const struct timetable *table = &season->table;
    struct timetable_window *windows = season->windows[index];
    struct timetable_closure *closures = season->closures[index];
    int32_t count = tiny_between(seed, season->mood == TINY_CROWDED, TINY_CONDITIONS);
    if (season->mood == TINY_TIED)
        count = 1 + one_in(seed, 4);
    node->fixed = one_in(seed, season->mood == TINY_MIXED ? 7 : 20);
    node->day = tiny_between(seed, table->first - 2, table->last + 2);
    node->cause = TIMETABLE_NONE;
    node->windows = windows;
    for (int32_t i = 0; i < count; i++) {
        int32_t kind = tiny_between(seed, TIMETABLE_NOT_BEFORE, TIMETABLE_CLOSED_DAYS);
        if (season->mood == TINY_TIED && i == 0)
            kind = TIMETABLE_CLOSED_DAYS;
        int32_t third = (table->last - table->first) / 3;
        day_number day = kind == TIMETABLE_NOT_BEFORE
                             ? tiny_between(seed, table->first - 2, table->last - third)
                             : tiny_between(seed, table->first + third, table->last + 2);
        const struct day_set *days = random_set(season, seed);
        uint32_t cause = random_cause(season, seed);
        if (kind == TIMETABLE_CLOSED_DAYS) {
            *closures = (struct timetable_closure){node->closures, days, cause};
            node->closures = closures++;
        } else {
            struct timetable_window window = {cause, DAY_EVER, DAY_NEVER};
            if (kind == TIMETABLE_NOT_BEFORE)
                window.first = day;
            if (kind == TIMETABLE_NOT_AFTER || one_in(seed, 4))
                window.last = kind == TIMETABLE_NOT_AFTER ? day : day + 2 * third;
            windows[node->window_count++] = window;
        }
    }
}

static void make_edge(struct tiny_season *season, uint64_t *seed, struct timetable_edge *edge)
{
    int32_t last = (int32_t)season->table.node_count - 1;
    edge->from = (uint32_t)tiny_between(seed, 0, last);
    edge->to = (uint32_t)tiny_between(seed, 0, last);
    if (edge->from == edge->to && !one_in(seed, 4))
        edge->to = (edge->to + 1) % season->table.node_count;
    edge->least = one_in(seed, 4) ? 0 : tiny_between(seed, -6, 5);
    if (season->mood == TINY_TIED)
        edge->least = -!one_in(seed, 4);
    edge->cause = random_cause(season, seed);
    if (!season->months || one_in(seed, 3))
        return;
    int16_t months = (int16_t)tiny_between(seed, -3, 3);
    *(one_in(seed, 2) ? &edge->from_months : &edge->to_months) = months;
    edge->least -= (edge->from_months - edge->to_months) * 61 / 2; /* so that the horizon can hold it */
    if (edge->from == edge->to)
        edge->least = 0;
}

void tiny_season_make(struct tiny_season *season, struct arena *arena, uint64_t *seed)
{
    memset(season, 0, sizeof *season);
    season->arena = arena;
    season->mood = (enum tiny_mood)tiny_between(seed, TINY_MIXED, TINY_CROWDED);
    season->cause_mode = one_in(seed, 2) ? 0 : (uint32_t)tiny_between(seed, 1, 8);
    struct timetable *table = &season->table;
    table->cause_count = season->cause_mode;
    table->node_count = one_in(seed, season->mood == TINY_CROWDED ? 2 : 8) ? 5 : one_in(seed, 2) ? 4 : 3;
    season->months = one_in(seed, 3);
    table->first = tiny_between(seed, -30, season->months ? 60 : 30); /* over the end of February */
    table->last = table->first + tiny_between(seed, 7, table->node_count == 5 ? 9 : TINY_LONGEST - 1);
    table->nodes = season->nodes;
    table->edges = season->edges;
    table->edge_count = (uint32_t)tiny_between(seed, 1, 2 * (int32_t)table->node_count + 2);
    for (uint32_t node = 0; node < table->node_count; node++)
        make_node(season, seed, node);
    for (uint32_t i = 0; i < table->edge_count; i++)
        make_edge(season, seed, &season->edges[i]);
    for (uint32_t cause = 0; cause < TINY_CAUSES; cause++)
        season->ranks[cause] = (uint8_t)tiny_between(seed, 0, 2);
    table->cause_rank = one_in(seed, 3) ? NULL : season->ranks;
}

/* --- trying every assignment --------------------------------------------------------------------------- */

struct exhaustion exhaustion_of(const struct tiny_season *season)
{
    struct exhaustion exhaustion = {.season = season, .ease_cause = TIMETABLE_NONE};
    memset(exhaustion.keep, true, sizeof exhaustion.keep);
    memset(exhaustion.active, true, sizeof exhaustion.active);
    return exhaustion;
}

static int32_t eased(const struct exhaustion *exhaustion, enum timetable_kind kind, uint32_t cause)
{
    bool same = exhaustion->ease_kind == kind && exhaustion->ease_cause == cause && cause != TIMETABLE_NONE;
    return same ? exhaustion->ease_days : 0;
}

bool exhaustion_allows(const struct exhaustion *exhaustion, uint32_t index, day_number day)
{
    const struct timetable_node *node = &exhaustion->season->nodes[index];
    for (uint32_t i = 0; i < node->window_count; i++) {
        const struct timetable_window *window = &node->windows[i];
        if (window->cause != TIMETABLE_NONE && !exhaustion->active[window->cause])
            continue;
        if (day + eased(exhaustion, TIMETABLE_NOT_BEFORE, window->cause) < window->first ||
            day - eased(exhaustion, TIMETABLE_NOT_AFTER, window->cause) > window->last)
            return false;
    }
    for (const struct timetable_closure *set = node->closures; set; set = set->next)
        if ((set->cause == TIMETABLE_NONE || exhaustion->active[set->cause]) &&
            !day_set_contains(set->days, day))
            return false;
    return true;
}

bool tiny_edge_holds(const struct timetable_edge *edge, day_number from, day_number to, int32_t ease)
{
    return day_add_months(from, edge->from_months) + edge->least - ease <=
           day_add_months(to, edge->to_months);
}

bool exhaustion_edges_hold(const struct exhaustion *exhaustion, uint32_t newest)
{
    const struct tiny_season *season = exhaustion->season;
    for (uint32_t i = 0; i < season->table.edge_count; i++) {
        const struct timetable_edge *edge = &season->edges[i];
        uint32_t later = edge->from > edge->to ? edge->from : edge->to;
        if (later != newest || !exhaustion->keep[edge->from] || !exhaustion->keep[edge->to] ||
            (season->nodes[edge->from].fixed && season->nodes[edge->to].fixed) ||
            (edge->cause != TIMETABLE_NONE && !exhaustion->active[edge->cause]))
            continue;
        bool counts = (timetable_edge_days(edge) < 0) == exhaustion->ease_back;
        int32_t ease = counts ? eased(exhaustion, TIMETABLE_EDGE, edge->cause) : 0;
        if (!tiny_edge_holds(edge, exhaustion->day[edge->from], exhaustion->day[edge->to], ease))
            return false;
    }
    return true;
}

static void note_solution(struct exhaustion *exhaustion)
{
    for (uint32_t node = 0; node < exhaustion->season->table.node_count; node++) {
        day_number day = exhaustion->day[node];
        if (!exhaustion->found || day < exhaustion->least[node])
            exhaustion->least[node] = day;
        if (!exhaustion->found || day > exhaustion->greatest[node])
            exhaustion->greatest[node] = day;
    }
    exhaustion->found = true;
}

static void try_from(struct exhaustion *exhaustion, uint32_t index)
{
    const struct timetable *table = &exhaustion->season->table;
    if (index == table->node_count) {
        note_solution(exhaustion);
        return;
    }
    const struct timetable_node *node = &exhaustion->season->nodes[index];
    if (!exhaustion->keep[index] || node->fixed) {
        exhaustion->day[index] = node->day;
        if (!exhaustion->keep[index] || exhaustion_edges_hold(exhaustion, index))
            try_from(exhaustion, index + 1);
        return;
    }
    for (day_number day = table->first; day <= table->last; day++) {
        if (exhaustion->found && exhaustion->any)
            return;
        exhaustion->day[index] = day;
        if (exhaustion_allows(exhaustion, index, day) && exhaustion_edges_hold(exhaustion, index))
            try_from(exhaustion, index + 1);
    }
}

void exhaustion_run(struct exhaustion *exhaustion)
{
    try_from(exhaustion, 0);
}

bool exhaustion_solvable(struct exhaustion exhaustion)
{
    exhaustion.any = true;
    exhaustion_run(&exhaustion);
    return exhaustion.found;
}
