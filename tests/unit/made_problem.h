/* The parts of which tests make a problem for the solver by hand. */
#ifndef PRILL_UNIT_MADE_PROBLEM_H
#define PRILL_UNIT_MADE_PROBLEM_H

#include "compiler/solve/problem_lp.h"

/* 1 lb per 1000 sqft in kg per m2, the unit of every rate and bound in them. */
#define UNIT (0.45359237 / 92.90304)

/* Shares of mass as fractions; the price is of a pack of 10 lb. */
void product_add(struct problem *problem, const char *name, double n, double p, double k, double price);
/* With a cause of its own; `bound` in kg per m2. */
struct demand demand_new(struct problem *problem, enum demand_kind kind, double bound);
void part_add(struct problem *problem, struct demand *demand, uint32_t choice, double factor);

/* From `low` to `high`, which are among them; the seed is never 0. */
int random_between(uint64_t *seed, int low, int high);

/* Whether the rates (by choice, kg per m2) keep the labels and demands; reckoned apart from the program. */
bool rates_fit(const struct plot *plot, const double *rates);

#endif
