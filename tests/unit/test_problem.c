/* Chosen rates that were worked out by hand. */
#include "tests/unit/format_text.h"
#include "tests/unit/made_problem.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static const double NEAR = 1e-7;

/* 2.7 lb of N from urea, at most 0.9 at a time, four times: the same 0.675 lb each. */
static void test_spread(void **state)
{
    struct problem *problem = ARENA_NEW((struct arena *)*state, struct problem);
    struct plot plot = {.area_m2 = 1};
    problem->arena = *state;
    product_add(problem, "urea", 0.46, 0, 0, 8);
    for (uint32_t application = 0; application < 4; application++) {
        struct choice choice = {.product = 0,
                                .application = application,
                                .low = 0.5 * UNIT,
                                .high = INFINITY,
                                .low_cause = NO_CAUSE,
                                .high_cause = NO_CAUSE};
        struct demand most = demand_new(problem, DEMAND_MOST, 0.9 * UNIT);
        VECTOR_PUSH(problem->arena, &plot.choices, choice);
        part_add(problem, &most, application, 0.46);
        VECTOR_PUSH(problem->arena, &plot.demands, most);
    }
    struct want want = {.nutrient = NUTRIENT_N, .amount = 2.7 * UNIT, .most = 2.7 * UNIT};
    VECTOR_PUSH(problem->arena, &plot.wants, want);
    VECTOR_PUSH(problem->arena, &problem->plots, plot);
    struct problem_answer answer = problem_solve(problem);
    assert_int_equal(answer.outcome, LP_SOLVED);
    for (int i = 0; i < 4; i++)
        assert_true(fabs(answer.plots[0].rates[i] - 0.675 / 0.46 * UNIT) < 1e-9 * UNIT);
    problem->plots.items[0].demands.items[2].bound = 0.3 * UNIT;
    answer = problem_solve(problem);
    const double wanted[4] = {0.8, 0.8, 0.3, 0.8};
    for (int i = 0; i < 4; i++)
        assert_true(fabs(answer.plots[0].rates[i] - wanted[i] / 0.46 * UNIT) < 1e-9 * UNIT);
}

/* Packs of 10 lb at 8 and of 3 lb at 3 for 11 lb: one of 10 and one of 3 is the cheapest. */
static void test_whole_packs(void **state)
{
    struct problem *problem = ARENA_NEW((struct arena *)*state, struct problem);
    struct plot plot = {.area_m2 = 92.90304};
    struct choice choice = {.product = 0,
                            .application = 0,
                            .low = 0,
                            .high = INFINITY,
                            .low_cause = NO_CAUSE,
                            .high_cause = NO_CAUSE};
    struct want want = {.nutrient = NUTRIENT_N, .amount = 11 * 0.46 * UNIT, .most = 11 * 0.46 * UNIT};
    struct problem_pack small = {3 * 0.45359237, 3};
    problem->arena = *state;
    problem->whole_packs = true;
    product_add(problem, "urea", 0.46, 0, 0, 8);
    VECTOR_PUSH(problem->arena, &problem->products.items[0].packs, small);
    VECTOR_PUSH(problem->arena, &plot.choices, choice);
    VECTOR_PUSH(problem->arena, &plot.wants, want);
    VECTOR_PUSH(problem->arena, &problem->plots, plot);
    struct problem_answer answer = problem_solve(problem);
    assert_int_equal(answer.outcome, LP_SOLVED);
    assert_int_equal(answer.packs[0][0], 1);
    assert_int_equal(answer.packs[0][1], 1);
    assert_true(fabs(answer.goals[GOAL_COST] - 11) < NEAR);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_spread, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_whole_packs, arena_setup, arena_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
