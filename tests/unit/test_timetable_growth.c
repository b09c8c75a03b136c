/* Large timetables: that the effort grows with their size, and that what is found in them is right. */
#include "tests/unit/solved_timetable.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <time.h>

#include <cmocka.h>

enum { LARGE = 100000, WAITS = 3 /* edges a node */ };
enum { FIRST_DAY = -25567, LAST_DAY = 84005 }; /* 1900-01-01 to 2199-12-31 */

static uint64_t random_bits(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

static uint32_t random_below(uint64_t *seed, uint32_t count)
{
    return (uint32_t)((random_bits(seed) >> 11) % count);
}

/* A timetable that is being made; everything in its arena. */
struct making {
    struct arena arena;
    struct timetable table;
    struct timetable_node *nodes;
    struct timetable_edge *edges;
};

static void make(struct making *making, uint32_t node_count, uint32_t edge_count)
{
    arena_init(&making->arena, NULL);
    making->nodes = ARENA_ARRAY(&making->arena, node_count, struct timetable_node);
    making->edges = ARENA_ARRAY(&making->arena, edge_count, struct timetable_edge);
    making->table = (struct timetable){.first = FIRST_DAY,
                                       .last = LAST_DAY,
                                       .nodes = making->nodes,
                                       .edges = making->edges,
                                       .node_count = node_count,
                                       .cause_count = 8};
}

static void add_edge(struct making *making, uint32_t from, uint32_t to, int32_t least, uint32_t cause)
{
    making->edges[making->table.edge_count++] =
        (struct timetable_edge){.from = from, .to = to, .least = least, .cause = cause};
}

static const struct day_set *weekdays(struct making *making, unsigned mask)
{
    return day_set_keep_weekdays(&making->arena, day_set_all(&making->arena, FIRST_DAY, LAST_DAY), mask);
}

/* One for all nodes, shared. */
static struct timetable_closure *closure_of(struct making *making, const struct day_set *days, uint32_t cause)
{
    struct timetable_closure *closure = ARENA_NEW(&making->arena, struct timetable_closure);
    *closure = (struct timetable_closure){NULL, days, cause};
    return closure;
}

/* --- kinds of timetables ------------------------------------------------------------------------------- */

/* Waits only lead to later numbers; weekends only, and windows that start on scattered days. */
static void make_waits(struct making *making, uint32_t count)
{
    make(making, count, WAITS * count);
    uint64_t seed = 41;
    struct timetable_closure *weekend =
        closure_of(making, weekdays(making, 1u << SATURDAY | 1u << SUNDAY), 0);
    for (uint32_t node = 0; node < count; node++) {
        struct timetable_window *window = ARENA_NEW(&making->arena, struct timetable_window);
        *window = (struct timetable_window){1, (day_number)random_below(&seed, 365), DAY_NEVER};
        making->nodes[node] =
            (struct timetable_node){.windows = window, .window_count = 1, .closures = weekend};
        for (uint32_t i = 0; i < WAITS && node + 1 < count; i++)
            add_edge(making, node, node + 1 + random_below(&seed, count - node - 1),
                     (int32_t)random_below(&seed, 60), 2);
    }
}

/* Each node follows the one before within a few days; numbered against the waits, the worst order for a naive
 * walk. The last one's window starts late and draws all the others along. */
static void make_chain(struct making *making, uint32_t count)
{
    make(making, count, WAITS * count);
    for (uint32_t node = 1; node < count; node++) {
        add_edge(making, node, node - 1, 1, 0);
        add_edge(making, node - 1, node, -2, 1);
        add_edge(making, node, node - 1, 0, 2);
    }
    struct timetable_window *late = ARENA_NEW(&making->arena, struct timetable_window);
    *late = (struct timetable_window){3, LAST_DAY - 9, DAY_NEVER};
    making->nodes[0] = (struct timetable_node){.windows = late, .window_count = 1};
}

/* Upper and lower bounds between scattered pairs, so that nearly all nodes hang together both ways. The
 * bounds leave room around a solution drawn beforehand. */
static void make_web(struct making *making, uint32_t count)
{
    make(making, count, WAITS * count);
    uint64_t seed = 43;
    int32_t *drawn = ARENA_ARRAY(&making->arena, count, int32_t);
    for (uint32_t node = 0; node < count; node++)
        drawn[node] = (int32_t)random_below(&seed, 1400);
    for (uint32_t i = 0; i < WAITS * count; i++) {
        uint32_t from = random_below(&seed, count), to = random_below(&seed, count);
        add_edge(making, from, to, drawn[to] - drawn[from] - (int32_t)random_below(&seed, 30), 0);
    }
    struct timetable_closure *weekend =
        closure_of(making, weekdays(making, 1u << SATURDAY | 1u << SUNDAY), 1);
    for (uint32_t node = 0; node < count; node++)
        making->nodes[node] = (struct timetable_node){.closures = weekend};
}

/* A ring that asks for one day more each round. */
static void make_ring(struct making *making, uint32_t count)
{
    make(making, count, count);
    for (uint32_t node = 0; node < count; node++)
        add_edge(making, node, (node + 1) % count, node == count / 2, node % 2);
    struct timetable_closure *weekend =
        closure_of(making, weekdays(making, 1u << SATURDAY | 1u << SUNDAY), 2);
    for (uint32_t node = 0; node < count; node++)
        making->nodes[node] = (struct timetable_node){.closures = weekend};
}

/* --- checks -------------------------------------------------------------------------------------------- */

static bool day_holds(const struct timetable_node *node, day_number day)
{
    for (uint32_t i = 0; i < node->window_count; i++)
        if (day < node->windows[i].first || day > node->windows[i].last)
            return false;
    for (const struct timetable_closure *set = node->closures; set; set = set->next)
        if (!day_set_contains(set->days, day))
            return false;
    return FIRST_DAY <= day && day <= LAST_DAY;
}

static void check_days(const struct timetable *table, const day_number *days)
{
    for (uint32_t node = 0; node < table->node_count; node++)
        assert_true(day_holds(&table->nodes[node], days[node]));
    for (uint32_t i = 0; i < table->edge_count; i++) {
        const struct timetable_edge *edge = &table->edges[i];
        assert_true(days[edge->to] >= days[edge->from] + edge->least);
    }
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static double time_of(void (*fill)(struct making *, uint32_t), uint32_t count, bool feasible)
{
    struct making making;
    fill(&making, count);
    struct timetable_result result;
    double start = seconds();
    timetable_solve(&making.arena, &making.table, &result);
    double taken = seconds() - start;
    assert_int_equal(result.feasible, feasible);
    if (feasible) {
        check_days(&making.table, result.earliest);
        check_days(&making.table, result.latest);
    }
    arena_free(&making.arena);
    return taken;
}

static double best_time(void (*fill)(struct making *, uint32_t), uint32_t count, bool feasible)
{
    double best = time_of(fill, count, feasible);
    for (int i = 0; i < 2; i++) {
        double taken = time_of(fill, count, feasible);
        best = taken < best ? taken : best;
    }
    return best;
}

/* A hundred times the size may take 1500 times as long: room for caches that the largest leaves and for a
 * busy machine, none for a square, which would take 10000. */
static void check_growth(const char *name, void (*fill)(struct making *, uint32_t), bool feasible)
{
    double small = best_time(fill, LARGE / 100, feasible);
    double middle = best_time(fill, LARGE / 10, feasible);
    double large = best_time(fill, LARGE, feasible);
    print_message("%s: %d, %d, %d nodes in %.2f, %.2f, %.2f ms\n", name, LARGE / 100, LARGE / 10, LARGE,
                  1e3 * small, 1e3 * middle, 1e3 * large);
    assert_true(large < 1500 * small);
}

static void test_growth(void **state)
{
    (void)state;
    check_growth("waits", make_waits, true);
    check_growth("chain", make_chain, true);
    check_growth("web", make_web, true);
    check_growth("ring", make_ring, false);
}

static void test_large_chain(void **state)
{
    (void)state;
    struct making making;
    make_chain(&making, LARGE);
    struct timetable_result result;
    timetable_solve(&making.arena, &making.table, &result);
    assert_true(result.feasible);
    for (uint32_t node = 0; node < LARGE;
         node++) { /* at least one day apart up to the horizon's end, two where drawn */
        day_number drawn = LAST_DAY - 9 - 2 * (day_number)node;
        day_number waited = FIRST_DAY + (day_number)(LARGE - 1 - node);
        assert_int_equal(result.earliest[node], drawn > waited ? drawn : waited);
        assert_int_equal(result.latest[node], LAST_DAY - (day_number)node);
    }
    arena_free(&making.arena);
}

static void test_large_ring(void **state)
{
    (void)state;
    struct making making;
    make_ring(&making, LARGE);
    struct timetable_result result;
    timetable_solve(&making.arena, &making.table, &result);
    assert_false(result.feasible);
    assert_int_equal(result.contradiction_count, 1);
    const struct timetable_contradiction *ring = &result.contradictions[0];
    assert_int_equal(ring->ring_days, 1);
    assert_int_equal(ring->step_count, LARGE);
    assert_int_equal(ring->cause_count, 2);
    assert_true(ring->minimal);
    int32_t days;
    assert_true(timetable_ease(&making.arena, &making.table, &result, 0, &ring->steps[0], &days));
    assert_int_equal(
        days, 1); /* of every second edge: half the ring's length to spare, but less than one day is none */
    arena_free(&making.arena);
}

/* A chain of waits, each a statement of its own: only so many fit, and every one of them is needed to show
 * it. */
static void make_long_argument(struct making *making, uint32_t count, int32_t wait)
{
    make(making, count, count);
    making->table.cause_count = count;
    for (uint32_t node = 0; node + 1 < count; node++)
        add_edge(making, node, node + 1, wait, node);
}

static void test_long_argument(void **state)
{
    (void)state;
    struct making making;
    make_long_argument(&making, 3000, 50);
    struct timetable_result result;
    timetable_solve(&making.arena, &making.table, &result);
    assert_int_equal(result.contradiction_count, 1);
    const struct timetable_contradiction *contradiction = &result.contradictions[0];
    /* 109,573 days: 2,191 waits of 50 days (109,550) fit among them, 2,192 do not. */
    assert_int_equal(contradiction->cause_count, 2192);
    assert_int_equal(contradiction->step_count, 2192 + 2);
    assert_true(contradiction->minimal);
    arena_free(&making.arena);
    make_long_argument(&making, 60000, 2);
    timetable_solve(&making.arena, &making.table, &result);
    assert_false(result.contradictions[0].minimal); /* too long to prove */
    assert_true(result.contradictions[0].cause_count >= (LAST_DAY - FIRST_DAY) / 2 + 1);
    arena_free(&making.arena);
}

/* Tied to one day each, by turns only on Saturdays and only on Sundays: they move on together through 300
 * years. */
static void make_chase(struct making *making, uint32_t count)
{
    make(making, count, count);
    struct timetable_closure *saturday = closure_of(making, weekdays(making, 1u << SATURDAY), 0);
    struct timetable_closure *sunday = closure_of(making, weekdays(making, 1u << SUNDAY), 1);
    for (uint32_t node = 0; node < count; node++) {
        making->nodes[node] = (struct timetable_node){.closures = node ? saturday : sunday};
        add_edge(making, node, (node + 1) % count, 0, 2);
    }
}

static void test_chase(void **state)
{
    (void)state;
    for (uint32_t count = 2; count <= 200; count += 198) {
        struct making making;
        make_chase(&making, count);
        struct timetable_result result;
        timetable_solve(&making.arena, &making.table, &result);
        assert_int_equal(result.contradiction_count, 1);
        const struct timetable_contradiction *chase = &result.contradictions[0];
        assert_int_equal(chase->cause_count, 3);
        assert_true(chase->minimal);
        assert_int_equal(chase->node_count, count);
        assert_int_equal(chase->step_count > 0, count == 2); /* the long one is told without its steps */
        int32_t days;
        struct timetable_step step = {
            .kind = TIMETABLE_EDGE, .cause = 2, .least = making.table.edges[1].least};
        assert_true(timetable_ease(&making.arena, &making.table, &result, 0, &step, &days));
        assert_int_equal(days, 1);
        arena_free(&making.arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_growth),     cmocka_unit_test(test_large_chain),
        cmocka_unit_test(test_large_ring), cmocka_unit_test(test_long_argument),
        cmocka_unit_test(test_chase),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
