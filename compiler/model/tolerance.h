/* "More than", decided in one way everywhere: by a check, the solver and what is printed. */
#ifndef PRILL_MODEL_TOLERANCE_H
#define PRILL_MODEL_TOLERANCE_H

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

/* A figure goes through some dozen multiplications on its way (units, percents, areas), each good to 1e-16 of
 * it; nobody weighs or measures to 1e-9. Between the two there is room to spare on both sides. */
#define COMPARE_TOLERANCE 1e-9

/* Whether `a` is more than `b` by more than rounding explains. False where either is not a number. */
static inline bool exceeds(double a, double b)
{
    return a > b + COMPARE_TOLERANCE * fabs(b);
}

/* Whether one of the two is more than the other. */
static inline bool differs(double a, double b)
{
    return exceeds(a, b) || exceeds(b, a);
}

/* For sorting: below 0 where `a` comes first, 0 where neither does. */
static inline int ascending(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

#endif
