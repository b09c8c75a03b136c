/* The mean of a soil test's spots in a column of pH or acidity, and the test whose pH counts for a zone. */
#ifndef PRILL_MODEL_SOIL_MEAN_H
#define PRILL_MODEL_SOIL_MEAN_H

#include "compiler/model/model.h"

/* Of the first column of the kind that has a figure, in its SI unit; NAN without one. `at` (NULL: not asked)
 * is that column. */
double soil_test_mean(const struct soil_test *test, enum analyte analyte, const struct table_column **at);

/* The zone's newest test with a pH; of one day the last in the text, as for nutrients. NULL without. */
const struct soil_test *soil_test_with_ph(const struct model *model, const struct zone *zone);

#endif
