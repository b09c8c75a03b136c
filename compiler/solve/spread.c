/* A product's total, spread over the applications. The goals fix the totals; of the ways to spread them the
 * one is taken that keeps each product's greatest rate as low as the demands allow, in as many applications
 * as its label's least rate lets it be. */
#include "compiler/model/compare.h"
#include "compiler/solve/problem_parts.h"

#include <string.h>

struct spread {
    const struct problem *problem;
    const struct plot *plot;
    double *totals;     /* by product */
    bool *open, *taken; /* by choice: may be above 0 at all; takes part now */
    double *rates;      /* by choice: tried */
};

/* ---- which applications ---- */

static bool choice_forbidden(const struct plot *plot, uint32_t choice)
{
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        for (size_t j = 0; j < demand->parts.count && demand->kind == DEMAND_NONE; j++)
            if (demand->parts.items[j].choice == choice)
                return true;
    }
    return plot->choices.items[choice].high <= 0;
}

static bool plot_has(const struct plot *plot, enum demand_kind kind)
{
    for (size_t i = 0; i < plot->demands.count; i++)
        if (plot->demands.items[i].kind == kind)
            return true;
    return false;
}

static size_t times_allowed(const struct plot *plot, uint32_t choice)
{
    double times = INFINITY;
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        for (size_t j = 0; j < demand->parts.count && demand->kind == DEMAND_TIMES; j++)
            if (demand->parts.items[j].choice == choice)
                times = fmin(times, demand->bound);
    }
    return times < (double)plot->choices.count ? (size_t)times : plot->choices.count;
}

/* `count` of the product's open choices, evenly among them. */
static void product_take(struct spread *spread, uint32_t product, size_t count)
{
    const struct plot *plot = spread->plot;
    size_t open = 0, at = 0;
    for (size_t i = 0; i < plot->choices.count; i++)
        open += plot->choices.items[i].product == product && spread->open[i];
    count = count < open ? count : open;
    for (size_t i = 0; i < plot->choices.count; i++) {
        if (plot->choices.items[i].product != product)
            continue;
        spread->taken[i] = spread->open[i] && spread->totals[product] > 0 &&
                           ((at + 1) * count) / (open ? open : 1) > (at * count) / (open ? open : 1);
        at += spread->open[i];
    }
}

/* As often as the label's count and least rate let its total be divided; at least once. */
static size_t product_times(const struct spread *spread, uint32_t product)
{
    size_t times = spread->plot->choices.count;
    for (uint32_t i = 0; i < spread->plot->choices.count; i++) {
        const struct choice *choice = &spread->plot->choices.items[i];
        if (choice->product != product || !spread->open[i])
            continue;
        size_t allowed = times_allowed(spread->plot, i);
        times = allowed < times ? allowed : times;
        if (choice->low > 0 && spread->totals[product] / choice->low < (double)times)
            times = (size_t)(spread->totals[product] / choice->low * (1 + COMPARE_TOLERANCE));
    }
    return times > 0 ? times : 1;
}

/* ---- trying ---- */

static double demand_sum(const struct spread *spread, const struct demand *demand)
{
    double sum = 0;
    for (size_t i = 0; i < demand->parts.count; i++)
        sum += spread->rates[demand->parts.items[i].choice] * demand->parts.items[i].factor;
    return sum;
}

static bool demand_kept(const struct spread *spread, const struct demand *demand)
{
    bool sides[2] = {false, false};
    double used = 0;
    for (size_t i = 0; i < demand->parts.count; i++) {
        bool above = spread->rates[demand->parts.items[i].choice] > 0;
        used += above;
        sides[demand->parts.items[i].factor > 0] |= above;
    }
    switch (demand->kind) {
    case DEMAND_MOST:
        return demand_sum(spread, demand) <= demand->bound + 1e-12;
    case DEMAND_LEAST:
        return !exceeds(demand->bound, demand_sum(spread, demand));
    case DEMAND_NONE:
        return used == 0;
    case DEMAND_TIMES:
        return used <= demand->bound;
    case DEMAND_APART:
        return !sides[0] || !sides[1];
    }
    return false;
}

static bool rates_kept(const struct spread *spread)
{
    for (size_t i = 0; i < spread->plot->choices.count; i++) {
        const struct choice *choice = &spread->plot->choices.items[i];
        double rate = spread->rates[i];
        if (rate > 0 && (exceeds(choice->low, rate) || exceeds(rate, choice->high)))
            return false;
    }
    for (size_t i = 0; i < spread->plot->demands.count; i++)
        if (!demand_kept(spread, &spread->plot->demands.items[i]))
            return false;
    return true;
}

/* The same rate in all applications taken. */
static bool equal_try(struct spread *spread)
{
    size_t *times = ARENA_ARRAY(spread->problem->arena, spread->problem->products.count, size_t);
    for (size_t i = 0; i < spread->plot->choices.count; i++)
        times[spread->plot->choices.items[i].product] += spread->taken[i];
    for (size_t i = 0; i < spread->plot->choices.count; i++) {
        uint32_t product = spread->plot->choices.items[i].product;
        spread->rates[i] = spread->taken[i] ? spread->totals[product] / (double)times[product] : 0;
    }
    return rates_kept(spread);
}

/* A copy of the plot in which what is taken may be anything up to its most, from its least where `least`, and
 * the rest nothing; what counts and keeps apart is settled by what is taken. */
static struct plot plot_settled(const struct spread *spread, bool least)
{
    struct arena *arena = spread->problem->arena;
    struct plot settled = {.area_m2 = spread->plot->area_m2};
    for (uint32_t i = 0; i < spread->plot->choices.count; i++) {
        struct choice choice = spread->plot->choices.items[i];
        struct demand at_least = {.kind = DEMAND_LEAST, .cause = NO_CAUSE, .bound = choice.low};
        struct demand_part part = {i, 1};
        if (least && spread->taken[i] && choice.low > 0) {
            VECTOR_PUSH(arena, &at_least.parts, part);
            VECTOR_PUSH(arena, &settled.demands, at_least);
        }
        choice.low = 0;
        choice.high = spread->taken[i] ? choice.high : 0;
        VECTOR_PUSH(arena, &settled.choices, choice);
    }
    for (size_t i = 0; i < spread->plot->demands.count; i++) {
        const struct demand *demand = &spread->plot->demands.items[i];
        if (demand->kind == DEMAND_MOST || demand->kind == DEMAND_LEAST)
            VECTOR_PUSH(arena, &settled.demands, *demand);
    }
    return settled;
}

/* Each product's total, and its greatest rate: the greatest rates are made small. */
static void peaks_add(struct programme *programme, const struct spread *spread,
                      const struct plot_columns *columns)
{
    for (uint32_t product = 0; product < spread->problem->products.count; product++) {
        if (!(spread->totals[product] > 0))
            continue;
        double total = spread->totals[product] / RATE_UNIT;
        uint32_t sum = lp_row(programme->lp, total, total),
                 peak = lp_column(programme->lp, LP_REAL, 0, INFINITY);
        lp_goal_term(programme->lp, 0, peak, 1);
        for (uint32_t i = 0; i < spread->plot->choices.count; i++) {
            if (spread->plot->choices.items[i].product != product || !spread->taken[i])
                continue;
            uint32_t row = lp_row(programme->lp, 0, INFINITY);
            lp_term(programme->lp, sum, columns->rate[i], 1);
            lp_term(programme->lp, row, peak, 1);
            lp_term(programme->lp, row, columns->rate[i], -1);
        }
    }
}

static bool even_try(struct spread *spread, bool least)
{
    struct plot *settled = ARENA_NEW(spread->problem->arena, struct plot);
    *settled = plot_settled(spread, least);
    const struct plot *plot = settled;
    struct programme *programme = programme_new(spread->problem, &plot, 1, NO_RELIEF);
    peaks_add(programme, spread, &programme->plots[0]);
    for (uint32_t i = 0; i < plot->choices.count; i++)
        lp_goal_term(programme->lp, 1, programme->plots[0].rate[i], problem_weight(i));
    struct lp_answer answer = lp_solve(programme->lp);
    for (size_t i = 0; i < plot->choices.count && answer.outcome == LP_SOLVED; i++)
        spread->rates[i] = answer.columns[programme->plots[0].rate[i]] * RATE_UNIT;
    return answer.outcome == LP_SOLVED && rates_kept(spread);
}

/* ---- all of it ---- */

static bool spread_wide(struct spread *spread)
{
    for (uint32_t i = 0; i < spread->plot->choices.count; i++)
        spread->open[i] = !choice_forbidden(spread->plot, i);
    for (uint32_t product = 0; product < spread->problem->products.count; product++)
        product_take(spread, product, product_times(spread, product));
    return equal_try(spread) || even_try(spread, false) || even_try(spread, true);
}

/* Where the goals' own answer has put the products: this always has a way. */
static bool spread_narrow(struct spread *spread, const double *rates)
{
    for (uint32_t i = 0; i < spread->plot->choices.count; i++)
        spread->taken[i] = rates[i] > 0;
    return equal_try(spread) || even_try(spread, true);
}

void plot_spread(const struct problem *problem, const struct plot *plot, double *rates)
{
    size_t choices = plot->choices.count;
    struct spread spread = {.problem = problem,
                            .plot = plot,
                            .totals = ARENA_ARRAY(problem->arena, problem->products.count, double),
                            .open = ARENA_ARRAY(problem->arena, choices, bool),
                            .taken = ARENA_ARRAY(problem->arena, choices, bool),
                            .rates = ARENA_ARRAY(problem->arena, choices, double)};
    for (size_t i = 0; i < choices; i++)
        spread.totals[plot->choices.items[i].product] += rates[i];
    bool found = (!plot_has(plot, DEMAND_APART) && spread_wide(&spread)) || spread_narrow(&spread, rates);
    if (found && choices)
        memcpy(rates, spread.rates, choices * sizeof *rates);
}
