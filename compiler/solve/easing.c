/* What it would buy to ease a statement: each that presses is dropped and the zone solved again; where that
 * helps, the least easing that helps as much is found by solving once more with the statement's figure free
 * to move. */
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
        return false;
    }
    return false;
}

static double limit_moved(const struct limit *limit, double mass)
{
    return limit->nutrient ? limit->most + mass / limit->nutrient->element_per_unit : NAN;
}

double cause_moved(const struct cause *cause, double distance)
{
    double mass = distance * RATE_UNIT;
    switch (cause->kind) {
    case CAUSE_LIMIT:
        return cause_measured(cause) ? limit_moved(cause->limit, mass) : NAN;
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
        break;
    }
    return NAN;
}

struct trial {
    const struct question *question;
    const struct plot *plot;
    struct plot_outcome now;
    bool *dropped;
    uint64_t work; /* that is left */
    bool followed; /* all that was tried came to its end */
};

/* Shares less than this are rounding. */
static const double NOTHING = 1e-7;

static struct easing cause_try(struct trial *trial, uint32_t cause)
{
    const struct problem *problem = trial->question->problem;
    struct easing easing = {.cause = &trial->question->causes.items[cause], .bound = NAN};
    struct relief relief = NO_RELIEF;
    trial->dropped[cause] = true;
    relief.dropped = trial->dropped;
    struct plot_outcome without = plot_relieved(problem, trial->plot, relief);
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
    relief.dropped = NULL;
    relief.eased = cause;
    struct plot_outcome eased = plot_relieved(problem, trial->plot, relief);
    easing.measured = eased.outcome == LP_SOLVED && eased.proven &&
                      fabs(eased.worst - without.worst) <= NOTHING &&
                      fabs(eased.shortfall - without.shortfall) <= NOTHING;
    if (easing.measured)
        easing.bound = cause_moved(easing.cause, eased.distance);
    return easing;
}

/* One of `parts` that still want to be tried. */
static struct easing cause_share(struct trial *trial, uint32_t cause, size_t parts)
{
    struct easing easing = {.bound = NAN};
    if (trial->work == 0) {
        trial->followed = false;
        return easing;
    }
    work_share(trial->question->problem, trial->work, parts);
    easing = cause_try(trial, cause);
    trial->work = work_rest(trial->question->problem, trial->work);
    return easing;
}

static size_t pressing_count(const struct problem *problem, const bool *pressing)
{
    size_t count = 0;
    for (uint32_t cause = 0; cause < problem->cause_count; cause++)
        count += pressing[cause];
    return count;
}

static int by_bought(const void *a, const void *b)
{
    const struct easing *first = a, *second = b;
    if (fabs(first->bought - second->bought) > NOTHING)
        return first->bought > second->bought ? -1 : 1;
    return first->cause < second->cause ? -1 : first->cause > second->cause;
}

void easings_find(const struct question *question, uint32_t plot, uint64_t work, struct zone_choice *choice)
{
    const struct problem *problem = question->problem;
    struct trial trial = {.question = question, .plot = &problem->plots.items[plot], .work = work};
    bool *pressing = ARENA_ARRAY(question->arena, problem->cause_count, bool);
    trial.dropped = ARENA_ARRAY(question->arena, problem->cause_count, bool);
    problem_allow(problem, work);
    trial.now = plot_relieved(problem, trial.plot, NO_RELIEF);
    trial.followed = trial.now.proven;
    if (trial.now.outcome != LP_SOLVED || !trial.now.proven)
        return;
    plot_pressing(problem, trial.plot, pressing);
    size_t left = pressing_count(problem, pressing);
    for (uint32_t cause = 0; cause < problem->cause_count; cause++) {
        struct easing easing = {0};
        if (pressing[cause])
            easing = cause_share(&trial, cause, left--);
        easing.zone = choice->zone;
        if (easing.bought > NOTHING)
            VECTOR_PUSH(question->arena, &choice->easings, easing);
    }
    choice->followed = trial.followed;
    if (choice->easings.count)
        qsort(choice->easings.items, choice->easings.count, sizeof *choice->easings.items, by_bought);
}
