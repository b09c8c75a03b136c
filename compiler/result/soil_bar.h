/* Results as bars, which read without colour. */
#ifndef PRILL_RESULT_SOIL_BAR_H
#define PRILL_RESULT_SOIL_BAR_H

#include "compiler/model/model.h"

/* What the bars mean. */
extern const char soil_bar_legend[];

/* What is there against what is enough, in one unit. */
const char *bar_of(struct arena *arena, double mean, double enough);

/* The soil's pH and the range in which the grass does well; `range` may be NULL. */
const char *ph_bar_of(struct arena *arena, double ph, const struct grass_range *range);

/* The same of two figures in one bar: o then, # now; * where they fall together. */
extern const char soil_change_legend[];
const char *bar_of_two(struct arena *arena, double was, double is, double enough);
const char *ph_bar_of_two(struct arena *arena, double was, double is, const struct grass_range *range);

#endif
