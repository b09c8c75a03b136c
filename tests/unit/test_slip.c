/* How far a day may slip. The last days are worked out by hand: a run of 30 days that ends on May 10 begins
 * on Apr 11; a calendar year ends on Dec 31. tests/reference/slips.check tries the days of random plans. */
#include "compiler/check/slip.h"
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define GROUND                                                                                               \
    "plan \"slip\"\nseason 2027-03-01 to 2028-11-20\nlawn green {\n zone z area 1000 sqft\n}\n"              \
    "product feed {\n grade 20-0-0 granular\n"
#define APPLY(name, when)                                                                                    \
    "apply " name " {\n to z\n when " when "\n supply 0.9 lb N per 1000 sqft from feed\n}\n"

static void assert_slip(const char *plan, const char *alone, const char *latest, enum slip_end end,
                        const char *check, const char *opens)
{
    struct season_text read;
    season_text_read(&read, plan);
    slips_find(read.season);
    const struct slip *slip = season_text_find(&read, "a", 1)->slip;
    assert_string_equal(day_text(&read.arena, slip->alone), alone);
    assert_string_equal(day_text(&read.arena, slip->latest), latest);
    assert_int_equal(slip->end, end);
    assert_string_equal(slip->check ? slip->check : "", check);
    if (opens)
        assert_string_equal(day_text(&read.arena, slip->opens), opens);
    season_text_free(&read);
}

static void test_amounts(void **state)
{
    (void)state;
    assert_slip(GROUND "}\nlimits { at most 1 lb N per 1000 sqft in any 30 days }\n" APPLY("a", "from Apr 1")
                    APPLY("b", "on May 10"),
                "2027-04-10", "2027-04-10", SLIP_BROKEN, "limit-per-period", NULL);
    assert_slip(GROUND "}\nlimits { at most 1 lb N per 1000 sqft per year }\n" APPLY("a", "from Nov 1")
                    APPLY("b", "on 2028-04-10"),
                "2027-12-31", "2027-12-31", SLIP_BROKEN, "limit-per-year", NULL);
    assert_slip(GROUND "}\nlimits { at most 1 lb N per 1000 sqft per application }\n" APPLY("a", "from Nov 1")
                    APPLY("b", "on Nov 10"),
                "2027-11-09", "2027-11-09", SLIP_BROKEN, "limit-per-application", NULL);
}

static void test_labels(void **state)
{
    (void)state;
    assert_slip(GROUND " label at most 1 a year\n}\n" APPLY("a", "from Nov 1") APPLY("b", "on 2028-04-10"),
                "2027-12-31", "2027-12-31", SLIP_BROKEN, "label-count", NULL);
    assert_slip(GROUND " label at most 6 lb per 1000 sqft a year\n}\n" APPLY("a", "from Nov 1")
                    APPLY("b", "on 2028-04-10"),
                "2027-12-31", "2027-12-31", SLIP_BROKEN, "label-year", NULL);
}

static void test_closed(void **state)
{
    (void)state;
    assert_slip(GROUND "}\nlimits { no N from May 15 to Sep 15 }\n" APPLY("a", "from May 10"), "2027-05-14",
                "2027-05-14", SLIP_CLOSED, "", "2027-09-16");
    /* 2027-05-08 is a Saturday: the next are the 15th, and the 22nd */
    assert_slip(GROUND "}\nlimits { only on Sat }\n" APPLY("a", "between May 8 and May 24"), "2027-05-22",
                "2027-05-22", SLIP_WINDOW, "", NULL);
}

/* A plan that took nearly all the work it may has no trials: they would end it without a result. */
static void test_work_that_is_left(void **state)
{
    (void)state;
    struct season_text read;
    season_text_read(&read, GROUND "}\nlimits { at most 1 lb N per 1000 sqft in any 30 days }\n" APPLY(
                                "a", "from Apr 1") APPLY("b", "on May 10"));
    assert_true(read.arena.steps > 1);
    read.arena.steps_most = read.arena.steps + 1;
    slips_find(read.season);
    assert_int_equal(season_text_find(&read, "a", 1)->slip->end, SLIP_UNKNOWN);
    season_text_free(&read);
}

/* What follows moves along, until it comes too near to something else. */
static void test_what_follows(void **state)
{
    (void)state;
    assert_slip(GROUND "}\nlimits { at most 1 lb N per 1000 sqft in any 30 days }\n" APPLY("a", "from Apr 1")
                    APPLY("b", "40 days after a") APPLY("c", "on Jul 1"),
                "2027-04-01", "2027-04-22", SLIP_BROKEN, "limit-per-period", NULL);
    /* On May 10 they are one application, or b waits; from May 11 on a would come behind b, too near. */
    assert_slip(GROUND "}\nlimits { at least 30 days between N applications }\n" APPLY("a", "from Apr 1")
                    APPLY("b", "from May 10"),
                "2027-04-10", "2027-05-10", SLIP_BROKEN, "no-day", NULL);
}

static void test_arena_rewinds(void **state)
{
    (void)state;
    struct arena arena;
    arena_init(&arena, NULL);
    char *kept = arena_alloc(&arena, 100);
    struct arena_mark mark = arena_mark(&arena);
    char *first = arena_alloc(&arena, 100);
    memset(kept, 'k', 100);
    for (int round = 0; round < 3; round++) {
        memset(arena_alloc(&arena, 1000000), 'x', 1000000);
        memset(arena_alloc(&arena, 3000000), 'x', 3000000);
        size_t total = arena.total;
        arena_rewind(&arena, mark);
        assert_true(arena.total < total);
        char *again = arena_alloc(&arena, 100);
        assert_ptr_equal(again, first);
        for (int i = 0; i < 100; i++)
            assert_int_equal(again[i], 0);
        memset(again, 'y', 100);
    }
    for (int i = 0; i < 100; i++)
        assert_int_equal(kept[i], 'k');
    arena_free(&arena);
}

/* Large vectors that grow in turns, one of them begun before a mark: each keeps its items, what others take
 * lies outside them, and a rewind gives back what was begun since. */
static void test_arena_large_vectors(void **state)
{
    (void)state;
    enum { ITEMS = 200000 };
    VECTOR(uint64_t) before = {0}, after = {0};
    struct arena arena;
    arena_init(&arena, NULL);
    for (uint64_t i = 0; i < ITEMS / 4; i++)
        VECTOR_PUSH(&arena, &before, i);
    struct arena_mark mark = arena_mark(&arena);
    size_t large = arena.large_total;
    assert_true(large >= ITEMS / 4 * sizeof *before.items);
    for (uint64_t i = ITEMS / 4; i < ITEMS; i++) {
        VECTOR_PUSH(&arena, &before, i);
        VECTOR_PUSH(&arena, &after, ~i);
        memset(arena_alloc(&arena, 24), 'x', 24);
    }
    size_t all = arena.large_total;
    for (uint64_t i = 0; i < ITEMS; i++)
        assert_true(before.items[i] == i);
    for (uint64_t i = 0; i < ITEMS - ITEMS / 4; i++)
        assert_true(after.items[i] == ~(i + ITEMS / 4));
    arena_rewind(&arena, mark);
    assert_int_equal(arena.large_total, all - after.capacity * sizeof *after.items);
    for (uint64_t i = 0; i < ITEMS; i++)
        assert_true(before.items[i] == i);
    arena_free(&arena);
}

/* A vector counts for what an arena may take, and ends the arena where it would take more. */
static void test_arena_large_vector_ends(void **state)
{
    (void)state;
    enum { MOST = 1024 * 1024 };
    VECTOR(uint64_t) vector = {0};
    struct arena arena;
    jmp_buf exhausted;
    arena_init(&arena, &exhausted);
    arena.most = MOST;
    if (!setjmp(exhausted))
        for (uint64_t i = 0; i < MOST; i++)
            VECTOR_PUSH(&arena, &vector, i);
    assert_true(arena.spent);
    assert_true(arena.total + arena.large_total <= MOST);
    assert_true(arena.large_total >= MOST / 4);
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_amounts),
                                       cmocka_unit_test(test_labels),
                                       cmocka_unit_test(test_closed),
                                       cmocka_unit_test(test_what_follows),
                                       cmocka_unit_test(test_work_that_is_left),
                                       cmocka_unit_test(test_arena_rewinds),
                                       cmocka_unit_test(test_arena_large_vectors),
                                       cmocka_unit_test(test_arena_large_vector_ends)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
