#include "compiler/season/zone_uses.h"

#include <stdlib.h>

struct gathering {
    const struct dating *dating;
    VECTOR(struct zone_use) found;
};

static void zone_use_add(struct gathering *gathering, const struct zone *zone,
                         const struct occurrence *occurrence, const struct amount *amount)
{
    struct zone_use zone_use = {zone->index, occurrence->index, amount};
    VECTOR_PUSH(gathering->dating->scratch, &gathering->found, zone_use);
}

/* A counting sort by zone; within a zone the occurrences keep their order. */
struct zone_uses zone_uses_gather(const struct dating *dating)
{
    const struct season *season = dating->season;
    size_t zones = season->model->zones.count;
    struct gathering gathering = {.dating = dating};
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (dating->node_of[i] != TIMETABLE_NONE && dating->own.placed[dating->node_of[i]]) {
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
    struct zone_uses zone_uses = {ARENA_ARRAY(dating->scratch, gathering.found.count, struct zone_use),
                                  ARENA_ARRAY(dating->scratch, zones + 2, uint32_t)};
    uint32_t *next = zone_uses.start + 1; /* becomes the starts while it is filled */
    for (size_t i = 0; i < gathering.found.count; i++)
        next[gathering.found.items[i].zone + 1]++;
    for (size_t zone = 0; zone < zones; zone++)
        next[zone + 1] += next[zone];
    for (size_t i = 0; i < gathering.found.count; i++)
        zone_uses.items[next[gathering.found.items[i].zone]++] = gathering.found.items[i];
    return zone_uses;
}

int zone_uses_by_product(const void *a, const void *b)
{
    const struct zone_use *first = a, *second = b;
    if (!first->amount != !second->amount)
        return first->amount ? -1 : 1;
    if (first->amount && first->amount->product->index != second->amount->product->index)
        return first->amount->product->index < second->amount->product->index ? -1 : 1;
    return (first->occurrence > second->occurrence) - (first->occurrence < second->occurrence);
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
