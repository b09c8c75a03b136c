#include "compiler/season/zone_uses.h"

/* Sorted by zone: within one the occurrences keep their order. */
struct zone_uses zone_uses_gather(const struct dating *dating)
{
    const struct season *season = dating->season;
    const struct model *model = season->model;
    VECTOR(struct zone_use) found = {0};
    VECTOR(uint32_t) zones = {0}; /* of each of them */
    for (uint32_t i = 0; i < season->occurrences.count; i++) {
        if (dating->node_of[i] == TIMETABLE_NONE || dating->earliest[dating->node_of[i]] == DAY_NEVER)
            continue;
        /* Work that names no zone concerns them all; it matters to waits only where it has a kind. */
        const struct occurrence *occurrence = &season->occurrences.items[i];
        struct ground ground = occurrence_ground(dating, occurrence);
        const struct amount *amounts = occurrence->amounts.count ? occurrence->amounts.items : NULL;
        size_t all = occurrence->treatment->kinds.count ? model->zones.count : 0;
        size_t count = amounts ? occurrence->amounts.count : ground.count ? ground.count : all;
        for (size_t j = 0; j < count; j++) {
            const struct zone *zone = amounts        ? amounts[j].zone
                                      : ground.count ? ground.zones[j]
                                                     : model->zones.items[j];
            VECTOR_PUSH(dating->scratch, &zones, zone->index);
            VECTOR_PUSH(dating->scratch, &found, ((struct zone_use){i, amounts ? &amounts[j] : NULL}));
        }
    }
    struct keyed sorted = sort_by_key(dating->scratch, zones.items, found.count, model->zones.count);
    struct zone_use *items = ARENA_ARRAY(dating->scratch, found.count, struct zone_use);
    for (size_t i = 0; i < found.count; i++)
        items[i] = found.items[sorted.items[i]];
    return (struct zone_uses){items, sorted.start};
}

/* A record may have used a product that the treatment did not foresee. */
bool zone_use_in_class(const struct dating *dating, const struct zone_use *zone_use,
                       const struct treatment_class *class)
{
    if (class->nutrient)
        return zone_use->amount && amount_brings(zone_use->amount, class->nutrient->nutrient);
    if (zone_use->amount && zone_use->amount->recorded && product_in_class(zone_use->amount->product, class))
        return true;
    return occurrence_in_class(&dating->season->occurrences.items[zone_use->occurrence], class);
}
