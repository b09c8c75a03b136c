/* What is used at all: how often a product may be, and what may not be used beside something else. Where days
 * exclude each other pair by pair, a row for each set that all exclude each other says the same and leaves
 * the relaxation less room; so does what an application may hold in all, where the application is used in
 * part. */
#include "compiler/solve/problem_lp.h"

#include "compiler/model/tolerance.h"

#include <assert.h>

struct use_set {
    VECTOR(uint32_t) choices; /* counting up */
    uint32_t column;
    uint32_t next; /* set with the same first choice; NO_COLUMN */
};

struct use_pair { /* not both; by number of the set */
    uint32_t first, second, cause;
};

struct uses {
    struct programme *programme;
    const struct plot_columns *columns;
    VECTOR(struct use_set) sets;
    VECTOR(struct use_pair) pairs;
    uint32_t *first_of; /* by choice: a set that begins with it; NO_COLUMN */
};

struct uses *uses_new(struct programme *programme, const struct plot_columns *columns)
{
    struct uses *uses = ARENA_NEW(programme->arena, struct uses);
    uses->programme = programme;
    uses->columns = columns;
    uses->first_of = ARENA_ARRAY(programme->arena, columns->plot->choices.count, uint32_t);
    for (size_t i = 0; i < columns->plot->choices.count; i++)
        uses->first_of[i] = NO_COLUMN;
    return uses;
}

/* ---- rows that hold rates to their use ---- */

void programme_link(struct programme *programme, const struct plot_columns *columns, uint32_t choice,
                    uint32_t use, bool held)
{
    struct use_link link = {use, columns->rate[choice]};
    VECTOR_PUSH(programme->arena, &programme->links, link);
    if (held)
        return;
    uint32_t row = lp_row(programme->lp, -INFINITY, 0);
    lp_term(programme->lp, row, columns->rate[choice], 1);
    lp_term(programme->lp, row, use, -columns->ceiling[choice] / RATE_UNIT);
}

/* ---- sets ---- */

/* The set of a demand's parts with that factor, there being at least one; made where no demand named it yet.
 */
static uint32_t side_of(struct uses *uses, const struct demand *demand, double side)
{
    struct arena *arena = uses->programme->arena;
    struct use_set set = {.next = NO_COLUMN};
    for (size_t i = 0; i < demand->parts.count; i++)
        if (demand->parts.items[i].factor == side)
            VECTOR_PUSH(arena, &set.choices, demand->parts.items[i].choice);
    assert(set.choices.count);
    uint32_t *first = &uses->first_of[set.choices.items[0]];
    for (uint32_t at = *first; at != NO_COLUMN; at = uses->sets.items[at].next) {
        const struct use_set *other = &uses->sets.items[at];
        bool same = other->choices.count == set.choices.count;
        for (size_t i = 0; i < set.choices.count && same; i++)
            same = other->choices.items[i] == set.choices.items[i];
        if (same)
            return at;
    }
    set.column = lp_column(uses->programme->lp, LP_WHOLE, 0, 1);
    set.next = *first;
    VECTOR_PUSH(arena, &uses->sets, set);
    *first = (uint32_t)uses->sets.count - 1;

    /* Where a demand that only adds up names nothing but rates of the set, its sum is at most its bound times
     * the use. What a rate cannot pass for that demand alone needs no row of its own. */
    struct programme *programme = uses->programme;
    const struct plot_columns *columns = uses->columns;
    const struct plot *plot = columns->plot;
    bool *of_set = ARENA_ARRAY(arena, plot->choices.count, bool);
    bool *linked = ARENA_ARRAY(arena, plot->choices.count, bool);
    for (size_t i = 0; i < set.choices.count; i++)
        of_set[set.choices.items[i]] = true;
    for (size_t i = 0; i < plot->demands.count && set.choices.count > 1; i++) {
        const struct demand *sum = &plot->demands.items[i];
        bool adds_up = demand_adds_up(sum) && sum->parts.count > 1 && sum->bound / RATE_UNIT > 1e-6 &&
                       cause_in_force(programme->variation, sum->cause);
        for (size_t j = 0; j < sum->parts.count && adds_up; j++)
            adds_up = of_set[sum->parts.items[j].choice];
        if (!adds_up)
            continue;
        uint32_t row = lp_row(programme->lp, -INFINITY, 0);
        lp_term(programme->lp, row, set.column, -1);
        for (size_t j = 0; j < sum->parts.count; j++) {
            const struct demand_part *part = &sum->parts.items[j];
            lp_term(programme->lp, row, columns->rate[part->choice], part->factor * RATE_UNIT / sum->bound);
            if (part->factor > 0 && !exceeds(sum->bound / part->factor, columns->ceiling[part->choice]))
                linked[part->choice] = true;
        }
    }
    for (size_t i = 0; i < set.choices.count; i++)
        programme_link(programme, columns, set.choices.items[i], set.column, linked[set.choices.items[i]]);
    return *first;
}

/* Each rate of a DEMAND_TIMES is a set of its own. */
void uses_add(struct uses *uses, const struct demand *demand)
{
    struct programme *programme = uses->programme;
    if (demand->kind == DEMAND_APART) {
        struct use_pair pair = {side_of(uses, demand, 0), side_of(uses, demand, 1), demand->cause};
        assert(pair.first != pair.second);
        VECTOR_PUSH(programme->arena, &uses->pairs, pair);
        return;
    }
    uint32_t row = lp_row(programme->lp, -INFINITY, demand->bound);
    for (size_t i = 0; i < demand->parts.count; i++) {
        struct demand alone = {.kind = DEMAND_TIMES};
        VECTOR_PUSH(programme->arena, &alone.parts, demand->parts.items[i]);
        uint32_t set = side_of(uses, &alone, demand->parts.items[i].factor);
        lp_term(programme->lp, row, uses->sets.items[set].column, 1);
    }
    if (programme_eases(programme, demand->cause))
        lp_term(programme->lp, row, programme->distance, -1);
}

/* ---- what excludes each other ---- */

/* The pairs of one statement after those of the other. A pair that no row says yet gets one: of the two, and
 * of all that excludes what is in the row already, at most one is used. */
void uses_close(struct uses *uses)
{
    struct arena *arena = uses->programme->arena;
    struct lp *lp = uses->programme->lp;
    for (size_t from = 0, to; from < uses->pairs.count; from = to) {
        const struct use_pair *pairs = &uses->pairs.items[from];
        for (to = from + 1; to < uses->pairs.count; to++)
            if (uses->pairs.items[to].cause != pairs->cause)
                break;

        /* The sets that these pairs name, in order of first mention; and where the two of each pair are. */
        size_t ends = 2 * (to - from), count = 0;
        size_t *places = ARENA_ARRAY(arena, ends, size_t), *members = ARENA_ARRAY(arena, ends, size_t);
        uint32_t *sets = ARENA_ARRAY(arena, ends, uint32_t);
        for (size_t i = 0; i < ends; i++) {
            uint32_t set = i % 2 ? pairs[i / 2].second : pairs[i / 2].first;
            while (places[i] < count && sets[places[i]] != set)
                places[i]++;
            if (places[i] == count)
                sets[count++] = set;
        }

        /* By two places in `sets`: exclude each other; a row says so. */
        bool *excluding = ARENA_ARRAY(arena, count * count, bool);
        bool *said = ARENA_ARRAY(arena, count * count, bool);
        for (size_t i = 0; i < ends; i++)
            excluding[places[i] * count + places[i ^ 1]] = true;
        for (size_t i = 0; i < ends; i += 2) {
            size_t held = 2;
            if (said[places[i] * count + places[i + 1]])
                continue;
            members[0] = places[i];
            members[1] = places[i + 1];
            for (size_t j = 0; j < count; j++) {
                bool excludes = true;
                for (size_t k = 0; k < held && excludes; k++)
                    excludes = excluding[j * count + members[k]];
                if (excludes)
                    members[held++] = j;
            }
            uint32_t row = lp_row(lp, -INFINITY, 1);
            for (size_t j = 0; j < held; j++) {
                lp_term(lp, row, uses->sets.items[sets[members[j]]].column, 1);
                for (size_t k = 0; k < held; k++)
                    said[members[j] * count + members[k]] = true;
            }
        }
    }
}
