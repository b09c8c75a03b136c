/* Rates and amounts: what is planned, and what records say was used. */
#include "compiler/season/dating.h"

bool product_by_volume(const struct product *product)
{
    bool by_label = product->label.volume || isnan(product->label.high);
    return product->form == FORM_LIQUID && product->density > 0 && by_label;
}

/* A liquid of known density comes out as people measure it: by volume, unless its label goes by mass. */
double dressing_rate(const struct dressing *dressing, bool *volume)
{
    const struct product *product = dressing->product;
    *volume = dressing->volume;
    if (!dressing->by_supply)
        return dressing->rate;
    double content = product->content[dressing->nutrient->nutrient];
    *volume = product_by_volume(product);
    if (!(content > 0))
        return NAN;
    double mass_rate = dressing->rate * dressing->nutrient->element_per_unit / content;
    return product_measure(product, mass_rate, false, *volume);
}

/* Where parts were done, the plan still has for the time what they left; what is beyond was never planned. */
double product_planned(const struct occurrence *occurrence, const struct product *product,
                       const struct zone *zone, bool volume)
{
    const struct dressing_list *dressings = occurrence->dressings;
    const struct treatment *treatment = occurrence->treatment;
    double total = 0;
    bool rest = occurrence->share == SHARE_REST;
    if (occurrence->share == SHARE_BEYOND ||
        !zone_among(rest ? occurrence->zones.items : treatment->zones.items,
                    rest ? occurrence->zones.count : treatment->zones.count, zone))
        return 0;
    for (size_t i = 0; i < dressings->count; i++) {
        bool rate_volume;
        double rate = dressing_rate(dressings->items[i], &rate_volume);
        if (dressings->items[i]->product == product)
            total += product_measure(product, rate, rate_volume, volume) * zone->area_m2;
    }
    return total;
}

bool amount_brings(const struct amount *amount, enum nutrient nutrient)
{
    bool open = amount->dressing && amount->dressing->open;
    return (open || amount->rate > 0) && product_supplies(amount->product, nutrient);
}

const double SUPPLIES_NOTHING[NUTRIENT_COUNT] = {0};

struct supplied_at {
    double mass_rate;
    const double *supplied; /* NULL: no amount of the product is known yet */
};

/* Most amounts of a product are at the rate of the last one, and share what it supplies. */
void amount_finish(struct season *season, struct amount *amount)
{
    const struct product *product = amount->product;
    if (!season->supplied)
        season->supplied = ARENA_ARRAY(season->arena, season->model->products.count, struct supplied_at);
    struct supplied_at *last = &season->supplied[product->index];
    amount->mass_rate = product_mass(product, amount->rate, amount->volume);
    amount->supplied = isnan(amount->mass_rate) ? SUPPLIES_NOTHING : last->supplied;
    if (isnan(amount->mass_rate) || (last->supplied && last->mass_rate == amount->mass_rate))
        return;
    double *supplied = ARENA_ARRAY(season->arena, NUTRIENT_COUNT, double);
    for (int i = 0; i < NUTRIENT_COUNT; i++)
        supplied[i] = amount->mass_rate * product->content[i];
    *last = (struct supplied_at){amount->mass_rate, supplied};
    amount->supplied = supplied;
}

double amount_rate_as(const struct amount *amount, bool volume)
{
    return product_measure(amount->product, amount->rate, amount->volume, volume);
}

/* What is planned is the same each time: the occurrences of a treatment share one list, and so do those that
 * records add, until amounts_record looks at them. */
void amounts_plan(struct season *season)
{
    const struct model *model = season->model;
    size_t total = 0;
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        const struct dressing_list *dressings = &season->dressings[treatment->index];
        size_t at_a_time = treatment_sound(treatment) ? (size_t)dressings->count * treatment->zones.count : 0;
        size_t times =
            season->first_of[i + 1] - season->first_of[i] + season->added_of[i + 1] - season->added_of[i];
        if (at_a_time * times > season->amount_room - total) {
            if (!season->crowded) {
                season->crowded = treatment;
                season->crowded_by_amounts = true;
            }
            continue;
        }
        total += at_a_time * times;
        struct amount_list list = {ARENA_ARRAY(season->arena, at_a_time, struct amount), 0,
                                   (uint32_t)at_a_time};
        for (size_t j = 0; j < dressings->count && at_a_time; j++) {
            /* An open rate is 0 till it is chosen, and the amount is there: dates are made as if it came. */
            const struct dressing *dressing = dressings->items[j];
            struct amount amount = {
                .dressing = dressing, .product = dressing->product, .place = dressing->place};
            if (!dressing->product || dressing->product->symbol.broken)
                continue;
            amount.rate = dressing->open ? 0 : dressing_rate(dressing, &amount.volume);
            for (size_t k = 0; k < treatment->zones.count && !isnan(amount.rate); k++) {
                amount.zone = treatment->zones.items[k];
                amount.total = amount.rate * amount.zone->area_m2;
                if (amount.zone->symbol.broken || !(amount.zone->area_m2 > 0))
                    continue;
                amount_finish(season, &amount);
                VECTOR_PUSH(season->arena, &list, amount);
            }
        }
        list.capacity = list.count; /* who adds to it makes a list of its own */
        for (uint32_t k = season->first_of[i]; k < season->first_of[i + 1]; k++)
            season->occurrences.items[k].amounts = list;
        for (uint32_t k = season->added_of[i]; k < season->added_of[i + 1]; k++)
            season->occurrences.items[k].amounts = list;
    }
}

/* Uses replace what was planned as a whole; a record without them went as planned. A part that says of zones
 * that they went as planned, and not how much, has what was planned for them. */
void amounts_record(struct season *season)
{
    struct arena *arena = season->arena;
    for (size_t i = 0; i < season->occurrences.count; i++) {
        struct occurrence *occurrence = &season->occurrences.items[i];
        const struct record *record = occurrence->record;
        if (occurrence->share == SHARE_REST) {
            /* What the parts before it did not name. */
            uint32_t first = season->added_of[occurrence->treatment->index],
                     end = season->added_of[occurrence->treatment->index + 1];
            struct amount_list list = {0};
            for (size_t k = 0; k < occurrence->amounts.count; k++) {
                const struct amount *planned = &occurrence->amounts.items[k];
                bool named = false;
                for (uint32_t j = first; j < end && !named; j++) {
                    const struct occurrence *part = &season->occurrences.items[j];
                    named = part->share == SHARE_PART && part->time == occurrence->time &&
                            (record_takes(part->record, planned->zone) ||
                             record_uses(part->record, planned->product, planned->zone));
                }
                if (!named)
                    VECTOR_PUSH(season->arena, &list, *planned);
            }
            occurrence->amounts = list;
        }
        if (occurrence->skipped)
            occurrence->amounts = (struct amount_list){0};
        if (!occurrence->done || !(record->uses.count || record->part))
            continue;
        struct amount_list list = {0};
        for (size_t j = 0; j < occurrence->amounts.count; j++) {
            const struct amount *planned = &occurrence->amounts.items[j];
            if (record_takes(record, planned->zone) && !record_uses(record, planned->product, planned->zone))
                VECTOR_PUSH(arena, &list, *planned);
        }
        for (size_t j = 0; j < record->uses.count; j++) {
            /* What a record says was used. The dressing is the first of the treatment's with that product;
             * NULL where it plans none. */
            const struct use *use = &record->uses.items[j];
            if (use->product && !use->product->symbol.broken && use->zone && !use->zone->symbol.broken &&
                use->zone->area_m2 > 0) {
                struct amount amount = {.product = use->product,
                                        .zone = use->zone,
                                        .volume = use->volume,
                                        .rate = use->amount / use->zone->area_m2,
                                        .total = use->amount,
                                        .recorded = true,
                                        .place = use->place};
                for (size_t k = 0; k < occurrence->dressings->count && !amount.dressing; k++)
                    if (occurrence->dressings->items[k]->product == use->product)
                        amount.dressing = occurrence->dressings->items[k];
                amount_finish(season, &amount);
                VECTOR_PUSH(arena, &list, amount);
            }
        }
        occurrence->amounts = list;
    }
}

double supplied_as(const double supplied[NUTRIENT_COUNT], const struct nutrient_form *form)
{
    return supplied[form->nutrient] / form->element_per_unit;
}
