#include "compiler/season/layer.h"

#include "compiler/model/product.h"
#include "compiler/season/dating.h"

bool treatment_lays(const struct treatment *treatment, const struct product *product)
{
    const struct layer *layer = treatment->layer;
    for (size_t i = 0; layer && i < layer->mix.count; i++)
        if (layer->mix.items[i].product == product)
            return true;
    return false;
}

/* The amounts of products, then what a task's layer takes of each part of its mix. */
struct draw_list draws_of(struct arena *arena, const struct occurrence *occurrence)
{
    struct draw_list draws = {0};
    const struct treatment *treatment = occurrence->treatment;
    for (size_t i = 0; i < occurrence->amounts.count && !occurrence->skipped; i++)
        VECTOR_PUSH(arena, &draws, ((struct draw){.amount = occurrence->amounts.items[i]}));
    const struct layer *layer = treatment->layer;
    bool lays = layer && treatment->task && !treatment->symbol.broken && !occurrence->skipped;
    for (size_t i = 0; lays && i < layer->mix.count; i++) {
        const struct mix_part *part = &layer->mix.items[i];
        double depth = layer->depth_m * part->share;
        for (size_t j = 0; j < occurrence->zones.count; j++) {
            const struct zone *zone = occurrence->zones.items[j];
            /* A record's `used` replaces the layer of the zones that it does not say were done as planned. */
            const struct record *record = occurrence->record;
            bool as_planned = !occurrence->done || !(record->uses.count || record->part) ||
                              (record_takes(record, zone) && !record_uses(record, NULL, zone));
            if (!as_planned || zone->symbol.broken)
                continue;
            struct amount amount = {.product = part->product,
                                    .zone = zone,
                                    .volume = true,
                                    .rate = part->product ? layer_loose_m(part->product, depth) : depth,
                                    .supplied = SUPPLIES_NOTHING,
                                    .leeway = {1, INFINITY},
                                    .place = layer->place};
            amount.total = amount.rate * zone->area_m2;
            VECTOR_PUSH(arena, &draws, ((struct draw){amount, part->material}));
        }
    }
    return draws;
}
