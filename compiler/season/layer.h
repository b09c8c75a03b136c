/* What an occurrence takes of each product and material, layers included. */
#ifndef PRILL_SEASON_LAYER_H
#define PRILL_SEASON_LAYER_H

#include "compiler/season/season.h"

/* Of an application these are its amounts. A task has none, but the layer it lays takes of each material its
 * share of the depth on each zone, loose: m3, its `product` NULL where the material is no product of the
 * plan. Where a record states what was used, that counts in the layer's place. None of what was skipped. */
struct draw {
    struct amount amount;
    const struct name *material; /* as the mix names it; NULL of an amount */
};
struct draw_list {
    struct draw *items;
    size_t count, capacity;
};

struct draw_list draws_of(struct arena *arena, const struct occurrence *occurrence);

/* Whether the treatment lays the product. */
bool treatment_lays(const struct treatment *treatment, const struct product *product);

#endif
