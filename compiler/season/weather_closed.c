/* Days that the weather closes: to products by heat and cold, to treatments by what they wait for. What
 * limits say of the weather goes with their other closed days, in closed_days.c. */
#include "compiler/season/dating.h"

#include "compiler/model/symbol.h"

/* ---- conditions and what they leave open ---- */

enum { WATCHED_COMPARED = 64 }; /* plans repeat what they say nearby */

/* The last few conditions are looked through for one that says the same: its days are found already. */
void bound_watch(struct dating_rules *rules, struct bound *bound, const struct weather_condition *condition)
{
    struct arena *arena = rules->season->arena;
    const struct watched *same = NULL;
    size_t count = rules->watched.count;
    if (!condition || !rules->season->climate)
        return;
    for (size_t i = 0; i < count && i < WATCHED_COMPARED && !same; i++) {
        const struct watched *watched = &rules->watched.items[count - 1 - i];
        const struct weather_condition *a = watched->condition, *b = condition;
        if (a->quantity == b->quantity && a->side == b->side && a->way == b->way && a->limit == b->limit &&
            a->from == b->from && a->to == b->to && a->base == b->base && a->cap == b->cap &&
            a->clipped == b->clipped && a->start == b->start && a->years == b->years && a->of == b->of)
            same = watched;
    }
    if (!same) {
        struct weather_condition *kept = ARENA_NEW(arena, struct weather_condition);
        *kept = *condition;
        struct watched watched = {.condition = kept,
                                  .watch = watch_make(arena, rules->season->climate, kept)};
        watched.open = watch_open(arena, watched.watch, rules->all);
        VECTOR_PUSH(arena, &rules->watched, watched);
        same = &rules->watched.items[count];
    }
    bound->watch = same->watch;
    bound->open = same->open;
}

/* ---- who is bound ---- */

/* Those that the plan allows in heat, from any `allow heat`, whether it names one, stands within one, or
 * is for all. */
struct taken taken_make(const struct model *model)
{
    struct taken taken = {.treatments = ARENA_ARRAY(model->arena, model->treatments.count, bool),
                          .products = ARENA_ARRAY(model->arena, model->products.count, bool)};
    for (size_t i = 0; i < model->allowances.count; i++)
        if (text_is(model->allowances.items[i]->symbol.name->text, "heat")) {
            const struct allowance *allowance = model->allowances.items[i];
            const struct treatment *treatment = (const struct treatment *)allowance->within;
            const struct product *product = NULL;
            if (!treatment && allowance->subject) {
                treatment =
                    (const struct treatment *)symbol_look(model, SYMBOL_TREATMENT, allowance->subject);
                product = (const struct product *)symbol_look(model, SYMBOL_PRODUCT, allowance->subject);
            }
            if (treatment)
                taken.treatments[treatment->index] = true;
            if (product)
                taken.products[product->index] = true;
            taken.all |= !allowance->within && !allowance->subject;
        }
    return taken;
}

static void watch_bind(struct dating *dating, uint32_t node, uint32_t cause)
{
    const struct bound *bound = season_bound(dating->season, cause);
    if (bound->watch)
        closure_add(dating, node, bound->open, cause);
}

/* Degree days close every day before their start; said as a window too it makes a shorter story. The last
 * comes first: see closure_add. */
void weather_make(struct dating *dating)
{
    const struct season *season = dating->season;
    for (size_t i = season->climate ? season->occurrences.count : 0; i-- > 0;) {
        const struct occurrence *occurrence = &season->occurrences.items[i];
        const struct treatment *treatment = occurrence->treatment;
        uint32_t node = dating->node_of[i];
        if (node == TIMETABLE_NONE || occurrence_fixed(dating, occurrence))
            continue;
        /* A product's heat and cold are its label's: no `allow` opens a day to it. Zones follow each other
         * with one product, so the last one tells what is repeated. */
        const struct dating_rules *rules = dating->rules;
        const struct product *last = NULL;
        for (size_t j = occurrence->amounts.count; j-- > 0;) {
            const struct product *product = occurrence->amounts.items[j].product;
            if (product == last)
                continue;
            last = product;
            watch_bind(dating, node, rules->cold_cause + product->index);
            watch_bind(dating, node, rules->heat_cause + product->index);
        }
        for (uint32_t j = (uint32_t)treatment->whens.count; j-- > 0;) {
            const struct weather_condition *condition = treatment->whens.items[j].weather;
            uint32_t cause = season->when_cause[treatment->index] + j;
            watch_bind(dating, node, cause);
            if (condition && condition->quantity == WEATHER_DEGREE_DAYS)
                window_add(dating, node, condition->start, DAY_NEVER, cause);
        }
    }
}

const struct bound *season_weather_bound(const struct season *season, const struct occurrence *occurrence,
                                         uint32_t *at)
{
    uint32_t node = season->node_of ? season->node_of[occurrence->index] : TIMETABLE_NONE;
    const struct timetable_closure *set = node == TIMETABLE_NONE ? NULL : season->nodes[node].closures;
    for (uint32_t i = 0; set; set = set->next, i++)
        if (i == *at) {
            ++*at;
            const struct bound *bound = season_bound(season, set->cause);
            if (bound->watch)
                return bound;
        }
    return NULL;
}
