#include "compiler/season/soil_temperature.h"

#include <math.h>

/* The last SOIL_DAYS days of the run, the newest weighing most. */
void soil_estimate(const double *mean, size_t count, double *soil)
{
    size_t start = 0; /* of the run */
    for (size_t day = 0; day < count; day++) {
        if (isnan(mean[day]))
            start = day + 1;
        size_t days = day + 1 - start < SOIL_DAYS ? day + 1 - start : SOIL_DAYS;
        double sum = 0, weights = 0;
        for (size_t back = 0; back < days; back++) {
            double weight = (double)(SOIL_DAYS - back);
            sum += weight * mean[day - back];
            weights += weight;
        }
        soil[day] = days ? sum / weights : NAN;
    }
}
