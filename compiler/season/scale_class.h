/* What a scale makes of a result: its class or minimum level, an equation, an index of activity. */
#ifndef PRILL_SEASON_SCALE_CLASS_H
#define PRILL_SEASON_SCALE_CLASS_H

#include "compiler/model/soil_test.h"
#include "compiler/season/season.h"

double polynomial_at(const struct polynomial *polynomial, double x);

/* A share of the soil, or an index, as a number in this unit. */
double level_in_unit(double level, const struct level_unit *unit);

/* The lower end of a level: of the element, or as an index. */
double level_begin(const struct level *level);

/* From which class on there is no need, among levels that are an index or are not; NULL where the scale does
 * not say. */
const struct level *scale_enough(const struct scale *scale, enum nutrient nutrient, bool index);
/* Where the equation is to be read for the result x, in its own unit: x, or the place where it would turn and
 * rise again. */
double equation_operand(const struct scale_equation *equation, double x);
/* The least result (element share or index) for which the equation asks for nothing; NAN where it always asks
 * or never does. */
double equation_end(const struct scale_equation *equation);
/* Whether the scale says anything of the nutrient, as an index or a share of the soil; and in either way. */
bool scale_speaks_so(const struct scale *scale, enum nutrient nutrient, bool index);
bool scale_speaks_of(const struct scale *scale, enum nutrient nutrient);

/* Whether one before it in the test's list is the same scale. */
bool test_scale_repeated(const struct soil_test *test, size_t index);

/* Fills what its scale says of the reading: level, equation, activity, conversion, judged, need,
 * disagree. */
void reading_judge(struct soil_reading *reading);
/* Then fills what the laboratory itself says of it, and which of the two counts. */
void reading_follow(struct soil_reading *reading);

#endif
