/* Soil temperature at 10 cm (4 in) from air temperature, where nobody measured it.
 *
 * The mean of the last eleven days' mean air temperatures, weighted 1 for the oldest up to 11 for the day
 * itself; in the first ten days of a run, of as many as there are. As in the ecosystem model BIOME-BGC 4.1.1
 * and 4.2 (P.E. Thornton, S.W. Running and others, University of Montana; source file daymet.c), without
 * corrections for snow or for plants. It follows the air at a distance of some three days and cannot know
 * sun, slope, shade or snow: an estimate to plan by, for a thermometer to settle. */
#ifndef PRILL_SEASON_SOIL_TEMPERATURE_H
#define PRILL_SEASON_SOIL_TEMPERATURE_H

#include <stddef.h>

enum { SOIL_DAYS = 11 };

/* `mean` and `soil` hold `count` days in a row, in one unit. A day without a mean (NAN) begins a new run and
 * has no estimate. */
void soil_estimate(const double *mean, size_t count, double *soil);

#endif
