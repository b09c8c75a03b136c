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

/* Drops one statement after the other for as long as there are still no rates; then shows that without any
 * one of those left there are some. Zones on which the same statements clash are one contradiction, and those
 * that are the same question are looked at once. */
void contradictions_find(const struct question *question, struct rates_answer *made)
{
    const struct problem *problem = question->problem;
    const uint32_t *alike = problem_alike(problem);
    size_t count = question->causes.count;
    problem_allow(problem, problem_work(problem));
    for (uint32_t at = 0; at < problem->plots.count && !problem_tired(problem); at++) {
        struct filter filter = {question, &problem->plots.items[at], NULL};
        struct contradiction *same = NULL;
        if (alike[at] != at || fits(&filter))
            continue;
        filter.dropped = ARENA_ARRAY(question->arena, count, bool);
        struct contradiction found = {.zone = question->places.items[at].zone,
                                      .causes = ARENA_ARRAY(question->arena, count, const struct cause *),
                                      .eased = ARENA_ARRAY(question->arena, count, double)};

        /* What the correction requires stays longest, then what its plan says, before what labels and the
         * library say. */
        for (int weight = 0; weight <= 4; weight++)
            for (size_t i = count; i-- > 0;) {
                const struct cause *cause = &question->causes.items[i];
                bool asked =
                    cause->kind == CAUSE_BOUND || cause->kind == CAUSE_MATCH || cause->kind == CAUSE_PACKS;
                int own = asked                               ? 4
                          : cause->kind != CAUSE_LIMIT        ? 1
                          : cause->limit->set->always         ? 0
                          : cause->limit->set->symbol.library ? 2
                                                              : 3;
                if (own != weight)
                    continue;
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

        /* How far a statement's figure would have to be moved so that all demands of the plot can be kept. */
        for (uint32_t i = 0; i < count; i++) {
            const struct cause *cause = &question->causes.items[i];
            double distance = 0;
            if (filter.dropped[i])
                continue;
            bool moved =
                !isnan(cause_moved(cause, 0)) &&
                plot_distance(problem, filter.plot, (struct variation){.eased = i}, &distance) == LP_SOLVED;
            found.eased[found.count] = moved ? cause_moved(cause, distance) : (double)NAN;
            found.causes[found.count++] = cause;
        }
        for (uint32_t i = 0; i < problem->plots.count; i++)
            found.zones += alike[i] == at;
        for (size_t i = 0; i < made->contradictions.count && !same; i++) {
            struct contradiction *other = &made->contradictions.items[i];
            bool alike_causes = other->count == found.count;
            for (size_t j = 0; j < found.count && alike_causes; j++)
                alike_causes = other->causes[j] == found.causes[j];
            same = alike_causes ? other : NULL;
        }
        if (same)
            same->zones += found.zones;
        else
            VECTOR_PUSH(question->arena, &made->contradictions, found);
    }
}
