/* Amounts that a person weighs or measures out: rounded (figure.h) to what scales and cups can show. */
#ifndef PRILL_MODEL_MEASURE_H
#define PRILL_MODEL_MEASURE_H

#include "compiler/model/display.h"

/* The unit in which display.h shows the amount (kg or m3). */
const struct unit *measure_unit(const struct model *model, double amount, bool volume);

/* The same for what a person weighs or measures out: the unit of the plan's own step where that is ounces or
 * of the other system than results are printed in, up to what such a scale or cup holds; `amount` is of the
 * largest. */
const struct unit *portion_unit(const struct model *model, double amount, bool volume);

/* `amount` (kg or m3, finite, not below 0) in `unit`, rounded within the leeway: to a hundredth of a pound,
 * fluid ounce, gallon, kilogram or litre, below a whole kilogram or litre to a gram or millilitre; large
 * amounts to three digits, small ones finer, so that never more than one part in fifty is lost. `*decimals`
 * is what it takes to write the result. */
double measure_part(const struct unit *unit, double amount, struct leeway leeway, int *decimals);

/* The same in the steps of the scale or cup that people have: the plan's own (`weighs to`, `measures to`), to
 * the nearest one that the leeway allows, but for amounts beyond the unit that it names; otherwise in those
 * of the entry: the coarsest that reaches the amount and loses no more than one part in fifty of it (or adds
 * one in a hundred); with the finest, a twentieth either way. Only where the leeway has no such figure, one
 * between the marks of the finest. This is where an amount that a person weighs or measures gets its figure.
 */
double measure_portion(const struct model *model, const struct unit *unit, double amount,
                       struct leeway leeway, int *decimals);

/* The same for what has to be enough, always rounded up; heaps of material too, in cubic yards, feet or
 * metres. */
double measure_up(const struct unit *unit, double amount, int *decimals);

/* "12.94 lb", "3.40 lb": with all its decimals, so that columns align and the step is seen. */
const char *measure_text(struct arena *arena, const struct unit *unit, double value, int decimals);

#endif
