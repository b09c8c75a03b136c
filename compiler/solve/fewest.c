/* The fewest products with which every kind of plot still reaches its goals. */
#include "compiler/solve/problem_lp.h"

#include <string.h>

/* Sets of products tried at most, and of the work that the problem may cost a third: beyond, the answer found
 * first stands. */
enum { SETS_LIMIT = 4000, WORK_PART = 3 };

struct fewest {
    const struct problem *problem;
    struct plot_kinds *kinds;
    struct problem_answer *answer;
    bool *barred;   /* by product */
    uint32_t *free; /* those that may be left out or taken in, in order */
    size_t free_count;
    size_t tried;
    bool undecided;            /* of some set it is not known whether it reaches */
    struct plot_kind *reached; /* what the kinds come to with the set at hand */
};

/* Whether every kind reaches its goals without what is barred; one that uses none of it needs no new answer.
 */
static bool all_reach(struct fewest *fewest)
{
    for (size_t at = 0; at < fewest->kinds->count; at++) {
        struct plot_kind *kind = &fewest->kinds->items[at], *reached = &fewest->reached[at];
        bool uses_barred = false;
        *reached = *kind;
        for (size_t i = 0; i < kind->plot.choices.count && !uses_barred; i++)
            uses_barred = fewest->barred[kind->plot.choices.items[i].product] && kind->rates[i] > 0;
        if (!uses_barred)
            continue;
        bool reaches =
            kind_solve(fewest->problem, reached, fewest->barred, kind->goals, fewest->answer->priced);
        fewest->undecided = fewest->undecided || reached->outcome == LP_UNDECIDED;
        if (!reaches)
            return false;
    }
    return true;
}

/* Takes `left` of the free products from `from` on besides those taken; the first set that reaches is kept.
 */
static bool sets_try(struct fewest *fewest, size_t from, size_t left)
{
    if (left == 0) {
        fewest->tried++;
        return all_reach(fewest);
    }
    for (size_t i = from; i + left <= fewest->free_count; i++) {
        if (fewest->tried >= SETS_LIMIT || problem_tired(fewest->problem))
            break;
        fewest->barred[fewest->free[i]] = false;
        if (sets_try(fewest, i + 1, left - 1))
            return true;
        fewest->barred[fewest->free[i]] = true;
    }
    return false;
}

/* Products are given up one by one from what the first answer uses: sets that hold all that is needed, the
 * smallest first. What was found stands where the search ends early. */
void kinds_fewest(const struct problem *problem, struct plot_kinds *kinds, struct problem_answer *answer)
{
    size_t count = problem->products.count, uses = 0;
    struct fewest fewest = {.problem = problem,
                            .kinds = kinds,
                            .answer = answer,
                            .barred = ARENA_ARRAY(problem->arena, count, bool),
                            .free = ARENA_ARRAY(problem->arena, count, uint32_t),
                            .reached = ARENA_ARRAY(problem->arena, kinds->count, struct plot_kind)};
    bool *used = ARENA_ARRAY(problem->arena, count, bool);
    problem_allow(problem, problem_work(problem) / WORK_PART);
    for (size_t i = 0; i < kinds->count; i++)
        for (size_t j = 0; j < kinds->items[i].plot.choices.count; j++)
            if (kinds->items[i].rates[j] > 0)
                used[kinds->items[i].plot.choices.items[j].product] = true;
    for (uint32_t i = 0; i < count; i++)
        uses += used[i];
    size_t needed = 0; /* products without which some kind misses its goals */
    for (uint32_t i = 0; i < count; i++) {
        fewest.barred[i] = used[i];
        bool need = used[i] && !all_reach(&fewest);
        fewest.barred[i] = false;
        needed += need;
        if (!need)
            fewest.free[fewest.free_count++] = i;
    }
    for (size_t i = 0; i < fewest.free_count; i++)
        fewest.barred[fewest.free[i]] = true;
    for (size_t wanted = needed; wanted < uses; wanted++)
        if (sets_try(&fewest, 0, wanted - needed)) {
            memcpy(kinds->items, fewest.reached, kinds->count * sizeof *kinds->items);
            answer->proven = answer->proven && !fewest.undecided;
            return;
        }
    if (fewest.undecided || fewest.tried >= SETS_LIMIT || problem_tired(problem))
        answer->proven = false;
}
