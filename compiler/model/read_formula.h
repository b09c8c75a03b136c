/* Formulas in library text: polynomials and what their results are counted in. */
#ifndef PRILL_MODEL_READ_FORMULA_H
#define PRILL_MODEL_READ_FORMULA_H

#include "compiler/model/read.h"

/* The polynomial of a `terms` slot, its terms times what 1 of them is in SI (of a share: `plain` keeps them
 * as written). False after a report where it has too many. */
bool polynomial_of(struct model *model, const struct value *terms, struct polynomial *polynomial);
bool polynomial_of_level(struct model *model, const struct value *terms, struct polynomial *polynomial);

struct level_unit level_unit_of(struct model *model, const struct value *unit);

/* The source that a clause's slot `source` names; NULL after a report. */
const struct source_entry *source_in(struct model *model, const struct clause *clause);

#endif
