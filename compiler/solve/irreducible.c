/* Statements that no rates keep together, none of which can be left out of the set: found by dropping one
 * after the other for as long as there are still no rates, and shown by trying again. */
#include "compiler/solve/solving.h"

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
    struct variation variation = UNCHANGED;
    variation.dropped = filter->dropped;
    return plot_feasible(filter->question->problem, filter->plot, variation) != LP_IMPOSSIBLE;
}

/* The order in which statements are tried for leaving out: what the correction requires stays longest, then
 * what its plan says, before what labels and the library say. */
static int cause_weight(const struct cause *cause)
{
    if (cause->kind == CAUSE_BOUND || cause->kind == CAUSE_MATCH || cause->kind == CAUSE_PACKS)
        return 4;
    if (cause->kind != CAUSE_LIMIT)
        return 1;
    return cause->limit->set->always ? 0 : cause->limit->set->symbol.library ? 2 : 3;
}

/* Drops one statement after the other for as long as there are still no rates; then shows that without any
 * one of those left there are some. `eased`: how far a statement's figure would have to be moved so that all
 * demands of the plot can be kept. */
struct contradiction contradiction_find(const struct question *question, uint32_t plot)
{
    size_t count = question->causes.count;
    struct filter filter = {question, &question->problem->plots.items[plot],
                            ARENA_ARRAY(question->arena, count, bool)};
    struct contradiction found = {.zone = question->places.items[plot].zone,
                                  .causes = ARENA_ARRAY(question->arena, count, const struct cause *),
                                  .eased = ARENA_ARRAY(question->arena, count, double)};
    for (int weight = 0; weight <= 4; weight++)
        for (size_t i = count; i-- > 0;)
            if (cause_weight(&question->causes.items[i]) == weight) {
                filter.dropped[i] = true;
                filter.dropped[i] = !fits(&filter);
            }
    found.verified = !fits(&filter);
    for (size_t i = 0; i < count; i++)
        if (!filter.dropped[i]) {
            filter.dropped[i] = true;
            found.verified = fits(&filter) && found.verified;
            filter.dropped[i] = false;
        }
    for (uint32_t i = 0; i < count; i++) {
        const struct cause *cause = &question->causes.items[i];
        struct variation variation = UNCHANGED;
        double distance = 0;
        if (filter.dropped[i])
            continue;
        variation.eased = i;
        bool moved = cause_measured(cause) &&
                     plot_distance(question->problem, filter.plot, variation, &distance) == LP_SOLVED;
        found.eased[found.count] = moved ? cause_moved(cause, distance) : (double)NAN;
        found.causes[found.count++] = cause;
    }
    return found;
}
