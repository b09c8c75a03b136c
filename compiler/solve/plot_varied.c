/* One plot again, with some of its demands dropped or moved. */
#include "compiler/solve/problem_lp.h"

enum lp_outcome plot_feasible(const struct problem *problem, const struct plot *plot,
                              struct variation variation)
{
    struct arena_mark mark = arena_mark(problem->arena);
    enum lp_outcome outcome = lp_feasible(programme_new(problem, &plot, 1, variation)->lp);
    arena_rewind(problem->arena, mark);
    return outcome;
}

enum lp_outcome plot_distance(const struct problem *problem, const struct plot *plot,
                              struct variation variation, double *distance)
{
    struct arena_mark mark = arena_mark(problem->arena);
    struct programme *programme = programme_new(problem, &plot, 1, variation);
    lp_goal_term(programme->lp, 0, programme->distance, 1);
    struct lp_answer answer = lp_solve(programme->lp);
    if (answer.outcome == LP_SOLVED)
        *distance = answer.goals[0];
    arena_rewind(problem->arena, mark);
    return answer.outcome == LP_SOLVED && !answer.proven ? LP_UNDECIDED : answer.outcome;
}

/* ---- what holds a plot back ---- */

static void hold(bool *holding, uint32_t cause)
{
    if (cause != NO_CAUSE)
        holding[cause] = true;
}

/* Dual values tell of sums alone. Where a rate has a gap, or a want may vanish, a sum may hold the plot back
 * by keeping it at 0 and have no price: then all sums are marked. */
static void holding_mark(const struct programme *programme, const struct lp_answer *answer, bool *holding)
{
    const struct plot *plot = programme->plots[0].plot;
    bool gapped = false;
    for (size_t i = 0; i < plot->choices.count; i++)
        gapped = gapped || plot->choices.items[i].low > 0;
    for (size_t i = 0; i < plot->wants.count; i++)
        gapped = gapped || (plot->wants.items[i].per_n > 0 && plot->wants.items[i].bare < 0);

    /* What counts, forbids or has a least rate; and all sums and most rates where a gap may hide them. */
    for (size_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        if (choice->low > 0)
            hold(holding, choice->low_cause);
        if (gapped && !isinf(choice->high))
            hold(holding, choice->high_cause);
    }
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        if (gapped || (demand->kind != DEMAND_MOST && demand->kind != DEMAND_LEAST))
            hold(holding, demand->cause);
    }
    for (size_t i = 0; i < programme->behind.count && answer->outcome == LP_SOLVED; i++) {
        const struct problem_row *row = &programme->behind.items[i];
        for (uint32_t goal = GOAL_WORST; goal <= GOAL_SHORT; goal++) {
            if (fabs(lp_price(programme->lp, answer, goal, row->column, row->at)) > 1e-8)
                hold(holding, row->cause);
        }
    }
}

/* ---- a plot varied ---- */

/* What nothing on the list supplies is missing whatever is varied. */
struct plot_outcome plot_varied(const struct problem *problem, const struct plot *plot,
                                struct variation variation, const struct plot_outcome *now, bool *holding)
{
    double *missing = ARENA_ARRAY(problem->arena, plot->wants.count, double);
    struct arena_mark mark = arena_mark(problem->arena);
    struct programme *programme = programme_new(problem, &plot, 1, variation);
    programme_goals(programme, GOAL_SHORT);
    if (variation.eased != NO_CAUSE)
        lp_goal_term(programme->lp, GOAL_SHORT + 1, programme->distance, 1);
    const double beaten[] = {now ? now->worst : 0, now ? now->shortfall : 0};
    lp_beat(programme->lp, now ? beaten : NULL);
    struct lp_answer answer = lp_solve(programme->lp);
    struct plot_outcome outcome = {.outcome = answer.outcome, .proven = answer.proven, .missing = missing};
    bool solved = answer.outcome == LP_SOLVED;
    if (solved) {
        outcome.worst = answer.goals[GOAL_WORST];
        outcome.shortfall = answer.goals[GOAL_SHORT];
        outcome.distance = variation.eased == NO_CAUSE ? 0 : answer.goals[GOAL_SHORT + 1];
    }
    for (size_t i = 0; i < plot->wants.count && solved; i++) {
        const struct want *want = &plot->wants.items[i];
        uint32_t column = programme->plots[0].shortfall[i];
        missing[i] = column != NO_COLUMN ? answer.columns[column] * want_unit(want)
                                         : fmax(0, want->amount - want->given);
    }
    if (holding)
        holding_mark(programme, &answer, holding);
    arena_rewind(problem->arena, mark);
    return now && answer.outcome == LP_IMPOSSIBLE ? *now : outcome;
}
