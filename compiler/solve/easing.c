/* What it would buy to ease a statement: each that holds it back is dropped and the zone solved again; where
 * that helps, the least easing that helps as much is found by solving once more with the statement's figure
 * free to move. */
#include "compiler/solve/solving.h"

#include "compiler/solve/problem_lp.h"

#include <stdlib.h>

/* Labels and laws have figures as well, and none of them is to be moved. */
bool cause_measured(const struct cause *cause)
{
    switch (cause->kind) {
    case CAUSE_LIMIT:
        return !limit_is_fixed(cause->limit) &&
               (cause->limit->kind == LIMIT_PER_APPLICATION || cause->limit->kind == LIMIT_PER_YEAR ||
                cause->limit->kind == LIMIT_PER_PERIOD);
    case CAUSE_BOUND:
    case CAUSE_MATCH:
        return true;
    case CAUSE_LABEL_LEAST:
    case CAUSE_LABEL_MOST:
    case CAUSE_LABEL_YEAR:
    case CAUSE_LABEL_TIMES:
    case CAUSE_LABEL_INTERVAL:
    case CAUSE_HEAT:
    case CAUSE_COLD:
    case CAUSE_LEAST_RATE:
    case CAUSE_PACKS:
        return false;
    }
    return false;
}

/* An amount that must come is lowered, one that may come is raised. */
double cause_moved(const struct cause *cause, double distance)
{
    double mass = distance * RATE_UNIT;
    switch (cause->kind) {
    case CAUSE_LIMIT:
        return cause_measured(cause) && cause->limit->nutrient
                   ? cause->limit->most + mass / cause->limit->nutrient->element_per_unit
                   : NAN;
    case CAUSE_BOUND:
        return (cause->bound->kg_per_m2 + (cause->bound->least ? -mass : mass)) /
               cause->bound->nutrient->element_per_unit;
    case CAUSE_MATCH:
        return cause->match->supply + mass / cause->match->nutrient->element_per_unit;
    case CAUSE_LABEL_LEAST:
    case CAUSE_LABEL_MOST:
    case CAUSE_LABEL_INTERVAL:
    case CAUSE_LABEL_TIMES:
    case CAUSE_LABEL_YEAR:
    case CAUSE_HEAT:
    case CAUSE_COLD:
    case CAUSE_LEAST_RATE:
    case CAUSE_PACKS:
        break;
    }
    return NAN;
}

struct trial {
    const struct question *question;
    const struct plot *plot;
    struct plot_outcome now;
    bool *dropped;
    bool followed; /* all that was tried came to its end */
};

/* Shares less than this are rounding. */
static const double NOTHING = 1e-7;

/* The plot without the statement; and where that helps and it has a figure, the least move of it that helps
 * as much. */
static struct easing cause_try(struct trial *trial, uint32_t cause)
{
    const struct problem *problem = trial->question->problem;
    struct easing easing = {.cause = &trial->question->causes.items[cause], .bound = NAN};
    struct variation variation = UNCHANGED;
    trial->dropped[cause] = true;
    variation.dropped = trial->dropped;
    struct plot_outcome without = plot_varied(problem, trial->plot, variation);
    trial->dropped[cause] = false;
    trial->followed = trial->followed && without.proven;
    if (without.outcome != LP_SOLVED || !without.proven)
        return easing;
    easing.worst = without.worst;
    easing.missing = without.missing;
    easing.bought =
        fmax(trial->now.worst - without.worst, 0) + fmax(trial->now.shortfall - without.shortfall, 0);
    if (easing.bought <= NOTHING || !cause_measured(easing.cause))
        return easing;
    variation.dropped = NULL;
    variation.eased = cause;
    struct plot_outcome eased = plot_varied(problem, trial->plot, variation);
    easing.measured = eased.outcome == LP_SOLVED && eased.proven &&
                      fabs(eased.worst - without.worst) <= NOTHING &&
                      fabs(eased.shortfall - without.shortfall) <= NOTHING;
    if (easing.measured)
        easing.bound = cause_moved(easing.cause, eased.distance);
    return easing;
}

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
    struct trial trial = {.question = question, .plot = &problem->plots.items[plot]};
    bool *holding = ARENA_ARRAY(question->arena, problem->cause_count, bool);
    size_t left = 0;
    trial.dropped = ARENA_ARRAY(question->arena, problem->cause_count, bool);
    problem_allow(problem, work);
    trial.now = plot_varied(problem, trial.plot, UNCHANGED);
    trial.followed = trial.now.proven;
    if (trial.now.outcome != LP_SOLVED || !trial.now.proven)
        return;
    plot_holding(problem, trial.plot, holding);
    for (uint32_t cause = 0; cause < problem->cause_count; cause++)
        left += holding[cause];
    for (uint32_t cause = 0; cause < problem->cause_count; cause++) {
        if (!holding[cause])
            continue;
        if (work == 0) {
            trial.followed = false;
            break;
        }
        work_share(problem, work, left--);
        struct easing easing = cause_try(&trial, cause);
        work = work_rest(problem, work);
        easing.zone = choice->zone;
        if (easing.bought > NOTHING)
            VECTOR_PUSH(question->arena, &choice->easings, easing);
    }
    choice->followed = trial.followed;
    if (choice->easings.count)
        qsort(choice->easings.items, choice->easings.count, sizeof *choice->easings.items, by_bought);
}
