#include "compiler/season/zone_uses.h"

/* Counted first, then put in: within a zone the occurrences keep their order. */
struct zone_uses zone_uses_gather(const struct dating *dating)
{
    const struct season *season = dating->season;
    const struct model *model = season->model;
    struct zone_uses uses = {.start = ARENA_ARRAY(dating->scratch, model->zones.count + 2, uint32_t)};
    for (int counted = 0; counted < 2; counted++) {
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
                uint32_t *next =
                    &uses.start[zone->index + 1]; /* of the zone behind it, while they are counted */
                if (counted)
                    uses.items[(*next)++] = (struct zone_use){i, amounts ? &amounts[j] : NULL};
                else
                    next[1]++;
            }
        }
        for (size_t zone = 1; zone <= model->zones.count && !counted; zone++)
            uses.start[zone + 1] += uses.start[zone];
        if (!counted)
            uses.items = ARENA_ARRAY(dating->scratch, uses.start[model->zones.count + 1], struct zone_use);
    }
    return uses;
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
