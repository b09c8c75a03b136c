/* Problems made around rates that keep everything they demand: whatever the search may cost, there is an
 * answer, and it keeps everything too.
 *
 * PLANTED=N tries N problems, from the seed below on; each is the same everywhere. */
#include "tests/unit/format_text.h"
#include "tests/unit/made_problem.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { PRODUCTS_MOST = 7, TRIALS = 70 };

/* What a question of a plan may cost that leaves it the least, and of one that it has to itself. */
static const uint64_t WORK[] = {500000, 100000000};

struct planted {
    struct problem *problem;
    struct plot *plot;
    uint32_t products, applications;
    double *rates; /* by choice */
    uint64_t *seed;
};

static bool one_in(struct planted *planted, int count)
{
    return random_between(planted->seed, 1, count) == 1;
}

/* 1, or a little more. */
static double slack(struct planted *planted)
{
    const double slacks[] = {1, 1, 1.02, 1.3};
    return slacks[random_between(planted->seed, 0, 3)];
}

static double content_of(const struct planted *planted, uint32_t choice, enum nutrient nutrient)
{
    return planted->problem->products.items[planted->plot->choices.items[choice].product].content[nutrient];
}

/* A sum of a nutrient in one application, or in all of them (`application` beyond the last). */
static struct demand sum_demand(struct planted *planted, enum demand_kind kind, enum nutrient nutrient,
                                uint32_t application)
{
    struct demand demand = demand_new(planted->problem, kind, 0);
    for (uint32_t i = 0; i < planted->plot->choices.count; i++) {
        double content = content_of(planted, i, nutrient);
        bool here = application >= planted->applications ||
                    planted->plot->choices.items[i].application == application;
        if (!here || !(content > 0))
            continue;
        part_add(planted->problem, &demand, i, content);
        demand.bound += planted->rates[i] * content;
    }
    return demand;
}

static void keep(struct planted *planted, const struct demand *demand)
{
    if (demand->parts.count)
        VECTOR_PUSH(planted->problem->arena, &planted->plot->demands, *demand);
}

/* ---- what is planted ---- */

static void products_plant(struct planted *planted)
{
    static const char *const names[PRODUCTS_MOST] = {"alum", "bone", "char", "dung", "elm", "fern", "gum"};
    for (uint32_t i = 0; i < planted->products; i++) {
        double n = random_between(planted->seed, 0, 4) * 0.1, p = random_between(planted->seed, 0, 3) * 0.08;
        double k = random_between(planted->seed, 0, 3) * 0.1;
        product_add(planted->problem, names[i], n, p, k, random_between(planted->seed, 1, 9));
    }
}

/* One product in four applications or so, and a label that may leave it little between its least and its
 * most. */
static void rates_plant(struct planted *planted)
{
    struct arena *arena = planted->problem->arena;
    planted->rates = ARENA_ARRAY(arena, planted->products * planted->applications, double);
    for (uint32_t product = 0; product < planted->products; product++) {
        double high = random_between(planted->seed, 2, 8) * 0.5;
        double low = high * random_between(planted->seed, 0, 4) * 0.25;
        for (uint32_t application = 0; application < planted->applications; application++) {
            struct choice choice = {.product = product,
                                    .application = application,
                                    .low = low * UNIT,
                                    .high = high * UNIT,
                                    .low_cause = NO_CAUSE,
                                    .high_cause = NO_CAUSE};
            double rate = low + (high - low) * random_between(planted->seed, 0, 4) * 0.25;
            planted->rates[planted->plot->choices.count] = one_in(planted, 4) ? rate * UNIT : 0;
            VECTOR_PUSH(arena, &planted->plot->choices, choice);
        }
    }
}

/* ---- what keeps it ---- */

/* Sums that are at most what is planted comes to, or a little more; and at least that, or less. */
static void sums_plant(struct planted *planted)
{
    for (uint32_t application = 0; application <= planted->applications; application++) {
        struct demand most = sum_demand(planted, DEMAND_MOST, NUTRIENT_N, application);
        most.bound = fmax(most.bound * slack(planted), 0.1 * UNIT);
        if (!one_in(planted, 4))
            keep(planted, &most);
    }
    for (int i = random_between(planted->seed, 0, 4); i > 0; i--) {
        enum nutrient nutrient = (enum nutrient)random_between(planted->seed, NUTRIENT_N, NUTRIENT_K);
        uint32_t application =
            one_in(planted, 2) ? planted->applications
                               : (uint32_t)random_between(planted->seed, 0, (int)planted->applications - 1);
        struct demand least = sum_demand(planted, DEMAND_LEAST, nutrient, application);
        least.bound /= slack(planted);
        keep(planted, &least);
    }
}

/* As few times as it is planted; and applications that keep each other's nutrient out wherever the planted
 * ones do. */
static void counts_plant(struct planted *planted)
{
    for (uint32_t product = 0; product < planted->products; product++) {
        struct demand times = demand_new(planted->problem, DEMAND_TIMES, 0);
        for (uint32_t i = 0; i < planted->applications; i++) {
            part_add(planted->problem, &times, product * planted->applications + i, 1);
            times.bound += planted->rates[product * planted->applications + i] > 0;
        }
        times.bound = fmax(1, times.bound);
        if (one_in(planted, 2))
            keep(planted, &times);
    }
    enum nutrient nutrient = (enum nutrient)random_between(planted->seed, NUTRIENT_N, NUTRIENT_K);
    uint32_t cause = planted->problem->cause_count++, near = (uint32_t)random_between(planted->seed, 0, 3);
    for (uint32_t first = 0; first < planted->applications; first++)
        for (uint32_t second = first + 1; second < planted->applications && second <= first + near;
             second++) {
            struct demand apart = {.kind = DEMAND_APART, .cause = cause};
            bool sides[2] = {false, false}, planted_both[2] = {false, false};
            for (uint32_t i = 0; i < planted->plot->choices.count; i++) {
                uint32_t application = planted->plot->choices.items[i].application;
                int side = application == second;
                if ((application != first && application != second) ||
                    !(content_of(planted, i, nutrient) > 0))
                    continue;
                part_add(planted->problem, &apart, i, side);
                sides[side] = true;
                planted_both[side] = planted_both[side] || planted->rates[i] > 0;
            }
            if (sides[0] && sides[1] && !(planted_both[0] && planted_both[1]))
                keep(planted, &apart);
        }
}

/* Enough of one nutrient beside another, or little of that: where the planted rates keep it. */
static void either_plant(struct planted *planted)
{
    for (uint32_t application = 0; application < planted->applications; application++) {
        struct demand either = demand_new(planted->problem, DEMAND_EITHER, 0);
        double share = random_between(planted->seed, 1, 6) * 0.1, sum = 0, other = 0;
        either.other_bound = random_between(planted->seed, 1, 6) * 0.1 * UNIT;
        for (uint32_t i = application; i < planted->plot->choices.count; i += planted->applications) {
            struct demand_part part = {
                i, share * content_of(planted, i, NUTRIENT_N) - content_of(planted, i, NUTRIENT_P),
                content_of(planted, i, NUTRIENT_N)};
            if (!(part.other > 0))
                continue;
            VECTOR_PUSH(planted->problem->arena, &either.parts, part);
            sum += part.factor * planted->rates[i];
            other += part.other * planted->rates[i];
        }
        if ((sum <= 0 || other <= either.other_bound) && one_in(planted, 3))
            keep(planted, &either);
    }
}

/* Packs, which what is planted has, and other products need not have; nor a price. */
static void packs_plant(struct planted *planted)
{
    planted->problem->whole_packs = one_in(planted, 3);
    for (uint32_t product = 0; product < planted->products; product++) {
        struct problem_product *entry = &planted->problem->products.items[product];
        bool used = false;
        for (uint32_t i = 0; i < planted->applications; i++)
            used = used || planted->rates[product * planted->applications + i] > 0;
        struct demand none = demand_new(planted->problem, DEMAND_NONE, 0);
        for (uint32_t i = 0; i < planted->applications; i++)
            part_add(planted->problem, &none, product * planted->applications + i, 1);
        if (!used && one_in(planted, 3)) {
            entry->packs.count = 0;
            if (planted->problem->whole_packs)
                keep(planted, &none);
        } else if (one_in(planted, 6))
            entry->packs.items[0].price = NAN;
    }
}

static struct planted plant(struct arena *arena, uint64_t *seed)
{
    struct planted planted = {.problem = ARENA_NEW(arena, struct problem), .seed = seed};
    struct plot plot = {.area_m2 = random_between(seed, 1, 9) * 50};
    planted.plot = &plot;
    planted.problem->arena = arena;
    planted.products = (uint32_t)random_between(seed, 2, PRODUCTS_MOST);
    planted.applications = planted.problem->application_count = (uint32_t)random_between(seed, 2, 9);
    products_plant(&planted);
    rates_plant(&planted);
    sums_plant(&planted);
    counts_plant(&planted);
    either_plant(&planted);
    packs_plant(&planted);
    for (enum nutrient nutrient = NUTRIENT_N; nutrient <= NUTRIENT_K; nutrient++) {
        struct want want = {.nutrient = nutrient, .amount = random_between(seed, 0, 15) * 0.1 * UNIT};
        want.most = want.amount;
        VECTOR_PUSH(arena, &plot.wants, want);
    }
    VECTOR_PUSH(arena, &planted.problem->plots, plot);
    planted.plot = &planted.problem->plots.items[0];
    return planted;
}

/* ---- what must be found ---- */

static void test_planted(void **state)
{
    const char *count = getenv("PLANTED");
    int trials = count ? atoi(count) : TRIALS, missed = 0, nothing_keeps = 0;
    uint64_t seed = 8156853385004588413U; /* its first problem once had no answer */
    for (int i = 0; i < trials; i++) {
        struct arena_mark mark = arena_mark(*state);
        uint64_t first = seed;
        struct planted planted = plant(*state, &seed);
        const double *nothing = ARENA_ARRAY(*state, planted.plot->choices.count, double);
        assert_true(rates_fit(planted.plot, planted.rates));
        nothing_keeps += rates_fit(planted.plot, nothing);
        for (size_t j = 0; j < sizeof WORK / sizeof *WORK; j++) {
            struct problem_budget budget = {.whole = WORK[j]};
            planted.problem->budget = &budget;
            struct problem_answer answer = problem_solve(planted.problem);
            bool solved = answer.outcome == LP_SOLVED;
            if (!solved || !rates_fit(planted.plot, answer.plots[0].rates)) {
                printf("trial %d, seed %llu, %llu of work: %s\n", i, (unsigned long long)first,
                       (unsigned long long)WORK[j],
                       solved                            ? "rates that break something"
                       : answer.outcome == LP_IMPOSSIBLE ? "impossible"
                                                         : "undecided");
                missed++;
            }
        }
        arena_rewind(*state, mark);
    }
    assert_int_equal(missed, 0);
    assert_in_range(nothing_keeps, trials / 5, trials * 4 / 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_planted, arena_setup, arena_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
