/* What is sought, goal by goal. */
#include "compiler/solve/problem_lp.h"

/* A want of what nothing supplies has no columns. */
void programme_goals(struct programme *programme, enum problem_goal last)
{
    for (enum problem_goal goal = GOAL_WORST; goal <= last; goal++) {
        lp_goal(programme->lp, goal);
        for (size_t i = 0; i < programme->plot_count; i++) {
            const struct plot_columns *columns = &programme->plots[i];
            const uint32_t *of_want = goal == GOAL_EXCESS ? columns->excess : columns->shortfall;
            if (goal == GOAL_WORST)
                lp_goal_term(programme->lp, goal, columns->worst, 1);
            for (size_t j = 0; j < columns->plot->wants.count && goal != GOAL_WORST; j++)
                if (of_want[j] != NO_COLUMN)
                    lp_goal_term(programme->lp, goal, of_want[j], 1);
        }
    }
}

/* ---- what couples the plots ---- */

/* The packs of a product hold at least what all plots take of it. A size without a price is not bought where
 * the others have one. */
void programme_goal_packs(struct programme *programme, uint32_t goal, bool priced)
{
    const struct problem *problem = programme->problem;
    lp_goal(programme->lp, goal);
    programme->packs = ARENA_ARRAY(programme->arena, problem->products.count, uint32_t *);
    for (uint32_t at = 0; at < problem->products.count; at++) {
        const struct problem_product *product = &problem->products.items[at];
        uint32_t held = lp_row(programme->lp, 0, INFINITY);
        programme->packs[at] = ARENA_ARRAY(programme->arena, product->packs.count, uint32_t);
        for (size_t i = 0; i < product->packs.count; i++) {
            const struct problem_pack *pack = &product->packs.items[i];
            bool sold = !priced || !isnan(pack->price);
            uint32_t column = lp_column(programme->lp, LP_WHOLE, 0, sold ? INFINITY : 0);
            programme->packs[at][i] = column;
            lp_first(programme->lp, column);
            lp_term(programme->lp, held, column, pack->mass);
            if (sold)
                lp_goal_term(programme->lp, goal, column, priced ? pack->price : pack->mass);
        }
        for (size_t i = 0; i < programme->plot_count; i++) {
            const struct plot_columns *columns = &programme->plots[i];
            for (uint32_t j = 0; j < columns->plot->choices.count; j++)
                if (columns->plot->choices.items[j].product == at)
                    lp_term(programme->lp, held, columns->rate[j], -columns->plot->area_m2 * RATE_UNIT);
        }
    }
}

/* A column for each product, side by side in the order of products. */
void programme_goal_products(struct programme *programme, uint32_t goal)
{
    uint32_t first = NO_COLUMN;
    lp_goal(programme->lp, goal);
    for (uint32_t at = 0; at < programme->problem->products.count; at++) {
        uint32_t use = lp_column(programme->lp, LP_WHOLE, 0, 1);
        lp_first(programme->lp, use);
        first = first == NO_COLUMN ? use : first;
        lp_goal_term(programme->lp, goal, use, 1);
    }
    for (size_t i = 0; i < programme->plot_count; i++) {
        const struct plot_columns *columns = &programme->plots[i];
        for (uint32_t j = 0; j < columns->plot->choices.count; j++)
            programme_link(programme, columns, j, first + columns->plot->choices.items[j].product, false);
    }
}

/* ---- the last word ---- */

double *problem_weights(struct arena *arena, size_t count)
{
    double *weights = ARENA_ARRAY(arena, count, double);
    uint32_t number = 1;
    for (size_t i = 0; i < count;) {
        bool prime = ++number > 1;
        for (uint32_t j = 2; j * j <= number && prime; j++)
            prime = number % j != 0;
        if (prime)
            weights[i++] = sqrt(number);
    }
    return weights;
}

/* By plot and product, not by application: how a product's total is spread is settled after this. */
void programme_goal_unique(struct programme *programme, uint32_t goal)
{
    size_t products = programme->problem->products.count;
    const double *weights = problem_weights(programme->arena, products * programme->plot_count);
    lp_goal(programme->lp, goal);
    for (size_t i = 0; i < programme->plot_count; i++) {
        const struct plot_columns *columns = &programme->plots[i];
        for (uint32_t j = 0; j < columns->plot->choices.count; j++)
            lp_goal_term(programme->lp, goal, columns->rate[j],
                         weights[columns->plot->choices.items[j].product * programme->plot_count + i]);
    }
}

void programme_goal_corner(struct programme *programme, uint32_t goal)
{
    size_t at = 0, count = 0;
    for (size_t i = 0; i < programme->plot_count; i++)
        count += programme->plots[i].plot->choices.count;
    const double *weights = problem_weights(programme->arena, count);
    lp_goal(programme->lp, goal);
    for (size_t i = 0; i < programme->plot_count; i++)
        for (uint32_t j = 0; j < programme->plots[i].plot->choices.count; j++)
            lp_goal_term(programme->lp, goal, programme->plots[i].rate[j], weights[at++]);
    lp_ranked(programme->lp, goal);
}
