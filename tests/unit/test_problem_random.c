/* Chosen rates against every rate of a small grid: none of them may keep all demands and do better. */
#include "tests/unit/format_text.h"
#include "tests/unit/made_problem.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

enum { PRODUCTS = 3, APPLICATIONS = 2, CHOICES = PRODUCTS * APPLICATIONS, STEPS = 5, TRIALS = 300 };

static const double NEAR = 1e-7;

/* ---- a small problem ---- */

static void choices_add(struct problem *problem, struct plot *plot, uint64_t *seed)
{
    for (uint32_t product = 0; product < PRODUCTS; product++) {
        double high = random_between(seed, 1, 4),
               low = random_between(seed, 0, 2) ? random_between(seed, 0, 2) : 0;
        for (uint32_t application = 0; application < APPLICATIONS; application++) {
            struct choice choice = {.product = product,
                                    .application = application,
                                    .low = fmin(low, high) * UNIT,
                                    .high = high * UNIT,
                                    .low_cause = NO_CAUSE,
                                    .high_cause = NO_CAUSE};
            VECTOR_PUSH(problem->arena, &plot->choices, choice);
        }
    }
}

/* The most N in each application, and in both. */
static void limits_add(struct problem *problem, struct plot *plot, uint64_t *seed)
{
    struct demand year = demand_new(problem, DEMAND_MOST, random_between(seed, 4, 16) * 0.1 * UNIT);
    double each = random_between(seed, 2, 9) * 0.1 * UNIT;
    for (uint32_t application = 0; application < APPLICATIONS; application++) {
        struct demand demand = demand_new(problem, DEMAND_MOST, each);
        for (uint32_t i = 0; i < CHOICES; i++) {
            double n = problem->products.items[i / APPLICATIONS].content[NUTRIENT_N];
            if (i % APPLICATIONS != application)
                continue;
            part_add(problem, &demand, i, n);
            part_add(problem, &year, i, n);
        }
        VECTOR_PUSH(problem->arena, &plot->demands, demand);
    }
    VECTOR_PUSH(problem->arena, &plot->demands, year);
}

static void counts_add(struct problem *problem, struct plot *plot, uint64_t *seed)
{
    uint32_t product = (uint32_t)random_between(seed, 0, PRODUCTS - 1);
    struct demand times = demand_new(problem, DEMAND_TIMES, 1), apart = demand_new(problem, DEMAND_APART, 0);
    for (uint32_t application = 0; application < APPLICATIONS; application++)
        part_add(problem, &times, product * APPLICATIONS + application, 1);
    part_add(problem, &apart, 0, 0);
    part_add(problem, &apart, CHOICES - 1, 1);
    if (random_between(seed, 0, 1))
        VECTOR_PUSH(problem->arena, &plot->demands, times);
    if (random_between(seed, 0, 1))
        VECTOR_PUSH(problem->arena, &plot->demands, apart);
    struct demand least = demand_new(problem, DEMAND_LEAST, random_between(seed, 1, 12) * 0.1 * UNIT);
    for (uint32_t i = 0; i < CHOICES; i++)
        part_add(problem, &least, i, problem->products.items[i / APPLICATIONS].content[NUTRIENT_K]);
    if (random_between(seed, 0, 2) == 0)
        VECTOR_PUSH(problem->arena, &plot->demands, least);
}

/* As a slow share that begins above an amount asks: enough of one nutrient beside another, or little of that.
 */
static void either_add(struct problem *problem, struct plot *plot, uint64_t *seed)
{
    struct demand either = demand_new(problem, DEMAND_EITHER, 0);
    double share = random_between(seed, 1, 6) * 0.1;
    either.other_bound = random_between(seed, 1, 6) * 0.1 * UNIT;
    for (uint32_t i = 0; i < CHOICES; i += APPLICATIONS) {
        const double *content = problem->products.items[i / APPLICATIONS].content;
        struct demand_part part = {i, share * content[NUTRIENT_N] - content[NUTRIENT_P], content[NUTRIENT_N]};
        if (part.other > 0)
            VECTOR_PUSH(problem->arena, &either.parts, part);
    }
    if (either.parts.count && random_between(seed, 0, 1))
        VECTOR_PUSH(problem->arena, &plot->demands, either);
}

static struct problem *problem_make(struct arena *arena, uint64_t *seed)
{
    struct problem *problem = ARENA_NEW(arena, struct problem);
    struct plot plot = {.area_m2 = 100};
    problem->arena = arena;
    problem->application_count = APPLICATIONS;
    /* Drawn one after the other: compilers differ in which argument of a call comes first. */
    double n = random_between(seed, 0, 4) * 0.1, p = random_between(seed, 0, 4) * 0.1, k;
    product_add(problem, "alum", n, p, 0, random_between(seed, 1, 9));
    n = random_between(seed, 0, 2) * 0.1;
    p = random_between(seed, 0, 4) * 0.1;
    k = random_between(seed, 0, 2) * 0.1;
    product_add(problem, "bone", n, p, k, random_between(seed, 1, 9));
    n = random_between(seed, 0, 1) * 0.1;
    k = random_between(seed, 1, 4) * 0.1;
    product_add(problem, "char", n, 0, k, random_between(seed, 1, 9));
    choices_add(problem, &plot, seed);
    limits_add(problem, &plot, seed);
    counts_add(problem, &plot, seed);
    either_add(problem, &plot, seed);
    for (enum nutrient nutrient = NUTRIENT_N; nutrient <= NUTRIENT_K; nutrient++) {
        struct want want = {.nutrient = nutrient,
                            .amount = random_between(seed, 0, 12) * 0.1 * UNIT,
                            .given = random_between(seed, 0, 2) ? 0 : 0.05 * UNIT};
        want.most = want.amount + (random_between(seed, 0, 2) ? 0 : 0.2 * UNIT);
        VECTOR_PUSH(arena, &plot.wants, want);
    }
    VECTOR_PUSH(arena, &problem->plots, plot);
    return problem;
}

/* ---- what rates come to, reckoned anew ---- */

static bool nutrient_offered(const struct problem *problem, enum nutrient nutrient)
{
    for (size_t i = 0; i < problem->products.count; i++)
        if (problem->products.items[i].content[nutrient] > 0)
            return true;
    return false;
}

static void goals_reckon(const struct problem *problem, const double *rates, double goals[GOAL_COUNT])
{
    const struct plot *plot = &problem->plots.items[0];
    bool used[PRODUCTS] = {false};
    memset(goals, 0, GOAL_COUNT * sizeof *goals);
    for (size_t i = 0; i < plot->wants.count; i++) {
        const struct want *want = &plot->wants.items[i];
        double brought = 0;
        for (size_t j = 0; j < CHOICES; j++)
            brought += rates[j] * problem->products.items[j / APPLICATIONS].content[want->nutrient];
        double got = brought + want->given, unit = want->amount;
        if (!nutrient_offered(problem, want->nutrient))
            continue;
        if (!(unit > 0))
            unit = UNIT * nutrient_trade_form(want->nutrient)->element_per_unit;
        goals[GOAL_WORST] = fmax(goals[GOAL_WORST], (want->amount - got) / unit);
        goals[GOAL_SHORT] += fmax(0, want->amount - got) / unit;
        goals[GOAL_EXCESS] += fmax(0, got - want->most) / unit;
    }
    for (size_t j = 0; j < CHOICES; j++) {
        const struct problem_pack *pack = &problem->products.items[j / APPLICATIONS].packs.items[0];
        goals[GOAL_COST] += rates[j] * plot->area_m2 * pack->price / pack->mass;
        used[j / APPLICATIONS] |= rates[j] > 0;
    }
    for (int i = 0; i < PRODUCTS; i++)
        goals[GOAL_PRODUCTS] += used[i];
}

static bool goals_better(const double *a, const double *b)
{
    for (int goal = 0; goal < GOAL_COUNT; goal++) {
        if (a[goal] < b[goal] - 1e-6)
            return true;
        if (a[goal] > b[goal] + NEAR)
            return false;
    }
    return false;
}

/* ---- the grid ---- */

struct grid {
    const struct problem *problem;
    const double *best;
    double rates[CHOICES];
    size_t fitting;
};

/* Each rate 0, or one of the steps from its least to its most. */
static void grid_walk(struct grid *grid, int at)
{
    const struct plot *plot = &grid->problem->plots.items[0];
    if (at == CHOICES) {
        double goals[GOAL_COUNT];
        if (!rates_fit(plot, grid->rates))
            return;
        grid->fitting++;
        goals_reckon(grid->problem, grid->rates, goals);
        if (grid->best && goals_better(goals, grid->best))
            fail_msg("worst %g short %g excess %g cost %g is better than %g %g %g %g", goals[0], goals[1],
                     goals[2], goals[3], grid->best[0], grid->best[1], grid->best[2], grid->best[3]);
        return;
    }
    const struct choice *choice = &plot->choices.items[at];
    grid->rates[at] = 0;
    grid_walk(grid, at + 1);
    for (int i = choice->low > 0 ? 0 : 1; i < STEPS; i++) {
        grid->rates[at] = choice->low + (choice->high - choice->low) * i / (STEPS - 1);
        grid_walk(grid, at + 1);
    }
    grid->rates[at] = 0;
}

static void test_no_grid_point_is_better(void **state)
{
    uint64_t seed = 1442695040888963407U;
    int solved = 0, impossible = 0;
    for (int i = 0; i < TRIALS; i++) {
        struct problem *problem = problem_make(*state, &seed);
        const struct plot *plot = &problem->plots.items[0];
        struct problem_answer answer = problem_solve(problem);
        struct grid grid = {.problem = problem, .best = answer.outcome == LP_SOLVED ? answer.goals : NULL};
        double goals[GOAL_COUNT];
        assert_int_equal(plot_feasible(problem, plot, UNCHANGED), answer.outcome);
        grid_walk(&grid, 0);
        if (answer.outcome == LP_IMPOSSIBLE) {
            impossible++;
            assert_int_equal(grid.fitting, 0);
            continue;
        }
        solved++;
        assert_int_equal(answer.outcome, LP_SOLVED);
        assert_true(answer.proven);
        assert_true(rates_fit(plot, answer.plots[0].rates));
        goals_reckon(problem, answer.plots[0].rates, goals);
        for (int goal = 0; goal < GOAL_COUNT; goal++)
            if (fabs(goals[goal] - answer.goals[goal]) > NEAR)
                fail_msg("trial %d: goal %d is said to be %.12g and is %.12g", i, goal, answer.goals[goal],
                         goals[goal]);
    }
    assert_true(solved > TRIALS * 8 / 10);
    assert_true(impossible > 3);
}

/* ---- the same question asked otherwise ---- */

static void rates_equal(const double *a, const double *b, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (fabs(a[i] - b[i]) > 1e-9 * UNIT)
            fail_msg("rate %zu is %.12g and %.12g", i, a[i] / UNIT, b[i] / UNIT);
}

/* A plot cut in two, areas doubled, a limit that does not press: the rates stay. */
static void test_same_question(void **state)
{
    uint64_t seed = 2862933555777941757U;
    for (int i = 0; i < 60; i++) {
        struct problem *problem = problem_make(*state, &seed);
        struct problem_answer answer = problem_solve(problem);
        if (answer.outcome != LP_SOLVED)
            continue;
        struct plot half = problem->plots.items[0];
        half.area_m2 /= 2;
        struct problem halves = *problem;
        halves.plots.items = NULL;
        halves.plots.count = halves.plots.capacity = 0;
        VECTOR_PUSH(problem->arena, &halves.plots, half);
        VECTOR_PUSH(problem->arena, &halves.plots, half);
        struct problem_answer cut = problem_solve(&halves);
        rates_equal(cut.plots[0].rates, answer.plots[0].rates, CHOICES);
        rates_equal(cut.plots[1].rates, answer.plots[0].rates, CHOICES);
        assert_true(fabs(cut.goals[GOAL_COST] - answer.goals[GOAL_COST]) < NEAR);
        struct demand slack = demand_new(problem, DEMAND_MOST, 1000 * UNIT);
        for (uint32_t c = 0; c < CHOICES; c++)
            part_add(problem, &slack, c, 1);
        VECTOR_PUSH(problem->arena, &problem->plots.items[0].demands, slack);
        problem->plots.items[0].area_m2 *= 2;
        struct problem_answer doubled = problem_solve(problem);
        rates_equal(doubled.plots[0].rates, answer.plots[0].rates, CHOICES);
        assert_true(fabs(doubled.goals[GOAL_COST] - 2 * answer.goals[GOAL_COST]) < NEAR);
    }
}

/* ---- easing ---- */

/* What a demand moved by the distance found allows, nothing less allows. */
static void test_distance(void **state)
{
    uint64_t seed = 6364136223846793005U;
    int moved = 0;
    for (int i = 0; i < 120; i++) {
        struct problem *problem = problem_make(*state, &seed);
        const struct plot *plot = &problem->plots.items[0];
        uint32_t year = plot->demands.items[APPLICATIONS].cause;
        bool *dropped = ARENA_ARRAY(problem->arena, problem->cause_count, bool);
        struct variation variation = UNCHANGED;
        if (problem_solve(problem).outcome != LP_SOLVED)
            continue;
        dropped[year] = true;
        variation.dropped = dropped;
        struct plot_outcome without = plot_varied(problem, plot, variation, NULL, NULL);
        variation.dropped = NULL;
        variation.eased = year;
        struct plot_outcome eased = plot_varied(problem, plot, variation, NULL, NULL);
        assert_true(fabs(without.worst - eased.worst) < NEAR &&
                    fabs(without.shortfall - eased.shortfall) < NEAR);
        if (eased.distance < 0.01)
            continue;
        moved++;
        struct demand *demand = &problem->plots.items[0].demands.items[APPLICATIONS];
        demand->bound += eased.distance * UNIT;
        struct plot_outcome exactly = plot_varied(problem, plot, UNCHANGED, NULL, NULL);
        assert_true(fabs(exactly.worst - without.worst) < 1e-6);
        demand->bound -= 0.01 * UNIT;
        struct plot_outcome less = plot_varied(problem, plot, UNCHANGED, NULL, NULL);
        assert_true(less.worst > without.worst + 1e-6 || less.shortfall > without.shortfall + 1e-6);
    }
    assert_true(moved > 10);
}

/* ---- rates found by no search, rates in steps ---- */

/* Rates found by no search: they keep all demands, they are there whenever nothing at all would do, and they
 * are never better than those that were proven best. */
static void test_greedy(void **state)
{
    uint64_t seed = 1181783497276652981U;
    int nothing_keeps = 0, found = 0;
    for (int i = 0; i < TRIALS; i++) {
        struct problem *problem = problem_make(*state, &seed);
        const struct plot *plot = &problem->plots.items[0];
        double nothing[CHOICES] = {0}, rates[CHOICES] = {0};
        bool kept = plot_greedy(problem, plot, true, UINT64_MAX, rates);
        struct problem_answer answer = problem_solve(problem);
        nothing_keeps += plot_breach(plot, nothing) == 0;
        assert_true(kept || plot_breach(plot, nothing) > 0);
        if (!kept)
            continue;
        found++;
        assert_true(plot_breach(plot, rates) == 0);
        assert_int_equal(answer.outcome, LP_SOLVED);
        struct plot_score greedy = plot_score(problem, plot, rates, true);
        assert_true(greedy.goals[GOAL_WORST] >= answer.exact_goals[GOAL_WORST] - NEAR);
    }
    assert_true(nothing_keeps > TRIALS / 4 && found >= nothing_keeps);
}

/* In steps of 0.1, 0.05 and 0.01 lb: every rate is a multiple or an end of its label, no demand is passed,
 * and no want misses more than the share let go beyond what exact rates miss. */
static void test_steps(void **state)
{
    const double steps[] = {0.1, 0.05, 0.01};
    uint64_t seed = 3202034522624059733U;
    int stepped = 0, moved = 0;
    for (int i = 0; i < TRIALS; i++) {
        struct problem *problem = problem_make(*state, &seed);
        const struct plot *plot = &problem->plots.items[0];
        problem->within = 0.05;
        for (size_t j = 0; j < CHOICES; j++) {
            plot->choices.items[j].step_count = 3;
            for (size_t k = 0; k < 3; k++)
                plot->choices.items[j].steps[k] = steps[k] * UNIT;
        }
        struct problem_answer answer = problem_solve(problem);
        if (answer.outcome != LP_SOLVED)
            continue;
        assert_true(plot_breach(plot, answer.plots[0].rates) == 0);
        moved += fabs(answer.goals[GOAL_COST] - answer.exact_goals[GOAL_COST]) > NEAR;
        if (!answer.stepped)
            continue;
        stepped++;
        for (size_t j = 0; j < CHOICES; j++) {
            const struct choice *choice = &plot->choices.items[j];
            double rate = answer.plots[0].rates[j], finest = 0.01 * UNIT;
            bool end = fabs(rate - choice->low) < NEAR * UNIT || fabs(rate - choice->high) < NEAR * UNIT;
            assert_true(end || fabs(rate / finest - round(rate / finest)) < NEAR);
        }
        for (size_t j = 0; j < plot->wants.count; j++) {
            double lost = answer.plots[0].shortfall[j] - answer.plots[0].exact_shortfall[j];
            assert_true(lost <= 0.05 * want_unit(&plot->wants.items[j]) * (1 + NEAR));
        }
    }
    assert_true(stepped > TRIALS / 3 && moved > TRIALS / 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_no_grid_point_is_better, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_same_question, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_distance, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_greedy, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_steps, arena_setup, arena_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
