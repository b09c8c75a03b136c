#include "compiler/season/day_set.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { LONGEST = 200 };

static int arena_setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

static uint64_t random_bits(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

static day_number random_between(uint64_t *seed, day_number low, day_number high)
{
    return low + (day_number)(random_bits(seed) % (uint64_t)(high - low + 1));
}

/* The same set twice: as the program keeps it, and as one truth value a day. */
struct pair {
    const struct day_set *set;
    day_number first, last;
    bool open[LONGEST];
};

static void check_searches(const struct pair *pair)
{
    for (day_number day = pair->first - 3; day <= pair->last + 3; day++) {
        day_number next = day < pair->first ? pair->first : day;
        while (next <= pair->last && !pair->open[next - pair->first])
            next++;
        day_number previous = day > pair->last ? pair->last : day;
        while (previous >= pair->first && !pair->open[previous - pair->first])
            previous--;
        day_number found = -1000000;
        assert_int_equal(day_set_next(pair->set, day, &found), next <= pair->last);
        assert_int_equal(found, next <= pair->last ? next : -1000000);
        found = -1000000;
        assert_int_equal(day_set_previous(pair->set, day, &found), previous >= pair->first);
        assert_int_equal(found, previous >= pair->first ? previous : -1000000);
    }
}

/* By going from day to day: also past the horizon there must be none. */
static size_t days_of(const struct day_set *set)
{
    size_t count = 0;
    for (day_number day = INT32_MIN; day_set_next(set, day, &day); day++)
        count++;
    return count;
}

static void check_pair(const struct pair *pair)
{
    size_t count = 0;
    for (day_number day = pair->first; day <= pair->last; day++) {
        assert_int_equal(day_set_contains(pair->set, day), pair->open[day - pair->first]);
        count += pair->open[day - pair->first];
    }
    assert_int_equal(days_of(pair->set), count);
    assert_false(day_set_contains(pair->set, pair->first - 1));
    assert_false(day_set_contains(pair->set, pair->last + 1));
    check_searches(pair);
}

static struct pair random_pair(struct arena *arena, uint64_t *seed)
{
    struct pair pair = {.first = random_between(seed, -150, 150)};
    pair.last = pair.first + random_between(seed, 0, LONGEST - 1);
    pair.set = day_set_all(arena, pair.first, pair.last);
    for (day_number day = pair.first; day <= pair.last; day++)
        pair.open[day - pair.first] = true;
    return pair;
}

static void remove_some(struct arena *arena, uint64_t *seed, struct pair *pair)
{
    day_number from = random_between(seed, pair->first - 20, pair->last + 20);
    day_number to = random_between(seed, from - 2, from + 90);
    pair->set = day_set_remove_range(arena, pair->set, from, to);
    for (day_number day = pair->first; day <= pair->last; day++)
        if (from <= day && day <= to)
            pair->open[day - pair->first] = false;
}

static void keep_some_weekdays(struct arena *arena, uint64_t *seed, struct pair *pair)
{
    unsigned weekdays = (unsigned)(random_bits(seed) % 128);
    pair->set = day_set_keep_weekdays(arena, pair->set, weekdays);
    for (day_number day = pair->first; day <= pair->last; day++)
        if (!(weekdays >> weekday_of_day(day) & 1))
            pair->open[day - pair->first] = false;
}

static bool not_multiple(day_number day, const void *context)
{
    return day % *(const day_number *)context != 0;
}

static void keep_no_multiples(struct arena *arena, uint64_t *seed, struct pair *pair)
{
    day_number *divisor = ARENA_NEW(arena, day_number);
    *divisor = random_between(seed, 2, 9);
    pair->set = day_set_keep_if(arena, pair->set, not_multiple, divisor);
    for (day_number day = pair->first; day <= pair->last; day++)
        if (day % *divisor == 0)
            pair->open[day - pair->first] = false;
}

static void test_random_sets(void **state)
{
    uint64_t seed = 20270417;
    for (int round = 0; round < 3000; round++) {
        struct pair pair = random_pair(*state, &seed);
        for (int64_t steps = random_between(&seed, 0, 4); steps > 0; steps--) {
            static void (*const changes[])(struct arena *, uint64_t *, struct pair *) = {
                remove_some, keep_some_weekdays, keep_no_multiples};
            changes[random_bits(&seed) % 3](*state, &seed, &pair);
        }
        check_pair(&pair);
        struct pair other = pair;
        remove_some(*state, &seed, &other);
        check_pair(&other);
        check_pair(&pair); /* what was given stays as it was */
    }
}

static void test_weekends_of_a_season(void **state)
{
    /* 2027-03-01, a Monday, to 2027-11-20, a Saturday: 265 days, 37 weeks and Monday to Saturday. */
    day_number first = day_of_date((struct civil_date){2027, 3, 1});
    day_number last = day_of_date((struct civil_date){2027, 11, 20});
    const struct day_set *set =
        day_set_keep_weekdays(*state, day_set_all(*state, first, last), 1u << SATURDAY | 1u << SUNDAY);
    assert_int_equal(days_of(set), 37 * 2 + 1);
    day_number day;
    assert_true(day_set_next(set, day_of_date((struct civil_date){2027, 4, 12}), &day));
    assert_int_equal(day, day_of_date((struct civil_date){2027, 4, 17}));
    assert_true(day_set_previous(set, day_of_date((struct civil_date){2027, 4, 16}), &day));
    assert_int_equal(day, day_of_date((struct civil_date){2027, 4, 11}));
}

static void test_longest_horizon(void **state)
{
    day_number first = day_of_date((struct civil_date){FIRST_YEAR, 1, 1});
    day_number last = day_of_date((struct civil_date){LAST_YEAR, 12, 31});
    const struct day_set *set = day_set_all(*state, first, last);
    assert_int_equal(days_of(set), last - first + 1);
    set = day_set_remove_range(*state, set, first + 1, last - 1);
    day_number day;
    assert_true(day_set_next(set, first + 1, &day));
    assert_int_equal(day, last);
    assert_true(day_set_previous(set, last - 1, &day));
    assert_int_equal(day, first);
    set = day_set_remove_range(*state, set, INT32_MIN, INT32_MAX);
    assert_int_equal(days_of(set), 0);
    assert_false(day_set_next(set, INT32_MIN, &day));
    assert_false(day_set_previous(set, INT32_MAX, &day));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_random_sets, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_weekends_of_a_season, arena_setup, arena_teardown),
        cmocka_unit_test_setup_teardown(test_longest_horizon, arena_setup, arena_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
