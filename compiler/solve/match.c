/* What a grade would supply, from other products: in an application within all limits, or as a question by
 * itself. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/solving.h"

#include <stdlib.h>

static const enum nutrient PARTS[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};

static double part_wanted(const struct match *match, int part)
{
    return match->rate * match->grade[part] * nutrient_trade_form(PARTS[part])->element_per_unit;
}

/* ---- in an application ---- */

/* One time of an application. The nutrient that the amount is stated in is not passed: a match supplies as
 * much of it, not more. */
bool match_apply(struct season *season, struct solution *solution, const struct match *match,
                 struct occurrence *occurrence)
{
    struct question *question =
        question_new(season, solution->apart, match->products.items, match->products.count);
    question_apply(question, occurrence);
    question_plots(question, occurrence->zones.items, occurrence->zones.count);
    uint32_t cause = question_cause(
        question, (struct cause){.kind = CAUSE_MATCH, .place = match->rate_place, .match = match});
    for (uint32_t at = 0; at < question->problem->plots.count; at++) {
        struct plot *plot = &question->problem->plots.items[at];
        struct plot_place *place = &question->places.items[at];
        for (int part = 0; part < 3; part++) {
            double amount = part_wanted(match, part);
            struct wanted wanted = {.zone = place->zone,
                                    .nutrient = nutrient_trade_form(PARTS[part]),
                                    .need = amount,
                                    .most = amount,
                                    .place = match->place};
            struct want want = {.nutrient = PARTS[part], .amount = amount, .most = amount};
            for (size_t i = 0; i < match->products.count; i++)
                wanted.offered = wanted.offered || product_supplies(match->products.items[i], PARTS[part]);
            VECTOR_PUSH(question->arena, &plot->wants, want);
            VECTOR_PUSH(question->arena, &place->wants, wanted);
        }
        struct demand most =
            question_demand(DEMAND_MOST, cause, match->supply * match->nutrient->element_per_unit);
        for (uint32_t i = 0; i < plot->choices.count; i++) {
            const struct product *product = choice_product(question, &plot->choices.items[i]);
            if (product_supplies(product, match->nutrient->nutrient))
                demand_part_add(question, &most, i, product->content[match->nutrient->nutrient]);
        }
        demand_keep(question, plot, &most);
    }
    struct rates_answer *choice = choice_make(season, solution, question);
    choice->match = match;
    choice->occurrence = occurrence;
    return choice->solved;
}

/* ---- as a question ---- */

/* What is sought for 1 m2: so much of each part, from the products of the list. */
struct sought {
    const struct match *match;
    const struct product_list *list;
    double wanted[3];
    bool within; /* labels, and limits that bind every zone all year; otherwise whatever they say */
};

/* A limit that holds wherever and whenever the answer is used; advice bounds no rate. */
static bool limit_holds_everywhere(const struct limit *limit)
{
    return limit->set->bound && !limit->set->symbol.broken && limit->set->basis != BASIS_ADVICE &&
           !limit->set->places.count && !limit->grasses.count && limit->but == BUT_NONE &&
           !limit->in_window && isnan(limit->above) && isnan(limit->unless_below);
}

/* What the limit counts of each product, in all at most so much. Of what no product may hold, and of a share
 * that each must have by itself, nothing may come. */
static void limit_demand(struct question *question, struct plot *plot, const struct limit *limit)
{
    bool slow = limit->kind == LIMIT_SLOW_SHARE;
    bool content = limit->kind == LIMIT_CONTENT;
    double most = slow || content ? 0 : limit->most * limit->nutrient->element_per_unit;
    struct demand demand = question_demand(DEMAND_MOST, question_limit(question, limit), most);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        const struct product *product = question->products[i];
        double lacking =
            limit->least_share * product->content[NUTRIENT_N] - product->content[NUTRIENT_SLOW_N];
        double factor = content                        ? limit_concerns_content(limit, product)
                        : slow                         ? limit->each ? fmax(0, lacking) : lacking
                        : limit_counts(limit, product) ? product->content[limit->nutrient->nutrient]
                                                       : 0;
        if (factor != 0)
            demand_part_add(question, &demand, i, factor);
    }
    demand_keep(question, plot, &demand);
}

/* The whole question on a square metre: most of the stated nutrient, each part as far as can be, and within
 * labels and limits where `within` says so. */
static struct question *match_question(struct season *season, const struct sought *sought)
{
    const struct match *match = sought->match;
    struct question *question = question_new(season, false, sought->list->items, sought->list->count);
    struct plot plot = {.area_m2 = 1};
    struct demand most =
        question_demand(DEMAND_MOST, NO_CAUSE, match->supply * match->nutrient->element_per_unit);
    for (uint32_t i = 0; i < sought->list->count; i++) {
        const struct product *product = question->products[i];
        const struct product_label *label = &product->label;
        struct choice choice = {
            .product = i, .high = INFINITY, .low_cause = NO_CAUSE, .high_cause = NO_CAUSE};
        /* The label's rates; where they cannot be told by mass the product is left out. */
        if (sought->within && !(isnan(label->low) && isnan(label->high))) {
            double low = product_mass(product, label->low, label->volume),
                   high = product_mass(product, label->high, label->volume);
            choice.low = low > 0 ? low : 0;
            choice.high = high > 0 ? high : 0;
            choice.high_cause = question_label(question, product, CAUSE_LABEL_MOST);
            if (choice.low > 0)
                choice.low_cause = question_label(question, product, CAUSE_LABEL_LEAST);
        }
        VECTOR_PUSH(season->arena, &plot.choices, choice);
        if (product->content[match->nutrient->nutrient] > 0)
            demand_part_add(question, &most, i, product->content[match->nutrient->nutrient]);
    }
    demand_keep(question, &plot, &most);
    for (size_t i = 0; i < season->model->limits.count && sought->within; i++) {
        const struct limit *limit = season->model->limits.items[i];
        if (limit_holds_everywhere(limit) &&
            (limit->kind == LIMIT_PER_APPLICATION || limit->kind == LIMIT_SLOW_SHARE ||
             limit->kind == LIMIT_CONTENT))
            limit_demand(question, &plot, limit);
    }
    for (int part = 0; part < 3; part++) {
        struct want want = {PARTS[part], sought->wanted[part], sought->wanted[part], 0, 0, 0};
        VECTOR_PUSH(season->arena, &plot.wants, want);
    }
    VECTOR_PUSH(season->arena, &question->problem->plots, plot);
    question->problem->application_count = 1;
    return question;
}

/* The limit that lets a nutrient on only where a soil test shows a need of it. A match is no answer to a
 * need, so what it binds is not offered. */
static const struct limit *need_limit_of(const struct model *model, enum nutrient nutrient)
{
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        for (size_t j = 0; j < limit->nutrients.count && limit->kind == LIMIT_NEED; j++)
            if (limit->nutrients.items[j]->nutrient == nutrient && limit->set->bound &&
                !limit->set->symbol.broken)
                return limit;
    }
    return NULL;
}

struct candidate { /* a product that may close a gap */
    const struct product *product;
    double price;
};

static int by_price(const void *a, const void *b)
{
    const struct candidate *first = a, *second = b;
    if (first->price != second->price)
        return first->price < second->price ? -1 : 1;
    return (first->product->index > second->product->index) -
           (first->product->index < second->product->index);
}

/* Trials of all matches of a plan together; a match that finds none left gets no advice. */
enum { HELP_TRIALS = 4000 };

/* The cheapest product of the plan that closes the gap beside those on the list; none that a limit binds to a
 * need, which no match shows. */
static void help_find(struct season *season, struct solution *solution, const struct product_list *list,
                      int part, struct match_answer *made)
{
    const struct model *model = season->model;
    struct match_help help = {nutrient_trade_form(PARTS[part]), NULL, need_limit_of(model, PARTS[part])};
    struct product_list with = {ARENA_ARRAY(season->arena, list->count + 1, const struct product *),
                                list->count + 1, list->count + 1};
    struct sought sought = {.match = made->match, .list = &with};
    struct candidate *candidates = ARENA_ARRAY(season->arena, model->products.count, struct candidate);
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++)
        with.items[i] = list->items[i];
    for (int other = 0; other < 3; other++)
        sought.wanted[other] = made->wanted[other];
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        bool unfit = product->symbol.broken || !product_supplies(product, PARTS[part]);
        for (int other = 0; other < 3 && !unfit; other++) {
            const struct limit *limit = need_limit_of(model, PARTS[other]);
            unfit =
                limit && product_supplies(product, PARTS[other]) && limit_concerns_content(limit, product);
        }
        for (size_t j = 0; j < list->count; j++)
            unfit = unfit || list->items[j] == product;
        if (unfit)
            continue;
        candidates[count] = (struct candidate){product, INFINITY};
        for (size_t j = 0; j < product->packs.count; j++) {
            const struct pack *pack = &product->packs.items[j];
            double price = pack->price / product_mass(product, pack->amount, pack->volume);
            candidates[count].price = price < candidates[count].price ? price : candidates[count].price;
        }
        count++;
    }
    if (count)
        qsort(candidates, count, sizeof *candidates, by_price);
    for (size_t i = 0; i < count && !help.product; i++) {
        if (solution->help_trials++ >= HELP_TRIALS)
            return;
        with.items[list->count] = candidates[i].product;
        struct arena_mark mark = arena_mark(season->arena);
        struct problem_answer answer = problem_solve(match_question(season, &sought)->problem);
        if (answer.outcome == LP_SOLVED &&
            answer.plots[0].shortfall[part] <= COMPARE_TOLERANCE * made->wanted[part])
            help.product = candidates[i].product;
        arena_rewind(season->arena, mark);
    }
    VECTOR_PUSH(season->arena, &made->helps, help);
}

/* What comes of each part at the rates of the answer. */
static void parts_read(const struct question *question, const struct problem_answer *answer, double parts[3])
{
    for (int part = 0; part < 3; part++)
        parts[part] = 0;
    for (size_t i = 0; i < question->problem->products.count; i++)
        for (int part = 0; part < 3; part++)
            parts[part] += answer->plots[0].rates[i] * question->products[i]->content[PARTS[part]];
}

/* The greatest share of a part that is missing. */
static double worst_of(const struct sought *sought, const struct problem_answer *answer)
{
    double worst = 0;
    for (int part = 0; part < 3; part++)
        if (sought->wanted[part] > 0)
            worst = fmax(worst, answer->plots[0].shortfall[part] / sought->wanted[part]);
    return worst;
}

/* A label's least rate may want fewer and larger parts than the most of another leaves; so few are tried. */
enum { TIMES_TRIED = 4 };

/* The fewest applications of equal parts that supply all that the products can; 0: none that a year has room
 * for. `anyway`: what the products supply of each part at one time with no label in the way; a label's least
 * rate must not make it more. */
static uint32_t times_find(struct season *season, struct sought sought, const struct match_answer *made,
                           const double anyway[3])
{
    double least = ceil(1 / made->share - COMPARE_TOLERANCE);
    for (uint32_t i = 0; i < TIMES_TRIED && least + i <= OCCURRENCE_LIMIT; i++) {
        uint32_t times = (uint32_t)least + i;
        double parts[3];
        for (int part = 0; part < 3; part++)
            sought.wanted[part] = made->supplied[part] / times;
        struct question *question = match_question(season, &sought);
        struct problem_answer answer = problem_solve(question->problem);
        if (answer.outcome != LP_SOLVED || worst_of(&sought, &answer) > COMPARE_TOLERANCE)
            continue;
        bool no_more = true;
        parts_read(question, &answer, parts);
        for (int part = 0; part < 3; part++)
            no_more = no_more && !exceeds(parts[part] * times, anyway[part]);
        if (!no_more)
            continue;

        /* Whether a year bears so many at these rates, by the counts and sums of labels and limits. */
        const double *rates = answer.plots[0].rates;
        bool bears = true;
        for (size_t j = 0; j < question->problem->products.count && bears; j++) {
            const struct product *product = question->products[j];
            const struct product_label *label = &product->label;
            double most = product_mass(product, label->year_most, label->year_volume);
            bears = !(rates[j] > 0) ||
                    ((label->times_a_year <= 0 || times <= (uint32_t)label->times_a_year) &&
                     (isnan(label->year_most) || rates[j] * times <= most * (1 + COMPARE_TOLERANCE)));
        }
        for (size_t j = 0; j < season->model->limits.count && bears; j++) {
            const struct limit *limit = season->model->limits.items[j];
            if (limit->kind != LIMIT_PER_YEAR || !limit_holds_everywhere(limit))
                continue;
            double sum = 0;
            for (size_t k = 0; k < question->problem->products.count; k++)
                sum += rates[k] * question->products[k]->content[limit->nutrient->nutrient];
            bears = !exceeds(sum * times, limit->most * limit->nutrient->element_per_unit);
        }
        return bears ? times : 0;
    }
    return 0;
}

/* The largest share of what the products can supply that one application may bring: the least worst shortfall
 * within labels and limits says how much that is; then just that much is wanted. */
static void share_find(struct season *season, struct sought sought, struct match_answer *made)
{
    const struct match *match = made->match;
    for (int part = 0; part < 3; part++)
        sought.wanted[part] = made->supplied[part];
    struct question *question = match_question(season, &sought);
    struct problem_answer answer = problem_solve(question->problem);
    made->solved = answer.outcome == LP_SOLVED;
    if (!made->solved)
        return;
    double worst = worst_of(&sought, &answer);
    made->share = worst > COMPARE_TOLERANCE ? fmax(0, 1 - worst) : 1;
    for (int part = 0; part < 3; part++)
        sought.wanted[part] *= made->share;
    if (made->share < 1 && made->share > 0) {
        question = match_question(season, &sought);
        answer = problem_solve(question->problem);
        made->solved = answer.outcome == LP_SOLVED;
    }
    if (!made->solved)
        return;
    /* The problem has its products in order of name. */
    made->rates = ARENA_ARRAY(question->arena, match->products.count, double);
    made->cost = answer.priced ? answer.goals[GOAL_COST] : NAN;
    for (size_t i = 0; i < match->products.count; i++)
        for (size_t j = 0; j < match->products.count; j++)
            if (question->products[j] == match->products.items[i])
                made->rates[i] = answer.plots[0].rates[j];
    parts_read(question, &answer, made->reached);

    /* Labels and limits that the rates reach. */
    const struct plot *plot = &question->problem->plots.items[0];
    const double *rates = answer.plots[0].rates;
    for (size_t i = 0; i < plot->choices.count && made->share < 1; i++)
        if (plot->choices.items[i].high_cause != NO_CAUSE && !exceeds(plot->choices.items[i].high, rates[i]))
            VECTOR_PUSH(question->arena, &made->holding,
                        question->causes.items[plot->choices.items[i].high_cause]);
    for (size_t i = 0; i < plot->demands.count && made->share < 1; i++) {
        const struct demand *demand = &plot->demands.items[i];
        double sum = 0, parts = 0;
        for (size_t j = 0; j < demand->parts.count; j++) {
            double part = demand->parts.items[j].factor * rates[demand->parts.items[j].choice];
            sum += part;
            parts += fabs(part);
        }
        if (demand->cause != NO_CAUSE && parts > 0 &&
            sum >= demand->bound - COMPARE_TOLERANCE * fmax(demand->bound, parts))
            VECTOR_PUSH(question->arena, &made->holding, question->causes.items[demand->cause]);
    }
}

/* First without labels and limits, which says what the products could supply at all; then within them. */
void match_answer(struct season *season, struct solution *solution, const struct match *match)
{
    struct match_answer made = {.match = match, .share = 1, .times = 1};
    struct product_list list = {match->products.items, match->products.count, match->products.count};
    struct sought sought = {.match = match, .list = &list};
    for (int part = 0; part < 3; part++)
        made.wanted[part] = sought.wanted[part] = part_wanted(match, part);
    struct question *free = match_question(season, &sought);
    struct problem_answer answer = problem_solve(free->problem);
    made.solved = answer.outcome == LP_SOLVED;
    double anyway[3] = {0};
    if (made.solved) {
        parts_read(free, &answer, made.supplied);
        for (int part = 0; part < 3; part++)
            anyway[part] = fmax(made.supplied[part], made.wanted[part]);
        for (int part = 0; part < 3; part++)
            made.supplied[part] = fmin(made.supplied[part], made.wanted[part]);
        sought.within = true;
        share_find(season, sought, &made);
    }
    if (made.solved && made.share < 1)
        made.times = made.share > 0 ? times_find(season, sought, &made, anyway) : 0;
    for (int part = 0; part < 3 && made.solved; part++)
        if (exceeds(made.wanted[part], made.supplied[part]))
            help_find(season, solution, &list, part, &made);
    VECTOR_PUSH(season->arena, &solution->matches, made);
}
