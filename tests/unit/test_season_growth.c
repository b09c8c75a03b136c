/* Large plans: that their days are right, and that the memory they take grows with their size. */
#include "tests/unit/season_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { LARGE = 10000 };

#define GROUND                                                                                               \
    "season 2027-03-01 to 2027-11-20\n"                                                                      \
    "lawn green {\n zone north area 100 m2\n zone south area 100 m2\n}\n"                                    \
    "product meal {\n grade 10-0-0 granular\n}\nproduct chalk {\n contains Ca 30%\n kind lime\n}\n"          \
    "limits {\n at least 7 days between N applications\n at least 7 days between lime and N\n only on "      \
    "Sat\n}\n"

/* Half of the treatments on two Saturdays, each day one application, the others the day's tasks. */
static const char *write_plan(struct arena *arena, int count)
{
    struct buffer plan = {.arena = arena};
    buffer_add_string(&plan, GROUND);
    for (int i = 0; i < count; i++)
        if (i % 2)
            buffer_format(&plan, "task t%d { when same day after t%d }\n", i, i == 1 ? count - 2 : i - 2);
        else
            buffer_format(&plan, "apply t%d {\n to green\n rate 1 kg per 100 m2 of %s\n when on %s\n}\n", i,
                          i % 4 ? "meal" : "chalk", i % 8 < 4 ? "Apr 3" : "Apr 10");
    return buffer_string(&plan);
}

/* Dates such a plan; the bytes it took, within a factor of two: the arena's blocks double. */
static size_t build(int count)
{
    struct season_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    season_text_read(&read, write_plan(&arena, count));
    size_t bytes = read.arena.total;
    assert_true(read.season->dated);
    for (int i = 0; i < count; i++) {
        const char *day = i % 2 ? ((count - 2) % 8 < 4 ? "2027-04-03" : "2027-04-10")
                                : (i % 8 < 4 ? "2027-04-03" : "2027-04-10");
        assert_int_equal(read.season->occurrences.items[i].day, text_day(day));
    }
    assert_int_equal(read.season->ledgers[0].applications.count, 2);
    assert_int_equal(read.season->calendar_count, count);
    season_text_free(&read);
    arena_free(&arena);
    return bytes;
}

static void test_growth(void **state)
{
    size_t small = build(LARGE / 8), large = build(LARGE);
    assert_true(large < 8 * 3 * small);
}

/* A ring of tasks, each within 3 days after the next: no order, no bound of their own but the season's. */
static void test_long_ring(void **state)
{
    struct season_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer plan = {.arena = &arena};
    buffer_add_string(&plan, GROUND);
    for (int i = 0; i < LARGE; i++)
        buffer_format(&plan, "task t%d { when within 3 days after t%d }\n", i, (i + 1) % LARGE);
    season_text_read(&read, buffer_string(&plan));
    for (int i = 0; i < LARGE; i++)
        assert_int_equal(read.season->calendar[i]->day, text_day("2027-03-01"));
    season_text_free(&read);
    arena_free(&arena);
}

/* Thousands of faults, each by itself: what is sound is dated, and the faults named are few. */
static void test_many_faults(void **state)
{
    struct season_text read;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer plan = {.arena = &arena};
    buffer_add_string(&plan, GROUND);
    for (int i = 0; i < LARGE; i++)
        buffer_format(&plan, "task t%d {\n when from Apr 2\n when by Apr %d\n}\n", i, i % 2 ? 1 : 3);
    season_text_read(&read, buffer_string(&plan));
    assert_int_equal(read.season->calendar_count, LARGE / 2);
    assert_int_equal(read.season->timetable.contradiction_count, TIMETABLE_CONTRADICTIONS);
    assert_true(read.season->timetable.more);
    season_text_free(&read);
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_growth),
        cmocka_unit_test(test_long_ring),
        cmocka_unit_test(test_many_faults),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
