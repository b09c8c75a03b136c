/* What a programme is made of, and in which ways it is solved. */
#include "compiler/solve/lp_parts.h"

#include <string.h>

/* Of bounds, for exact fractions: less than what counts as equal. */
#define SPARE 5e-10

/* ---- the programme ---- */

struct lp *lp_new(struct arena *arena)
{
    struct lp *lp = ARENA_NEW(arena, struct lp);
    lp->arena = arena;
    lp->ranked = UINT32_MAX;
    lp->node_limit = LP_NODE_LIMIT;
    return lp;
}

uint32_t lp_column(struct lp *lp, enum lp_kind kind, double low, double high)
{
    struct lp_column column = {kind, low, high, false};
    lp->unsound = lp->unsound || !(low >= 0) || isinf(low) || isnan(high);
    if (kind == LP_GAP && low > high)
        column.high = 0;
    VECTOR_PUSH(lp->arena, &lp->columns, column);
    return (uint32_t)lp->columns.count - 1;
}

uint32_t lp_row(struct lp *lp, double low, double high)
{
    struct lp_row row = {low, high};
    lp->unsound = lp->unsound || isnan(low) || isnan(high);
    VECTOR_PUSH(lp->arena, &lp->rows, row);
    return (uint32_t)lp->rows.count - 1;
}

void lp_term(struct lp *lp, uint32_t row, uint32_t column, double factor)
{
    struct lp_term term = {row, column, factor};
    lp->unsound = lp->unsound || !isfinite(factor);
    VECTOR_PUSH(lp->arena, &lp->terms, term);
}

void lp_goal(struct lp *lp, uint32_t goal)
{
    if (goal >= lp->goal_count)
        lp->goal_count = goal + 1;
}

void lp_limit(struct lp *lp, uint32_t nodes)
{
    lp->node_limit = nodes;
}

void lp_spend(struct lp *lp, struct lp_budget *budget)
{
    lp->budget = budget;
}

void lp_ranked(struct lp *lp, uint32_t goals)
{
    lp->ranked = goals;
}

void lp_goal_most(struct lp *lp, uint32_t goal, double most)
{
    lp_goal(lp, goal);
    while (lp->goal_most.count <= goal)
        VECTOR_PUSH(lp->arena, &lp->goal_most, INFINITY);
    lp->goal_most.items[goal] = most;
}

void lp_beat(struct lp *lp, const double *goals)
{
    lp->beaten = goals;
}

void lp_first(struct lp *lp, uint32_t column)
{
    lp->columns.items[column].first = true;
}

void lp_guess(struct lp *lp, lp_guesser *guess, void *task)
{
    lp->guess = guess;
    lp->guess_task = task;
}

void lp_goal_term(struct lp *lp, uint32_t goal, uint32_t column, double factor)
{
    struct lp_term term = {goal, column, factor};
    lp->unsound = lp->unsound || !isfinite(factor);
    VECTOR_PUSH(lp->arena, &lp->goal_terms, term);
    lp_goal(lp, goal);
}

/* ---- solving, but for the search ---- */

/* A copy with something to spare at every bound. A bound of 0, or without end, stays as it is. */
static struct lp *lp_spared(const struct lp *lp)
{
    struct lp *copy = ARENA_NEW(lp->arena, struct lp);
    *copy = *lp;
    memset(&copy->rows, 0, sizeof copy->rows);
    memset(&copy->columns, 0, sizeof copy->columns);
    for (size_t i = 0; i < lp->rows.count; i++) {
        struct lp_row row = lp->rows.items[i];
        row.low -= SPARE * fabs(row.low);
        row.high += SPARE * fabs(row.high);
        VECTOR_PUSH(copy->arena, &copy->rows, row);
    }
    for (size_t i = 0; i < lp->columns.count; i++) {
        struct lp_column column = lp->columns.items[i];
        column.low *= 1 - SPARE;
        column.high *= column.kind == LP_WHOLE ? 1 : 1 + SPARE;
        VECTOR_PUSH(copy->arena, &copy->columns, column);
    }
    return copy;
}

struct lp_answer lp_solve_rounded(struct lp *lp)
{
    struct lp_answer answer = lp_solve(lp);
    return answer.outcome == LP_IMPOSSIBLE ? lp_solve(lp_spared(lp)) : answer;
}

enum lp_outcome lp_feasible(struct lp *lp)
{
    struct lp *spared = lp_spared(lp);
    spared->exact = true;
    return lp_solve(spared).outcome;
}

double lp_price(const struct lp *lp, const struct lp_answer *answer, uint32_t goal, bool column, uint32_t at)
{
    return answer
        ->prices[(size_t)goal * (lp->rows.count + lp->columns.count) + (column ? lp->rows.count : 0) + at];
}
