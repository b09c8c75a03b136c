/* A budget against the ledgers, which the checks read: the same sums by another route. */
#include "compiler/result/budget.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>

#include <cmocka.h>

static const char plan[] =
    "season 2027-09-01 to 2028-06-30\n"
    "lawn square { zone sunny area 5000 sqft\n zone shade area 2000 sqft }\n"
    "product feed { grade 20-5-10 granular\n slow 50% of N }\n"
    "product drink { grade 6-0-0 liquid, 10.6 lb per gal\n contains Fe 5% }\n"
    "apply feeding { to sunny, shade\n when every 6 weeks from Sep 4, 5 times\n"
    " rate 3 lb per 1000 sqft of feed }\n"
    "apply spray { to shade\n when on 2027-10-09\n rate 3 fl oz per 1000 sqft of drink }\n"
    "done feeding 2027-09-05 { used 14 lb of feed on sunny, 7 lb on shade }\n"
    "skipped feeding 2 \"rain\"\n";

static double ledger_sum(const struct ledger *ledger, size_t nutrient)
{
    double sum = 0;
    for (size_t i = 0; i < ledger->applications.count; i++)
        sum += ledger->applications.items[i].supplied[nutrient];
    return sum;
}

static void sums_are_those_of_the_ledgers(void **state)
{
    struct season_text read;
    season_text_read(&read, plan);
    struct budget budget = budget_of(read.season);
    assert_int_equal(budget.zones.count, 2);
    for (size_t z = 0; z < budget.zones.count; z++)
        for (size_t n = 0; n < NUTRIENT_COUNT; n++) {
            const struct budget_zone *zone = &budget.zones.items[z];
            double months = 0;
            for (size_t i = 0; i < zone->months.count; i++)
                months += zone->months.items[i].done[n] + zone->months.items[i].planned[n];
            assert_near(months, ledger_sum(&read.season->ledgers[z], n), 1e-12);
            assert_near(zone->total.done[n] + zone->total.planned[n], months, 1e-12);
        }
    season_text_free(&read);
}

/* 14 lb of 20% on 5000 sq ft are 0.56 lb N per 1000 sq ft; three more feedings of 0.6 lb are left. */
static void done_and_planned_are_apart(void **state)
{
    struct season_text read;
    season_text_read(&read, plan);
    struct budget budget = budget_of(read.season);
    const struct budget_zone *sunny = &budget.zones.items[0];
    const double lb_per_1000_sqft = 0.45359237 / 92.90304;
    assert_near(sunny->total.done[NUTRIENT_N], 0.56 * lb_per_1000_sqft, 1e-12);
    assert_near(sunny->total.planned[NUTRIENT_N], 1.8 * lb_per_1000_sqft, 1e-12);
    assert_int_equal(sunny->months.items[0].month, 9);
    assert_true(sunny->months.items[0].planned[NUTRIENT_N] == 0);
    season_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sums_are_those_of_the_ledgers),
        cmocka_unit_test(done_and_planned_are_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
