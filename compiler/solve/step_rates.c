/* Rates that people can set: what was chosen, in the steps of spreader and sprayer. A plot takes the coarsest
 * steps that cost no want more than the share that the problem lets go; then one rate for all plots, and one
 * pack less, where that costs no more either. Every answer is looked at by plot_breach: none passes a demand,
 * and where steps leave no way the rates stay as they were. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/problem_lp.h"

#include <string.h>

struct stepping {
    const struct problem *problem;
    struct plot_kinds *kinds;
    bool priced;
    double **exact; /* by kind, then choice: before any step */
    uint64_t left;  /* of STEP_WORK */
};

/* What trying steps may cost: parts of demands and wants that are looked at. Counted, so that the same plan
 * has the same rates everywhere; some 10^9 take a second. */
static const uint64_t STEP_WORK = 200000000;

/* ---- one rate ---- */

static double choice_step(const struct choice *choice, size_t level)
{
    size_t last = choice->step_count - 1;
    return choice->steps[level < last ? level : last];
}

/* The next one above or below; -1 without one. Below the least there is only 0. */
static double rate_next(const struct choice *choice, double rate, size_t level, bool up)
{
    double step = choice_step(choice, level);
    double multiple = up ? (floor(rate / step * (1 + COMPARE_TOLERANCE)) + 1) * step
                         : (ceil(rate / step * (1 - COMPARE_TOLERANCE)) - 1) * step;
    if (up)
        return !exceeds(choice->high, rate) ? -1 : fmin(fmax(multiple, choice->low), choice->high);
    if (!(rate > 0))
        return -1;
    return exceeds(rate, choice->low) ? fmax(fmax(multiple, choice->low), 0) : 0;
}

/* ---- one plot ---- */

/* The greatest share of a want by which these rates miss, or go beyond it, more than the exact ones. */
static double steps_cost(const struct stepping *stepping, size_t kind, const double *rates)
{
    const struct plot *plot = &stepping->kinds->items[kind].plot;
    double cost = 0;
    for (size_t i = 0; i < plot->wants.count; i++) {
        struct want_shares now = want_shares(stepping->problem, plot, i, rates);
        struct want_shares before = want_shares(stepping->problem, plot, i, stepping->exact[kind]);
        cost = fmax(cost, fmax(now.missing - before.missing, now.excess - before.excess));
    }
    return cost;
}

static bool steps_fit(const struct stepping *stepping, size_t kind, const double *rates)
{
    return plot_breach(&stepping->kinds->items[kind].plot, rates) == 0 &&
           !exceeds(steps_cost(stepping, kind, rates), stepping->problem->within);
}

/* Rates that change together: one, or one up and another down. */
struct move {
    size_t count; /* 0: none */
    size_t choice[2];
    double rate[2];
};

struct improving {
    struct stepping *stepping;
    const struct plot *plot;
    const double *exact;
    double *rates;
    size_t level;
    uint64_t size; /* of STEP_WORK: what looking at rates costs */
    struct plot_score best;
    struct move found; /* the move that comes to it */
};

/* The move and the rates change places: made twice, nothing has changed. */
static void move_make(double *rates, struct move *move)
{
    for (size_t i = 0; i < move->count; i++) {
        double before = rates[move->choice[i]];
        rates[move->choice[i]] = move->rate[i];
        move->rate[i] = before;
    }
}

static void move_try(struct improving *improving, struct move move)
{
    struct stepping *stepping = improving->stepping;
    move_make(improving->rates, &move);
    struct plot_score score =
        plot_score(stepping->problem, improving->plot, improving->rates, stepping->priced);
    move_make(improving->rates, &move);
    stepping->left -= stepping->left < improving->size ? stepping->left : improving->size;
    if (!score_better(&score, &improving->best))
        return;
    improving->best = score;
    improving->found = move;
}

/* Each move that takes the rate a step up or down: alone, or with another of its product or application the
 * other way. */
static void moves_try(struct improving *improving, size_t at, bool pairs)
{
    const struct choice *choices = improving->plot->choices.items, *moved = &choices[at];
    for (int up = 0; up < 2 && improving->exact[at] > 0 && improving->stepping->left > 0; up++) {
        struct move move = {1, {at}, {rate_next(moved, improving->rates[at], improving->level, up)}};
        if (move.rate[0] < 0)
            continue;
        if (!pairs)
            move_try(improving, move);
        move.count = 2;
        for (size_t i = 0; i < improving->plot->choices.count && pairs; i++) {
            if (i == at || !(improving->exact[i] > 0) ||
                (choices[i].product != moved->product && choices[i].application != moved->application))
                continue;
            move.choice[1] = i;
            move.rate[1] = rate_next(&choices[i], improving->rates[i], improving->level, !up);
            if (move.rate[1] >= 0)
                move_try(improving, move);
        }
    }
}

/* Makes whichever move does most for the goals, until none does. Pairs are tried where single steps leave a
 * demand passed or too much lost. Only what the exact answer uses takes part. */
static void rates_improve(struct stepping *stepping, size_t kind, double *rates, size_t level)
{
    enum { ROUNDS = 60 };
    const struct plot *plot = &stepping->kinds->items[kind].plot;
    struct improving improving = {.stepping = stepping,
                                  .plot = plot,
                                  .exact = stepping->exact[kind],
                                  .rates = rates,
                                  .level = level,
                                  .size = (uint64_t)plot->choices.count * (plot->wants.count + 1),
                                  .best = plot_score(stepping->problem, plot, rates, stepping->priced)};
    for (size_t i = 0; i < plot->demands.count; i++)
        improving.size += plot->demands.items[i].parts.count;
    for (size_t round = 0; round < ROUNDS && stepping->left > 0; round++) {
        improving.found.count = 0;
        for (size_t i = 0; i < plot->choices.count; i++)
            moves_try(&improving, i, false);
        bool stuck = improving.found.count == 0 && !steps_fit(stepping, kind, rates);
        for (size_t i = 0; i < plot->choices.count && stuck; i++)
            moves_try(&improving, i, true);
        if (improving.found.count == 0)
            return;
        move_make(rates, &improving.found);
    }
}

/* The coarsest steps that cost little enough; of steps that all cost more, those that cost least; the plan's
 * own, whatever they cost. False where no steps keep the demands. */
static bool kind_step(struct stepping *stepping, size_t kind)
{
    struct plot_kind *stepped = &stepping->kinds->items[kind];
    const struct plot *plot = &stepped->plot;
    size_t levels = 0, count = plot->choices.count;
    double *rates = ARENA_ARRAY(stepping->problem->arena, count, double), least = INFINITY;
    for (size_t i = 0; i < count; i++)
        if (stepping->exact[kind][i] > 0)
            levels = plot->choices.items[i].step_count > levels ? plot->choices.items[i].step_count : levels;
    for (size_t level = 0; level < levels && exceeds(least, stepping->problem->within); level++) {
        /* From the highest rate in steps that is not above the exact one: a multiple, or an end of the label.
         */
        for (size_t i = 0; i < count; i++) {
            const struct choice *choice = &plot->choices.items[i];
            rates[i] = stepping->exact[kind][i];
            if (!choice->step_count || !(rates[i] > 0))
                continue;
            double step = choice_step(choice, level);
            rates[i] = exceeds(choice->high, rates[i])
                           ? fmax(floor(rates[i] / step * (1 + COMPARE_TOLERANCE)) * step, choice->low)
                           : choice->high;
        }
        rates_improve(stepping, kind, rates, level);
        double cost = steps_cost(stepping, kind, rates);
        if (plot_breach(plot, rates) > 0 || !(cost < least))
            continue;
        least = cost;
        memcpy(stepped->rates, rates, count * sizeof *rates);
    }
    return levels == 0 || least < INFINITY;
}

/* ---- several plots ---- */

/* What a product gets in one application, on all plots that get some. */
struct share_of_application {
    uint32_t product, application;
};

static double *rate_of(struct plot_kind *kind, struct share_of_application of)
{
    for (size_t i = 0; i < kind->plot.choices.count; i++) {
        const struct choice *choice = &kind->plot.choices.items[i];
        if (choice->product == of.product && choice->application == of.application && kind->rates[i] > 0)
            return &kind->rates[i];
    }
    return NULL;
}

/* One rate on all of them, of those that some plot has: the one that costs least, if it costs little enough
 * everywhere. */
static void rate_unite(const struct stepping *stepping, struct share_of_application of)
{
    struct plot_kinds *kinds = stepping->kinds;
    double *kept = ARENA_ARRAY(stepping->problem->arena, kinds->count, double);
    double least = INFINITY, united = 0;
    bool differ = false;
    for (size_t i = 0; i < kinds->count; i++) {
        const double *rate = rate_of(&kinds->items[i], of);
        kept[i] = rate ? *rate : 0;
        for (size_t j = 0; j < i; j++)
            differ = differ || (kept[i] > 0 && kept[j] > 0 && differs(kept[i], kept[j]));
    }
    for (size_t i = 0; i <= kinds->count && differ; i++) {
        double rate = i < kinds->count ? kept[i] : united, cost = 0;
        bool fits = rate > 0;
        for (size_t j = 0; j < kinds->count && fits; j++) {
            double *here = kept[j] > 0 ? rate_of(&kinds->items[j], of) : NULL;
            if (!here)
                continue;
            *here = rate;
            fits = steps_fit(stepping, j, kinds->items[j].rates);
            cost = fmax(cost, steps_cost(stepping, j, kinds->items[j].rates));
        }
        if (fits && cost < least) {
            least = cost;
            united = rate;
        }
        for (size_t j = 0; j < kinds->count && (i < kinds->count || !fits); j++) {
            double *here = kept[j] > 0 ? rate_of(&kinds->items[j], of) : NULL;
            if (here)
                *here = kept[j];
        }
    }
}

static double product_mass_used(const struct stepping *stepping, uint32_t product)
{
    double mass = 0;
    for (size_t i = 0; i < stepping->kinds->count; i++) {
        const struct plot_kind *kind = &stepping->kinds->items[i];
        for (size_t j = 0; j < kind->plot.choices.count; j++)
            if (kind->plot.choices.items[j].product == product)
                mass += kind->rates[j] * kind->plot.area_m2;
    }
    return mass;
}

/* Lowers the product's rates, a step on all plots at a time, where that costs least, until no more than
 * `most` is used; nothing changes where that costs too much (`within`: as ever) or passes a demand. */
static bool product_lower(const struct stepping *stepping, uint32_t product, double most, bool within)
{
    struct plot_kinds *kinds = stepping->kinds;
    struct arena *arena = stepping->problem->arena;
    double **kept = ARENA_ARRAY(arena, kinds->count, double *);
    for (size_t i = 0; i < kinds->count; i++) {
        size_t size = kinds->items[i].plot.choices.count;
        kept[i] = ARENA_ARRAY(arena, size, double);
        memcpy(kept[i], kinds->items[i].rates, size * sizeof **kept);
    }
    while (exceeds(product_mass_used(stepping, product), most)) {
        double least = INFINITY;
        uint32_t found = NO_COLUMN;
        for (uint32_t at = 0; at <= stepping->problem->application_count; at++) {
            bool last = at == stepping->problem->application_count, fits = true, any = false;
            struct share_of_application of = {product, last ? found : at};
            double cost = 0;
            if (last && found == NO_COLUMN)
                break;
            for (size_t i = 0; i < kinds->count && fits; i++) {
                struct plot_kind *kind = &kinds->items[i];
                double *rate = rate_of(kind, of);
                if (!rate)
                    continue;
                double before = *rate;
                const struct choice *choice = &kind->plot.choices.items[rate - kind->rates];
                double next = choice->step_count ? rate_next(choice, before, choice->step_count, false) : -1;
                any = true;
                *rate = fmax(next, 0);
                fits = next > 0 && (within ? steps_fit(stepping, i, kind->rates)
                                           : plot_breach(&kind->plot, kind->rates) == 0);
                cost = fmax(cost, steps_cost(stepping, i, kind->rates));
                if (!last)
                    *rate = before;
            }
            if (!last && any && fits && cost < least) {
                least = cost;
                found = at;
            }
        }
        if (found == NO_COLUMN) {
            for (size_t i = 0; i < kinds->count; i++)
                memcpy(kinds->items[i].rates, kept[i], kinds->items[i].plot.choices.count * sizeof **kept);
            return false;
        }
    }
    return true;
}

/* A last pack of which less than this is used is bought for little (common practice, no source). */
static const double LITTLE_OF_A_PACK = 0.25;

/* ---- all of it ---- */

/* The kind with only what its rates use: nothing else takes a step, and most of a question is never used. */
static struct plot_kind kind_used(const struct problem *problem, const struct plot_kind *kind)
{
    struct arena *arena = problem->arena;
    const struct plot *plot = &kind->plot;
    struct plot_kind used = {.plot = {.area_m2 = plot->area_m2}, .plots = kind->plots};
    uint32_t *place = ARENA_ARRAY(arena, plot->choices.count, uint32_t);
    used.rates = ARENA_ARRAY(arena, plot->choices.count, double);
    used.plot.wants.items = plot->wants.items;
    used.plot.wants.count = plot->wants.count;
    for (size_t i = 0; i < plot->choices.count; i++) {
        place[i] = kind->rates[i] > 0 ? (uint32_t)used.plot.choices.count : NO_COLUMN;
        if (place[i] == NO_COLUMN)
            continue;
        used.rates[place[i]] = kind->rates[i];
        VECTOR_PUSH(arena, &used.plot.choices, plot->choices.items[i]);
    }
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        struct demand kept = {demand->kind, demand->cause, demand->bound, demand->other_bound, .parts = {0}};
        for (size_t j = 0; j < demand->parts.count; j++) {
            struct demand_part part = demand->parts.items[j];
            if (place[part.choice] == NO_COLUMN)
                continue;
            part.choice = place[part.choice];
            VECTOR_PUSH(arena, &kept.parts, part);
        }
        if (kept.parts.count)
            VECTOR_PUSH(arena, &used.plot.demands, kept);
    }
    return used;
}

/* Of the work that the problem may cost. */
enum { STEP_PART = 2 };

/* Where the packs that were chosen cannot hold what steps take, the rates stay as they were. */
void kinds_step(const struct problem *problem, struct plot_kinds *kinds, struct problem_answer *answer)
{
    struct arena *arena = problem->arena;
    answer->spared = ARENA_ARRAY(arena, problem->products.count, double);
    for (uint32_t product = 0; product < problem->products.count; product++)
        answer->spared[product] = 0;
    struct arena_mark mark = arena_mark(arena);
    uint64_t part = problem_work(problem) / STEP_PART * TURNS_A_STEP,
             most = part < STEP_WORK ? part : STEP_WORK;
    struct plot_kinds used = {.items = ARENA_ARRAY(arena, kinds->count, struct plot_kind),
                              .count = kinds->count};
    struct stepping stepping = {.problem = problem,
                                .kinds = &used,
                                .priced = answer->priced,
                                .exact = ARENA_ARRAY(arena, kinds->count, double *),
                                .left = most};
    bool stepped = true, hold = true;
    for (size_t i = 0; i < kinds->count; i++) {
        struct plot_kind *kind = &used.items[i];
        *kind = kind_used(problem, &kinds->items[i]);
        stepping.exact[i] = kind->rates;
        kind->rates = ARENA_ARRAY(arena, kind->plot.choices.count, double);
        for (size_t j = 0; j < kind->plot.choices.count; j++)
            kind->rates[j] = stepping.exact[i][j];
        stepped = kind_step(&stepping, i) && stepped;
    }
    for (uint32_t product = 0; product < problem->products.count && kinds->count > 1; product++)
        for (uint32_t at = 0; at < problem->application_count; at++)
            rate_unite(&stepping, (struct share_of_application){product, at});
    for (uint32_t at = 0; at < problem->products.count; at++) {
        const struct problem_product *product = &problem->products.items[at];

        /* Whether the packs that were chosen hold what the steps take, lowered where they must be. */
        double held = 0;
        for (size_t i = 0; i < product->packs.count && answer->packs; i++)
            held += answer->packs[at][i] * product->packs.items[i].mass;
        if (answer->packs)
            hold = product_lower(&stepping, at, held, false) && hold;
        if (answer->packs || !product->alone)
            continue;

        /* One pack less, where little of the last one is used and that is one less to buy. */
        double pack = product->packs.items[0].mass, mass = product_mass_used(&stepping, at);
        double fewer = (ceil(mass / pack * (1 - COMPARE_TOLERANCE)) - 1) * pack;
        double last = mass - fewer; /* what is used of it */
        if (fewer > 0 && last > 0 && last <= pack * LITTLE_OF_A_PACK && last <= mass * problem->within &&
            product_lower(&stepping, at, fewer, true))
            answer->spared[at] = mass;
    }
    answer->stepped = stepped && hold;
    arena_work(arena, (most - stepping.left) / TURNS_A_STEP);
    for (size_t i = 0; i < kinds->count && hold; i++)
        for (size_t j = 0, at = 0; j < kinds->items[i].plot.choices.count; j++)
            if (kinds->items[i].rates[j] > 0)
                kinds->items[i].rates[j] = used.items[i].rates[at++];
    arena_rewind(arena, mark);
}
