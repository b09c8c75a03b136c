/* The timetable against exhaustive search: small random seasons, every assignment of days tried. */
#include "compiler/season/timetable.h"

#include "tests/unit/solved_timetable.h"
#include "tests/unit/tiny_season.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { SEASONS = 20000 };
enum { MOST_EASING = 100 }; /* more than any bound or wait made here can need */

/* --- feasible seasons ---------------------------------------------------------------------------------- */

static void check_dates(const struct tiny_season *season, const struct timetable_result *result,
                        const struct exhaustion *exhaustion)
{
    for (uint32_t node = 0; node < season->table.node_count; node++) {
        assert_int_equal(result->earliest[node], exhaustion->least[node]);
        assert_int_equal(result->latest[node], exhaustion->greatest[node]);
    }
}

static void check_what_if(const struct tiny_season *season, uint64_t *seed)
{
    uint32_t node = (uint32_t)tiny_between(seed, 0, (int32_t)season->table.node_count - 1);
    day_number day = tiny_between(seed, season->table.first - 2, season->table.last + 2);
    struct tiny_season changed = *season;
    changed.nodes[node].fixed = true;
    changed.nodes[node].day = day;
    changed.table.nodes = changed.nodes;
    struct timetable_result answer = {0};
    timetable_tighten(season->arena, &changed.table, &answer, false);
    const day_number *days = answer.earliest;
    struct exhaustion exhaustion = exhaustion_of(&changed);
    exhaustion_run(&exhaustion);
    assert_int_equal(days != NULL, exhaustion.found);
    for (uint32_t i = 0; i < season->table.node_count && days; i++)
        assert_int_equal(days[i], exhaustion.least[i]);
}

/* --- explanations -------------------------------------------------------------------------------------- */

static void check_causes(const struct tiny_season *season,
                         const struct timetable_contradiction *contradiction, const bool *keep)
{
    struct exhaustion exhaustion = exhaustion_of(season);
    memcpy(exhaustion.keep, keep, sizeof exhaustion.keep);
    memset(exhaustion.active, false, sizeof exhaustion.active);
    for (uint32_t i = 0; i < contradiction->cause_count; i++)
        exhaustion.active[contradiction->causes[i]] = true;
    assert_true(contradiction->minimal);
    assert_false(exhaustion_solvable(exhaustion));
    uint8_t hardest = 0;
    for (uint32_t i = 0; i < contradiction->cause_count; i++) {
        uint32_t cause = contradiction->causes[i];
        exhaustion.active[cause] = false;
        assert_true(exhaustion_solvable(exhaustion));
        exhaustion.active[cause] = true;
        if (season->table.cause_rank && season->ranks[cause] > hardest)
            hardest = season->ranks[cause];
    }
    for (uint32_t cause = 0; cause < TINY_CAUSES; cause++)
        exhaustion.active[cause] = season->ranks[cause] < hardest;
    assert_true(hardest == 0 || exhaustion_solvable(exhaustion));
}

static void check_named(const struct timetable_contradiction *contradiction)
{
    bool named[TINY_CAUSES] = {false}, taking_part[TINY_NODES] = {false};
    uint32_t causes = 0, nodes = 0;
    for (uint32_t i = 0; i < contradiction->step_count; i++) {
        const struct timetable_step *step = &contradiction->steps[i];
        if (step->kind != TIMETABLE_RECORD && step->cause != TIMETABLE_NONE)
            named[step->cause] = true;
        taking_part[step->node] = true;
        if (step->from != TIMETABLE_NONE)
            taking_part[step->from] = true;
    }
    for (uint32_t cause = 0; cause < TINY_CAUSES; cause++)
        causes += named[cause];
    for (uint32_t node = 0; node < TINY_NODES; node++)
        nodes += taking_part[node];
    assert_int_equal(causes, contradiction->cause_count);
    for (uint32_t i = 0; i < contradiction->cause_count; i++)
        assert_true(named[contradiction->causes[i]]);
    assert_int_equal(nodes, contradiction->node_count);
    for (uint32_t i = 0; i < contradiction->node_count; i++)
        assert_true(taking_part[contradiction->nodes[i]]);
}

static bool states_bound(const struct tiny_season *season, const struct timetable_step *step)
{
    const struct timetable_node *node = &season->nodes[step->node];
    if (step->kind == TIMETABLE_RECORD)
        return node->fixed && step->after == node->day && step->cause == node->cause;
    if (step->kind == TIMETABLE_HORIZON_START)
        return !node->fixed && step->after == season->table.first && step->cause == TIMETABLE_NONE;
    if (step->kind == TIMETABLE_HORIZON_END)
        return !node->fixed && step->after == season->table.last && step->cause == TIMETABLE_NONE;
    bool start = step->kind == TIMETABLE_NOT_BEFORE;
    for (uint32_t i = 0; i < node->window_count && !node->fixed; i++)
        if ((start ? node->windows[i].first : node->windows[i].last) == step->after &&
            node->windows[i].cause == step->cause)
            return true;
    return false;
}

/* The edge that a step tells of; NULL without. Some may differ only in months: the first that leads from the
 * day known to the step's, or where `known` is NULL, any. */
static const struct timetable_edge *edge_told(const struct tiny_season *season,
                                              const struct timetable_step *step, const day_number *known)
{
    for (uint32_t i = 0; i < season->table.edge_count; i++) {
        const struct timetable_edge *edge = &season->edges[i];
        bool same = edge->from == step->from && edge->to == step->node && edge->cause == step->cause &&
                    timetable_edge_days(edge) == step->least;
        if (same && (!known || (tiny_edge_holds(edge, known[step->from], step->after, 0) &&
                                !tiny_edge_holds(edge, known[step->from], step->after - 1, 0))))
            return edge;
    }
    return NULL;
}

static bool step_closes(const struct tiny_season *season, const struct timetable_step *step, day_number day)
{
    const struct timetable_node *node = &season->nodes[step->node];
    for (const struct timetable_closure *set = node->closures; set && !node->fixed; set = set->next)
        if (set->cause == step->cause && !day_set_contains(set->days, day))
            return true;
    return false;
}

static bool closes_any(const struct tiny_season *season, const struct timetable_step *step)
{
    for (day_number day = step->before; day < step->after && day <= season->table.last; day++)
        if (step_closes(season, step, day))
            return true;
    return false;
}

/* The steps from `first` on that are to be read together close every day that they say, none of them for
 * nothing. Returns how many they are. */
static uint32_t check_closed(const struct tiny_season *season,
                             const struct timetable_contradiction *contradiction, uint32_t first)
{
    const struct timetable_step *steps = &contradiction->steps[first];
    uint32_t count = 1;
    while (first + count < contradiction->step_count && steps[count].kind == TIMETABLE_CLOSED_DAYS &&
           steps[count].node == steps->node && steps[count].before == steps->before && !steps[count].skipped)
        count++;
    assert_true(steps->after > steps->before);
    assert_true(steps->after != DAY_NEVER || first + count == contradiction->step_count);
    for (uint32_t i = 0; i < count; i++)
        assert_true(closes_any(season, &steps[i]));
    for (day_number day = steps->before; day < steps->after && day <= season->table.last; day++) {
        bool closed = false;
        for (uint32_t i = 0; i < count; i++) {
            assert_int_equal(steps[i].after, steps->after);
            closed = closed || step_closes(season, &steps[i], day);
        }
        assert_true(closed);
    }
    return count;
}

/* Every step must follow from the steps before it; where some were skipped the rest is taken on trust.
 * Returns whether the whole argument was followed to its end. */
static bool follow_steps(const struct tiny_season *season,
                         const struct timetable_contradiction *contradiction)
{
    const struct timetable_step *steps = contradiction->steps;
    uint32_t count = contradiction->step_count;
    day_number known[TINY_NODES];
    assert_true(count > 1 || steps->kind == TIMETABLE_HORIZON_START);
    assert_true(steps->kind == TIMETABLE_NOT_BEFORE || steps->kind == TIMETABLE_HORIZON_START ||
                steps->kind == TIMETABLE_RECORD);
    assert_true(states_bound(season, &steps[0]));
    known[steps->node] = steps->after;
    for (uint32_t i = 1; i < count;) {
        const struct timetable_step *step = &steps[i];
        if (step->skipped)
            return false;
        if (step->kind == TIMETABLE_EDGE) {
            assert_non_null(edge_told(season, step, known));
            assert_true(step->before < step->after);
            known[step->node] = step->after;
            i++;
        } else if (step->kind == TIMETABLE_CLOSED_DAYS) {
            assert_int_equal(step->before, known[step->node]);
            i += check_closed(season, contradiction, i);
            known[step->node] = step->after;
        } else {
            assert_int_equal(i, count - 1);
            assert_true(states_bound(season, step));
            assert_int_equal(step->before, known[step->node]);
            assert_true(step->after < step->before);
            /* Where the wait alone goes too far the closed days are no part of the argument. */
            assert_true(steps[i - 1].kind != TIMETABLE_CLOSED_DAYS || steps[i - 1].before <= step->after);
            i++;
        }
    }
    enum timetable_kind end = steps[count - 1].kind;
    assert_true(end == TIMETABLE_NOT_AFTER || end == TIMETABLE_HORIZON_END || end == TIMETABLE_RECORD ||
                (end == TIMETABLE_CLOSED_DAYS && steps[count - 1].after == DAY_NEVER));
    return true;
}

static void follow_ring(const struct tiny_season *season, const struct timetable_contradiction *contradiction)
{
    int32_t days = 0;
    for (uint32_t i = 0; i < contradiction->step_count; i++) {
        const struct timetable_step *step = &contradiction->steps[i];
        const struct timetable_step *next = &contradiction->steps[(i + 1) % contradiction->step_count];
        assert_true(step->kind == TIMETABLE_EDGE && edge_told(season, step, NULL));
        assert_int_equal(step->node, next->from);
        days += step->least;
    }
    assert_int_equal(days, contradiction->ring_days);
}

/* --- easing -------------------------------------------------------------------------------------------- */

static void check_ease(const struct tiny_season *season, const struct timetable_result *result,
                       uint32_t index, const struct timetable_step *step)
{
    struct exhaustion exhaustion = exhaustion_of(season);
    memset(exhaustion.keep, !result->more, sizeof exhaustion.keep);
    for (uint32_t i = 0; i < result->contradiction_count; i++)
        for (uint32_t j = 0; j < result->contradictions[i].node_count; j++)
            exhaustion.keep[result->contradictions[i].nodes[j]] = i == index;
    exhaustion.ease_kind = step->kind;
    exhaustion.ease_cause = step->cause;
    exhaustion.ease_back = step->least < 0;
    int32_t days = -1;
    if (!timetable_ease(season->arena, &season->table, result, index, step, &days)) {
        exhaustion.ease_days = MOST_EASING;
        assert_true(step->kind == TIMETABLE_CLOSED_DAYS || step->cause == TIMETABLE_NONE ||
                    !exhaustion_solvable(exhaustion));
        assert_int_equal(days, -1);
        return;
    }
    assert_true(days > 0 && days < MOST_EASING);
    exhaustion.ease_days = days;
    assert_true(exhaustion_solvable(exhaustion));
    exhaustion.ease_days = days - 1;
    assert_false(exhaustion_solvable(exhaustion));
}

/* What the seasons were like, so that a generator gone lame shows. */
struct tally {
    int feasible, contradictions, rings, followed, skipped, several, more, eased_edges;
};

static void check_contradictions(const struct tiny_season *season, const struct timetable_result *result,
                                 struct tally *tally)
{
    struct exhaustion rest = exhaustion_of(season);
    assert_in_range(result->contradiction_count, 1, TIMETABLE_CONTRADICTIONS);
    for (uint32_t i = 0; i < result->contradiction_count; i++) {
        const struct timetable_contradiction *contradiction = &result->contradictions[i];
        check_causes(season, contradiction, rest.keep);
        check_named(contradiction);
        if (contradiction->ring_days > 0)
            follow_ring(season, contradiction);
        else if (follow_steps(season, contradiction))
            tally->followed++;
        else
            tally->skipped++;
        for (uint32_t j = 0; j < contradiction->step_count; j++)
            check_ease(season, result, i, &contradiction->steps[j]);
        for (uint32_t j = 0; j < contradiction->node_count; j++) {
            assert_true(rest.keep[contradiction->nodes[j]]);
            rest.keep[contradiction->nodes[j]] = false;
        }
        tally->rings += contradiction->ring_days > 0;
    }
    assert_int_equal(result->more, !exhaustion_solvable(rest));
    tally->contradictions += (int)result->contradiction_count;
    tally->several += result->contradiction_count > 1;
    tally->more += result->more;
}

static void test_against_exhaustion(void **state)
{
    (void)state;
    uint64_t seed = UINT64_C(0x9e3779b97f4a7c15);
    struct tally tally = {0};
    struct arena arena;
    arena_init(&arena, NULL);
    for (int i = 0; i < SEASONS; i++) {
        struct tiny_season season;
        tiny_season_make(&season, &arena, &seed);
        struct timetable_result result;
        timetable_solve(&arena, &season.table, &result);
        struct exhaustion exhaustion = exhaustion_of(&season);
        exhaustion_run(&exhaustion);
        assert_int_equal(result.feasible, exhaustion.found);
        if (result.feasible)
            check_dates(&season, &result, &exhaustion);
        else
            check_contradictions(&season, &result, &tally);
        check_what_if(&season, &seed);
        tally.feasible += result.feasible;
        arena_reset(&arena);
    }
    arena_free(&arena);
    print_message(
        "%d feasible; %d contradictions: %d rings, %d followed, %d with skipped steps; several in %d, "
        "more in %d\n",
        tally.feasible, tally.contradictions, tally.rings, tally.followed, tally.skipped, tally.several,
        tally.more);
    assert_in_range(tally.feasible, SEASONS / 4, SEASONS * 3 / 4);
    assert_true(tally.rings > SEASONS / 20 && tally.followed > SEASONS / 10 &&
                tally.skipped > SEASONS / 1000);
    assert_true(tally.several > SEASONS / 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_against_exhaustion)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
