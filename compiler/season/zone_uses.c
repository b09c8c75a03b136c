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

/* Work that names no zone concerns them all; it matters to waits only where it has a kind. */
static void occurrence_reach(struct gathering *gathering, const struct occurrence *occurrence)
{
    const struct model *model = gathering->dating->season->model;
    struct ground ground = occurrence_ground(gathering->dating, occurrence);
    for (size_t i = 0; i < occurrence->amounts.count; i++)
        zone_use_add(gathering, occurrence->amounts.items[i].zone, occurrence, &occurrence->amounts.items[i]);
    if (occurrence->amounts.count)
        return;
    for (size_t i = 0; i < ground.count; i++)
        zone_use_add(gathering, ground.zones[i], occurrence, NULL);
    for (size_t i = 0; i < model->zones.count && ground.count == 0 && occurrence->treatment->kinds.count; i++)
        zone_use_add(gathering, model->zones.items[i], occurrence, NULL);
}

/* A counting sort by zone; within a zone the occurrences keep their order. */
struct zone_uses zone_uses_gather(const struct dating *dating)
{
    const struct season *season = dating->season;
    size_t zones = season->model->zones.count;
    struct gathering gathering = {.dating = dating};
    for (size_t i = 0; i < season->occurrences.count; i++)
        if (dating->node_of[i] != TIMETABLE_NONE && dating->own.placed[dating->node_of[i]])
            occurrence_reach(&gathering, &season->occurrences.items[i]);
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

static int by_product(const void *a, const void *b)
{
    const struct zone_use *first = a, *second = b;
    if (!first->amount != !second->amount)
        return first->amount ? -1 : 1;
    if (first->amount && first->amount->product->index != second->amount->product->index)
        return first->amount->product->index < second->amount->product->index ? -1 : 1;
    return (first->occurrence > second->occurrence) - (first->occurrence < second->occurrence);
}

void zone_uses_by_product(struct zone_use *begin, struct zone_use *end)
{
    if (end > begin)
        qsort(begin, (size_t)(end - begin), sizeof *begin, by_product);
}

bool class_equal(const struct treatment_class *a, const struct treatment_class *b)
{
    if (a->nutrient && b->nutrient)
        return a->nutrient->nutrient == b->nutrient->nutrient;
    return !a->nutrient && !b->nutrient && a->kind == b->kind;
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
