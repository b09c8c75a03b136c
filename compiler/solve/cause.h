/* A statement's part in a choice of rates, in the trade's words; for reports and outputs. Texts live in the
 * model's arena. */
#ifndef PRILL_SOLVE_CAUSE_H
#define PRILL_SOLVE_CAUSE_H

#include "compiler/solve/solution.h"

/* "the limit for one application", "the least map the label allows at one time" */
const char *cause_words(const struct model *model, const struct cause *cause, const struct zone *zone);
/* "label" or "law" where one of them stands behind the statement: nothing says then what it would have to be.
 * NULL for practice and what the plan itself asks. */
const char *cause_fixed_by(const struct cause *cause);
/* What is left to whoever meets a label or a law: "change the product, add an application, or lower the
 * need". A sum over a year or a window leaves no room for another application and, of what is short itself
 * (`lacking`; NUTRIENT_COUNT where that is not known), for no product either. */
const char *cause_ways_round(const struct cause *cause, enum nutrient lacking);
/* "fixed by the label: change the product, add an application, or lower the need"; NULL where cause_fixed_by
 * is. */
const char *cause_fixed_words(const struct model *model, const struct cause *cause, enum nutrient lacking);
/* A figure of the statement as it would be written: "0.8 lb N per 1000 sqft", rounded to the safe side of
 * what it would have to be. `bound` as in struct easing; "" where the statement has none. */
const char *cause_bound_words(const struct model *model, const struct cause *cause, double bound);

#endif
