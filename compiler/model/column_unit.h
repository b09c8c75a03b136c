/* The unit behind the name of a table's column, and what it makes of the numbers below it. */
#ifndef PRILL_MODEL_COLUMN_UNIT_H
#define PRILL_MODEL_COLUMN_UNIT_H

#include "compiler/model/form_match.h"

/* Reads the unit at *at into the column's factor, offset and text; `form` is the column's own, NULL for a
 * nutrient of a soil, which may stand in shares (ppm, mg per kg), in lb per acre or kg per ha as laboratories
 * mean them, in meq per 100 g (K, Ca, Mg, Na: by equivalent mass) or as an index. False after a report. */
bool column_unit_read(struct matcher *matcher, uint32_t *at, const struct column_form *form,
                      const struct column_form *others, struct table_column *column);

#endif
