/* What the season's products do to the soil's acidity: nitrogen from ammonium and urea makes acid, lime and
 * nitrates take it away. All in kg of calcium carbonate, by which labels and tables count it.
 *
 * The figure is what the material makes in all if the soil turns all of it over; what is taken up as ammonium
 * or leaches makes less or more. Sources stand beside the figures in plans/library/materials.prill. */
#ifndef PRILL_SEASON_ACID_H
#define PRILL_SEASON_ACID_H

#include "compiler/season/season.h"

struct acid_figure { /* of a product */
    double amount; /* kg of calcium carbonate that neutralize 1 kg of it; below 0: it limes; NAN: not known */
    const struct acidity
        *material; /* the library's figure for its kind; NULL: its own, its neutralizing value, or none */
};

/* The product's own figure, or that of the first kind that has one, or for lime its neutralizing value. What
 * holds no nitrogen and no sulfur, and says nothing else, makes none. */
struct acid_figure product_acid(const struct model *model, const struct product *product);

struct acid_balance {              /* of a zone over the season, planned and done */
    double acid, lime;             /* kg/m2 of calcium carbonate; each 0 or more */
    const struct product *unknown; /* one of those put on whose figure is not known; NULL mostly */
    bool others;                   /* there are more of those */
};

struct acid_balance zone_acid(const struct season *season, const struct zone *zone);

#endif
