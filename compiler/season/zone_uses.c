#include "compiler/season/zone_uses.h"

struct gathering {
    const struct dating *dating;
    VECTOR(struct zone_use) found;
    VECTOR(uint32_t) zones; /* of each of them */
};

static void zone_use_add(struct gathering *gathering, const struct zone *zone,
                         const struct occurrence *occurrence, const struct amount *amount)
{
    struct zone_use zone_use = {occurrence->index, amount};
    VECTOR_PUSH(gathering->dating->scratch, &gathering->found, zone_use);
    VECTOR_PUSH(gathering->dating->scratch, &gathering->zones, zone->index);
}

/* Within a zone the occurrences keep their order. */
struct zone_uses zone_uses_gather(const struct dating *dating)
{
    const struct season *season = dating->season;
    size_t zones = season->model->zones.count;
    struct gathering gathering = {.dating = dating};
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (dating->node_of[i] != TIMETABLE_NONE && dating->earliest[dating->node_of[i]] != DAY_NEVER) {
            /* Work that names no zone concerns them all; it matters to waits only where it has a kind. */
            const struct occurrence *occurrence = &season->occurrences.items[i];
            struct ground ground = occurrence_ground(dating, occurrence);
            size_t amounts = occurrence->amounts.count, kinds = occurrence->treatment->kinds.count;
            for (size_t j = 0; j < amounts; j++)
                zone_use_add(&gathering, occurrence->amounts.items[j].zone, occurrence,
                             &occurrence->amounts.items[j]);
            for (size_t j = 0; j < ground.count && !amounts; j++)
                zone_use_add(&gathering, ground.zones[j], occurrence, NULL);
            for (size_t j = 0; j < zones && !amounts && !ground.count && kinds; j++)
                zone_use_add(&gathering, season->model->zones.items[j], occurrence, NULL);
        }
    size_t count = gathering.found.count;
    struct zone_use *items = ARENA_ARRAY(dating->scratch, count, struct zone_use);
    struct keyed by_zone = sort_by_key(dating->scratch, gathering.zones.items, count, (uint32_t)zones);
    for (size_t i = 0; i < count; i++)
        items[i] = gathering.found.items[by_zone.items[i]];
    return (struct zone_uses){items, by_zone.start};
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
