/* A question's answer in the plan's terms: amounts of the season's occurrences, what each zone ends short of,
 * what is bought, or which statements clash. */
#include "compiler/model/tolerance.h"
#include "compiler/solve/solving.h"

/* ---- amounts ---- */

/* Occurrences of one treatment share their list until one of them gets its own. */
void amounts_clear(struct season *season)
{
    for (size_t i = 0; i < season->occurrences.count; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        struct amount_list kept = {0};
        if (!occurrence->treatment->open)
            continue;
        for (size_t j = 0; j < occurrence->amounts.count; j++)
            if (occurrence->amounts.items[j].rate > 0)
                VECTOR_PUSH(season->arena, &kept, occurrence->amounts.items[j]);
        occurrence->amounts = kept;
    }
}

/* ---- zones ---- */

/* Of the work that a problem may cost, besides: what is said of why is worth less than the rates. */
enum { EASING_PART = 3 };

/* Rates are kg/m2 of the product, all figures of a nutrient kg/m2 of its element. What eases each zone that
 * ends short is found as well: zones that are one and the same question are tried once. */
static void zones_read(const struct question *question, const struct problem_answer *answer,
                       struct rates_answer *made)
{
    made->zone_count = question->problem->plots.count;
    made->zones = ARENA_ARRAY(question->arena, made->zone_count, struct zone_choice);
    const uint32_t *alike = problem_alike(question->problem);
    uint64_t work = problem_work(question->problem) / EASING_PART;
    size_t left = 0; /* that are to be tried */
    for (uint32_t at = 0; at < made->zone_count; at++) {
        const struct plot *plot = &question->problem->plots.items[at];
        const struct plot_place *place = &question->places.items[at];
        struct zone_choice *zone = &made->zones[at];
        *zone = (struct zone_choice){
            .zone = place->zone, .wants = place->wants.items, .want_count = place->wants.count};
        for (size_t i = 0; i < zone->want_count; i++) {
            struct wanted *wanted = &zone->wants[i];
            for (size_t j = 0; j < plot->choices.count; j++)
                wanted->chosen +=
                    answer->plots[at].rates[j] *
                    choice_product(question, &plot->choices.items[j])->content[wanted->nutrient->nutrient];
            wanted->missing = answer->plots[at].shortfall[i];
            wanted->exact_missing = answer->plots[at].exact_shortfall[i];
            wanted->exact_excess = wanted->unasked ? 0 : answer->plots[at].exact_excess[i];
            wanted->excess = wanted->unasked ? wanted->chosen : answer->plots[at].excess[i];
            if (!wanted->offered || !(wanted->need > 0))
                continue;
            zone->worst = fmax(zone->worst, wanted->missing / wanted->need);
            zone->exact_worst = fmax(zone->exact_worst, wanted->exact_missing / wanted->need);
        }
        left += alike[at] == at && zone->exact_worst > COMPARE_TOLERANCE;
    }

    /* The first of zones that are alike comes before the others, which take what was found. */
    for (uint32_t at = 0; at < made->zone_count; at++) {
        struct zone_choice *zone = &made->zones[at], *like = &made->zones[alike[at]];
        if (zone->exact_worst <= COMPARE_TOLERANCE)
            continue;
        if (zone == like) {
            easings_find(question, at, work / left, zone);
            continue;
        }
        zone->followed = like->followed;
        for (size_t i = 0; i < like->easings.count; i++) {
            struct easing easing = like->easings.items[i];
            easing.zone = zone->zone;
            VECTOR_PUSH(question->arena, &zone->easings, easing);
        }
    }
}

/* ---- what is bought ---- */

/* The mass of each product for all zones; its cost by the packs chosen, or else by the cheapest kilogram. */
static void bought_read(const struct question *question, const struct problem_answer *answer,
                        struct rates_answer *made)
{
    const struct problem *problem = question->problem;
    for (uint32_t product = 0; product < problem->products.count; product++) {
        struct bought bought = {.product = question->products[product]};
        double cheapest = NAN, packs = 0;
        for (size_t i = 0; i < problem->plots.count; i++)
            for (size_t j = 0; j < problem->plots.items[i].choices.count; j++)
                if (problem->plots.items[i].choices.items[j].product == product)
                    bought.mass += answer->plots[i].rates[j] * problem->plots.items[i].area_m2;
        bought.packs = answer->packs ? answer->packs[product] : NULL;
        bought.spared = answer->spared ? answer->spared[product] : 0;
        for (size_t i = 0; i < problem->products.items[product].packs.count; i++) {
            const struct problem_pack *pack = &problem->products.items[product].packs.items[i];
            if (bought.packs)
                packs += bought.packs[i] ? bought.packs[i] * pack->price : 0;
            else if (!isnan(pack->price) && !(pack->price / pack->mass >= cheapest))
                cheapest = pack->price / pack->mass;
        }
        bought.cost = bought.packs ? packs : cheapest * bought.mass;
        if (bought.mass > 0)
            VECTOR_PUSH(question->arena, &made->bought, bought);
    }
}

/* ---- all of it ---- */

/* The answer goes into the season as amounts, and into the solution as what it means. */
struct rates_answer *choice_make(struct season *season, struct solution *solution, struct question *question)
{
    /* Of a product in several sizes, in the shed, or in other work too, as many packs may be bought with a
     * pack less here. */
    for (size_t i = 0; i < question->problem->products.count; i++) {
        struct problem_product *entry = &question->problem->products.items[i];
        entry->alone = entry->packs.count == 1 && !question->products[i]->stocked;
        for (size_t j = 0; j < season->occurrences.count && entry->alone; j++) {
            const struct occurrence *occurrence = &season->occurrences.items[j];
            bool takes = false, here = occurrence->done || occurrence->skipped;
            for (size_t k = 0; k < occurrence->treatment->dressings.count && !takes; k++)
                takes = occurrence->treatment->dressings.items[k].product == question->products[i];
            for (size_t k = 0; k < question->slots.count && takes && !here; k++)
                here = question->slots.items[k].occurrence == occurrence;
            entry->alone = !takes || here;
        }
    }
    struct problem_answer answer = problem_solve(question->problem);
    struct rates_answer made = {.solved = answer.outcome == LP_SOLVED,
                                .proven = answer.proven,
                                .priced = answer.priced,
                                .stepped = answer.stepped,
                                .least_worst = answer.least_worst};
    for (size_t i = 0; i < question->slots.count; i++)
        VECTOR_PUSH(season->arena, &made.slots, question->slots.items[i]);
    if (made.solved) {
        for (int i = 0; i < GOAL_COUNT; i++)
            made.goals[i] = answer.goals[i];
        for (int i = 0; i < GOAL_COUNT; i++)
            made.exact_goals[i] = answer.exact_goals[i];

        /* The rates above 0, application by application. Each product was given an open dressing there when
         * the correction or match was read. */
        for (uint32_t at = 0; at < question->slots.count; at++)
            for (size_t i = 0; i < question->problem->plots.count; i++)
                for (size_t j = 0; j < question->problem->plots.items[i].choices.count; j++) {
                    struct occurrence *occurrence = question->slots.items[at].occurrence;
                    const struct choice *choice = &question->problem->plots.items[i].choices.items[j];
                    const struct dressing *open = NULL;
                    double rate = answer.plots[i].rates[j];
                    if (choice->application != at || !(rate > 0))
                        continue;
                    for (size_t k = 0; k < occurrence->treatment->dressings.count && !open; k++) {
                        const struct dressing *dressing = &occurrence->treatment->dressings.items[k];
                        if (dressing->open && dressing->product == choice_product(question, choice))
                            open = dressing;
                    }
                    if (!open)
                        continue;
                    struct amount amount = {.dressing = open,
                                            .product = open->product,
                                            .zone = question->places.items[i].zone,
                                            .volume = product_by_volume(open->product),
                                            .place = open->place};
                    amount.rate = product_measure(open->product, rate, false, amount.volume);
                    amount.total = amount.rate * amount.zone->area_m2;
                    amount_finish(season, &amount);
                    VECTOR_PUSH(season->arena, &occurrence->amounts, amount);
                }
        zones_read(question, &answer, &made);
        bought_read(question, &answer, &made);
    } else {
        contradictions_find(question, &made);
    }
    VECTOR_PUSH(season->arena, &solution->choices, made);
    return &solution->choices.items[solution->choices.count - 1];
}
