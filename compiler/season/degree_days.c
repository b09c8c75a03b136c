#include "compiler/season/degree_days.h"

#include <math.h>

/* Unlike fmin and fmax these keep a NAN. */
static double at_most(double value, double most)
{
    return value > most ? most : value;
}

static double at_least(double value, double least)
{
    return value < least ? least : value;
}

double degree_days(const struct degree_rule *rule, double high, double low)
{
    double least = rule->clipped ? rule->base : -INFINITY;
    double top = at_least(at_most(high, rule->cap), least), bottom = at_least(at_most(low, rule->cap), least);
    /* Differences from the base first: near it nothing is lost to the kelvins' size. */
    return at_least(((top - rule->base) + (bottom - rule->base)) / 2, 0);
}
