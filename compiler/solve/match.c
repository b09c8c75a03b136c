/* What a grade would supply, from other products: in an application within all limits, or as a question by
 * itself. */
#include "compiler/model/compare.h"
#include "compiler/solve/steps.h"

static const enum nutrient PARTS[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};

static double part_wanted(const struct match *match, int part)
{
    return match->rate * match->grade[part] * nutrient_trade_form(PARTS[part])->element_per_unit;
}

/* ---- in an application ---- */

static void match_want(struct question *question, uint32_t at, const struct match *match, int part)
{
    struct wanted wanted = {.zone = question->places.items[at].zone,
                            .nutrient = nutrient_trade_form(PARTS[part]),
                            .need = part_wanted(match, part),
                            .most = part_wanted(match, part),
                            .place = match->place};
    struct want want = {.nutrient = PARTS[part], .amount = wanted.need, .most = wanted.most};
    for (size_t i = 0; i < match->products.count; i++)
        wanted.offered = wanted.offered || product_supplies(match->products.items[i], PARTS[part]);
    VECTOR_PUSH(question->arena, &question->problem->plots.items[at].wants, want);
    VECTOR_PUSH(question->arena, &question->places.items[at].wants, wanted);
}

/* The nutrient that the amount is stated in is not passed: a match brings as much of it, not more. */
static void match_most(struct question *question, uint32_t at, const struct match *match, uint32_t cause)
{
    struct plot *plot = &question->problem->plots.items[at];
    struct demand demand =
        question_demand(DEMAND_MOST, cause, match->supply * match->nutrient->element_per_unit);
    for (uint32_t i = 0; i < plot->choices.count; i++) {
        double content =
            choice_product(question, &plot->choices.items[i])->content[match->nutrient->nutrient];
        if (content > 0)
            demand_part_add(question, &demand, i, content);
    }
    demand_keep(question, plot, &demand);
}

bool match_apply(struct season *season, struct solution *solution, const struct match *match,
                 struct occurrence *occurrence)
{
    struct question *question =
        question_new(season, solution->apart, match->products.items, match->products.count);
    question_apply(question, occurrence);
    question_plots(question, occurrence->zones.items, occurrence->zones.count);
    uint32_t cause = question_cause(
        question, (struct cause){.kind = CAUSE_MATCH, .place = match->rate_place, .match = match});
    for (uint32_t i = 0; i < question->problem->plots.count; i++) {
        for (int part = 0; part < 3; part++)
            match_want(question, i, match, part);
        match_most(question, i, match, cause);
    }
    struct choice_made *choice = choice_make(season, solution, question);
    choice->match = match;
    choice->occurrence = occurrence;
    return choice->solved;
}

/* ---- as a question ---- */

struct product_list {
    struct product **items;
    size_t count, capacity;
};

/* The match on 1 m2 from the products of the list, whatever limits and labels say. */
static struct question *match_question(struct season *season, const struct match *match,
                                       const struct product_list *list)
{
    struct question *question = question_new(season, false, list->items, list->count);
    struct plot plot = {.area_m2 = 1};
    struct demand most =
        question_demand(DEMAND_MOST, NO_CAUSE, match->supply * match->nutrient->element_per_unit);
    for (uint32_t i = 0; i < list->count; i++) {
        struct choice choice = {i, 0, 0, INFINITY, NO_CAUSE, NO_CAUSE};
        VECTOR_PUSH(season->arena, &plot.choices, choice);
        if (question->products[i]->content[match->nutrient->nutrient] > 0)
            demand_part_add(question, &most, i, question->products[i]->content[match->nutrient->nutrient]);
    }
    demand_keep(question, &plot, &most);
    for (int part = 0; part < 3; part++) {
        double amount = part_wanted(match, part);
        struct want want = {.nutrient = PARTS[part], .amount = amount, .most = amount};
        VECTOR_PUSH(season->arena, &plot.wants, want);
    }
    VECTOR_PUSH(season->arena, &question->problem->plots, plot);
    question->problem->application_count = 1;
    return question;
}

static double shortfall(struct season *season, const struct match *match, const struct product_list *list,
                        int part)
{
    struct question *question = match_question(season, match, list);
    struct problem_answer answer = problem_solve(question->problem);
    return answer.outcome == LP_SOLVED ? answer.plots[0].shortfall[part] : INFINITY;
}

static bool listed(const struct product_list *list, const struct product *product)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i] == product)
            return true;
    return false;
}

static double price_of(const struct product *product)
{
    double least = INFINITY;
    for (size_t i = 0; i < product->packs.count; i++) {
        const struct pack *pack = &product->packs.items[i];
        double price = pack->price / product_mass(product, pack->amount, pack->volume);
        least = price < least ? price : least;
    }
    return least;
}

/* The cheapest product of the plan that closes the gap beside those on the list. */
static void help_find(struct season *season, const struct match *match, const struct product_list *list,
                      int part, struct match_made *made)
{
    struct match_help help = {nutrient_trade_form(PARTS[part]), NULL};
    for (size_t i = 0; i < season->model->products.count; i++) {
        struct product *product = season->model->products.items[i];
        struct product_list with = {0};
        if (product->thing.broken || listed(list, product) || !product_supplies(product, PARTS[part]))
            continue;
        for (size_t j = 0; j < list->count; j++)
            VECTOR_PUSH(season->arena, &with, list->items[j]);
        VECTOR_PUSH(season->arena, &with, product);
        if (shortfall(season, match, &with, part) <= COMPARE_TOLERANCE * part_wanted(match, part) &&
            (!help.product || price_of(product) < price_of(help.product)))
            help.product = product;
    }
    VECTOR_PUSH(season->arena, &made->helps, help);
}

static enum label_side label_side(const struct product *product, double mass_rate)
{
    const struct product_label *label = &product->label;
    bool stated = !isnan(label->low) || !isnan(label->high);
    if (!stated || mass_rate == 0)
        return LABEL_SIDE_WITHIN;
    double rate = label->volume ? mass_rate / product->density : mass_rate;
    if (isnan(rate))
        return LABEL_SIDE_UNKNOWN;
    return exceeds(rate, label->high)  ? LABEL_SIDE_ABOVE
           : exceeds(label->low, rate) ? LABEL_SIDE_BELOW
                                       : LABEL_SIDE_WITHIN;
}

static void rates_read(const struct question *question, const struct problem_answer *answer,
                       struct match_made *made)
{
    const struct match *match = made->match;
    made->rates = ARENA_ARRAY(question->arena, match->products.count, double);
    made->sides = ARENA_ARRAY(question->arena, match->products.count, enum label_side);
    made->cost = answer->priced ? answer->goals[GOAL_COST] : NAN;
    for (size_t i = 0; i < match->products.count; i++) {
        for (size_t j = 0; j < match->products.count; j++)
            if (question->products[j] == match->products.items[i])
                made->rates[i] = answer->plots[0].rates[j];
        made->sides[i] = label_side(match->products.items[i], made->rates[i]);
        for (int part = 0; part < 3; part++)
            made->reached[part] += made->rates[i] * match->products.items[i]->content[PARTS[part]];
    }
}

void match_answer(struct season *season, struct solution *solution, const struct match *match)
{
    struct match_made made = {.match = match};
    struct product_list list = {match->products.items, match->products.count, match->products.count};
    struct question *question = match_question(season, match, &list);
    struct problem_answer answer = problem_solve(question->problem);
    made.solved = answer.outcome == LP_SOLVED;
    for (int part = 0; part < 3; part++)
        made.wanted[part] = part_wanted(match, part);
    if (made.solved)
        rates_read(question, &answer, &made);
    for (int part = 0; part < 3 && made.solved; part++)
        if (exceeds(made.wanted[part], made.reached[part]))
            help_find(season, match, &list, part, &made);
    VECTOR_PUSH(season->arena, &solution->matches, made);
}
