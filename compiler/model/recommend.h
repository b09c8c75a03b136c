/* What the laboratory itself recommends, as a soil test states it. */
#ifndef PRILL_MODEL_RECOMMEND_H
#define PRILL_MODEL_RECOMMEND_H

#include "compiler/model/model.h"

/* Reports what is recommended of nutrients that the test's results have no figure for, and a choice whom to
 * follow where nothing is recommended. After the whole test was read. */
void recommendations_check(struct model *model, const struct soil_test *test);

/* The test's recommendation of the nutrient; NULL without. */
const struct recommendation *recommendation_of(const struct soil_test *test, enum nutrient nutrient);

#endif
