/* A product's total, spread over the applications. The goals fix the totals; of the ways to spread them the
 * one is taken that keeps each product's greatest rate as low as the demands allow, in as many applications
 * as its label's least rate lets it be. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/problem_lp.h"

#include <string.h>

struct evening {
    const struct problem *problem;
    const struct plot *plot;
    double *totals;     /* by product */
    bool *open, *taken; /* by choice: may be above 0 at all; takes part now */
    double *rates;      /* by choice: tried */
};

/* As often as the label's count and least rate let its total be divided; at least once. */
static size_t product_times(const struct evening *evening, uint32_t product)
{
    const struct plot *plot = evening->plot;
    size_t times = plot->choices.count;
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        if (choice->product != product || !evening->open[i])
            continue;
        for (size_t j = 0; j < plot->demands.count; j++) {
            const struct demand *demand = &plot->demands.items[j];
            for (size_t k = 0; k < demand->parts.count && demand->kind == DEMAND_TIMES; k++)
                if (demand->parts.items[k].choice == i && demand->bound < (double)times)
                    times = (size_t)demand->bound;
        }
        if (choice->low > 0 && evening->totals[product] / choice->low < (double)times)
            times = (size_t)(evening->totals[product] / choice->low * (1 + COMPARE_TOLERANCE));
    }
    return times > 0 ? times : 1;
}

/* ---- trying ---- */

/* The same rate in all applications taken. */
static bool equal_try(struct evening *evening)
{
    size_t *times = ARENA_ARRAY(evening->problem->arena, evening->problem->products.count, size_t);
    for (size_t i = 0; i < evening->plot->choices.count; i++)
        times[evening->plot->choices.items[i].product] += evening->taken[i];
    for (size_t i = 0; i < evening->plot->choices.count; i++) {
        uint32_t product = evening->plot->choices.items[i].product;
        evening->rates[i] = evening->taken[i] ? evening->totals[product] / (double)times[product] : 0;
    }
    return plot_breach(evening->plot, evening->rates) == 0;
}

/* Unequal rates with the greatest of each product as small as can be, from their least where `least`; false
 * where even these break something. */
static bool even_try(struct evening *evening, bool least)
{
    struct arena *arena = evening->problem->arena;
    struct arena_mark mark = arena_mark(arena);

    /* A copy of the plot in which what is taken may be anything up to its most, and the rest nothing; what
     * counts and keeps apart is settled by what is taken. */
    struct plot settled = {.area_m2 = evening->plot->area_m2};
    for (uint32_t i = 0; i < evening->plot->choices.count; i++) {
        struct choice choice = evening->plot->choices.items[i];
        struct demand at_least = {.kind = DEMAND_LEAST, .cause = NO_CAUSE, .bound = choice.low};
        struct demand_part part = {i, 1, 0};
        if (least && evening->taken[i] && choice.low > 0) {
            VECTOR_PUSH(arena, &at_least.parts, part);
            VECTOR_PUSH(arena, &settled.demands, at_least);
        }
        choice.low = 0;
        choice.high = evening->taken[i] ? choice.high : 0;
        VECTOR_PUSH(arena, &settled.choices, choice);
    }
    for (size_t i = 0; i < evening->plot->demands.count; i++) {
        const struct demand *demand = &evening->plot->demands.items[i];
        if (demand->kind == DEMAND_MOST || demand->kind == DEMAND_EITHER || demand->kind == DEMAND_LEAST)
            VECTOR_PUSH(arena, &settled.demands, *demand);
    }
    const struct plot *plot = &settled;
    struct programme *programme = programme_new(evening->problem, &plot, 1, UNCHANGED);
    struct lp *lp = programme->lp;
    const uint32_t *rate = programme->plots[0].rate;

    /* Each product's total, and its greatest rate: the greatest rates are made small. */
    for (uint32_t product = 0; product < evening->problem->products.count; product++) {
        if (!(evening->totals[product] > 0))
            continue;
        double total = evening->totals[product] / RATE_UNIT;
        uint32_t sum = lp_row(lp, total, total), peak = lp_column(lp, LP_REAL, 0, INFINITY);
        lp_goal_term(lp, 0, peak, 1);
        for (uint32_t i = 0; i < plot->choices.count; i++) {
            if (plot->choices.items[i].product != product || !evening->taken[i])
                continue;
            uint32_t row = lp_row(lp, 0, INFINITY);
            lp_term(lp, sum, rate[i], 1);
            lp_term(lp, row, peak, 1);
            lp_term(lp, row, rate[i], -1);
        }
    }
    programme_goal_corner(programme, 1);
    struct lp_answer answer = lp_solve(lp);
    bool solved = answer.outcome == LP_SOLVED;
    for (size_t i = 0; i < plot->choices.count && solved; i++)
        evening->rates[i] = answer.columns[rate[i]] * RATE_UNIT;
    arena_rewind(arena, mark);
    return solved && plot_breach(evening->plot, evening->rates) == 0;
}

/* ---- all of it ---- */

static struct evening evening_new(const struct problem *problem, const struct plot *plot, const double *rates)
{
    size_t choices = plot->choices.count;
    struct evening evening = {.problem = problem,
                              .plot = plot,
                              .totals = ARENA_ARRAY(problem->arena, problem->products.count, double),
                              .open = ARENA_ARRAY(problem->arena, choices, bool),
                              .taken = ARENA_ARRAY(problem->arena, choices, bool),
                              .rates = ARENA_ARRAY(problem->arena, choices, double)};
    for (size_t i = 0; i < choices; i++)
        evening.totals[plot->choices.items[i].product] += rates[i];
    return evening;
}

/* First over all applications that may have the product: as often as its label lets its total be divided,
 * then half as often, and so on, different products at different ones. Else where the goals' own answer has
 * put it, which always has a way. */
static bool totals_even(struct evening *evening, const double *rates)
{
    const struct problem *problem = evening->problem;
    const struct plot *plot = evening->plot;
    const double *ceilings = plot_ceilings(problem, plot, UNCHANGED);
    for (uint32_t i = 0; i < plot->choices.count; i++)
        evening->open[i] = ceilings[i] > 0;
    for (size_t divisor = 1; divisor <= 8; divisor *= 2) {
        /* Each product is taken so many times among its open choices, evenly spaced. */
        for (uint32_t product = 0; product < problem->products.count; product++) {
            size_t times = (product_times(evening, product) + divisor - 1) / divisor, open = 0;
            size_t at = divisor > 1 ? product : 0;
            for (size_t i = 0; i < plot->choices.count; i++)
                if (plot->choices.items[i].product == product && evening->open[i])
                    open++;
            times = times < open ? times : open;
            for (size_t i = 0; i < plot->choices.count && open > 0; i++) {
                if (plot->choices.items[i].product != product)
                    continue;
                size_t place = at % open;
                evening->taken[i] = evening->open[i] && evening->totals[product] > 0 &&
                                    (place * times + open - 1) / open * open < (place + 1) * times;
                at += evening->open[i];
            }
        }
        if (equal_try(evening) || even_try(evening, false) || even_try(evening, true))
            return true;
    }
    for (uint32_t i = 0; i < plot->choices.count && rates; i++)
        evening->taken[i] = rates[i] > 0;
    return rates && (equal_try(evening) || even_try(evening, true));
}

void plot_even(const struct problem *problem, const struct plot *plot, double *rates)
{
    struct arena_mark mark = arena_mark(problem->arena);
    struct evening evening = evening_new(problem, plot, rates);
    if (totals_even(&evening, rates) && plot->choices.count)
        memcpy(rates, evening.rates, plot->choices.count * sizeof *rates);
    arena_rewind(problem->arena, mark);
}

/* ---- packed tight ---- */

/* Fills the roomiest applications until the total is placed; what is left at the end is made up to its least
 * rate from the one filled before. */
static bool product_pack(struct evening *evening, uint32_t product)
{
    const struct plot *plot = evening->plot;
    double left = evening->totals[product];
    uint32_t last = NO_COLUMN;
    while (exceeds(left, 0) && left > evening->totals[product] * COMPARE_TOLERANCE) {
        double room = 0;
        uint32_t at = 0;

        /* The roomiest choice that is open and not taken yet, and whose least rate fits. */
        for (uint32_t i = 0; i < plot->choices.count; i++) {
            const struct choice *choice = &plot->choices.items[i];
            if (choice->product != product || !evening->open[i] || evening->taken[i])
                continue;
            double fits = choice_room(plot, evening->rates, i);
            if (fits > room * (1 + COMPARE_TOLERANCE) && !exceeds(choice->low, fits)) {
                room = fits;
                at = i;
            }
        }
        if (!(room > 0))
            return false;
        double low = plot->choices.items[at].low, rate = fmin(room, left);
        if (exceeds(low, rate) && last != NO_COLUMN) {
            double moved = low - rate;
            evening->rates[last] -= moved;
            left += moved;
            rate = low;
        }
        evening->rates[at] = rate;
        evening->taken[at] = true;
        left -= rate;
        last = at;
    }
    return true;
}

/* `hard`: those first whose label leaves them the fewest applications; otherwise in their order. */
static bool pack_try(struct evening *evening, bool hard)
{
    size_t products = evening->problem->products.count;
    bool *packed = ARENA_ARRAY(evening->problem->arena, products, bool);
    for (size_t i = 0; i < evening->plot->choices.count; i++) {
        evening->rates[i] = 0;
        evening->taken[i] = false;
    }
    for (size_t placed = 0; placed < products; placed++) {
        uint32_t next = NO_COLUMN;
        size_t fewest = SIZE_MAX;
        for (uint32_t product = 0; product < products; product++) {
            if (packed[product] || !(evening->totals[product] > 0))
                continue;
            size_t times = hard ? product_times(evening, product) : 0;
            if (next == NO_COLUMN || times < fewest) {
                next = product;
                fewest = times;
            }
        }
        if (next == NO_COLUMN)
            break;
        if (!product_pack(evening, next))
            return false;
        packed[next] = true;
    }
    return plot_breach(evening->plot, evening->rates) == 0;
}

/* ---- for the search ---- */

/* Totals that could not be placed, the newest UNPLACED of them: a relaxation that only moves a rate from one
 * application to another asks for the same ones over and over. */
enum { UNPLACED = 256 };
struct guessing {
    struct programme *programme;
    double *unplaced; /* by place in the ring, then product */
    uint32_t *plot;   /* by place: of which of the programme's plots */
    size_t count;     /* ever kept */
};

/* Places each plot's totals of a relaxation on the applications anew, evenly or else packed tight; false
 * where they cannot be, and then they are kept, so as not to be tried again. */
static bool rates_guess(void *task, double *values)
{
    struct guessing *guessing = task;
    const struct programme *programme = guessing->programme;
    size_t products = programme->problem->products.count;
    for (uint32_t at = 0; at < programme->plot_count; at++) {
        const uint32_t *rate = programme->plots[at].rate;
        const struct plot *plot = programme->plots[at].plot;
        struct arena_mark mark = arena_mark(programme->arena);
        double *rates = ARENA_ARRAY(programme->arena, plot->choices.count, double);
        for (size_t i = 0; i < plot->choices.count; i++)
            rates[i] = values[rate[i]] > COMPARE_TOLERANCE ? values[rate[i]] * RATE_UNIT : 0;
        struct evening evening = evening_new(programme->problem, plot, rates);
        bool known = false;
        for (size_t i = 0; i < guessing->count && i < UNPLACED && !known; i++) {
            known = guessing->plot[i] == at;
            for (size_t j = 0; j < products && known; j++)
                known = fabs(guessing->unplaced[i * products + j] - evening.totals[j]) <=
                        COMPARE_TOLERANCE * RATE_UNIT;
        }
        bool placed =
            !known && (totals_even(&evening, NULL) || pack_try(&evening, true) || pack_try(&evening, false));
        for (size_t i = 0; i < plot->choices.count && placed; i++)
            values[rate[i]] = evening.rates[i] / RATE_UNIT;
        if (!placed && !known) {
            size_t place = guessing->count++ % UNPLACED;
            guessing->plot[place] = at;
            memcpy(guessing->unplaced + place * products, evening.totals, products * sizeof *evening.totals);
        }
        arena_rewind(programme->arena, mark);
        if (!placed)
            return false;
    }
    for (size_t i = 0; i < programme->links.count; i++)
        values[programme->links.items[i].use] = 0;
    for (size_t i = 0; i < programme->links.count; i++)
        if (values[programme->links.items[i].rate] > 0)
            values[programme->links.items[i].use] = 1;
    return true;
}

void programme_guess(struct programme *programme)
{
    struct guessing *guessing = ARENA_NEW(programme->arena, struct guessing);
    guessing->programme = programme;
    guessing->unplaced =
        ARENA_ARRAY(programme->arena, (size_t)UNPLACED * programme->problem->products.count, double);
    guessing->plot = ARENA_ARRAY(programme->arena, UNPLACED, uint32_t);
    lp_guess(programme->lp, rates_guess, guessing);
}
