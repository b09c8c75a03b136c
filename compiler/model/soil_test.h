/* What a soil test says: the mean of its spots, what the laboratory recommends, and whose pH counts. */
#ifndef PRILL_MODEL_SOIL_TEST_H
#define PRILL_MODEL_SOIL_TEST_H

#include "compiler/model/model.h"

/* Of the first column of the kind that has a figure, in its SI unit; NAN without one. `at` (NULL: not asked)
 * is that column. */
double soil_test_mean(const struct soil_test *test, enum analyte analyte, const struct table_column **at);

/* What the laboratory recommends of the nutrient; NULL where it recommends nothing of it. */
const struct recommendation *recommendation_of(const struct soil_test *test, enum nutrient nutrient);

/* Enters each sound test in model->tests_by_age and at its zones. */
void soil_tests_enter(struct model *model);

/* The zone's newest test with a pH; of one day the last in the text, as for nutrients. NULL without. */
const struct soil_test *soil_test_with_ph(const struct zone *zone);

/* The scale that the test is read by for the nutrient: the one named for it, or else the one for all others;
 * NULL where it names neither. The second leaves those named for it aside. */
const struct test_scale *test_scale_of(const struct soil_test *test, enum nutrient nutrient);
const struct test_scale *test_scale_for_others(const struct soil_test *test);

#endif
