/* Rates that are given, against what a plot demands and wants: what the search, the spreading and the
 * rounding of rates all ask. Nothing of the linear programme is used here. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/problem_lp.h"

/* Of a sum and its bound; less than COMPARE_TOLERANCE, so that no check sees it. */
#define ROUNDING 1e-10

/* A sum may pass its bound by what its own rounding comes to. */
double plot_breach(const struct plot *plot, const double *rates)
{
    double breach = 0;
    for (size_t i = 0; i < plot->choices.count; i++) {
        const struct choice *choice = &plot->choices.items[i];
        breach += rates[i] > 0 && (exceeds(choice->low, rates[i]) || exceeds(rates[i], choice->high));
    }
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        bool sides[2] = {false, false};
        double used = 0, sum = 0, other = 0, size = fabs(demand->bound);
        for (size_t j = 0; j < demand->parts.count; j++) {
            const struct demand_part *part = &demand->parts.items[j];
            double rate = rates[part->choice];
            used += rate > 0;
            sides[part->factor > 0] |= rate > 0;
            sum += rate * part->factor;
            other += rate * part->other;
            size += fabs(rate * part->factor);
        }
        double over = sum - demand->bound;
        bool passed = over > ROUNDING * size;
        switch (demand->kind) {
        case DEMAND_MOST:
            breach += passed ? over / size : 0;
            break;
        case DEMAND_EITHER:
            breach += passed && exceeds(other, demand->other_bound) ? over / size : 0;
            break;
        case DEMAND_LEAST:
            breach += exceeds(demand->bound, sum) ? -over / size : 0;
            break;
        case DEMAND_NONE:
            breach += used;
            break;
        case DEMAND_TIMES:
            breach += fmax(0, used - demand->bound);
            break;
        case DEMAND_APART:
            breach += sides[0] && sides[1];
            break;
        }
    }
    return breach;
}

double product_price(const struct problem_product *product, bool priced)
{
    double price = priced ? INFINITY : 1;
    for (size_t i = 0; i < product->packs.count && priced; i++)
        if (product->packs.items[i].price / product->packs.items[i].mass < price)
            price = product->packs.items[i].price / product->packs.items[i].mass;
    return price;
}

double want_got(const struct problem *problem, const struct plot *plot, const struct want *want,
                const double *rates, bool *offered)
{
    double got = want->given;
    *offered = false;
    for (size_t i = 0; i < plot->choices.count; i++) {
        double content = problem->products.items[plot->choices.items[i].product].content[want->nutrient];
        *offered = *offered || content > 0;
        got += rates[i] * content;
    }
    return got;
}

struct want_shares want_shares(const struct problem *problem, const struct plot *plot, size_t at,
                               const double *rates)
{
    const struct want *want = &plot->wants.items[at];
    struct want_shares shares = {0, 0};
    bool offered;
    double most, wanted = want_at(problem, plot, want, rates, &most), unit = want_unit(want);
    double got = want_got(problem, plot, want, rates, &offered);
    if (offered)
        shares = (struct want_shares){exceeds(wanted, got) ? (wanted - got) / unit : 0,
                                      exceeds(got, most) ? (got - most) / unit : 0};
    return shares;
}

/* Of what no choice supplies nothing is missing that could be brought: such a want is in no goal. */
void plot_goals(const struct problem *problem, const struct plot *plot, const double *rates, bool priced,
                double goals[KIND_GOALS])
{
    for (int goal = 0; goal < KIND_GOALS; goal++)
        goals[goal] = 0;
    for (size_t i = 0; i < plot->wants.count; i++) {
        struct want_shares shares = want_shares(problem, plot, i, rates);
        goals[GOAL_WORST] = fmax(goals[GOAL_WORST], shares.missing);
        goals[GOAL_SHORT] += shares.missing;
        goals[GOAL_EXCESS] += shares.excess;
    }
    for (size_t i = 0; i < plot->choices.count; i++)
        if (rates[i] > 0)
            goals[GOAL_COST] +=
                rates[i] / RATE_UNIT *
                product_price(&problem->products.items[plot->choices.items[i].product], priced);
}

/* ---- comparing ---- */

struct plot_score plot_score(const struct problem *problem, const struct plot *plot, const double *rates,
                             bool priced)
{
    struct plot_score score = {.breach = plot_breach(plot, rates)};
    plot_goals(problem, plot, rates, priced, score.goals);
    for (size_t i = 0; i < plot->choices.count; i++)
        score.squares += rates[i] / RATE_UNIT * (rates[i] / RATE_UNIT);
    return score;
}

bool score_better(const struct plot_score *a, const struct plot_score *b)
{
    if (differs(a->breach, b->breach))
        return a->breach < b->breach;
    for (int goal = 0; goal < KIND_GOALS; goal++)
        if (fabs(a->goals[goal] - b->goals[goal]) > COMPARE_TOLERANCE * fmax(1, fabs(b->goals[goal])))
            return a->goals[goal] < b->goals[goal];
    return exceeds(b->squares, a->squares);
}

/* ---- an answer to begin with ---- */

/* A sum that the other rates pass by themselves leaves nothing. */
double choice_room(const struct plot *plot, const double *rates, uint32_t at)
{
    double room = plot->choices.items[at].high;
    for (size_t i = 0; i < plot->demands.count; i++) {
        const struct demand *demand = &plot->demands.items[i];
        double sum = 0, factor = 0;
        for (size_t j = 0; j < demand->parts.count && demand->kind == DEMAND_MOST; j++) {
            const struct demand_part *part = &demand->parts.items[j];
            sum += part->choice == at ? 0 : rates[part->choice] * part->factor;
            factor = part->choice == at ? part->factor : factor;
        }
        if (factor > 0)
            room = fmin(room, fmax(0, (demand->bound - sum) / factor));
    }
    return room;
}

/* Rates are raised one at a time: always the one, and to the figure, that does most for the goals; what an
 * `at least` demands counts before them. A round looks at each choice and want once. */
bool plot_greedy(const struct problem *problem, const struct plot *plot, bool priced, uint64_t allowed,
                 double *rates)
{
    enum { ROUNDS = 40 };
    const double *ceilings = plot_ceilings(problem, plot, UNCHANGED);
    struct plot_score best = plot_score(problem, plot, rates, priced);
    uint64_t size = (uint64_t)plot->choices.count * (plot->wants.count + 1), work = 0;
    for (size_t i = 0; i < plot->demands.count; i++)
        size += plot->demands.items[i].parts.count;
    for (size_t round = 0; round < ROUNDS; round++) {
        size_t found = plot->choices.count;
        double figure = 0;
        for (uint32_t i = 0; i < plot->choices.count && work <= allowed; i++) {
            const struct choice *choice = &plot->choices.items[i];
            const struct problem_product *product = &problem->products.items[choice->product];
            double before = rates[i], room = ceilings[i] > 0 ? choice_room(plot, rates, i) : 0;
            bool full = !(room > before) || exceeds(choice->low, room);
            for (size_t j = 0; j <= plot->wants.count && !full; j++) {
                double content = j < plot->wants.count ? product->content[plot->wants.items[j].nutrient] : 0;
                double most = 0, lack = 0;
                bool offered;
                rates[i] = before;
                if (j < plot->wants.count && !(content > 0))
                    continue;
                if (j < plot->wants.count)
                    lack = want_at(problem, plot, &plot->wants.items[j], rates, &most) -
                           want_got(problem, plot, &plot->wants.items[j], rates, &offered);
                rates[i] = j < plot->wants.count ? before + lack / content : fmin(room, ceilings[i]);
                rates[i] = fmin(fmax(rates[i], choice->low), room);
                struct plot_score score = plot_score(problem, plot, rates, priced);
                work += size / TURNS_A_STEP;
                if (rates[i] > before && score_better(&score, &best)) {
                    best = score;
                    found = i;
                    figure = rates[i];
                }
            }
            rates[i] = before;
        }
        if (found == plot->choices.count)
            break;
        rates[found] = figure;
    }
    arena_work(problem->arena, work);
    return best.breach == 0;
}
