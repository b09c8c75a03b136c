/* Nutrients in a list: "0.75 lb N (0.525 lb soluble), 1.071 lb P2O5 per 1000 sqft". */
#ifndef PRILL_RESULT_NUTRIENT_TEXT_H
#define PRILL_RESULT_NUTRIENT_TEXT_H

#include "compiler/model/display.h"
#include "compiler/season/season.h"

/* Of what was supplied (kg/m2 of the elements), in the forms of the trade. Where `most` differs from `least`,
 * both are said: "0.737 to 0.759 lb N". To four digits or, `brief`, to the two or three that a person needs;
 * within the leeway, to the nearest where it is NULL: what was done is a fact. NULL where nothing was
 * supplied. */
const char *nutrients_text(struct arena *arena, const struct model *model, const double least[NUTRIENT_COUNT],
                           const double most[NUTRIENT_COUNT], const struct leeway *leeway, bool brief);

/* "2 to 6 lb per 1000 sqft"; one value where both read alike. */
const char *quantity_range_text(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high);

#endif
