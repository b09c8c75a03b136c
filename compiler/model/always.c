/* Sets of limits that bind plans which do not follow them: which do, and where something tighter of the plan
 * speaks already, so that one thing is not told twice. */
#include "compiler/model/always.h"

#include "compiler/model/allow.h"
#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"
#include "compiler/model/soil_test.h"
#include "compiler/model/symbol.h"

#include <math.h>

/* Months as 30 days: the two are compared, nothing is dated by it. */
static int days_about(struct duration time)
{
    return time.days + 30 * time.months;
}

/* Whether the plan's `own` limit asks at least as much as this. Of water a strip of any width does: laws
 * allow narrower ones than advice. What is only advice takes no place of what is more. */
static bool covers(const struct limit *own, const struct limit *limit)
{
    if (own->kind != limit->kind || (own->set->basis == BASIS_ADVICE && limit->set->basis != BASIS_ADVICE))
        return false;
    switch (limit->kind) {
    case LIMIT_PER_APPLICATION:
    case LIMIT_PER_YEAR:
    case LIMIT_PER_PERIOD: {
        enum nutrient spoken = own->nutrient->nutrient, limited = limit->nutrient->nutrient;
        bool of_it = spoken == limited || (spoken == NUTRIENT_N && limited == NUTRIENT_SOLUBLE_N);
        /* In force on any day, of any product: it says as much whatever conditions the other has. */
        bool unconditional = !own->in_window && !own->product_kind && own->means == MEANS_ANY &&
                             isnan(own->above) && isnan(own->unless_below) && isnan(own->unless_slow);
        return of_it && unconditional &&
               !exceeds(own->most * own->nutrient->element_per_unit,
                        limit->most * limit->nutrient->element_per_unit) &&
               days_about(own->time) >= days_about(limit->time);
    }
    case LIMIT_WAIT_BETWEEN: {
        bool along = class_equal(&own->first, &limit->first) && class_equal(&own->second, &limit->second);
        bool against = class_equal(&own->first, &limit->second) && class_equal(&own->second, &limit->first);
        return days_about(own->time) >= days_about(limit->time) &&
               ((along && (!own->directed || limit->directed)) || (against && !own->directed));
    }
    case LIMIT_HEAT:
        return own->product_kind == limit->product_kind && own->nutrients.count == 0 &&
               !exceeds(own->hottest_k, limit->hottest_k);
    case LIMIT_WEATHER:
        return own->weather->quantity == limit->weather->quantity && own->weather->way == limit->weather->way;
    case LIMIT_WATER: {
        bool n = own->nutrients.count == 0, p = n; /* what harms water, and the strip keeps away */
        for (size_t i = 0; i < own->nutrients.count; i++) {
            n = n || own->nutrients.items[i]->nutrient == NUTRIENT_N;
            p = p || own->nutrients.items[i]->nutrient == NUTRIENT_P;
        }
        return n && p;
    }
    case LIMIT_WAIT:
        return own->nutrient->nutrient == limit->nutrient->nutrient &&
               days_about(own->time) >= days_about(limit->time);
    case LIMIT_PER_WINDOW:
    case LIMIT_CONTENT:
    case LIMIT_SLOW_SHARE:
    case LIMIT_FOLLOW:
    case LIMIT_ORDER:
    case LIMIT_CLOSED:
    case LIMIT_CLOSED_DAYS:
    case LIMIT_NEED:
    case LIMIT_DORMANT:
    case LIMIT_WEEKDAYS:
        return false;
    }
    return false;
}

/* A soil test that names a lime table takes its caps with it: of material as weighed, since no table says
 * that it means less. */
static void lime_cap_add(struct model *model, const struct lime_table *table)
{
    struct limit_set *set = ARENA_NEW(model->arena, struct limit_set);
    set->symbol = table->symbol;
    set->bound = set->of_lime_table = true;
    set->basis = BASIS_PRACTICE;
    set->source = table->cap_source;
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct soil_test *test = soil_test_with_ph(model->zones.items[i]);
        if (test && test->lime == table)
            VECTOR_PUSH(model->arena, &set->places, model->zones.items[i]);
    }
    if (!set->places.count)
        return;
    const struct limit cap = {
        .set = set, .place = table->cap_place, .above = NAN, .unless_below = NAN, .unless_slow = NAN};
    struct limit *most = ARENA_NEW(model->arena, struct limit);
    *most = cap;
    most->kind = LIMIT_PER_APPLICATION;
    most->nutrient = nutrient_trade_form(NUTRIENT_LIMING_MATERIAL);
    most->most = table->most_at_once;
    VECTOR_PUSH(model->arena, &model->limits, most);
    if (!duration_any(table->interval))
        return;
    struct limit *wait = ARENA_NEW(model->arena, struct limit);
    *wait = cap;
    wait->kind = LIMIT_WAIT_BETWEEN;
    wait->first.kind = wait->second.kind = name_intern(model->names, TEXT("lime"));
    wait->time = table->interval;
    VECTOR_PUSH(model->arena, &model->limits, wait);
}

/* A zone where a tighter limit of the plan speaks is spared, so that one thing is not reported twice. */
void always_settle(struct model *model)
{
    soil_tests_enter(model);
    for (size_t i = 0; i < model->lime_tables.count; i++)
        if (!isnan(model->lime_tables.items[i]->most_at_once) && !model->lime_tables.items[i]->symbol.broken)
            lime_cap_add(model, model->lime_tables.items[i]);
    for (size_t i = 0; i < model->limit_sets.count; i++) {
        const struct limit_set *set = model->limit_sets.items[i];
        if (!set->always || !set->symbol.name)
            continue;
        /* An entry of the plan with its name binds as it would: nobody lifts it without a word. */
        struct limit_set *holder = (struct limit_set *)symbol_look(model, SYMBOL_LIMIT_SET, set->symbol.name);
        holder->always = holder->bound = true;
    }
    for (size_t i = 0; i < model->limits.count; i++) {
        /* Limits are asked of their zones over and over. */
        struct limit_set *set = model->limits.items[i]->set;
        if (set->places.count && !set->placed) {
            set->placed = ARENA_ARRAY(model->arena, model->zones.count, bool);
            for (size_t j = 0; j < set->places.count; j++)
                set->placed[set->places.items[j]->index] = true;
        }
    }
    for (size_t i = 0; i < model->limits.count; i++) {
        struct limit *limit = model->limits.items[i];
        bool limited = limit->set->of_lime_table ||
                       (limit->set->always && !limit->set->followed_at.source && limit->set->bound);
        for (size_t j = 0; limited && j < model->limits.count; j++) {
            const struct limit *own = model->limits.items[j];
            bool speaks = own->set != limit->set && own->set->bound && !own->set->symbol.broken &&
                          (!own->set->always || own->set->followed_at.source);
            if (!speaks || !covers(own, limit))
                continue;
            if (!limit->spared)
                limit->spared = ARENA_ARRAY(model->arena, model->zones.count, bool);
            for (size_t z = 0; z < model->zones.count; z++)
                limit->spared[z] = limit->spared[z] || limit_names_zone(own, model->zones.items[z]);
        }
    }
}

void limits_idle(struct model *model)
{
    struct arena *scratch = arena_scratch(model->arena);
    struct arena_mark mark = arena_mark(scratch);
    struct name_list kinds = {0}; /* of all treatments, each once */
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        for (size_t j = 0; j < treatment->kinds.count; j++)
            if (!kind_among(kinds.items, kinds.count, treatment->kinds.items[j]))
                VECTOR_PUSH(scratch, &kinds, treatment->kinds.items[j]);
    }
    for (size_t i = 0; i < model->limits.count; i++) {
        struct limit *limit = model->limits.items[i];
        const struct treatment_class *classes[] = {&limit->first, &limit->second};
        bool between = limit->kind == LIMIT_WAIT_BETWEEN || limit->kind == LIMIT_FOLLOW;
        for (int side = 0; side < 2 && between; side++) {
            bool any = classes[side]->kind && kind_among(kinds.items, kinds.count, classes[side]->kind);
            for (size_t j = 0; j < model->products.count && !any; j++)
                any = product_in_class(model->products.items[j], classes[side]);
            limit->idle |= !any;
        }
    }
    arena_rewind(scratch, mark);
}

bool limit_names_zone(const struct limit *limit, const struct zone *zone)
{
    const struct grass *grass = zone->lawn->grass;
    bool named = !limit->set->placed || limit->set->placed[zone->index];
    bool grown = limit->grasses.count == 0;
    for (size_t i = 0; i < limit->grasses.count && !grown; i++)
        grown = limit->grasses.items[i] == grass;
    bool excepted = limit->but != BUT_NONE && grass && grass->warm_season == (limit->but == BUT_WARM);
    return named && grown && !excepted;
}

const struct allowance *limit_allowance(const struct model *model, const struct limit *limit,
                                        const struct symbol *const *about)
{
    for (size_t i = 0; limit->set->always && !limit_is_fixed(limit) && i < model->allowances.count; i++) {
        const struct allowance *allowance = model->allowances.items[i];
        if (limit->set->symbol.name && allowance->symbol.name == limit->set->symbol.name &&
            allowance_covers(allowance, about))
            return allowance;
    }
    return NULL;
}

bool allowance_of_set(const struct model *model, const struct allowance *allowance)
{
    for (size_t i = 0; i < model->limit_sets.count; i++)
        if (model->limit_sets.items[i]->always && model->limit_sets.items[i]->bound &&
            model->limit_sets.items[i]->symbol.name == allowance->symbol.name)
            return true;
    return false;
}

bool limit_dates(const struct model *model, const struct limit *limit)
{
    static const struct symbol *const nothing[] = {NULL};
    return !limit->idle && limit->set->bound && !limit->set->symbol.broken &&
           limit->set->basis != BASIS_ADVICE && !limit_allowance(model, limit, nothing);
}
