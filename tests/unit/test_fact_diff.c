/* Which fact of an old plan is beside which of a new one, worked out by hand. */
#include "compiler/result/fact_diff.h"
#include "tests/unit/one_arena.h"

#include <math.h>

static void fact_add(struct facts *facts, const char *words, const char *topic)
{
    struct fact fact = {.words = words, .si = NAN, .keys = {words, topic}};
    VECTOR_PUSH(&arena, facts, fact);
}

/* "new words, was old words" of each change, one a line; "-" in place of what is not there. */
static const char *changed(const struct facts *old, const struct facts *new)
{
    struct fact_changes changes = facts_compare(&arena, old, new);
    struct buffer out = {.arena = &arena};
    for (size_t i = 0; i < changes.count; i++)
        buffer_format(&out, "%s, was %s\n", changes.items[i].new ? changes.items[i].new->words : "-",
                      changes.items[i].old ? changes.items[i].old->words : "-");
    return buffer_string(&out);
}

/* On one topic, in another order: each beside the one that it is most like. */
static void test_not_crosswise(void **state)
{
    struct facts old = {0}, new = {0};
    fact_add(&old, "Water feed in with 0.25 in within 1 day.", "Water feed");
    fact_add(&old, "Water feed off the leaves at noon.", "Water feed");
    fact_add(&new, "Water feed off the leaves by evening.", "Water feed");
    fact_add(&new, "Water feed in with 0.5 in within 1 day.", "Water feed");
    assert_string_equal(
        changed(&old, &new),
        "Water feed off the leaves by evening., was Water feed off the leaves at noon.\n"
        "Water feed in with 0.5 in within 1 day., was Water feed in with 0.25 in within 1 day.\n");
}

/* What is new or gone is so for itself, wherever it is in the order. */
static void test_one_more(void **state)
{
    struct facts old = {0}, new = {0};
    fact_add(&old, "at most 5 g N in any 30 days", "N");
    fact_add(&new, "at most 12 g N per year", "N");
    fact_add(&new, "at most 4 g N in any 30 days", "N");
    assert_string_equal(changed(&old, &new),
                        "at most 12 g N per year, was -\n"
                        "at most 4 g N in any 30 days, was at most 5 g N in any 30 days\n");
    assert_string_equal(changed(&new, &old),
                        "at most 5 g N in any 30 days, was at most 4 g N in any 30 days\n"
                        "-, was at most 12 g N per year\n");
}

/* A fact that has its very like is not taken by one that is only near it; nothing alike is nothing changed.
 */
static void test_surest_first(void **state)
{
    struct facts old = {0}, new = {0};
    fact_add(&old, "a b c", "a");
    fact_add(&old, "a b d", "a");
    fact_add(&new, "a b d", "a");
    fact_add(&new, "a b e", "a");
    assert_string_equal(changed(&old, &new), "a b e, was a b c\n");
    assert_string_equal(changed(&old, &old), "");
    assert_string_equal(changed(&(struct facts){0}, &(struct facts){0}), "");
}

/* More than are tried against each other: in their order. */
static void test_many(void **state)
{
    struct facts old = {0}, new = {0};
    for (int i = 0; i < 100; i++) {
        fact_add(&old, text_format(&arena, "old %d", i), "t");
        fact_add(&new, text_format(&arena, "new %d", i), "t");
    }
    struct fact_changes changes = facts_compare(&arena, &old, &new);
    assert_int_equal(changes.count, 100);
    for (size_t i = 0; i < changes.count; i++)
        assert_ptr_equal(changes.items[i].old, &old.items[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_not_crosswise),
        TEST(test_one_more),
        TEST(test_surest_first),
        TEST(test_many),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
