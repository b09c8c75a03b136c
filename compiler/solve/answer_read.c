/* A question's answer in the plan's terms. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/solving.h"

#include <stdlib.h>

/* ---- of a zone ---- */

static void zone_read(const struct question *question, uint32_t at, const struct problem_answer *answer,
                      struct zone_choice *made)
{
    const struct plot *plot = &question->problem->plots.items[at];
    struct plot_place *place = &question->places.items[at];
    made->zone = place->zone;
    made->wants = place->wants.items;
    made->want_count = place->wants.count;
    for (size_t i = 0; i < made->want_count; i++) {
        struct wanted *wanted = &made->wants[i];
        for (size_t j = 0; j < plot->choices.count; j++)
            wanted->chosen +=
                answer->plots[at].rates[j] *
                choice_product(question, &plot->choices.items[j])->content[wanted->nutrient->nutrient];
        wanted->missing = answer->plots[at].shortfall[i];
        wanted->excess = wanted->unasked ? wanted->chosen : answer->plots[at].excess[i];
        if (wanted->offered && wanted->need > 0)
            made->worst = fmax(made->worst, wanted->missing / wanted->need);
    }
}

static void easings_copy(struct arena *arena, struct zone_choice *made, const struct zone_choice *like)
{
    for (size_t i = 0; i < like->easings.count; i++) {
        struct easing easing = like->easings.items[i];
        easing.zone = made->zone;
        VECTOR_PUSH(arena, &made->easings, easing);
    }
    made->followed = like->followed;
}

/* Of the work that a problem may cost, besides: what is said of why is worth less than the rates. */
enum { EASING_PART = 3 };

static size_t zones_short(const struct choice_made *made, const uint32_t *alike)
{
    size_t count = 0;
    for (uint32_t i = 0; i < made->zone_count; i++)
        count += alike[i] == i && made->zones[i].worst > COMPARE_TOLERANCE;
    return count;
}

static void easings_read(const struct question *question, struct choice_made *made)
{
    const uint32_t *alike = problem_alike(question->problem);
    size_t left = zones_short(made, alike);
    uint64_t work = problem_work(question->problem) / EASING_PART;
    for (uint32_t i = 0; i < made->zone_count; i++) {
        if (made->zones[i].worst <= COMPARE_TOLERANCE)
            continue;
        if (alike[i] == i)
            easings_find(question, i, work / left, &made->zones[i]);
        else
            easings_copy(question->arena, &made->zones[i], &made->zones[alike[i]]);
    }
}

static void zones_read(const struct question *question, const struct problem_answer *answer,
                       struct choice_made *made)
{
    made->zone_count = question->problem->plots.count;
    made->zones = ARENA_ARRAY(question->arena, made->zone_count, struct zone_choice);
    for (uint32_t i = 0; i < made->zone_count; i++)
        zone_read(question, i, answer, &made->zones[i]);
    easings_read(question, made);
}

/* ---- what is bought ---- */

static double packs_cost(const struct problem_product *product, const uint32_t *packs, double mass)
{
    double least = NAN, sum = 0;
    for (size_t i = 0; i < product->packs.count; i++) {
        double price = product->packs.items[i].price;
        if (packs)
            sum += packs[i] ? packs[i] * price : 0;
        else if (!(price / product->packs.items[i].mass >= least))
            least = isnan(price) ? least : price / product->packs.items[i].mass;
    }
    return packs ? sum : least * mass;
}

static void bought_read(const struct question *question, const struct problem_answer *answer,
                        struct choice_made *made)
{
    const struct problem *problem = question->problem;
    for (uint32_t product = 0; product < problem->products.count; product++) {
        struct bought bought = {.product = question->products[product]};
        for (size_t i = 0; i < problem->plots.count; i++)
            for (size_t j = 0; j < problem->plots.items[i].choices.count; j++)
                if (problem->plots.items[i].choices.items[j].product == product)
                    bought.mass += answer->plots[i].rates[j] * problem->plots.items[i].area_m2;
        bought.packs = answer->packs ? answer->packs[product] : NULL;
        bought.cost = packs_cost(&problem->products.items[product], bought.packs, bought.mass);
        if (bought.mass > 0)
            VECTOR_PUSH(question->arena, &made->bought, bought);
    }
}

/* ---- where nothing fits ---- */

static bool same_causes(const struct contradiction *a, const struct contradiction *b)
{
    bool same = a->count == b->count;
    for (size_t i = 0; i < a->count && same; i++)
        same = a->causes[i] == b->causes[i];
    return same;
}

/* Zones on which the same statements clash are told once. */
static void contradictions_read(const struct question *question, struct choice_made *made)
{
    const uint32_t *alike = problem_alike(question->problem);
    problem_allow(question->problem, problem_work(question->problem));
    for (uint32_t i = 0; i < question->problem->plots.count && !problem_tired(question->problem); i++) {
        if (alike[i] != i ||
            plot_feasible(question->problem, &question->problem->plots.items[i], NO_RELIEF) != LP_IMPOSSIBLE)
            continue;
        struct contradiction found = contradiction_find(question, i);
        for (uint32_t j = 0; j < question->problem->plots.count; j++)
            found.zones += alike[j] == i;
        size_t at = 0;
        while (at < made->contradictions.count && !same_causes(&made->contradictions.items[at], &found))
            at++;
        if (at < made->contradictions.count)
            made->contradictions.items[at].zones += found.zones;
        else
            VECTOR_PUSH(question->arena, &made->contradictions, found);
    }
}

struct choice_made *choice_make(struct season *season, struct solution *solution, struct question *question)
{
    struct problem_answer answer = problem_solve(question->problem);
    struct choice_made made = {
        .solved = answer.outcome == LP_SOLVED, .proven = answer.proven, .priced = answer.priced};
    for (size_t i = 0; i < question->slots.count; i++)
        VECTOR_PUSH(season->arena, &made.slots, question->slots.items[i]);
    if (made.solved) {
        for (int i = 0; i < GOAL_COUNT; i++)
            made.goals[i] = answer.goals[i];
        choices_fill(question, &answer);
        zones_read(question, &answer, &made);
        bought_read(question, &answer, &made);
    } else {
        contradictions_read(question, &made);
    }
    VECTOR_PUSH(season->arena, &solution->choices, made);
    return &solution->choices.items[solution->choices.count - 1];
}
