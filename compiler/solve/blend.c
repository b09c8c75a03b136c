/* Straight materials mixed to a grade: shares of the whole mass, and what is known of mixing them. */
#include "compiler/solve/solving.h"

#include "compiler/solve/problem_lp.h"

static const enum nutrient PARTS[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};

/* Every two materials that both come to more than nothing are looked up: of a pair that nothing is known of
 * no verdict is invented. */
void blend_answer(struct season *season, struct solution *solution, const struct blend *blend)
{
    struct blend_answer made = {.blend = blend};
    struct question *question = question_new(season, false, blend->products.items, blend->products.count);

    /* Shares stand for rates: a share of 1 is one rate unit. */
    struct plot plot = {.area_m2 = 1};
    struct demand most = question_demand(DEMAND_MOST, NO_CAUSE, RATE_UNIT);
    struct demand least = question_demand(DEMAND_LEAST, NO_CAUSE, RATE_UNIT);
    for (uint32_t i = 0; i < blend->products.count; i++) {
        struct choice choice = {
            .product = i, .high = RATE_UNIT, .low_cause = NO_CAUSE, .high_cause = NO_CAUSE};
        VECTOR_PUSH(season->arena, &plot.choices, choice);
        demand_part_add(question, &most, i, 1);
        demand_part_add(question, &least, i, 1);
    }
    demand_keep(question, &plot, &most);
    if (!blend->filler)
        demand_keep(question, &plot, &least);
    for (int part = 0; part < 3; part++) {
        double amount = blend->grade[part] * nutrient_trade_form(PARTS[part])->element_per_unit * RATE_UNIT;
        struct want want = {.nutrient = PARTS[part], .amount = amount, .most = amount};
        VECTOR_PUSH(season->arena, &plot.wants, want);
    }
    VECTOR_PUSH(season->arena, &question->problem->plots, plot);
    question->problem->application_count = 1;
    struct problem_answer answer = problem_solve(question->problem);
    made.solved = answer.outcome == LP_SOLVED;
    made.shares = ARENA_ARRAY(question->arena, blend->products.count, double);
    if (made.solved) {
        made.cost = answer.priced ? answer.goals[GOAL_COST] / RATE_UNIT : NAN;
        made.filler = 1;
        for (size_t i = 0; i < blend->products.count; i++) {
            for (size_t j = 0; j < blend->products.count; j++)
                if (question->products[j] == blend->products.items[i])
                    made.shares[i] = answer.plots[0].rates[j] / RATE_UNIT;
            made.filler -= made.shares[i];
            for (int part = 0; part < 3; part++)
                made.reached[part] += made.shares[i] * blend->products.items[i]->content[PARTS[part]] /
                                      nutrient_trade_form(PARTS[part])->element_per_unit;
        }
        if (made.filler < 1e-9) /* what rounding left */
            made.filler = 0;
    }
    for (size_t i = 0; i < blend->products.count; i++)
        for (size_t j = i + 1; j < blend->products.count; j++) {
            if (!(made.shares[i] > 0 && made.shares[j] > 0))
                continue;
            const struct product *first = blend->products.items[i], *second = blend->products.items[j];
            struct mix_warning warning = {product_mixing(season->model, first, second), first, second};
            if (!warning.mixing)
                made.mixing_unknown = true;
            else if (warning.mixing->verdict != MIXING_FREELY)
                VECTOR_PUSH(season->arena, &made.warnings, warning);
        }
    VECTOR_PUSH(season->arena, &solution->blends, made);
}
