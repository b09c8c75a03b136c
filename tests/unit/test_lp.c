/* Linear programmes small enough to be solved by hand, and how a search ends. */
#include "compiler/solve/lp.h"
#include "tests/unit/one_arena.h"

#include <math.h>
#include <stdlib.h>

static const double NEAR = 1e-7;

/* 1 <= x <= 3, a row x <= 2 with its price: loosening the row by 1 gains 1. */
static void test_price_of_a_row(void **state)
{
    struct lp *lp = lp_new(*state);
    uint32_t x = lp_column(lp, LP_REAL, 0, 3), lack = lp_column(lp, LP_REAL, 0, INFINITY);
    uint32_t limit = lp_row(lp, -INFINITY, 2), need = lp_row(lp, 4, 4);
    lp_term(lp, limit, x, 1);
    lp_term(lp, need, x, 1);
    lp_term(lp, need, lack, 1);
    lp_goal_term(lp, 0, lack, 1);
    struct lp_answer answer = lp_solve(lp);
    assert_int_equal(answer.outcome, LP_SOLVED);
    assert_true(fabs(answer.goals[0] - 2) < NEAR);
    assert_true(fabs(lp_price(lp, &answer, 0, false, limit) + 1) < NEAR);
    assert_true(fabs(lp_price(lp, &answer, 0, true, x)) < NEAR);
}

/* Tenths are no binary fractions, and yet 0.1 of 1 is 0.1; two thousand millionths too little are too little,
 * and a tenth of that is rounding. (GLPK takes the nearest small fraction of what it is given, to some
 * 1e-11.) */
static void test_exact_feasibility(void **state)
{
    struct lp *lp = lp_new(*state);
    uint32_t x = lp_column(lp, LP_REAL, 0, 1), y = lp_column(lp, LP_REAL, 0, 1);
    uint32_t sum = lp_row(lp, 1, INFINITY), most = lp_row(lp, -INFINITY, 0.1);
    lp_term(lp, sum, x, 1);
    lp_term(lp, sum, y, 1);
    lp_term(lp, most, x, 0.1);
    lp_term(lp, most, y, 0.1);
    assert_int_equal(lp_feasible(lp), LP_SOLVED);
    for (int close = 0; close <= 1; close++) {
        lp = lp_new(*state);
        x = lp_column(lp, LP_REAL, 0, 1);
        sum = lp_row(lp, 1, INFINITY);
        most = lp_row(lp, -INFINITY, 1 - (close ? 2e-10 : 2e-9));
        lp_term(lp, sum, x, 1);
        lp_term(lp, most, x, 1);
        assert_int_equal(lp_feasible(lp), close ? LP_SOLVED : LP_IMPOSSIBLE);
    }
}

/* A whole number within rounding of 0 lets nothing through: x is at most 40 y, and y can only be 0. */
static void test_nearly_whole(void **state)
{
    struct lp *lp = lp_new(*state);
    uint32_t x = lp_column(lp, LP_REAL, 0, INFINITY), y = lp_column(lp, LP_WHOLE, 0, 1),
             lack = lp_column(lp, LP_REAL, 0, INFINITY);
    uint32_t link = lp_row(lp, -INFINITY, 0), most = lp_row(lp, -INFINITY, 9e-10), need = lp_row(lp, 1, 1);
    lp_term(lp, link, x, 1);
    lp_term(lp, link, y, -40);
    lp_term(lp, most, y, 1);
    lp_term(lp, need, x, 1);
    lp_term(lp, need, lack, 1);
    lp_goal_term(lp, 0, lack, 1);
    struct lp_answer answer = lp_solve(lp);
    assert_int_equal(answer.outcome, LP_SOLVED);
    assert_true(answer.columns[x] == 0);
    assert_true(answer.columns[y] == 0);
    assert_true(fabs(answer.goals[0] - 1) < 1e-12);
}

static void test_no_number(void **state)
{
    struct lp *lp = lp_new(*state);
    uint32_t x = lp_column(lp, LP_REAL, 0, 1), row = lp_row(lp, 0, 1);
    lp_term(lp, row, x, NAN);
    assert_int_equal(lp_solve(lp).outcome, LP_UNDECIDED);
    lp = lp_new(*state);
    lp_column(lp, LP_REAL, 0, NAN);
    assert_int_equal(lp_solve(lp).outcome, LP_UNDECIDED);
    lp = lp_new(*state);
    lp_goal_term(lp, 0, lp_column(lp, LP_REAL, 0, 1), INFINITY);
    assert_int_equal(lp_feasible(lp), LP_UNDECIDED);
}

/* Terms given in pieces add up, and goals without terms keep their places. */
static void test_terms_add_up(void **state)
{
    struct lp *lp = lp_new(*state);
    uint32_t x = lp_column(lp, LP_REAL, 0, 9), row = lp_row(lp, -INFINITY, 3);
    lp_term(lp, row, x, 0.5);
    lp_term(lp, row, x, 0.25);
    lp_term(lp, row, x, 0.75);
    lp_goal(lp, 0);
    lp_goal_term(lp, 1, x, -1);
    lp_goal_term(lp, 1, x, -1);
    struct lp_answer answer = lp_solve(lp);
    assert_int_equal(answer.outcome, LP_SOLVED);
    assert_true(fabs(answer.columns[x] - 2) < NEAR);
    assert_true(fabs(answer.goals[1] + 4) < NEAR);
}

static void test_nothing_at_all(void **state)
{
    struct lp *lp = lp_new(*state);
    assert_int_equal(lp_solve(lp).outcome, LP_SOLVED);
    lp_row(lp, 1, INFINITY);
    assert_int_equal(lp_solve(lp).outcome, LP_IMPOSSIBLE);
    assert_int_equal(lp_feasible(lp), LP_IMPOSSIBLE);
}

/* An odd sum of even numbers: 2 a + 2 b + ... = 2 k + 1 has no answer in whole numbers, and the relaxation
 * always has one, so that every division is looked at: of ten columns some hundreds. */
static struct lp *odd_sum(struct arena *own, struct lp_budget *budget)
{
    struct lp *lp = lp_new(own);
    uint32_t row = lp_row(lp, 9, 9);
    for (int i = 0; i < 10; i++) {
        uint32_t column = lp_column(lp, LP_WHOLE, 0, 1);
        lp_term(lp, row, column, 2);
        lp_goal_term(lp, 0, column, 1);
    }
    lp_spend(lp, budget);
    return lp;
}

static void test_budget_ends(void **state)
{
    struct lp_budget plenty = {.most = UINT64_MAX, .last = UINT64_MAX};
    struct lp_answer answer = lp_solve(odd_sum(*state, &plenty));
    assert_int_equal(answer.outcome, LP_IMPOSSIBLE);
    assert_true(answer.proven);
    assert_true(answer.nodes > 100);
    struct lp_budget half = {.most = plenty.spent / 2, .last = plenty.spent / 2};
    struct lp_answer ended = lp_solve(odd_sum(*state, &half));
    assert_int_equal(ended.outcome, LP_UNDECIDED); /* not impossible: it was not followed to the end */
    assert_false(ended.proven);
    assert_true(ended.nodes < answer.nodes && ended.nodes > 1);
    struct lp_budget again = {.most = plenty.spent / 2, .last = plenty.spent / 2};
    struct lp_answer same = lp_solve(odd_sum(*state, &again));
    assert_int_equal(same.nodes, ended.nodes);
    assert_true(again.spent == half.spent);
}

/* Without an answer the search goes on to `last`; with nothing left one relaxation is looked at, and may be
 * the answer. */
static void test_budget_without_answer(void **state)
{
    struct lp_budget budget = {.most = 0, .last = UINT64_MAX};
    assert_int_equal(lp_solve(odd_sum(*state, &budget)).outcome, LP_IMPOSSIBLE);
    struct lp *lp = lp_new(*state);
    uint32_t column = lp_column(lp, LP_REAL, 0, 5), row = lp_row(lp, 3, INFINITY);
    lp_term(lp, row, column, 1);
    lp_goal_term(lp, 0, column, 1);
    struct lp_budget none = {0};
    lp_spend(lp, &none);
    struct lp_answer answer = lp_solve(lp);
    assert_int_equal(answer.outcome, LP_SOLVED);
    assert_true(answer.proven);
    assert_true(fabs(answer.columns[column] - 3) < 1e-12);
    assert_true(none.spent > 0);
}

/* Memory may end while GLPK holds the programme: the caller's frame is reached, and nothing of it stays. */
static void test_memory_ends(void **state)
{
    struct arena own;
    jmp_buf exhausted;
    (void)state;
    arena_init(&own, &exhausted);
    if (setjmp(exhausted) == 0) {
        struct lp *lp = lp_new(&own);
        for (int i = 0; i < 3; i++)
            lp_goal_term(lp, 0, lp_column(lp, LP_WHOLE, 0, 5), -1);
        lp_feasible(lp);
        arena_exhausted(&own);
    }
    assert_ptr_equal(own.exhausted, &exhausted);
    arena_free(&own);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_price_of_a_row), TEST(test_exact_feasibility),     TEST(test_nearly_whole),
        TEST(test_no_number),      TEST(test_terms_add_up),          TEST(test_nothing_at_all),
        TEST(test_budget_ends),    TEST(test_budget_without_answer), cmocka_unit_test(test_memory_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
