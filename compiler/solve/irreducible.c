/* Statements that no rates keep together, none of which can be left out of the set: found by dropping one
 * after the other for as long as there are still no rates, and shown by trying again. */
#include "compiler/solve/solving.h"

/* In which order statements are tried to be left out: what the correction asks stays longest, then what its
 * plan says, before what labels and the library say. */
static int cause_weight(const struct cause *cause)
{
    if (cause->kind == CAUSE_BOUND || cause->kind == CAUSE_MATCH)
        return 4;
    if (cause->kind == CAUSE_LIMIT && cause->limit->set->always)
        return 0;
    if (cause->kind == CAUSE_LIMIT)
        return cause->limit->set->symbol.library ? 2 : 3;
    return 1;
}

struct filter {
    const struct question *question;
    const struct plot *plot;
    bool *dropped; /* by cause */
};

/* What cannot be looked at any more counts as fitting: no statement is left out for it. */
static bool fits(const struct filter *filter)
{
    if (problem_tired(filter->question->problem))
        return true;
    struct relief relief = NO_RELIEF;
    relief.dropped = filter->dropped;
    return plot_feasible(filter->question->problem, filter->plot, relief) != LP_IMPOSSIBLE;
}

static void causes_drop(struct filter *filter)
{
    for (int weight = 0; weight <= 4; weight++)
        for (uint32_t i = (uint32_t)filter->question->causes.count; i-- > 0;) {
            if (cause_weight(&filter->question->causes.items[i]) != weight)
                continue;
            filter->dropped[i] = true;
            if (fits(filter))
                filter->dropped[i] = false;
        }
}

/* All of them clash, and without any one of them they do not. */
static bool set_verify(struct filter *filter)
{
    bool verified = !fits(filter);
    for (size_t i = 0; i < filter->question->causes.count; i++) {
        if (filter->dropped[i])
            continue;
        filter->dropped[i] = true;
        verified = fits(filter) && verified;
        filter->dropped[i] = false;
    }
    return verified;
}

/* How far the statement's figure would have to be moved so that all the plot's demands can be kept. */
static double cause_eased(const struct filter *filter, uint32_t cause)
{
    struct relief relief = NO_RELIEF;
    double distance = 0;
    relief.eased = cause;
    if (!cause_measured(&filter->question->causes.items[cause]) ||
        plot_distance(filter->question->problem, filter->plot, relief, &distance) != LP_SOLVED)
        return NAN;
    return cause_moved(&filter->question->causes.items[cause], distance);
}

struct contradiction contradiction_find(const struct question *question, uint32_t plot)
{
    size_t count = question->causes.count;
    struct filter filter = {question, &question->problem->plots.items[plot],
                            ARENA_ARRAY(question->arena, count, bool)};
    struct contradiction found = {.zone = question->places.items[plot].zone,
                                  .causes = ARENA_ARRAY(question->arena, count, const struct cause *),
                                  .eased = ARENA_ARRAY(question->arena, count, double)};
    causes_drop(&filter);
    found.verified = set_verify(&filter);
    for (uint32_t i = 0; i < count; i++) {
        if (filter.dropped[i])
            continue;
        found.eased[found.count] = cause_eased(&filter, i);
        found.causes[found.count++] = &question->causes.items[i];
    }
    return found;
}
