/* The choice of packs against trying every number of every size. */
#include "compiler/result/packs.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

/* ---- by trying all ---- */

struct trial {
    const struct pack_size *sizes;
    size_t count;
    int amount; /* whole, like all sizes here, so that nothing is rounded */
    bool priced;
    bool found;
    double cost; /* 0 where not priced */
    size_t packs;
    double bought;
};

static void trial_consider(struct trial *trial, double cost, size_t packs, double bought)
{
    if (bought < trial->amount)
        return;
    bool better = !trial->found || cost < trial->cost || (cost == trial->cost && packs < trial->packs) ||
                  (cost == trial->cost && packs == trial->packs && bought < trial->bought);
    if (better) {
        trial->cost = cost;
        trial->packs = packs;
        trial->bought = bought;
        trial->found = true;
    }
}

static void trial_run(struct trial *trial, size_t place, double cost, size_t packs, double bought)
{
    if (place == trial->count) {
        trial_consider(trial, cost, packs, bought);
        return;
    }
    const struct pack_size *size = &trial->sizes[place];
    for (size_t n = 0; n <= (size_t)trial->amount / (size_t)size->amount + 1; n++)
        trial_run(trial, place + 1, cost + (trial->priced ? (double)n * size->price : 0), packs + n,
                  bought + (double)n * size->amount);
}

/* ---- made-up shops ---- */

/* A plain congruential generator: the same numbers on every machine. */
static unsigned made_next(uint32_t *state, unsigned below)
{
    *state = *state * 1664525u + 1013904223u;
    return (*state >> 16) % below;
}

static void chooses_what_trying_all_finds(void **state)
{
    uint32_t made = 2027;
    for (int round = 0; round < 6000; round++) {
        struct pack_size sizes[4];
        size_t count = 1 + made_next(&made, 4);
        bool priced = made_next(&made, 3) > 0;
        for (size_t i = 0; i < count; i++) {
            sizes[i].amount = 1 + made_next(&made, 25);
            /* quarters add up without rounding; some shops have one price for each pound */
            double by_amount = made_next(&made, 4) ? 1 + made_next(&made, 120) : 4 * sizes[i].amount;
            sizes[i].price = priced ? 0.25 * by_amount : NAN;
        }
        struct trial trial = {.sizes = sizes, .count = count, .priced = priced};
        trial.amount = (int)made_next(&made, 60);
        trial_run(&trial, 0, 0, 0, 0);
        struct pack_choice choice = packs_choose(sizes, count, trial.amount);
        double cost = 0, bought = 0;
        size_t packs = 0;
        for (size_t i = 0; i < count; i++) {
            cost += choice.counts[i] ? (double)choice.counts[i] * sizes[i].price : 0;
            bought += (double)choice.counts[i] * sizes[i].amount;
            packs += choice.counts[i];
        }
        assert_true(choice.proven);
        assert_int_equal(choice.priced, priced);
        assert_int_equal(choice.packs, packs);
        assert_true(choice.bought == bought);
        assert_int_equal(packs, trial.packs);
        assert_true(bought == trial.bought);
        if (priced)
            assert_true(choice.cost == cost && cost == trial.cost);
    }
}

/* 29.17 lb: one of 25 lb at 20 and one of 5 lb at 6 cost 26; one of 40 lb costs 31, two of 25 lb 40. */
static void mixes_sizes_where_that_is_cheapest(void **state)
{
    const struct pack_size sizes[] = {{40, 31}, {25, 20}, {5, 6}};
    struct pack_choice choice = packs_choose(sizes, 3, 29.17);
    assert_int_equal(choice.counts[0], 0);
    assert_int_equal(choice.counts[1], 1);
    assert_int_equal(choice.counts[2], 1);
    assert_true(choice.cost == 26 && choice.bought == 30);
}

/* Without the price of one of them the sizes cannot be compared by cost: the fewest packs, one of 40 lb. */
static void goes_by_number_where_a_price_is_missing(void **state)
{
    const struct pack_size sizes[] = {{40, NAN}, {25, 20}, {5, 6}};
    struct pack_choice choice = packs_choose(sizes, 3, 29.17);
    assert_int_equal(choice.packs, 1);
    assert_int_equal(choice.counts[0], 1);
    assert_false(choice.priced);
    assert_true(isnan(choice.cost));
}

static void arithmetic_buys_no_second_pack(void **state)
{
    const struct pack_size size = {0.3, 1};
    assert_int_equal(packs_choose(&size, 1, 0.1 + 0.2).packs, 1); /* a little above 0.3 in binary */
    assert_int_equal(packs_choose(&size, 1, 0.3001).packs, 2);
    assert_int_equal(packs_choose(&size, 1, 0).packs, 0);
}

static void many_tiny_packs_end(void **state)
{
    const struct pack_size sizes[] = {{7, 6.99}, {11, 11}, {13, 13}, {17, 17.01}, {19, 19}, {23, 23}};
    struct pack_choice choice = packs_choose(sizes, 6, 100000.5);
    assert_true(choice.bought >= 100000.5);
    assert_true(choice.cost >= 100000.5 / 7 * 6.99);
    assert_true(choice.cost <= 100000.5 / 7 * 6.99 + 6.99);
}

static void more_than_anybody_carries_is_no_answer(void **state)
{
    const struct pack_size size = {1e-9, 1};
    struct pack_choice choice = packs_choose(&size, 1, 1000);
    assert_int_equal(choice.packs, 0);
    assert_false(choice.proven);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chooses_what_trying_all_finds),
        cmocka_unit_test(mixes_sizes_where_that_is_cheapest),
        cmocka_unit_test(goes_by_number_where_a_price_is_missing),
        cmocka_unit_test(arithmetic_buys_no_second_pack),
        cmocka_unit_test(many_tiny_packs_end),
        cmocka_unit_test(more_than_anybody_carries_is_no_answer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
