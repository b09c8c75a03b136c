/* Degree days of a day: how far it was above a base, from its high and low.
 *
 * The two readings of the one formula are told apart as G.S. McMaster and W.W. Wilhelm do in "Growing
 * degree-days: one equation, two interpretations", Agricultural and Forest Meteorology 87 (1997) 291-300. */
#ifndef PRILL_SEASON_DEGREE_DAYS_H
#define PRILL_SEASON_DEGREE_DAYS_H

#include <stdbool.h>

struct degree_rule {
    double base; /* K */
    double cap;  /* K: higher readings count as this one; INFINITY without */
    bool clipped;
};

/* Their method 1: max(0, (high + low) / 2 - base), high and low not above the cap. Clipped, their method 2:
 * high and low below the base count as the base before the mean is taken; it never gives less. Temperatures
 * in K, result in K days; NAN where one of them is NAN. */
double degree_days(const struct degree_rule *rule, double high, double low);

#endif
