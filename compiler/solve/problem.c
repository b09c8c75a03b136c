/* The order of the goals, and plots that are one and the same question. Plots are solved one by one, since
 * nothing but packs and the count of products binds them together; packs take all of them at once. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/problem_lp.h"

#include <string.h>

/* ---- how much searching a problem is worth ---- */

enum { WORK_LEAST = 40000000, WORK_BY_CHOICE = 40000 };

uint64_t problem_work(const struct problem *problem)
{
    uint64_t choices = 0;
    for (size_t i = 0; i < problem->plots.count; i++)
        choices += problem->plots.items[i].choices.count;
    uint64_t work = WORK_LEAST + choices * WORK_BY_CHOICE;
    return problem->budget && problem->budget->whole < work ? problem->budget->whole : work;
}

void problem_allow(const struct problem *problem, uint64_t work)
{
    if (problem->budget)
        problem->budget->searches.last = problem->budget->searches.most =
            problem->budget->searches.spent + work;
}

bool problem_tired(const struct problem *problem)
{
    return problem->budget && problem->budget->searches.spent >= problem->budget->searches.most;
}

void work_share(const struct problem *problem, uint64_t work, size_t parts)
{
    problem_allow(problem, work / parts);
    if (!problem->budget)
        return;
    problem->budget->searches.last = problem->budget->searches.spent + work;
    problem->budget->before = problem->budget->searches.spent;
}

uint64_t work_rest(const struct problem *problem, uint64_t work)
{
    uint64_t took = problem->budget ? problem->budget->searches.spent - problem->budget->before : 0;
    return took < work ? work - took : 0;
}

/* ---- plots that are the same question ---- */

/* Whether two plots are one and the same question, area aside: to the last bit, so that one answer is right
 * for both. */
static bool plots_alike(const struct plot *a, const struct plot *b)
{
    bool alike = a->choices.count == b->choices.count && a->demands.count == b->demands.count &&
                 a->wants.count == b->wants.count;
    for (size_t i = 0; i < a->choices.count && alike; i++) {
        const struct choice *x = &a->choices.items[i], *y = &b->choices.items[i];
        alike = x->product == y->product && x->application == y->application && x->low == y->low &&
                x->high == y->high && x->low_cause == y->low_cause && x->high_cause == y->high_cause &&
                x->step_count == y->step_count;
        for (size_t j = 0; j < x->step_count && alike; j++)
            alike = x->steps[j] == y->steps[j];
    }
    for (size_t i = 0; i < a->demands.count && alike; i++) {
        const struct demand *x = &a->demands.items[i], *y = &b->demands.items[i];
        alike = x->kind == y->kind && x->cause == y->cause && x->bound == y->bound &&
                x->other_bound == y->other_bound && x->parts.count == y->parts.count;
        for (size_t j = 0; j < x->parts.count && alike; j++) {
            const struct demand_part *s = &x->parts.items[j], *t = &y->parts.items[j];
            alike = s->choice == t->choice && s->factor == t->factor && s->other == t->other;
        }
    }
    for (size_t i = 0; i < a->wants.count && alike; i++) {
        const struct want *x = &a->wants.items[i], *y = &b->wants.items[i];
        alike = x->nutrient == y->nutrient && x->amount == y->amount && x->most == y->most &&
                x->given == y->given && x->per_n == y->per_n && x->bare == y->bare;
    }
    return alike;
}

/* The first plot of each kind, its area that of all of them. */
static struct plot_kinds kinds_of(const struct problem *problem)
{
    struct plot_kinds kinds = {.of = ARENA_ARRAY(problem->arena, problem->plots.count, uint32_t)};
    kinds.items = ARENA_ARRAY(problem->arena, problem->plots.count, struct plot_kind);
    for (size_t i = 0; i < problem->plots.count; i++) {
        const struct plot *plot = &problem->plots.items[i];
        uint32_t at = 0;
        while (at < kinds.count && !plots_alike(&kinds.items[at].plot, plot))
            at++;
        if (at == kinds.count) {
            kinds.items[kinds.count].plot = *plot;
            kinds.items[kinds.count].plot.area_m2 = 0;
            kinds.items[kinds.count++].first = (uint32_t)i;
        }
        kinds.items[at].plot.area_m2 += plot->area_m2;
        kinds.items[at].plots++;
        kinds.of[i] = at;
    }
    return kinds;
}

const uint32_t *problem_alike(const struct problem *problem)
{
    struct plot_kinds kinds = kinds_of(problem);
    for (size_t i = 0; i < problem->plots.count; i++)
        kinds.of[i] = kinds.items[kinds.of[i]].first;
    return kinds.of;
}

/* ---- one by one ---- */

static void rates_read(const struct plot_columns *columns, const struct lp_answer *answer, double *rates)
{
    for (size_t i = 0; i < columns->plot->choices.count; i++)
        rates[i] = answer->columns[columns->rate[i]] * RATE_UNIT;
}

/* `most`: what each goal may come to (NULL: anything). Two more goals only make the answer the one and only.
 */
static struct programme *kind_programme(const struct problem *problem, const struct plot *plot,
                                        const bool *barred, const double *most, bool priced)
{
    struct programme *programme =
        programme_new(problem, &plot, 1, (struct variation){.barred = barred, .eased = NO_CAUSE});
    programme_goals(programme, GOAL_EXCESS);
    /* By the pack that is cheapest for its mass, or by mass. The plot's area is the same for all its rates,
     * and left out. */
    lp_goal(programme->lp, GOAL_COST);
    for (uint32_t i = 0; i < plot->choices.count; i++)
        lp_goal_term(programme->lp, GOAL_COST, programme->plots[0].rate[i],
                     product_price(&problem->products.items[plot->choices.items[i].product], priced));
    programme_goal_unique(programme, GOAL_COST + 1);
    programme_goal_corner(programme, GOAL_COST + 2);
    for (uint32_t goal = 0; goal < KIND_GOALS && most; goal++)
        lp_goal_most(programme->lp, goal, most[goal]);
    return programme;
}

/* An answer held to given goals keeps them to the last bit; a first one may use what rounding leaves. */
bool kind_solve(const struct problem *problem, struct plot_kind *kind, const bool *barred, const double *most,
                bool priced)
{
    double *rates = ARENA_ARRAY(problem->arena, kind->plot.choices.count, double);
    struct arena_mark mark = arena_mark(problem->arena);
    struct programme *programme = kind_programme(problem, &kind->plot, barred, most, priced);
    programme_guess(programme);
    struct lp_answer answer = most ? lp_solve(programme->lp) : lp_solve_rounded(programme->lp);
    kind->outcome = answer.outcome;
    kind->proven = answer.proven && answer.outcome != LP_UNDECIDED;
    if (!barred)
        kind->least_worst = answer.least;
    if (answer.outcome == LP_SOLVED) {
        rates_read(&programme->plots[0], &answer, rates);
        kind->rates = rates;
        for (int goal = 0; goal < KIND_GOALS; goal++)
            kind->goals[goal] = answer.goals[goal];
    }
    arena_rewind(problem->arena, mark);
    return kind->outcome == LP_SOLVED;
}

/* Where a first search ends early, or is defeated, rates found otherwise may be better than its own, or all
 * there are: raised from nothing, or from whatever keeps the demands. `kinds`: as many share what this may
 * cost. Rates at all are worth more than the questions after this one: a search for them has KEEP_LEAST. */
static void kind_anyhow(const struct problem *problem, struct plot_kind *kind, bool priced, size_t kinds)
{
    enum { GREEDY_PART = 6, KEEP_PART = 2, KEEP_LEAST = 5000000 }; /* parts of what the problem may cost */
    const struct plot *plot = &kind->plot;
    uint64_t work = problem_work(problem) / kinds, greedy = work / GREEDY_PART, keep = work / KEEP_PART;
    uint64_t left = arena_work_left(problem->arena) / KEEP_PART / kinds;
    double *raised = ARENA_ARRAY(problem->arena, plot->choices.count, double);
    bool searched = kind->outcome == LP_SOLVED;
    bool kept = plot_greedy(problem, plot, priced, greedy, raised);
    left = left < KEEP_LEAST ? left : KEEP_LEAST;
    keep = keep > left ? keep : left;

    /* Any rates at all that keep the demands, however they do by the goals: with one relaxation for each
     * division, and none of them compared, a search for these comes much further with its work. */
    if (!kept && kind->outcome == LP_UNDECIDED) {
        struct arena_mark mark = arena_mark(problem->arena);
        struct programme *programme = programme_new(problem, &plot, 1, UNCHANGED);
        programme_guess(programme);
        problem_allow(problem, keep);
        struct lp_answer answer = lp_solve_rounded(programme->lp);
        if (answer.outcome == LP_SOLVED)
            rates_read(&programme->plots[0], &answer, raised);
        arena_rewind(problem->arena, mark);
        if (answer.outcome == LP_SOLVED && plot_breach(plot, raised) == 0)
            kept = plot_greedy(problem, plot, priced, greedy, raised);
    }

    struct plot_score found = plot_score(problem, plot, raised, priced), best = {.breach = 0};
    memcpy(best.goals, kind->goals, sizeof best.goals);
    if (!kept || (searched && !score_better(&found, &best)))
        return;
    memcpy(kind->goals, found.goals, sizeof kind->goals);
    kind->rates = raised;
    kind->outcome = LP_SOLVED;
    kind->proven = false;
}

/* ---- tidying ---- */

/* Where applications exclude each other, equal answers differ in which of them a product takes, and nothing
 * that comes after settles it: a short search takes the earliest. */
enum { TIDY_LIMIT = 400, TIDY_PART = 6 };

/* Where applications exclude each other, a short search over each kind. The totals by product are settled:
 * what no kind uses need not be looked at. */
static void kinds_tidy(const struct problem *problem, struct plot_kinds *kinds, bool priced)
{
    uint64_t work = problem_work(problem) / TIDY_PART;
    bool *barred = ARENA_ARRAY(problem->arena, problem->products.count, bool);
    for (size_t i = 0; i < problem->products.count; i++)
        barred[i] = true;
    for (size_t i = 0; i < kinds->count; i++)
        for (size_t j = 0; j < kinds->items[i].plot.choices.count; j++)
            if (kinds->items[i].rates[j] > 0)
                barred[kinds->items[i].plot.choices.items[j].product] = false;
    for (size_t i = 0; i < kinds->count; i++) {
        struct plot_kind *kind = &kinds->items[i];
        bool excludes = false;
        for (size_t j = 0; j < kind->plot.demands.count && !excludes; j++)
            excludes = kind->plot.demands.items[j].kind == DEMAND_APART;
        work_share(problem, work, kinds->count - i);
        struct arena_mark mark = arena_mark(problem->arena);
        if (excludes) {
            struct programme *programme = kind_programme(problem, &kind->plot, barred, kind->goals, priced);
            lp_ranked(programme->lp, UINT32_MAX);
            lp_limit(programme->lp, TIDY_LIMIT);
            struct lp_answer answer = lp_solve(programme->lp);
            if (answer.outcome == LP_SOLVED && answer.proven)
                rates_read(&programme->plots[0], &answer, kind->rates);
        }
        arena_rewind(problem->arena, mark);
        work = work_rest(problem, work);
    }
}

/* ---- all at once ---- */

/* Each kind's own rates, and packs that cover them. Nothing is missing that need be, and the packs may be
 * dear: of each product the size is taken that covers its mass alone for the least. `goals`: of the programme
 * for all kinds. */
static void packs_round(const struct problem *problem, const struct plot_kinds *kinds,
                        struct problem_answer *answer, double goals[GOAL_COUNT])
{
    for (size_t i = 0; i < kinds->count; i++)
        for (int goal = 0; goal < GOAL_COST; goal++)
            goals[goal] += kinds->items[i].goals[goal];
    answer->packs = ARENA_ARRAY(problem->arena, problem->products.count, uint32_t *);
    for (uint32_t at = 0; at < problem->products.count; at++) {
        const struct problem_product *product = &problem->products.items[at];
        double mass = 0, least = INFINITY, packs = 0;
        size_t best = 0;
        for (size_t i = 0; i < kinds->count; i++)
            for (size_t j = 0; j < kinds->items[i].plot.choices.count; j++)
                if (kinds->items[i].plot.choices.items[j].product == at)
                    mass += kinds->items[i].rates[j] * kinds->items[i].plot.area_m2;
        answer->packs[at] = ARENA_ARRAY(problem->arena, product->packs.count, uint32_t);
        for (size_t i = 0; i < product->packs.count; i++) {
            const struct problem_pack *pack = &product->packs.items[i];
            double count = ceil(mass / pack->mass * (1 - COMPARE_TOLERANCE));
            double cost = count * (answer->priced ? pack->price : pack->mass);
            if (cost < least) {
                least = cost;
                best = i;
                packs = count;
            }
        }
        goals[GOAL_COST] += packs > 0 ? least : 0;
        goals[GOAL_PRODUCTS] += packs > 0;
        if (packs > 0)
            answer->packs[at][best] = (uint32_t)packs;
    }
    answer->goals[GOAL_COST] = goals[GOAL_COST];
}

/* All kinds in one programme: what is bought is bought for all of them. `work`: what the kinds one by one
 * left of theirs. Their own rates are to be beaten, or met by rates that are the one and only; where neither
 * happens, in time or for the arithmetic, they stand unproven. */
static void packs_solve(const struct problem *problem, struct plot_kinds *kinds, uint64_t work,
                        struct problem_answer *answer)
{
    const struct plot **plots = ARENA_ARRAY(problem->arena, kinds->count, const struct plot *);
    for (size_t i = 0; i < kinds->count; i++)
        plots[i] = &kinds->items[i].plot;
    struct programme *programme = programme_new(problem, plots, kinds->count, UNCHANGED);
    programme_goals(programme, GOAL_EXCESS);
    programme_goal_packs(programme, GOAL_COST, answer->priced);
    programme_goal_products(programme, GOAL_PRODUCTS);
    programme_goal_unique(programme, GOAL_COUNT);
    programme_goal_corner(programme, GOAL_COUNT + 1);
    programme_guess(programme);
    problem_allow(problem, problem_work(problem) + work);
    double beaten[GOAL_COUNT + 2] = {[GOAL_COUNT] = 1e30, 1e30}; /* what only tells equal answers apart */
    packs_round(problem, kinds, answer, beaten);
    lp_beat(programme->lp, beaten);
    struct lp_answer solved = lp_solve_rounded(programme->lp);
    answer->proven = answer->proven && solved.proven && solved.outcome == LP_SOLVED;
    if (solved.outcome != LP_SOLVED)
        return;
    for (size_t i = 0; i < kinds->count; i++)
        rates_read(&programme->plots[i], &solved, kinds->items[i].rates);
    answer->goals[GOAL_COST] = solved.goals[GOAL_COST];
    for (size_t i = 0; i < problem->products.count; i++) {
        for (size_t j = 0; j < problem->products.items[i].packs.count; j++)
            answer->packs[i][j] = (uint32_t)solved.columns[programme->packs[i][j]];
    }
}

/* ---- the answer ---- */

double want_at(const struct problem *problem, const struct plot *plot, const struct want *want,
               const double *rates, double *most)
{
    double wanted = want->bare;
    for (size_t i = 0; i < plot->choices.count && want->per_n > 0; i++)
        wanted += want->per_n * rates[i] *
                  problem->products.items[plot->choices.items[i].product].content[NUTRIENT_N];
    *most = want->per_n > 0 ? fmax(0, wanted) : want->most;
    return want->per_n > 0 ? fmax(0, wanted) : want->amount;
}

/* A plot's shortfall and excess are counted anew from its rates, with what is wanted at just these rates. */
static void plot_read(const struct problem *problem, const struct plot *plot, const double *rates,
                      double **shortfall, double **excess)
{
    *shortfall = ARENA_ARRAY(problem->arena, plot->wants.count, double);
    *excess = ARENA_ARRAY(problem->arena, plot->wants.count, double);
    for (size_t i = 0; i < plot->wants.count; i++) {
        const struct want *want = &plot->wants.items[i];
        bool offered;
        double most, wanted = want_at(problem, plot, want, rates, &most);
        double got = want_got(problem, plot, want, rates, &offered);
        (*shortfall)[i] = exceeds(wanted, got) ? wanted - got : 0;
        (*excess)[i] = exceeds(got, most) ? got - most : 0;
    }
}

/* Goals of all plots, by their kinds' rates; the cost only where it is not that of packs. */
static void goals_add(const struct problem *problem, const struct plot_kinds *kinds, bool priced,
                      double goals[GOAL_COUNT])
{
    bool *used = ARENA_ARRAY(problem->arena, problem->products.count, bool);
    for (size_t i = 0; i < kinds->count; i++) {
        const struct plot_kind *kind = &kinds->items[i];
        double own[KIND_GOALS];
        plot_goals(problem, &kind->plot, kind->rates, priced, own);
        for (int goal = 0; goal < GOAL_COST; goal++)
            goals[goal] += own[goal] * kind->plots;
        if (!problem->whole_packs)
            goals[GOAL_COST] += own[GOAL_COST] * RATE_UNIT * kind->plot.area_m2;
        for (size_t j = 0; j < kind->plot.choices.count; j++)
            used[kind->plot.choices.items[j].product] |= kind->rates[j] > 0;
    }
    for (size_t i = 0; i < problem->products.count; i++)
        goals[GOAL_PRODUCTS] += used[i];
}

/* Each plot gets the answer of its kind; goals of all plots add up. */
struct problem_answer problem_solve(const struct problem *problem)
{
    struct problem_answer answer = {.outcome = LP_SOLVED, .proven = true, .priced = true};
    struct plot_kinds kinds = kinds_of(problem);
    uint64_t work = problem_work(problem);
    for (size_t i = 0; i < problem->products.count; i++) {
        const struct problem_product *product = &problem->products.items[i];
        bool priced = false;
        for (size_t j = 0; j < product->packs.count; j++)
            priced = priced || !isnan(product->packs.items[j].price);
        answer.priced = answer.priced && priced;
    }

    /* What one kind leaves of its share is there for those after it. */
    for (size_t i = 0; i < kinds.count; i++) {
        struct plot_kind *kind = &kinds.items[i];
        work_share(problem, work, kinds.count - i);
        kind_solve(problem, kind, NULL, NULL, answer.priced);
        work = work_rest(problem, work);
        if (kind->outcome != LP_SOLVED || !kind->proven)
            kind_anyhow(problem, kind, answer.priced, kinds.count);
        answer.proven = answer.proven && kind->proven;
        answer.outcome = answer.outcome == LP_SOLVED ? kind->outcome : answer.outcome;
    }

    if (answer.outcome == LP_SOLVED && problem->whole_packs)
        packs_solve(problem, &kinds, work, &answer);
    else if (answer.outcome == LP_SOLVED) {
        kinds_fewest(problem, &kinds, &answer);
        kinds_tidy(problem, &kinds, answer.priced);
    }
    if (answer.outcome != LP_SOLVED)
        return answer;
    for (size_t i = 0; i < kinds.count; i++)
        plot_even(problem, &kinds.items[i].plot, kinds.items[i].rates);
    answer.exact_goals[GOAL_COST] = answer.goals[GOAL_COST];
    goals_add(problem, &kinds, answer.priced, answer.exact_goals);
    answer.plots = ARENA_ARRAY(problem->arena, problem->plots.count, struct plot_answer);
    for (size_t i = 0; i < problem->plots.count; i++) {
        const struct plot_kind *kind = &kinds.items[kinds.of[i]];
        plot_read(problem, &problem->plots.items[i], kind->rates, &answer.plots[i].exact_shortfall,
                  &answer.plots[i].exact_excess);
        answer.least_worst += kind->least_worst;
    }
    if (problem->within > 0)
        kinds_step(problem, &kinds, &answer);
    goals_add(problem, &kinds, answer.priced, answer.goals);
    for (size_t i = 0; i < problem->plots.count; i++) {
        answer.plots[i].rates = kinds.items[kinds.of[i]].rates;
        plot_read(problem, &problem->plots.items[i], answer.plots[i].rates, &answer.plots[i].shortfall,
                  &answer.plots[i].excess);
    }
    return answer;
}
