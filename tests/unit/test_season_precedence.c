/* Ranks by what is stated to come first, and groups. */
#include "compiler/season/precedence.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static void assert_ranks(uint32_t count, const struct precedence *pairs, size_t pair_count,
                         const uint32_t *expected)
{
    struct arena arena;
    arena_init(&arena, NULL);
    assert_memory_equal(precedence_ranks(&arena, count, pairs, pair_count), expected,
                        count * sizeof *expected);
    arena_free(&arena);
}

static void test_by_number(void **state)
{
    assert_ranks(4, NULL, 0, (const uint32_t[]){0, 1, 2, 3});
    assert_ranks(0, NULL, 0, NULL);
}

static void test_stated(void **state)
{
    const struct precedence pairs[] = {{3, 0}, {2, 1}, {2, 1}, {3, 2}};
    assert_ranks(5, pairs, 4, (const uint32_t[]){1, 3, 2, 0, 4});
}

/* 1 and 2 each before the other: they come last, by number; what waits for them too. */
static void test_ring(void **state)
{
    const struct precedence pairs[] = {{1, 2}, {2, 1}, {2, 0}};
    assert_ranks(4, pairs, 3, (const uint32_t[]){1, 2, 3, 0});
}

/* 0 waits for 1, that for 2, and so on. */
static void test_long_chain(void **state)
{
    enum { LENGTH = 1000 };
    struct precedence pairs[LENGTH];
    uint32_t expected[LENGTH + 1];
    for (uint32_t i = 0; i < LENGTH; i++)
        pairs[i] = (struct precedence){i + 1, i};
    for (uint32_t i = 0; i <= LENGTH; i++)
        expected[i] = LENGTH - i;
    assert_ranks(LENGTH + 1, pairs, LENGTH, expected);
}

static void test_groups(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    uint32_t *groups = groups_new(&arena, 6);
    group_join(groups, 5, 3);
    group_join(groups, 3, 4);
    group_join(groups, 4, 5);
    group_join(groups, 2, 1);
    assert_int_equal(group_of(groups, 5), 3);
    assert_int_equal(group_of(groups, 4), 3);
    assert_int_equal(group_of(groups, 2), 1);
    assert_int_equal(group_of(groups, 0), 0);
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_by_number), cmocka_unit_test(test_stated),
                                       cmocka_unit_test(test_ring), cmocka_unit_test(test_long_chain),
                                       cmocka_unit_test(test_groups)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
