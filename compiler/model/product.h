/* What is worked out of a product alone: its measure by mass and by volume, what it holds, its kinds. */
#ifndef PRILL_MODEL_PRODUCT_H
#define PRILL_MODEL_PRODUCT_H

#include "compiler/model/model.h"

/* The same amount (kg or m3) or rate (kg/m2 or m3/m2) of it, counted by volume or by mass; NAN where the
 * other measure takes a density that is not stated. */
double product_measure(const struct product *product, double amount, bool volume, bool as_volume);
double product_mass(const struct product *product, double amount, bool volume);

/* The depth, loose, that settles to `laid_m`. */
double layer_loose_m(const struct product *product, double laid_m);

bool product_supplies(const struct product *product, enum nutrient nutrient);

/* kg of what the form names in 1 kg of it: for P2O5, of P2O5, though the content is kept as P. */
double product_share(const struct product *product, const struct nutrient_form *form);

bool kind_among(const struct name *const *kinds, size_t count, const struct name *kind);
bool zone_among(const struct zone *const *zones, size_t count, const struct zone *zone);
bool product_has_kind(const struct product *product, const struct name *kind);

/* A class is a nutrient that a product supplies, or a kind of it. A treatment is of a class when one of its
 * products is, or it is of that kind itself (occurrence_in_class); a task also by what it lays, which is in
 * no amount. */
bool class_equal(const struct treatment_class *a, const struct treatment_class *b);
bool product_in_class(const struct product *product, const struct treatment_class *class);

/* What is known of mixing the two: the plan's own words before the library's, then the strictest; NULL for
 * none. */
const struct mixing *product_mixing(const struct model *model, const struct product *a,
                                    const struct product *b);

#endif
