/* A product's total, spread over the applications. The goals fix the totals; of the ways to spread them the
 * one is taken that keeps each product's greatest rate as low as the demands allow, in as many applications
 * as its label's least rate lets it be. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/problem_parts.h"

#include <string.h>

/* Of a sum and its bound; less than COMPARE_TOLERANCE, so that no check sees it. */
#define ROUNDING 1e-10

struct spread {
    const struct problem *problem;
    const struct plot *plot;
    double *totals;     /* by product */
    bool *open, *taken; /* by choice: may be above 0 at all; takes part now */
    double *rates;      /* by choice: tried */
};

/* ---- which applications ---- */

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

/* `count` of the product's open choices, evenly among them, `turn` places further on. */
static void product_take(struct spread *spread, uint32_t product, size_t count, size_t turn)
{
    const struct plot *plot = spread->plot;
    size_t open = 0, at = turn;
    for (size_t i = 0; i < plot->choices.count; i++)
        open += plot->choices.items[i].product == product && spread->open[i];
    if (open == 0)
        return;
    count = count < open ? count : open;
    for (size_t i = 0; i < plot->choices.count; i++) {
        if (plot->choices.items[i].product != product)
            continue;
        size_t place = at % open;
        spread->taken[i] = spread->open[i] && spread->totals[product] > 0 &&
                           (place * count + open - 1) / open * open < (place + 1) * count;
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

static bool demand_other_kept(const struct spread *spread, const struct demand *demand)
{
    double sum = 0;
    for (size_t i = 0; i < demand->parts.count; i++)
        sum += spread->rates[demand->parts.items[i].choice] * demand->parts.items[i].other;
    return !exceeds(sum, demand->other_bound);
}

static double demand_sum(const struct spread *spread, const struct demand *demand)
{
    double sum = 0;
    for (size_t i = 0; i < demand->parts.count; i++)
        sum += spread->rates[demand->parts.items[i].choice] * demand->parts.items[i].factor;
    return sum;
}

/* What its sum is rounded from. */
static double demand_size(const struct spread *spread, const struct demand *demand)
{
    double size = fabs(demand->bound);
    for (size_t i = 0; i < demand->parts.count; i++)
        size += fabs(spread->rates[demand->parts.items[i].choice] * demand->parts.items[i].factor);
    return size;
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
        return demand_sum(spread, demand) <= demand->bound + ROUNDING * demand_size(spread, demand);
    case DEMAND_EITHER:
        return demand_sum(spread, demand) <= demand->bound + ROUNDING * demand_size(spread, demand) ||
               demand_other_kept(spread, demand);
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
        struct demand_part part = {i, 1, 0};
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
        if (demand->kind == DEMAND_MOST || demand->kind == DEMAND_EITHER || demand->kind == DEMAND_LEAST)
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
    struct programme *programme = programme_new(spread->problem, &plot, 1, UNCHANGED);
    peaks_add(programme, spread, &programme->plots[0]);
    programme_goal_corner(programme, 1);
    struct lp_answer answer = lp_solve(programme->lp);
    for (size_t i = 0; i < plot->choices.count && answer.outcome == LP_SOLVED; i++)
        spread->rates[i] = answer.columns[programme->plots[0].rate[i]] * RATE_UNIT;
    return answer.outcome == LP_SOLVED && rates_kept(spread);
}

/* ---- all of it ---- */

/* Divides the times that each product could go by `divisor`, and lets different products go at different
 * ones. */
static bool spread_times(struct spread *spread, size_t divisor)
{
    for (uint32_t product = 0; product < spread->problem->products.count; product++) {
        size_t times = (product_times(spread, product) + divisor - 1) / divisor;
        product_take(spread, product, times, divisor > 1 ? product : 0);
    }
    return equal_try(spread) || even_try(spread, false) || even_try(spread, true);
}

static bool spread_wide(struct spread *spread)
{
    const double *reach = plot_reach(spread->problem, spread->plot, UNCHANGED);
    for (uint32_t i = 0; i < spread->plot->choices.count; i++)
        spread->open[i] = reach[i] > 0;
    for (size_t divisor = 1; divisor <= 8; divisor *= 2)
        if (spread_times(spread, divisor))
            return true;
    return false;
}

/* Where the goals' own answer has put the products: this always has a way. */
static bool spread_narrow(struct spread *spread, const double *rates)
{
    for (uint32_t i = 0; i < spread->plot->choices.count; i++)
        spread->taken[i] = rates[i] > 0;
    return equal_try(spread) || even_try(spread, true);
}

static struct spread spread_new(const struct problem *problem, const struct plot *plot, const double *rates)
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
    return spread;
}

void plot_spread(const struct problem *problem, const struct plot *plot, double *rates)
{
    struct spread spread = spread_new(problem, plot, rates);
    if ((spread_wide(&spread) || spread_narrow(&spread, rates)) && plot->choices.count)
        memcpy(rates, spread.rates, plot->choices.count * sizeof *rates);
}

/* ---- packed tight ---- */

/* What still fits into an application, by every demand that only adds up. */
static double choice_room(const struct spread *spread, uint32_t choice)
{
    double room = spread->plot->choices.items[choice].high;
    for (size_t i = 0; i < spread->plot->demands.count; i++) {
        const struct demand *demand = &spread->plot->demands.items[i];
        for (size_t j = 0; j < demand->parts.count && demand->kind == DEMAND_MOST; j++) {
            double factor = demand->parts.items[j].factor;
            if (demand->parts.items[j].choice == choice && factor > 0)
                room = fmin(room, (demand->bound - demand_sum(spread, demand)) / factor);
        }
    }
    return room;
}

/* The roomiest choice of the product that is open and not taken yet; its least rate fits. */
static bool roomiest_find(const struct spread *spread, uint32_t product, uint32_t *found, double *room)
{
    *room = 0;
    for (uint32_t i = 0; i < spread->plot->choices.count; i++) {
        const struct choice *choice = &spread->plot->choices.items[i];
        if (choice->product != product || !spread->open[i] || spread->taken[i])
            continue;
        double fits = choice_room(spread, i);
        if (fits > *room * (1 + COMPARE_TOLERANCE) && !exceeds(choice->low, fits)) {
            *room = fits;
            *found = i;
        }
    }
    return *room > 0;
}

/* Fills the roomiest applications until the total is placed; what is left at the end is made up to its least
 * rate from the one filled before. */
static bool product_pack(struct spread *spread, uint32_t product)
{
    double left = spread->totals[product];
    uint32_t last = NO_COLUMN, at = 0;
    while (exceeds(left, 0) && left > spread->totals[product] * COMPARE_TOLERANCE) {
        double room, low;
        if (!roomiest_find(spread, product, &at, &room))
            return false;
        low = spread->plot->choices.items[at].low;
        double rate = fmin(room, left);
        if (exceeds(low, rate) && last != NO_COLUMN) {
            double moved = low - rate;
            spread->rates[last] -= moved;
            left += moved;
            rate = low;
        }
        spread->rates[at] = rate;
        spread->taken[at] = true;
        left -= rate;
        last = at;
    }
    return true;
}

/* `hard`: those first whose label leaves them the fewest applications; otherwise in their order. */
static uint32_t pack_next(const struct spread *spread, const bool *packed, bool hard)
{
    uint32_t next = NO_COLUMN;
    size_t fewest = SIZE_MAX;
    for (uint32_t product = 0; product < spread->problem->products.count; product++) {
        if (packed[product] || !(spread->totals[product] > 0))
            continue;
        size_t times = hard ? product_times(spread, product) : 0;
        if (next == NO_COLUMN || times < fewest) {
            next = product;
            fewest = times;
        }
    }
    return next;
}

static bool pack_try(struct spread *spread, bool hard)
{
    bool *packed = ARENA_ARRAY(spread->problem->arena, spread->problem->products.count, bool);
    for (size_t i = 0; i < spread->plot->choices.count; i++) {
        spread->rates[i] = 0;
        spread->taken[i] = false;
    }
    for (uint32_t product; (product = pack_next(spread, packed, hard)) != NO_COLUMN; packed[product] = true)
        if (!product_pack(spread, product))
            return false;
    return rates_kept(spread);
}

/* ---- for the search ---- */

static bool plot_mend(const struct programme *programme, const struct plot_columns *columns, double *values)
{
    const struct plot *plot = columns->plot;
    double *rates = ARENA_ARRAY(programme->arena, plot->choices.count, double);
    for (size_t i = 0; i < plot->choices.count; i++)
        rates[i] = values[columns->rate[i]] > COMPARE_TOLERANCE ? values[columns->rate[i]] * RATE_UNIT : 0;
    struct spread spread = spread_new(programme->problem, plot, rates);
    if (!spread_wide(&spread) && !pack_try(&spread, true) && !pack_try(&spread, false))
        return false;
    for (size_t i = 0; i < plot->choices.count; i++)
        values[columns->rate[i]] = spread.rates[i] / RATE_UNIT;
    return true;
}

static bool rates_mend(void *task, double *values)
{
    const struct programme *programme = task;
    for (size_t i = 0; i < programme->plot_count; i++)
        if (!plot_mend(programme, &programme->plots[i], values))
            return false;
    for (size_t i = 0; i < programme->links.count; i++)
        values[programme->links.items[i].use] = 0;
    for (size_t i = 0; i < programme->links.count; i++)
        if (values[programme->links.items[i].rate] > 0)
            values[programme->links.items[i].use] = 1;
    return true;
}

void programme_mend(struct programme *programme)
{
    lp_mend(programme->lp, rates_mend, programme);
}
