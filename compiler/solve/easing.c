/* What it would buy to ease a statement: each that holds it back is dropped and the zone solved again; where
 * that helps, the least easing that helps as much is found by solving once more with the statement's figure
 * free to move. */
#include "compiler/solve/solving.h"

#include "compiler/solve/problem_lp.h"

#include <stdlib.h>

/* An amount that must come is lowered, one that may come is raised. Labels and laws have figures as well, and
 * none of them is to be moved. */
double cause_moved(const struct cause *cause, double distance)
{
    double mass = distance * RATE_UNIT;
    const struct limit *limit = cause->kind == CAUSE_LIMIT ? cause->limit : NULL;
    if (limit && !limit_is_fixed(limit) &&
        (limit->kind == LIMIT_PER_APPLICATION || limit->kind == LIMIT_PER_YEAR ||
         limit->kind == LIMIT_PER_PERIOD))
        return limit->most + mass / limit->nutrient->element_per_unit;
    if (cause->kind == CAUSE_BOUND)
        return (cause->bound->kg_per_m2 + (cause->bound->least ? -mass : mass)) /
               cause->bound->nutrient->element_per_unit;
    if (cause->kind == CAUSE_MATCH)
        return cause->match->supply + mass / cause->match->nutrient->element_per_unit;
    return NAN;
}

/* Shares less than this are rounding. */
static const double NOTHING = 1e-7;

static int by_bought(const void *a, const void *b)
{
    const struct easing *first = a, *second = b;
    if (fabs(first->bought - second->bought) > NOTHING)
        return first->bought > second->bought ? -1 : 1;
    return first->cause < second->cause ? -1 : first->cause > second->cause;
}

/* The work is shared among the statements that hold the plot back; what one leaves of its part is there for
 * those after it. */
void easings_find(const struct question *question, uint32_t plot, uint64_t work, struct zone_choice *choice)
{
    const struct problem *problem = question->problem;
    const struct plot *held = &problem->plots.items[plot];
    bool *holding = ARENA_ARRAY(question->arena, problem->cause_count, bool);
    bool *dropped = ARENA_ARRAY(question->arena, problem->cause_count, bool);
    size_t left = 0;
    problem_allow(problem, work);
    struct plot_outcome now = plot_varied(problem, held, UNCHANGED, NULL, holding);
    if (now.outcome != LP_SOLVED || !now.proven)
        return;
    choice->followed = true;
    for (uint32_t cause = 0; cause < problem->cause_count; cause++)
        left += holding[cause];
    for (uint32_t cause = 0; cause < problem->cause_count; cause++) {
        struct easing easing = {.cause = &question->causes.items[cause], .zone = choice->zone, .bound = NAN};
        struct variation variation = {.dropped = dropped, .eased = NO_CAUSE};
        if (!holding[cause])
            continue;
        if (work == 0) {
            choice->followed = false;
            break;
        }
        work_share(problem, work, left--);

        /* The plot without the statement. */
        dropped[cause] = true;
        struct plot_outcome without = plot_varied(problem, held, variation, &now, NULL);
        dropped[cause] = false;
        choice->followed = choice->followed && without.proven;
        if (without.outcome == LP_SOLVED && without.proven) {
            easing.worst = without.worst;
            easing.missing = without.missing;
            easing.bought = fmax(now.worst - without.worst, 0) + fmax(now.shortfall - without.shortfall, 0);
        }

        /* Where that helps and it has a figure, the least move of it that helps as much. */
        if (easing.bought > NOTHING && !isnan(cause_moved(easing.cause, 0))) {
            variation = (struct variation){.eased = cause};
            struct plot_outcome eased = plot_varied(problem, held, variation, NULL, NULL);
            easing.measured = eased.outcome == LP_SOLVED && eased.proven &&
                              fabs(eased.worst - without.worst) <= NOTHING &&
                              fabs(eased.shortfall - without.shortfall) <= NOTHING;
            if (easing.measured)
                easing.bound = cause_moved(easing.cause, eased.distance);
        }
        work = work_rest(problem, work);
        if (easing.bought > NOTHING)
            VECTOR_PUSH(question->arena, &choice->easings, easing);
    }
    if (choice->easings.count)
        qsort(choice->easings.items, choice->easings.count, sizeof *choice->easings.items, by_bought);
}
