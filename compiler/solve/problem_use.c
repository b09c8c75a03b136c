/* What is used at all: how often a product may be, and what may not be used beside something else. Where days
 * exclude each other pair by pair, a row for each set that all exclude each other says the same and leaves
 * the relaxation less room; so does what an application may hold in all, where the application is used in
 * part. */
#include "compiler/solve/problem_lp.h"

#include "compiler/model/tolerance.h"

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

/* Where a demand that only adds up names nothing but rates of the set, its sum is at most its bound times the
 * use. What a rate cannot pass for that demand alone needs no row of its own. */
static void set_link(struct uses *uses, const struct use_set *set)
{
    struct programme *programme = uses->programme;
    const struct plot_columns *columns = uses->columns;
    const struct plot *plot = columns->plot;
    struct lp *lp = programme->lp;
    bool *of_set = ARENA_ARRAY(programme->arena, plot->choices.count, bool);
    bool *linked = ARENA_ARRAY(programme->arena, plot->choices.count, bool);
    for (size_t i = 0; i < set->choices.count; i++)
        of_set[set->choices.items[i]] = true;
    for (size_t i = 0; i < plot->demands.count && set->choices.count > 1; i++) {
        const struct demand *demand = &plot->demands.items[i];
        bool adds_up = demand_adds_up(demand) && demand->parts.count > 1 &&
                       demand->bound / RATE_UNIT > 1e-6 &&
                       cause_in_force(programme->variation, demand->cause);
        for (size_t j = 0; j < demand->parts.count && adds_up; j++)
            adds_up = of_set[demand->parts.items[j].choice];
        if (!adds_up)
            continue;
        uint32_t row = lp_row(lp, -INFINITY, 0);
        lp_term(lp, row, set->column, -1);
        for (size_t j = 0; j < demand->parts.count; j++) {
            const struct demand_part *part = &demand->parts.items[j];
            lp_term(lp, row, columns->rate[part->choice], part->factor * RATE_UNIT / demand->bound);
            if (part->factor > 0 && !exceeds(demand->bound / part->factor, columns->ceiling[part->choice]))
                linked[part->choice] = true;
        }
    }
    for (size_t i = 0; i < set->choices.count; i++)
        programme_link(programme, columns, set->choices.items[i], set->column, linked[set->choices.items[i]]);
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
    set_link(uses, &set);
    return *first;
}

void uses_times(struct uses *uses, const struct demand *demand)
{
    struct programme *programme = uses->programme;
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

void uses_apart(struct uses *uses, const struct demand *demand)
{
    struct use_pair pair = {side_of(uses, demand, 0), side_of(uses, demand, 1), demand->cause};
    VECTOR_PUSH(uses->programme->arena, &uses->pairs, pair);
}

/* ---- what excludes each other ---- */

struct clash {
    uint32_t *sets; /* that the pairs at hand name, in order of first mention */
    size_t count;
    bool *pairs, *said; /* by two places in `sets`: exclude each other; a row says so */
};

static size_t clash_place(struct clash *clash, uint32_t set)
{
    size_t at = 0;
    while (at < clash->count && clash->sets[at] != set)
        at++;
    if (at == clash->count)
        clash->sets[clash->count++] = set;
    return at;
}

/* Of the pair and all that excludes what is in the row already, at most one is used. */
static void clash_row(struct uses *uses, struct clash *clash, size_t first, size_t second)
{
    struct lp *lp = uses->programme->lp;
    size_t *members = ARENA_ARRAY(uses->programme->arena, clash->count, size_t), count = 2;
    members[0] = first;
    members[1] = second;
    for (size_t i = 0; i < clash->count; i++) {
        bool excludes = true;
        for (size_t j = 0; j < count && excludes; j++)
            excludes = clash->pairs[i * clash->count + members[j]];
        if (excludes)
            members[count++] = i;
    }
    uint32_t row = lp_row(lp, -INFINITY, 1);
    for (size_t i = 0; i < count; i++) {
        lp_term(lp, row, uses->sets.items[clash->sets[members[i]]].column, 1);
        for (size_t j = 0; j < count; j++)
            clash->said[members[i] * clash->count + members[j]] = true;
    }
}

/* The pairs of one statement after those of the other. */
void uses_close(struct uses *uses)
{
    struct arena *arena = uses->programme->arena;
    for (size_t from = 0, to; from < uses->pairs.count; from = to) {
        const struct use_pair *pairs = &uses->pairs.items[from];
        for (to = from + 1; to < uses->pairs.count; to++)
            if (uses->pairs.items[to].cause != pairs->cause)
                break;
        size_t count = to - from, *places = ARENA_ARRAY(arena, 2 * count, size_t);
        struct clash clash = {.sets = ARENA_ARRAY(arena, 2 * count, uint32_t)};
        for (size_t i = 0; i < count; i++) {
            places[2 * i] = clash_place(&clash, pairs[i].first);
            places[2 * i + 1] = clash_place(&clash, pairs[i].second);
        }
        clash.pairs = ARENA_ARRAY(arena, clash.count * clash.count, bool);
        clash.said = ARENA_ARRAY(arena, clash.count * clash.count, bool);
        for (size_t i = 0; i < count; i++)
            clash.pairs[places[2 * i] * clash.count + places[2 * i + 1]] =
                clash.pairs[places[2 * i + 1] * clash.count + places[2 * i]] = true;
        for (size_t i = 0; i < count; i++)
            if (!clash.said[places[2 * i] * clash.count + places[2 * i + 1]])
                clash_row(uses, &clash, places[2 * i], places[2 * i + 1]);
    }
}
