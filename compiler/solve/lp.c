/* Branch and bound over relaxations. Every goal takes part in the bound, in order, so one tree decides them
 * all: a branch is left as soon as its goals, compared one after the other, are no better than the best
 * answer's. */
#include "compiler/solve/relaxation.h"

#include <math.h>
#include <string.h>

/* Values closer than this count as equal; see compare.h for the same figure elsewhere. */
#define EQUAL 1e-9

/* ---- the programme ---- */

struct lp *lp_new(struct arena *arena)
{
    struct lp *lp = ARENA_NEW(arena, struct lp);
    lp->arena = arena;
    return lp;
}

uint32_t lp_column(struct lp *lp, enum lp_kind kind, double low, double high)
{
    struct lp_column column = {kind, low, high};
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

void lp_goal_term(struct lp *lp, uint32_t goal, uint32_t column, double factor)
{
    struct lp_term term = {goal, column, factor};
    lp->unsound = lp->unsound || !isfinite(factor);
    VECTOR_PUSH(lp->arena, &lp->goal_terms, term);
    lp_goal(lp, goal);
}

/* ---- the search ---- */

struct branch {
    uint32_t column;
    double low, high;             /* of this side */
    double other_low, other_high; /* of the side still to be looked at */
    double back_low, back_high;   /* before it */
    bool other;                   /* there is one */
};

struct search {
    struct lp *lp;
    struct relaxation *relaxation;
    bool exact; /* only whether anything fits */
    double *low, *high;
    LP_VECTOR(struct branch) branches;
    double *goals, *columns; /* of the relaxation at hand */
    double *prices;
    bool found, undecided;
    struct lp_answer *answer;
};

static bool clearly_less(double a, double b)
{
    return a < b - EQUAL * fmax(1, fabs(b));
}

static void prices_read(struct search *search, uint32_t goal)
{
    const struct lp *lp = search->lp;
    double *prices = search->prices + (size_t)goal * (lp->rows.count + lp->columns.count);
    for (uint32_t i = 0; i < lp->rows.count; i++)
        prices[i] = relaxation_row_price(search->relaxation, i);
    for (uint32_t i = 0; i < lp->columns.count; i++)
        prices[lp->rows.count + i] = relaxation_column_price(search->relaxation, i);
}

static enum relaxed node_exact(struct search *search)
{
    enum relaxed outcome = relaxation_exact(search->relaxation);
    for (uint32_t i = 0; i < search->lp->columns.count && outcome == RELAXED_FITS; i++)
        search->columns[i] = relaxation_column(search->relaxation, i);
    return outcome;
}

/* The goals one after the other; RELAXED_EMPTY too when they are no better than the best answer's. */
static enum relaxed node_goals(struct search *search)
{
    enum relaxed outcome = RELAXED_FITS;
    bool ahead = !search->found;
    for (uint32_t goal = 0; goal < search->lp->goal_count && outcome == RELAXED_FITS; goal++) {
        outcome = relaxation_solve(search->relaxation, goal);
        if (outcome != RELAXED_FITS)
            break;
        search->goals[goal] = relaxation_goal(search->relaxation);
        if (!ahead && clearly_less(search->answer->goals[goal], search->goals[goal]))
            outcome = RELAXED_EMPTY;
        ahead = ahead || clearly_less(search->goals[goal], search->answer->goals[goal]);
        prices_read(search, goal);
        relaxation_hold(search->relaxation);
    }
    if (!ahead && outcome == RELAXED_FITS)
        outcome = RELAXED_EMPTY;
    for (uint32_t i = 0; i < search->lp->columns.count && outcome == RELAXED_FITS; i++)
        search->columns[i] = relaxation_column(search->relaxation, i);
    relaxation_release(search->relaxation);
    return outcome;
}

/* How far a column is from what its kind allows, as a share; 0 where it is allowed. */
static double astray(const struct lp_column *column, double value)
{
    double off = 0;
    if (column->kind == LP_WHOLE)
        off = fabs(value - floor(value + 0.5));
    if (column->kind == LP_GAP && value > 0 && value < column->low)
        off = fmin(value, column->low - value) / column->low;
    return off > EQUAL ? off : 0;
}

static bool branch_find(const struct search *search, uint32_t *found)
{
    double worst = 0;
    for (uint32_t i = 0; i < search->lp->columns.count; i++) {
        double off = astray(&search->lp->columns.items[i], search->columns[i]);
        if (off > worst) {
            worst = off;
            *found = i;
        }
    }
    return worst > 0;
}

static void bound_set(struct search *search, uint32_t column, double low, double high)
{
    search->low[column] = low;
    search->high[column] = high;
    relaxation_bound(search->relaxation, column, low, high);
}

/* The side nearer to the relaxation's value first. */
static void branch_push(struct search *search, uint32_t at)
{
    const struct lp_column *column = &search->lp->columns.items[at];
    double value = search->columns[at];
    bool gap = column->kind == LP_GAP;
    double below = gap ? 0 : floor(value), above = gap ? column->low : floor(value) + 1;
    bool up = above - value < value - below;
    struct branch branch = {
        .column = at, .back_low = search->low[at], .back_high = search->high[at], .other = true};
    double lower_high = below, upper_low = above;
    branch.low = up ? upper_low : branch.back_low;
    branch.high = up ? branch.back_high : lower_high;
    branch.other_low = up ? branch.back_low : upper_low;
    branch.other_high = up ? lower_high : branch.back_high;
    VECTOR_PUSH(search->lp->arena, &search->branches, branch);
    bound_set(search, at, branch.low, branch.high);
}

/* To the next side that was not looked at; false when there is none. */
static bool branch_back(struct search *search)
{
    while (search->branches.count) {
        struct branch *branch = &search->branches.items[search->branches.count - 1];
        if (branch->other && branch->other_low <= branch->other_high) {
            branch->other = false;
            bound_set(search, branch->column, branch->other_low, branch->other_high);
            return true;
        }
        bound_set(search, branch->column, branch->back_low, branch->back_high);
        search->branches.count--;
    }
    return false;
}

/* What is within rounding of where its kind wants it is put there. */
static double settled(const struct lp_column *column, double value)
{
    if (column->kind == LP_WHOLE)
        return floor(value + 0.5);
    if (value < EQUAL)
        return fmax(0, column->kind == LP_REAL ? column->low : 0);
    if (column->kind == LP_GAP && value < column->low)
        return column->low;
    return value > column->high ? column->high : value;
}

static void answer_take(struct search *search)
{
    const struct lp *lp = search->lp;
    size_t prices = (size_t)lp->goal_count * (lp->rows.count + lp->columns.count);
    search->found = true;
    for (size_t i = 0; i < lp->columns.count; i++)
        search->answer->columns[i] = settled(&lp->columns.items[i], search->columns[i]);
    for (size_t i = 0; i < lp->goal_count; i++)
        search->answer->goals[i] = search->goals[i];
    for (size_t i = 0; i < prices; i++)
        search->answer->prices[i] = search->prices[i];
}

/* True when the relaxation at hand was divided, so that its first side is next. */
static bool node_divide(struct search *search)
{
    uint32_t column = 0;
    enum relaxed outcome = search->exact ? node_exact(search) : node_goals(search);
    search->answer->nodes++;
    search->undecided = search->undecided || outcome == RELAXED_UNKNOWN;
    if (outcome != RELAXED_FITS)
        return false;
    if (branch_find(search, &column)) {
        branch_push(search, column);
        return true;
    }
    answer_take(search);
    return false;
}

static bool search_over(struct search *search)
{
    if (search->answer->nodes >= LP_NODE_LIMIT)
        search->answer->proven = false;
    return search->undecided || !search->answer->proven || (search->exact && search->found);
}

static void search_run(struct relaxation *relaxation, void *task)
{
    struct search *search = task;
    search->relaxation = relaxation;
    for (bool divided = true; divided;) {
        divided = node_divide(search);
        if (search_over(search))
            break;
        divided = divided || branch_back(search);
    }
}

static void search_prepare(struct search *search)
{
    struct lp *lp = search->lp;
    size_t columns = lp->columns.count, prices = (size_t)lp->goal_count * (lp->rows.count + columns);
    search->low = ARENA_ARRAY(lp->arena, columns + 1, double);
    search->high = ARENA_ARRAY(lp->arena, columns + 1, double);
    search->columns = ARENA_ARRAY(lp->arena, columns + 1, double);
    search->goals = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    search->prices = ARENA_ARRAY(lp->arena, prices + 1, double);
    search->answer->columns = ARENA_ARRAY(lp->arena, columns + 1, double);
    search->answer->goals = ARENA_ARRAY(lp->arena, lp->goal_count + 1, double);
    search->answer->prices = ARENA_ARRAY(lp->arena, prices + 1, double);
    for (size_t i = 0; i < columns; i++) {
        search->low[i] = lp->columns.items[i].kind == LP_GAP ? 0 : lp->columns.items[i].low;
        search->high[i] = lp->columns.items[i].high;
    }
}

static struct lp_answer search_answer(struct lp *lp, bool exact)
{
    struct lp_answer answer = {.outcome = LP_UNDECIDED, .proven = true};
    struct search search = {.lp = lp, .exact = exact, .answer = &answer};
    lp_goal(lp, 0);
    search_prepare(&search);
    if (lp->unsound)
        return answer;
    relaxation_with(lp, search_run, &search);
    answer.proven = answer.proven && !search.undecided;
    if (search.found)
        answer.outcome = LP_SOLVED;
    else if (answer.proven)
        answer.outcome = LP_IMPOSSIBLE;
    return answer;
}

struct lp_answer lp_solve(struct lp *lp)
{
    return search_answer(lp, false);
}

enum lp_outcome lp_feasible(struct lp *lp)
{
    return search_answer(lp, true).outcome;
}

double lp_row_price(const struct lp *lp, const struct lp_answer *answer, uint32_t goal, uint32_t row)
{
    return answer->prices[(size_t)goal * (lp->rows.count + lp->columns.count) + row];
}

double lp_column_price(const struct lp *lp, const struct lp_answer *answer, uint32_t goal, uint32_t column)
{
    return lp_row_price(lp, answer, goal, (uint32_t)lp->rows.count + column);
}
