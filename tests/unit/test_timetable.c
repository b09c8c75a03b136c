/* Small timetables, worked out by hand. */
#include "tests/unit/solved_timetable.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { A, B, C, D, E, F };

#define COUNT(array) ((uint32_t)(sizeof(array) / sizeof *(array)))

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

static day_number on(int month, int day)
{
    return day_of_date((struct civil_date){2027, month, day});
}

static const struct day_set *only(struct arena *arena, enum weekday weekday)
{
    return day_set_keep_weekdays(arena, day_set_all(arena, on(1, 1), on(12, 31)), 1u << weekday);
}

static struct timetable year(const struct timetable_node *nodes, uint32_t node_count,
                             const struct timetable_edge *edges, uint32_t edge_count)
{
    return (struct timetable){.first = on(1, 1),
                              .last = on(12, 31),
                              .nodes = nodes,
                              .edges = edges,
                              .node_count = node_count,
                              .edge_count = edge_count,
                              .cause_count = 20};
}

static void assert_step(const struct timetable_step *step, enum timetable_kind kind, uint32_t cause,
                        uint32_t node, day_number before, day_number after)
{
    assert_int_equal(step->kind, kind);
    assert_int_equal(step->cause, cause);
    assert_int_equal(step->node, node);
    assert_int_equal(step->before, before);
    assert_int_equal(step->after, after);
    assert_int_equal(step->skipped, 0);
}

static void assert_causes(const struct timetable_contradiction *contradiction, const uint32_t *causes,
                          uint32_t count)
{
    assert_int_equal(contradiction->cause_count, count);
    for (uint32_t i = 0; i < count; i++)
        assert_int_equal(contradiction->causes[i], causes[i]);
}

static int32_t ease(struct arena *arena, const struct timetable *table, const struct timetable_result *result,
                    enum timetable_kind kind, uint32_t cause)
{
    const struct timetable_contradiction *contradiction = &result->contradictions[0];
    struct timetable_step step = {.kind = kind, .cause = cause};
    for (uint32_t i = 0; i < contradiction->step_count; i++)
        if (contradiction->steps[i].kind == kind && contradiction->steps[i].cause == cause)
            step = contradiction->steps[i];
    int32_t days = 0;
    return timetable_ease(arena, table, result, 0, &step, &days) ? days : -1;
}

/* A feed, a second one 28 to 40 days later, a soil test at least 30 days after that. */
static void test_dates(void **state)
{
    const struct timetable_window feed = {0, on(4, 10), on(4, 30)}, test = {3, DAY_EVER, on(6, 20)};
    const struct timetable_closure saturday = {NULL, only(*state, SATURDAY), 1};
    const struct timetable_closure sunday = {NULL, only(*state, SUNDAY), 2};
    const struct timetable_node nodes[] = {
        {&feed, &saturday, 1, false, 0, 0}, {NULL, &sunday, 0, false, 0, 0}, {&test, NULL, 1, false, 0, 0}};
    const struct timetable_edge edges[] = {{A, B, 28, 4, 0, 0}, {B, A, -40, 5, 0, 0}, {B, C, 30, 6, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_true(result.feasible);
    assert_int_equal(result.contradiction_count, 0);
    assert_int_equal(result.earliest[A], on(4, 10)); /* a Saturday */
    assert_int_equal(result.earliest[B], on(5, 9));  /* May 8 is a Saturday */
    assert_int_equal(result.earliest[C], on(6, 8));
    assert_int_equal(result.latest[C], on(6, 20));
    assert_int_equal(result.latest[B], on(5, 16)); /* May 21 at most, a Friday */
    assert_int_equal(result.latest[A], on(4, 17)); /* Apr 18 at most */
}

static void test_chain_of_an_argument(void **state)
{
    const struct timetable_window first = {3, on(4, 10), DAY_NEVER};
    const struct timetable_window second[] = {{5, DAY_EVER, on(5, 10)}, {6, DAY_EVER, on(5, 30)}};
    const struct timetable_closure wednesday = {NULL, only(*state, WEDNESDAY), 9};
    const struct timetable_node nodes[] = {{&first, NULL, 1, false, 0, 0},
                                           {second, &wednesday, 2, false, 0, 0}};
    const struct timetable_edge edges[] = {{A, B, 28, 7, 0, 0}, {A, B, 21, 8, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_false(result.feasible);
    assert_null(result.earliest);
    assert_int_equal(result.contradiction_count, 1);
    assert_false(result.more);
    const struct timetable_contradiction *contradiction = &result.contradictions[0];
    assert_true(contradiction->minimal);
    assert_int_equal(contradiction->ring_days, 0);
    assert_int_equal(contradiction->step_count, 4);
    const struct timetable_step *steps = contradiction->steps;
    assert_step(&steps[0], TIMETABLE_NOT_BEFORE, 3, A, on(1, 1), on(4, 10));
    assert_step(&steps[1], TIMETABLE_EDGE, 7, B, on(1, 6),
                on(5, 8)); /* Jan 6 is the year's first Wednesday */
    assert_int_equal(steps[1].from, A);
    assert_int_equal(steps[1].least, 28);
    assert_step(&steps[2], TIMETABLE_CLOSED_DAYS, 9, B, on(5, 8), on(5, 12));
    assert_step(&steps[3], TIMETABLE_NOT_AFTER, 5, B, on(5, 12), on(5, 10));
    assert_causes(contradiction, (const uint32_t[]){3, 5, 7, 9}, 4);

    /* B fits on May 12, or on May 5 when A comes on Apr 7 or the wait is 25 days. */
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_NOT_BEFORE, 3), 3);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_EDGE, 7), 3);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_NOT_AFTER, 5), 2);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_CLOSED_DAYS, 9), -1);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_NOT_AFTER, 3), -1); /* 3 states no end */
}

/* A law and two wishes; any two of the three contradict each other. */
static void test_wishes_named_before_law(void **state)
{
    enum { LAW, EARLY_WISH, LATE_WISH };
    const struct timetable_window windows[] = {
        {LAW, on(9, 1), DAY_NEVER}, {EARLY_WISH, DAY_EVER, on(4, 1)}, {LATE_WISH, on(5, 1), DAY_NEVER}};
    const struct timetable_node nodes[] = {{windows, NULL, 3, false, 0, 0}};
    struct timetable table = year(nodes, 1, NULL, 0);
    struct timetable_result result;
    timetable_solve(*state, &table, &result); /* all of one rank: the strongest start is met first */
    assert_causes(&result.contradictions[0], (const uint32_t[]){LAW, EARLY_WISH}, 2);
    const uint8_t ranks[20] = {[LAW] = 2};
    table.cause_rank = ranks;
    timetable_solve(*state, &table, &result);
    assert_causes(&result.contradictions[0], (const uint32_t[]){EARLY_WISH, LATE_WISH}, 2);
    /* The law still stands in the way: no easing of the wish for May alone is enough. */
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_NOT_BEFORE, LATE_WISH), -1);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_NOT_AFTER, EARLY_WISH), 153);
}

/* Either the window or the closed days take the feed too far for the second one; one of them is enough to
 * name. */
static void test_order_of_leaving_out(void **state)
{
    enum { WAIT, WINDOW, CLOSED, END };
    const struct day_set *all = day_set_all(*state, on(1, 1), on(12, 31));
    const struct timetable_window first = {WINDOW, on(1, 5), DAY_NEVER}, second = {END, DAY_EVER, on(1, 31)};
    const struct timetable_closure closed = {NULL, day_set_remove_range(*state, all, on(1, 1), on(1, 9)),
                                             CLOSED};
    const struct timetable_node nodes[] = {{&first, &closed, 1, false, 0, 0},
                                           {&second, NULL, 1, false, 0, 0}};
    const struct timetable_edge edges[] = {{A, B, 28, WAIT, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    static const struct {
        uint8_t ranks[20];
        uint32_t causes[3];
    } rows[] = {
        {{[WAIT] = 2, [WINDOW] = 1}, {WAIT, CLOSED, END}}, /* the harder one goes */
        {{[WAIT] = 2, [CLOSED] = 1}, {WAIT, WINDOW, END}},
        {{[WAIT] = 1}, {WAIT, WINDOW, END}}, /* the later one goes */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct timetable_result result;
        table.cause_rank = rows[i].ranks;
        timetable_solve(*state, &table, &result);
        assert_causes(&result.contradictions[0], rows[i].causes, 3);
    }
}

static void test_ring(void **state)
{
    const struct timetable_window window = {0, on(3, 1), DAY_NEVER};
    const struct timetable_node nodes[3] = {[B] = {&window, NULL, 1, false, 0, 0}};
    const struct timetable_edge edges[] = {{C, B, -10, 3, 0, 0}, {A, B, 1, 1, 0, 0}, {B, C, 14, 2, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_false(result.feasible);
    assert_int_equal(result.contradiction_count, 1);
    assert_false(result.more);
    const struct timetable_contradiction *ring = &result.contradictions[0];
    assert_int_equal(ring->ring_days, 4);
    assert_int_equal(ring->step_count, 2);
    assert_step(&ring->steps[0], TIMETABLE_EDGE, 2, C, on(1, 1), on(1, 15)); /* March is no part of it */
    assert_step(&ring->steps[1], TIMETABLE_EDGE, 3, B, on(1, 1), on(1, 5));
    assert_causes(ring, (const uint32_t[]){2, 3}, 2);
    assert_int_equal(ring->node_count, 2);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_EDGE, 2), 4);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_EDGE, 3), 4);
}

/* On one day, one only on Saturdays and one only on Sundays: they chase each other to the year's end. */
static void test_skipped_steps(void **state)
{
    const struct timetable_closure feed = {NULL, only(*state, SATURDAY), 0};
    const struct timetable_closure spray = {NULL, only(*state, SUNDAY), 1};
    const struct timetable_node nodes[] = {{.closures = &feed}, {.closures = &spray}};
    const struct timetable_edge edges[] = {{A, B, 0, 2, 0, 0}, {B, A, 0, 2, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_false(result.feasible);
    const struct timetable_contradiction *chase = &result.contradictions[0];
    assert_causes(chase, (const uint32_t[]){0, 1, 2}, 3);
    assert_int_equal(chase->step_count, 7);
    const struct timetable_step *steps = chase->steps;
    assert_step(&steps[0], TIMETABLE_HORIZON_START, TIMETABLE_NONE, B, on(1, 1), on(1, 1));
    assert_step(&steps[1], TIMETABLE_CLOSED_DAYS, 1, B, on(1, 1), on(1, 3)); /* Jan 3 is a Sunday */
    assert_step(&steps[2], TIMETABLE_EDGE, 2, A, on(1, 2), on(1, 3));
    assert_step(&steps[3], TIMETABLE_CLOSED_DAYS, 0, A, on(1, 3), on(1, 9));
    assert_step(&steps[4], TIMETABLE_EDGE, 2, B, on(1, 3), on(1, 9));
    /* To Sunday, Jan 10, and then four steps a week to Sunday, Dec 26. */
    assert_int_equal(steps[5].skipped, 1 + 4 * 50);
    assert_int_equal(steps[5].after, on(12, 26));
    assert_step(&steps[6], TIMETABLE_CLOSED_DAYS, 0, A, on(12, 26), DAY_NEVER);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_EDGE, 2), 1);
}

static void test_sets_that_close_together(void **state)
{
    const struct day_set *all = day_set_all(*state, on(1, 1), on(12, 31)), *mondays = only(*state, MONDAY);
    const struct timetable_closure sets[] = {
        {sets + 1, mondays, 1},
        {sets + 2, day_set_remove_range(*state, mondays, on(6, 7), on(6, 27)), 2},
        {NULL, day_set_remove_range(*state, all, on(6, 1), on(6, 20)), 3}};
    const struct timetable_window windows[] = {{4, on(6, 1), DAY_NEVER}, {5, DAY_EVER, on(6, 27)}};
    const struct timetable_node nodes[] = {{windows, sets, 2, false, 0, 0}};
    struct timetable table = year(nodes, 1, NULL, 0);
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_false(result.feasible); /* set 2 alone: Monday, June 28, is the first day left */
    assert_causes(&result.contradictions[0], (const uint32_t[]){2, 4, 5}, 3);
    const struct timetable_node without_second[] = {{windows, sets + 2, 2, false, 0, 0}};
    table.nodes = without_second;
    timetable_solve(*state, &table, &result);
    assert_true(result.feasible);
    assert_int_equal(result.earliest[0], on(6, 21));
}

static void test_records(void **state)
{
    const struct timetable_window window = {0, DAY_EVER, on(2, 1)};
    const struct timetable_node nodes[] = {
        {&window, NULL, 1, true, on(4, 17), 7}, /* A: outside its own window, as it happened */
        {NULL, NULL, 0, true, on(4, 18), 8},    /* B: too soon after A, as it happened */
        {0},                                    /* C: at least 30 days after A */
        {0},                                    /* D: at most 5 days after B, so before it if need be */
        {NULL, NULL, 0, true, on(1, 1) - 20, TIMETABLE_NONE}}; /* E: last year */
    const struct timetable_edge edges[] = {
        {A, B, 28, 1, 0, 0}, {A, C, 30, 2, 0, 0}, {D, B, -5, 3, 0, 0}, {E, D, 60, 4, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_true(result.feasible);
    const day_number earliest[] = {on(4, 17), on(4, 18), on(5, 17), on(2, 10), on(1, 1) - 20};
    const day_number latest[] = {on(4, 17), on(4, 18), on(12, 31), on(4, 23), on(1, 1) - 20};
    for (uint32_t node = 0; node < COUNT(nodes); node++) {
        assert_int_equal(result.earliest[node], earliest[node]);
        assert_int_equal(result.latest[node], latest[node]);
    }
    struct timetable_node moved[COUNT(nodes)];
    memcpy(moved, nodes, sizeof moved);
    moved[A] = (struct timetable_node){.fixed = true, .day = on(12, 1), .cause = TIMETABLE_NONE};
    table.nodes = moved;
    timetable_solve(*state, &table, &result);
    assert_int_equal(result.earliest[C], on(12, 31));
    assert_int_equal(result.earliest[D], on(2, 10));
    moved[A].day = on(12, 2);
    timetable_solve(*state, &table, &result);
    assert_false(result.feasible);
}

static void test_record_named(void **state)
{
    const struct timetable_window window = {1, DAY_EVER, on(5, 1)};
    const struct timetable_node nodes[] = {{NULL, NULL, 0, true, on(4, 17), 9},
                                           {&window, NULL, 1, false, 0, 0}};
    const struct timetable_edge edges[] = {{A, B, 28, 2, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_false(result.feasible);
    const struct timetable_contradiction *contradiction = &result.contradictions[0];
    assert_int_equal(contradiction->step_count, 3);
    assert_step(&contradiction->steps[0], TIMETABLE_RECORD, 9, A, on(1, 1), on(4, 17));
    assert_step(&contradiction->steps[1], TIMETABLE_EDGE, 2, B, on(1, 1), on(5, 15));
    assert_step(&contradiction->steps[2], TIMETABLE_NOT_AFTER, 1, B, on(5, 15), on(5, 1));
    assert_causes(contradiction, (const uint32_t[]){1, 2}, 2); /* a record is a fact, nobody's demand */
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_RECORD, 9), -1);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_EDGE, 2), 14);
}

/* Five impossible windows, each for itself: three are told, the rest announced. */
static void test_disjoint_contradictions(void **state)
{
    struct timetable_window windows[5][2];
    struct timetable_node nodes[6] = {{0}};
    for (uint32_t i = 0; i < 5; i++) {
        windows[i][0] = (struct timetable_window){2 * i, on(5, 1), DAY_NEVER};
        windows[i][1] = (struct timetable_window){2 * i + 1, DAY_EVER, on(4, 1)};
        nodes[i + 1] = (struct timetable_node){.windows = windows[i], .window_count = 2};
    }
    struct timetable table = year(nodes, 6, NULL, 0);
    for (uint32_t bad = 1; bad <= 5; bad++) {
        table.node_count = bad + 1;
        struct timetable_result result;
        timetable_solve(*state, &table, &result);
        assert_int_equal(result.contradiction_count, bad < 3 ? bad : 3);
        assert_int_equal(result.more, bad > 3);
        bool named[6] = {false};
        for (uint32_t i = 0; i < result.contradiction_count; i++) {
            assert_int_equal(result.contradictions[i].node_count, 1);
            assert_false(named[result.contradictions[i].nodes[0]]);
            named[result.contradictions[i].nodes[0]] = true;
        }
        assert_false(named[0]);
        assert_int_equal(
            ease(*state, &table, &result, TIMETABLE_NOT_BEFORE, result.contradictions[0].causes[0]), 30);
    }
}

static void test_edges_of_the_numbers(void **state)
{
    struct timetable table = year(NULL, 0, NULL, 0);
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_true(result.feasible);
    const struct timetable_window wide = {0, DAY_EVER, DAY_NEVER};
    const struct timetable_node nodes[2] = {{&wide, NULL, 1, false, 0, 0}};
    struct timetable_edge edges[] = {{A, B, INT32_MIN, 1, 0, 0}, {B, A, -364, 2, 0, 0}};
    table = year(nodes, COUNT(nodes), edges, COUNT(edges));
    timetable_solve(*state, &table, &result);
    assert_true(result.feasible);
    assert_int_equal(result.latest[B], on(12, 31));
    edges[0].least = INT32_MAX;
    timetable_solve(*state, &table, &result); /* the wait does not fit the year, ring or no ring */
    const struct timetable_contradiction *contradiction = &result.contradictions[0];
    assert_int_equal(contradiction->ring_days, 0);
    assert_causes(contradiction, (const uint32_t[]){1}, 1);
    assert_int_equal(contradiction->step_count, 3);
    assert_step(&contradiction->steps[0], TIMETABLE_HORIZON_START, TIMETABLE_NONE, A, on(1, 1), on(1, 1));
    assert_step(&contradiction->steps[1], TIMETABLE_EDGE, 1, B, on(1, 1), DAY_NEVER - 1);
    assert_step(&contradiction->steps[2], TIMETABLE_HORIZON_END, TIMETABLE_NONE, B, DAY_NEVER - 1,
                on(12, 31));
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_EDGE, 1), INT32_MAX - 364);
}

/* What contradicts itself with no statement behind it names none, and still says where. */
static void test_nobodys_contradiction(void **state)
{
    const struct timetable_window window = {TIMETABLE_NONE, on(5, 1), on(4, 1)};
    const struct timetable_node nodes[2] = {[B] = {&window, NULL, 1, false, 0, 0}};
    struct timetable table = year(nodes, COUNT(nodes), NULL, 0);
    table.cause_count = 0;
    struct timetable_result result;
    timetable_solve(*state, &table, &result);
    assert_int_equal(result.contradiction_count, 1);
    assert_int_equal(result.contradictions[0].cause_count, 0);
    assert_int_equal(result.contradictions[0].step_count, 2);
    assert_int_equal(result.contradictions[0].nodes[0], B);
    assert_int_equal(ease(*state, &table, &result, TIMETABLE_NOT_AFTER, TIMETABLE_NONE), -1);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, arena_setup, arena_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_dates),
        TEST(test_chain_of_an_argument),
        TEST(test_wishes_named_before_law),
        TEST(test_order_of_leaving_out),
        TEST(test_ring),
        TEST(test_skipped_steps),
        TEST(test_sets_that_close_together),
        TEST(test_records),
        TEST(test_record_named),
        TEST(test_disjoint_contradictions),
        TEST(test_edges_of_the_numbers),
        TEST(test_nobodys_contradiction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
