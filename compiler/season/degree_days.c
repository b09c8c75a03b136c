#include "compiler/season/degree_days.h"

#include <math.h>

/* Differences from the base are added, so that near it nothing is lost to the kelvins' size. Unlike fmin and
 * fmax the comparisons keep a NAN. */
double degree_days(const struct degree_rule *rule, double high, double low)
{
    const double readings[] = {high, low};
    double least = rule->clipped ? rule->base : -INFINITY, sum = 0;
    for (int i = 0; i < 2; i++) {
        double reading = readings[i] > rule->cap ? rule->cap : readings[i];
        sum += (reading < least ? least : reading) - rule->base;
    }
    return sum < 0 ? 0 : sum / 2;
}
