#include "compiler/solve/problem_lp.h"

#include "compiler/model/tolerance.h"

bool programme_eases(const struct programme *programme, uint32_t cause)
{
    return cause != NO_CAUSE && programme->variation.eased == cause;
}

static void cause_behind(struct programme *programme, uint32_t at, uint32_t cause, bool column)
{
    struct problem_row row = {at, cause, column};
    if (cause != NO_CAUSE)
        VECTOR_PUSH(programme->arena, &programme->behind, row);
}

/* ---- rates ---- */

bool cause_in_force(struct variation variation, uint32_t cause)
{
    return cause == NO_CAUSE ||
           (cause != variation.eased && !(variation.dropped && variation.dropped[cause]));
}

bool demand_adds_up(const struct demand *demand)
{
    bool adds_up = demand->kind == DEMAND_MOST;
    for (size_t i = 0; i < demand->parts.count && adds_up; i++)
        adds_up = demand->parts.items[i].factor >= 0;
    return adds_up;
}

/* Where nothing bounds a rate: 200 lb per 1000 sqft, more than any label has (common practice, no source), or
 * ten times what the wants could take. */
double *plot_ceilings(const struct problem *problem, const struct plot *plot, struct variation variation)
{
    double *ceilings = ARENA_ARRAY(problem->arena, plot->choices.count, double);
    for (size_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        ceilings[i] = 200 * RATE_UNIT;
        for (size_t j = 0; j < plot->wants.count; j++) {
            const struct want *want = &plot->wants.items[j];
            double content = problem->products.items[choice->product].content[want->nutrient];
            if (content > 0)
                ceilings[i] = fmax(ceilings[i], 10 * want->amount / content);
        }
        if (cause_in_force(variation, choice->high_cause))
            ceilings[i] = fmin(ceilings[i], choice->high);
        if (variation.barred && variation.barred[choice->product])
            ceilings[i] = 0;
    }
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        bool adds_up = demand_adds_up(demand);
        for (size_t j = 0; j < demand->parts.count && cause_in_force(variation, demand->cause); j++) {
            const struct demand_part *part = &demand->parts.items[j];
            double *ceiling = &ceilings[part->choice];
            if (demand->kind == DEMAND_NONE)
                *ceiling = 0;
            else if (part->factor > 0 && adds_up)
                *ceiling = fmin(*ceiling, fmax(0, demand->bound / part->factor));
        }
    }
    for (size_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        if (cause_in_force(variation, choice->low_cause) && exceeds(choice->low, ceilings[i]))
            ceilings[i] = 0;
    }
    return ceilings;
}

/* ---- demands ---- */

/* The most that one sum of an `either` can come to (its own, or the other): by what each of its rates cannot
 * pass alone, or by another demand that holds some of them together. */
static double either_most(const struct programme *programme, const struct plot_columns *columns,
                          const struct demand *either, bool other)
{
    const struct plot *plot = columns->plot;
    double alone = 0, *factors = ARENA_ARRAY(programme->arena, plot->choices.count, double);
    for (size_t i = 0; i < either->parts.count; i++) {
        const struct demand_part *part = &either->parts.items[i];
        factors[part->choice] = fmax(0, other ? part->other : part->factor);
        alone += factors[part->choice] * columns->ceiling[part->choice];
    }
    double most = alone;
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        double times = 0, named = 0; /* the sum's share of the demand's; what that takes out of `alone` */
        if (!demand_adds_up(demand) || !cause_in_force(programme->variation, demand->cause))
            continue;
        for (size_t j = 0; j < demand->parts.count; j++) {
            const struct demand_part *part = &demand->parts.items[j];
            if (!(part->factor > 0))
                continue;
            times = fmax(times, factors[part->choice] / part->factor);
            named += factors[part->choice] * columns->ceiling[part->choice];
        }
        most = fmin(most, times * demand->bound + fmax(0, alone - named));
    }
    return most;
}

/* One sum keeps its bound as long as the switch is 0, the other as long as it is 1; what the rates can come
 * to at all says how far the bound of the sum that is let go must yield. */
static void demand_either(struct programme *programme, const struct plot_columns *columns,
                          const struct demand *demand)
{
    struct lp *lp = programme->lp;
    double most = either_most(programme, columns, demand, false);
    double other_most = either_most(programme, columns, demand, true);
    if (most <= demand->bound || other_most <= demand->other_bound)
        return;
    uint32_t change = lp_column(lp, LP_WHOLE, 0, 1);
    uint32_t row = lp_row(lp, -INFINITY, demand->bound / RATE_UNIT);
    uint32_t other = lp_row(lp, -INFINITY, other_most / RATE_UNIT);
    for (size_t i = 0; i < demand->parts.count; i++) {
        lp_term(lp, row, columns->rate[demand->parts.items[i].choice], demand->parts.items[i].factor);
        lp_term(lp, other, columns->rate[demand->parts.items[i].choice], demand->parts.items[i].other);
    }
    lp_term(lp, row, change, -(most - demand->bound) / RATE_UNIT);
    lp_term(lp, other, change, (other_most - demand->other_bound) / RATE_UNIT);
    if (programme_eases(programme, demand->cause))
        lp_term(lp, row, programme->distance, -1);
    cause_behind(programme, row, demand->cause, false);
}

/* What the variation drops is left out; what it moves is not (programme_eases). */
static void demands_add(struct programme *programme, const struct plot_columns *columns)
{
    struct uses *uses = uses_new(programme, columns);
    const bool *dropped = programme->variation.dropped;
    for (size_t i = 0; i < columns->plot->demands.count; i++) {
        const struct demand *demand = &columns->plot->demands.items[i];
        if (demand->cause != NO_CAUSE && dropped && dropped[demand->cause])
            continue;
        switch (demand->kind) {
        case DEMAND_MOST:
        case DEMAND_LEAST: {
            /* Rows are scaled to a bound of 1, so that what the arithmetic lets pass is the same share of
             * every bound. */
            bool least = demand->kind == DEMAND_LEAST;
            double bound = demand->bound / RATE_UNIT, scale = bound > 1e-6 ? 1 / bound : 1;
            uint32_t row = least ? lp_row(programme->lp, bound * scale, INFINITY)
                                 : lp_row(programme->lp, -INFINITY, bound * scale);
            for (size_t j = 0; j < demand->parts.count; j++)
                lp_term(programme->lp, row, columns->rate[demand->parts.items[j].choice],
                        demand->parts.items[j].factor * scale);
            if (programme_eases(programme, demand->cause))
                lp_term(programme->lp, row, programme->distance, least ? scale : -scale);
            cause_behind(programme, row, demand->cause, false);
            break;
        }
        case DEMAND_EITHER:
            demand_either(programme, columns, demand);
            break;
        case DEMAND_NONE: {
            uint32_t row = lp_row(programme->lp, -INFINITY, 0);
            for (size_t j = 0; j < demand->parts.count; j++)
                lp_term(programme->lp, row, columns->rate[demand->parts.items[j].choice], 1);
            break;
        }
        case DEMAND_TIMES:
        case DEMAND_APART:
            uses_add(uses, demand);
            break;
        }
    }
    uses_close(uses);
}

/* ---- wants ---- */

/* kg of the element in 1 kg of the choice's product. */
static double choice_content(const struct programme *programme, const struct plot *plot, size_t choice,
                             enum nutrient nutrient)
{
    return programme->problem->products.items[plot->choices.items[choice].product].content[nutrient];
}

double want_unit(const struct want *want)
{
    return want->amount > 0 ? want->amount
                            : nutrient_trade_form(want->nutrient)->element_per_unit * RATE_UNIT;
}

/* given + what the rates supply + shortfall - what may go beyond - excess = wanted, all of it as a share.
 * What is wanted with the N chosen is on the left. A product barred for a try still makes a want one that can
 * be met, so that the goals stay comparable. */
static void want_add(struct programme *programme, struct plot_columns *columns, uint32_t at)
{
    const struct want *want = &columns->plot->wants.items[at];
    const struct plot *plot = columns->plot;
    struct lp *lp = programme->lp;
    double unit = want_unit(want);
    bool supplied = false;
    columns->shortfall[at] = columns->excess[at] = NO_COLUMN;
    for (size_t i = 0; i < plot->choices.count && !supplied; i++)
        supplied = choice_content(programme, plot, i, want->nutrient) > 0;
    if (!supplied)
        return;
    double rest = ((want->per_n > 0 ? fmax(0, want->bare) : want->amount) - want->given) / unit;
    uint32_t row = lp_row(lp, rest, rest);
    columns->excess[at] = lp_column(lp, LP_REAL, 0, INFINITY);
    lp_term(lp, row, columns->excess[at], -1);
    if (want->most > want->amount)
        lp_term(lp, row, lp_column(lp, LP_REAL, 0, (want->most - want->amount) / unit), -1);
    if (want->amount > 0 || want->per_n > 0) {
        uint32_t worst = lp_row(lp, 0, INFINITY); /* not below any shortfall */
        columns->shortfall[at] = lp_column(lp, LP_REAL, 0, INFINITY);
        lp_term(lp, row, columns->shortfall[at], 1);
        lp_term(lp, worst, columns->worst, 1);
        lp_term(lp, worst, columns->shortfall[at], -1);
    }

    /* What is wanted less `bare`, both as shares: per_n of the N chosen. Where `bare` lies below 0 the sum
     * may too, and then nothing is wanted: a whole number says on which side it is, since a want that were
     * free to rise would hide the excess. */
    double bare = want->bare / unit, most = 0;
    uint32_t sum = row, above = NO_COLUMN;
    bool vanishes = want->per_n > 0 && bare < 0;
    if (vanishes) {
        sum = lp_row(lp, bare, bare); /* above - below - per_n * N = bare */
        above = lp_column(lp, LP_REAL, 0, INFINITY);
        lp_term(lp, sum, above, 1);
        lp_term(lp, row, above, -1);
    }
    for (uint32_t i = 0; i < plot->choices.count && want->per_n > 0; i++) {
        double per_rate = want->per_n * choice_content(programme, plot, i, NUTRIENT_N) / unit;
        lp_term(lp, sum, columns->rate[i], -per_rate * RATE_UNIT);
        most += per_rate * columns->ceiling[i];
    }
    if (vanishes) {
        uint32_t below = lp_column(lp, LP_REAL, 0, INFINITY), side = lp_column(lp, LP_WHOLE, 0, 1);
        uint32_t only_above = lp_row(lp, -INFINITY, 0), only_below = lp_row(lp, -INFINITY, -bare);
        lp_first(lp, side);
        lp_term(lp, sum, below, -1);
        lp_term(lp, only_above, above, 1);
        lp_term(lp, only_above, side, -fmax(0, most + bare));
        lp_term(lp, only_below, below, 1);
        lp_term(lp, only_below, side, -bare);
    }
    for (uint32_t i = 0; i < plot->choices.count; i++)
        lp_term(lp, row, columns->rate[i],
                choice_content(programme, plot, i, want->nutrient) * RATE_UNIT / unit);
}

/* Columns come into being in one order, so that one question has one answer. */
static void plot_add(struct programme *programme, struct plot_columns *columns)
{
    const struct plot *plot = columns->plot;
    struct lp *lp = programme->lp;
    columns->rate = ARENA_ARRAY(programme->arena, plot->choices.count, uint32_t);
    columns->shortfall = ARENA_ARRAY(programme->arena, plot->wants.count, uint32_t);
    columns->excess = ARENA_ARRAY(programme->arena, plot->wants.count, uint32_t);
    columns->ceiling = plot_ceilings(programme->problem, plot, programme->variation);

    /* A rate that can only be 0, for one reason or several, is fixed there: gaps that cannot be crossed are
     * not searched. The label's most is a bound of the column, or a row where it is to be moved. */
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        bool free_low = !cause_in_force(programme->variation, choice->low_cause);
        bool free_high = !cause_in_force(programme->variation, choice->high_cause);
        double low = free_low || columns->ceiling[i] <= 0 ? 0 : choice->low / RATE_UNIT;
        double high = free_high ? INFINITY : choice->high / RATE_UNIT;
        high = columns->ceiling[i] > 0 ? high : 0;
        columns->rate[i] = lp_column(lp, low > 0 ? LP_GAP : LP_REAL, low, high);
        cause_behind(programme, columns->rate[i], choice->high_cause, true);
        if (!programme_eases(programme, choice->high_cause) || isinf(choice->high))
            continue;
        uint32_t row = lp_row(lp, -INFINITY, choice->high / RATE_UNIT);
        lp_term(lp, row, columns->rate[i], 1);
        lp_term(lp, row, programme->distance, -1);
    }

    /* A product's rates together are 0, or from k leasts of one to k mosts of one: a gap that settles most
     * others. */
    for (uint32_t i = 0; i < plot->choices.count;) {
        uint32_t product = plot->choices.items[i].product, row = lp_row(lp, 0, 0);
        double low = INFINITY, high = 0;
        for (; i < plot->choices.count && plot->choices.items[i].product == product; i++) {
            const struct choice *choice = &plot->choices.items[i];
            bool gapped = cause_in_force(programme->variation, choice->low_cause) && columns->ceiling[i] > 0;
            low = fmin(low, gapped ? choice->low : columns->ceiling[i] > 0 ? 0 : low);
            high = fmax(high, columns->ceiling[i]);
            lp_term(lp, row, columns->rate[i], 1);
        }
        bool gap = low > 0 && !isinf(low);
        uint32_t total = gap ? lp_column(lp, LP_STEPS, low / RATE_UNIT, fmax(low, high) / RATE_UNIT)
                             : lp_column(lp, LP_REAL, 0, INFINITY);
        lp_first(lp, total);
        lp_term(lp, row, total, -1);
    }

    demands_add(programme, columns);
    columns->worst = lp_column(lp, LP_REAL, 0, INFINITY);
    for (uint32_t i = 0; i < plot->wants.count; i++)
        want_add(programme, columns, i);
}

/* `plots`: all of them in one programme, which only what is bought binds together. */
struct programme *programme_new(const struct problem *problem, const struct plot *const *plots, size_t count,
                                struct variation variation)
{
    struct programme *programme = ARENA_NEW(problem->arena, struct programme);
    programme->arena = problem->arena;
    programme->problem = problem;
    programme->variation = variation;
    programme->lp = lp_new(problem->arena);
    lp_spend(programme->lp, problem->budget ? &problem->budget->searches : NULL);
    programme->distance = NO_COLUMN;
    programme->plots = ARENA_ARRAY(problem->arena, count, struct plot_columns);
    programme->plot_count = count;
    if (variation.eased != NO_CAUSE)
        programme->distance = lp_column(programme->lp, LP_REAL, 0, INFINITY);
    for (size_t i = 0; i < count; i++) {
        programme->plots[i].plot = plots[i];
        plot_add(programme, &programme->plots[i]);
    }
    return programme;
}
