/* Linear programmes against every corner of every pattern of their discrete columns. */
#include "compiler/solve/lp.h"
#include "tests/unit/one_arena.h"

#include <math.h>

enum { COLUMNS = 4, ROWS = 3, GOALS = 3, BOUNDS = 2 * (COLUMNS + ROWS), STEPS = 3, TRIALS = 4000 };

static const double NEAR = 1e-7;

/* ---- a programme in plain arrays ---- */

struct puzzle {
    int columns, rows, goals;
    enum lp_kind kind[COLUMNS];
    double low[COLUMNS], high[COLUMNS];
    double row_low[ROWS], row_high[ROWS];
    double factor[ROWS][COLUMNS], weight[GOALS][COLUMNS];
};

static uint64_t random_bits(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

static int random_between(uint64_t *seed, int low, int high)
{
    return low + (int)(random_bits(seed) % (uint64_t)(high - low + 1));
}

/* Small whole figures, so that ties and corners that many bounds meet in are common. */
static struct puzzle puzzle_make(uint64_t *seed)
{
    struct puzzle puzzle = {.columns = random_between(seed, 1, COLUMNS),
                            .rows = random_between(seed, 0, ROWS),
                            .goals = random_between(seed, 1, GOALS)};
    for (int i = 0; i < puzzle.columns; i++) {
        puzzle.kind[i] = (enum lp_kind)random_between(seed, LP_REAL, LP_STEPS);
        puzzle.high[i] = random_between(seed, 0, 4);
        puzzle.low[i] = puzzle.kind[i] == LP_REAL ? 0 : random_between(seed, 0, (int)puzzle.high[i]);
    }
    for (int r = 0; r < puzzle.rows; r++) {
        puzzle.row_low[r] = random_between(seed, 0, 2) ? -INFINITY : (double)random_between(seed, -2, 6);
        puzzle.row_high[r] = random_between(seed, 0, 2) ? (double)random_between(seed, 0, 8) : INFINITY;
        if (puzzle.row_low[r] > puzzle.row_high[r])
            puzzle.row_low[r] = puzzle.row_high[r];
        for (int i = 0; i < puzzle.columns; i++)
            puzzle.factor[r][i] = random_between(seed, -1, 3);
    }
    for (int g = 0; g < puzzle.goals; g++)
        for (int i = 0; i < puzzle.columns; i++)
            puzzle.weight[g][i] = random_between(seed, -1, 3);
    return puzzle;
}

static struct lp *puzzle_lp(struct arena *own, const struct puzzle *puzzle)
{
    struct lp *lp = lp_new(own);
    for (int i = 0; i < puzzle->columns; i++) {
        uint32_t column = lp_column(lp, puzzle->kind[i], puzzle->low[i], puzzle->high[i]);
        if (puzzle->kind[i] == LP_STEPS)
            lp_term(lp, lp_row(lp, -INFINITY, STEPS * puzzle->high[i]), column, 1);
    }
    for (int r = 0; r < puzzle->rows; r++) {
        uint32_t row = lp_row(lp, puzzle->row_low[r], puzzle->row_high[r]);
        for (int i = 0; i < puzzle->columns; i++)
            lp_term(lp, row, (uint32_t)i, puzzle->factor[r][i]);
    }
    for (int g = 0; g < puzzle->goals; g++)
        for (int i = 0; i < puzzle->columns; i++)
            lp_goal_term(lp, (uint32_t)g, (uint32_t)i, puzzle->weight[g][i]);
    return lp;
}

/* ---- every corner ---- */

struct exhaustive {
    const struct puzzle *puzzle;
    double low[COLUMNS], high[COLUMNS]; /* of the pattern at hand */
    bool found;
    double goals[GOALS];
};

/* factors * columns = value */
struct bound {
    double factor[COLUMNS];
    double value;
};

static double sum_of(const double *factors, const double *values, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += factors[i] * values[i];
    return sum;
}

/* Gauss with full rows swapped; false where the bounds do not meet in one point. */
static bool bounds_meet(const struct bound *const *bounds, int count, double *point)
{
    double table[COLUMNS][COLUMNS + 1];
    for (int r = 0; r < count; r++) {
        memcpy(table[r], bounds[r]->factor, sizeof bounds[r]->factor);
        table[r][count] = bounds[r]->value;
    }
    for (int at = 0; at < count; at++) {
        int pivot = at;
        for (int r = at + 1; r < count; r++)
            if (fabs(table[r][at]) > fabs(table[pivot][at]))
                pivot = r;
        if (fabs(table[pivot][at]) < 1e-12)
            return false;
        for (int c = 0; c <= count; c++) {
            double kept = table[at][c];
            table[at][c] = table[pivot][c];
            table[pivot][c] = kept;
        }
        for (int r = 0; r < count; r++) {
            double share = r == at ? 0 : table[r][at] / table[at][at];
            for (int c = at; c <= count; c++)
                table[r][c] -= share * table[at][c];
        }
    }
    for (int i = 0; i < count; i++)
        point[i] = table[i][count] / table[i][i];
    return true;
}

static bool point_fits(const struct exhaustive *exhaustive, const double *point)
{
    const struct puzzle *puzzle = exhaustive->puzzle;
    for (int i = 0; i < puzzle->columns; i++)
        if (point[i] < exhaustive->low[i] - NEAR || point[i] > exhaustive->high[i] + NEAR)
            return false;
    for (int r = 0; r < puzzle->rows; r++) {
        double sum = sum_of(puzzle->factor[r], point, puzzle->columns);
        if (sum < puzzle->row_low[r] - NEAR || sum > puzzle->row_high[r] + NEAR)
            return false;
    }
    return true;
}

static void point_compare(struct exhaustive *exhaustive, const double *point)
{
    const struct puzzle *puzzle = exhaustive->puzzle;
    double goals[GOALS] = {0};
    for (int g = 0; g < puzzle->goals; g++)
        goals[g] = sum_of(puzzle->weight[g], point, puzzle->columns);
    for (int g = 0; g < puzzle->goals && exhaustive->found; g++) {
        if (goals[g] > exhaustive->goals[g] + NEAR)
            return;
        if (goals[g] < exhaustive->goals[g] - NEAR)
            break;
    }
    exhaustive->found = true;
    memcpy(exhaustive->goals, goals, sizeof goals);
}

static int bounds_list(const struct exhaustive *exhaustive, struct bound *bounds)
{
    const struct puzzle *puzzle = exhaustive->puzzle;
    int count = 0;
    memset(bounds, 0, BOUNDS * sizeof *bounds);
    for (int i = 0; i < puzzle->columns; i++) {
        bounds[count].factor[i] = 1;
        bounds[count++].value = exhaustive->low[i];
        bounds[count].factor[i] = 1;
        bounds[count++].value = exhaustive->high[i];
    }
    for (int r = 0; r < puzzle->rows; r++) {
        double ends[2] = {puzzle->row_low[r], puzzle->row_high[r]};
        for (int e = 0; e < 2; e++) {
            if (isinf(ends[e]))
                continue;
            memcpy(bounds[count].factor, puzzle->factor[r], sizeof puzzle->factor[r]);
            bounds[count++].value = ends[e];
        }
    }
    return count;
}

static void corners_try(struct exhaustive *exhaustive)
{
    struct bound bounds[BOUNDS];
    const struct bound *chosen[COLUMNS];
    int count = bounds_list(exhaustive, bounds), wanted = exhaustive->puzzle->columns;
    for (unsigned set = 0; set < 1U << count; set++) {
        int taken = 0;
        double point[COLUMNS];
        if (__builtin_popcount(set) != wanted)
            continue;
        for (int i = 0; i < count; i++)
            if (set >> i & 1)
                chosen[taken++] = &bounds[i];
        if (bounds_meet(chosen, wanted, point) && point_fits(exhaustive, point))
            point_compare(exhaustive, point);
    }
}

static void patterns_try(struct exhaustive *exhaustive, int column)
{
    const struct puzzle *puzzle = exhaustive->puzzle;
    if (column == puzzle->columns) {
        corners_try(exhaustive);
        return;
    }
    exhaustive->low[column] = puzzle->low[column];
    exhaustive->high[column] = puzzle->high[column];
    if (puzzle->kind[column] == LP_REAL || puzzle->kind[column] == LP_GAP)
        patterns_try(exhaustive, column + 1);
    if (puzzle->kind[column] == LP_GAP) {
        exhaustive->low[column] = exhaustive->high[column] = 0;
        patterns_try(exhaustive, column + 1);
    }
    for (int k = 0; puzzle->kind[column] == LP_STEPS && k <= STEPS; k++) {
        exhaustive->low[column] = k * puzzle->low[column];
        exhaustive->high[column] = k * puzzle->high[column];
        patterns_try(exhaustive, column + 1);
    }
    for (double value = puzzle->low[column];
         puzzle->kind[column] == LP_WHOLE && value <= puzzle->high[column]; value++) {
        exhaustive->low[column] = exhaustive->high[column] = value;
        patterns_try(exhaustive, column + 1);
    }
}

static void answer_fits(const struct puzzle *puzzle, const struct lp_answer *answer)
{
    struct exhaustive wide = {.puzzle = puzzle};
    for (int i = 0; i < puzzle->columns; i++)
        wide.high[i] = puzzle->high[i] * (puzzle->kind[i] == LP_STEPS ? STEPS : 1);
    assert_true(point_fits(&wide, answer->columns));
    for (int i = 0; i < puzzle->columns; i++) {
        double value = answer->columns[i];
        if (puzzle->kind[i] == LP_WHOLE)
            assert_true(value == floor(value) && value >= puzzle->low[i]);
        if (puzzle->kind[i] == LP_GAP)
            assert_true(value == 0 || value >= puzzle->low[i]);
        bool step = puzzle->kind[i] != LP_STEPS;
        for (int k = 0; k <= STEPS; k++)
            step = step || (value >= k * puzzle->low[i] - NEAR && value <= k * puzzle->high[i] + NEAR);
        assert_true(step);
    }
    for (int g = 0; g < puzzle->goals; g++)
        assert_true(fabs(sum_of(puzzle->weight[g], answer->columns, puzzle->columns) - answer->goals[g]) <
                    NEAR);
}

static void puzzle_check(struct arena *own, const struct puzzle *puzzle, int *solved)
{
    struct exhaustive exhaustive = {.puzzle = puzzle};
    patterns_try(&exhaustive, 0);
    struct lp_answer answer = lp_solve(puzzle_lp(own, puzzle));
    enum lp_outcome wanted = exhaustive.found ? LP_SOLVED : LP_IMPOSSIBLE;
    assert_int_equal(answer.outcome, wanted);
    assert_int_equal(lp_feasible(puzzle_lp(own, puzzle)), wanted);
    if (!exhaustive.found)
        return;
    ++*solved;
    assert_true(answer.proven);
    answer_fits(puzzle, &answer);
    for (int g = 0; g < puzzle->goals; g++)
        if (fabs(answer.goals[g] - exhaustive.goals[g]) > NEAR)
            fail_msg("goal %d is %.12g, every corner gives %.12g", g, answer.goals[g], exhaustive.goals[g]);

    /* Nothing beats the best; and it is found where a little worse is to be beaten. */
    struct lp *beating = puzzle_lp(own, puzzle);
    lp_beat(beating, answer.goals);
    struct lp_answer better = lp_solve(beating);
    assert_true(better.outcome == LP_IMPOSSIBLE && better.proven);
    double worse[GOALS];
    for (int g = 0; g < puzzle->goals; g++)
        worse[g] = answer.goals[g] + (g == puzzle->goals - 1 ? 1 : 0);
    beating = puzzle_lp(own, puzzle);
    lp_beat(beating, worse);
    better = lp_solve(beating);
    assert_true(better.outcome == LP_SOLVED && better.proven);
    for (int g = 0; g < puzzle->goals; g++)
        assert_true(fabs(better.goals[g] - answer.goals[g]) < NEAR);
}

static void test_every_corner(void **state)
{
    struct arena *own = *state;
    uint64_t seed = 88172645463325252U;
    int solved = 0;
    for (int i = 0; i < TRIALS; i++) {
        struct puzzle puzzle = puzzle_make(&seed);
        puzzle_check(own, &puzzle, &solved);
    }
    assert_in_range(solved, TRIALS / 4, TRIALS - TRIALS / 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {TEST(test_every_corner)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
