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

/* ---- which applications ---- */

/* `count` of the product's open choices, evenly among them, `turn` places further on. */
static void product_take(struct evening *evening, uint32_t product, size_t count, size_t turn)
{
    const struct plot *plot = evening->plot;
    size_t open = 0, at = turn;
    for (size_t i = 0; i < plot->choices.count; i++)
        open += plot->choices.items[i].product == product && evening->open[i];
    if (open == 0)
        return;
    count = count < open ? count : open;
    for (size_t i = 0; i < plot->choices.count; i++) {
        if (plot->choices.items[i].product != product)
            continue;
        size_t place = at % open;
        evening->taken[i] = evening->open[i] && evening->totals[product] > 0 &&
                            (place * count + open - 1) / open * open < (place + 1) * count;
        at += evening->open[i];
    }
}

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

/* A copy of the plot in which what is taken may be anything up to its most, from its least where `least`, and
 * the rest nothing; what counts and keeps apart is settled by what is taken. */
static struct plot plot_settled(const struct evening *evening, bool least)
{
    struct arena *arena = evening->problem->arena;
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
    return settled;
}

/* Each product's total, and its greatest rate: the greatest rates are made small. */
static void peaks_add(struct programme *programme, const struct evening *evening,
                      const struct plot_columns *columns)
{
    for (uint32_t product = 0; product < evening->problem->products.count; product++) {
        if (!(evening->totals[product] > 0))
            continue;
        double total = evening->totals[product] / RATE_UNIT;
        uint32_t sum = lp_row(programme->lp, total, total),
                 peak = lp_column(programme->lp, LP_REAL, 0, INFINITY);
        lp_goal_term(programme->lp, 0, peak, 1);
        for (uint32_t i = 0; i < evening->plot->choices.count; i++) {
            if (evening->plot->choices.items[i].product != product || !evening->taken[i])
                continue;
            uint32_t row = lp_row(programme->lp, 0, INFINITY);
            lp_term(programme->lp, sum, columns->rate[i], 1);
            lp_term(programme->lp, row, peak, 1);
            lp_term(programme->lp, row, columns->rate[i], -1);
        }
    }
}

/* Unequal rates with the greatest of each product as small as can be; false where even these break something.
 */
static bool even_try(struct evening *evening, bool least)
{
    struct arena *arena = evening->problem->arena;
    struct arena_mark mark = arena_mark(arena);
    struct plot settled = plot_settled(evening, least);
    const struct plot *plot = &settled;
    struct programme *programme = programme_new(evening->problem, &plot, 1, UNCHANGED);
    peaks_add(programme, evening, &programme->plots[0]);
    programme_goal_corner(programme, 1);
    struct lp_answer answer = lp_solve(programme->lp);
    bool solved = answer.outcome == LP_SOLVED;
    for (size_t i = 0; i < plot->choices.count && solved; i++)
        evening->rates[i] = answer.columns[programme->plots[0].rate[i]] * RATE_UNIT;
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
    const double *ceilings = plot_ceilings(problem, evening->plot, UNCHANGED);
    for (uint32_t i = 0; i < evening->plot->choices.count; i++)
        evening->open[i] = ceilings[i] > 0;
    for (size_t divisor = 1; divisor <= 8; divisor *= 2) {
        for (uint32_t product = 0; product < problem->products.count; product++) {
            size_t times = (product_times(evening, product) + divisor - 1) / divisor;
            product_take(evening, product, times, divisor > 1 ? product : 0);
        }
        if (equal_try(evening) || even_try(evening, false) || even_try(evening, true))
            return true;
    }
    for (uint32_t i = 0; i < evening->plot->choices.count && rates; i++)
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

/* What still fits into an application, by every demand that only adds up; kg/m2. */
static double choice_fits(const struct evening *evening, uint32_t choice)
{
    double fits = evening->plot->choices.items[choice].high;
    for (size_t i = 0; i < evening->plot->demands.count; i++) {
        const struct demand *demand = &evening->plot->demands.items[i];
        double sum = 0, factor = 0;
        for (size_t j = 0; j < demand->parts.count && demand->kind == DEMAND_MOST; j++) {
            const struct demand_part *part = &demand->parts.items[j];
            sum += evening->rates[part->choice] * part->factor;
            factor = part->choice == choice ? part->factor : factor;
        }
        if (factor > 0)
            fits = fmin(fits, (demand->bound - sum) / factor);
    }
    return fits;
}

/* The roomiest choice of the product that is open and not taken yet; its least rate fits. */
static bool roomiest_find(const struct evening *evening, uint32_t product, uint32_t *found, double *room)
{
    *room = 0;
    for (uint32_t i = 0; i < evening->plot->choices.count; i++) {
        const struct choice *choice = &evening->plot->choices.items[i];
        if (choice->product != product || !evening->open[i] || evening->taken[i])
            continue;
        double fits = choice_fits(evening, i);
        if (fits > *room * (1 + COMPARE_TOLERANCE) && !exceeds(choice->low, fits)) {
            *room = fits;
            *found = i;
        }
    }
    return *room > 0;
}

/* Fills the roomiest applications until the total is placed; what is left at the end is made up to its least
 * rate from the one filled before. */
static bool product_pack(struct evening *evening, uint32_t product)
{
    double left = evening->totals[product];
    uint32_t last = NO_COLUMN, at = 0;
    while (exceeds(left, 0) && left > evening->totals[product] * COMPARE_TOLERANCE) {
        double room, low;
        if (!roomiest_find(evening, product, &at, &room))
            return false;
        low = evening->plot->choices.items[at].low;
        double rate = fmin(room, left);
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
static uint32_t pack_next(const struct evening *evening, const bool *packed, bool hard)
{
    uint32_t next = NO_COLUMN;
    size_t fewest = SIZE_MAX;
    for (uint32_t product = 0; product < evening->problem->products.count; product++) {
        if (packed[product] || !(evening->totals[product] > 0))
            continue;
        size_t times = hard ? product_times(evening, product) : 0;
        if (next == NO_COLUMN || times < fewest) {
            next = product;
            fewest = times;
        }
    }
    return next;
}

static bool pack_try(struct evening *evening, bool hard)
{
    bool *packed = ARENA_ARRAY(evening->problem->arena, evening->problem->products.count, bool);
    for (size_t i = 0; i < evening->plot->choices.count; i++) {
        evening->rates[i] = 0;
        evening->taken[i] = false;
    }
    for (uint32_t product; (product = pack_next(evening, packed, hard)) != NO_COLUMN; packed[product] = true)
        if (!product_pack(evening, product))
            return false;
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

/* Places a relaxation's totals on the applications anew, evenly or else packed tight; false where they cannot
 * be, and then they are kept, so as not to be tried again. */
static bool plot_guess(struct guessing *guessing, uint32_t at, double *values)
{
    const struct programme *programme = guessing->programme;
    const struct plot_columns *columns = &programme->plots[at];
    const struct plot *plot = columns->plot;
    size_t products = programme->problem->products.count;
    struct arena_mark mark = arena_mark(programme->arena);
    double *rates = ARENA_ARRAY(programme->arena, plot->choices.count, double);
    for (size_t i = 0; i < plot->choices.count; i++)
        rates[i] = values[columns->rate[i]] > COMPARE_TOLERANCE ? values[columns->rate[i]] * RATE_UNIT : 0;
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
        values[columns->rate[i]] = evening.rates[i] / RATE_UNIT;
    if (!placed && !known) {
        size_t place = guessing->count++ % UNPLACED;
        guessing->plot[place] = at;
        memcpy(guessing->unplaced + place * products, evening.totals, products * sizeof *evening.totals);
    }
    arena_rewind(programme->arena, mark);
    return placed;
}

static bool rates_guess(void *task, double *values)
{
    struct guessing *guessing = task;
    const struct programme *programme = guessing->programme;
    for (uint32_t i = 0; i < programme->plot_count; i++)
        if (!plot_guess(guessing, i, values))
            return false;
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
    guessing->unplaced = ARENA_ARRAY(programme->arena, UNPLACED * programme->problem->products.count, double);
    guessing->plot = ARENA_ARRAY(programme->arena, UNPLACED, uint32_t);
    lp_guess(programme->lp, rates_guess, guessing);
}
