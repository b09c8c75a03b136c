/* How a figure is rounded that a person acts on: one rule for rates, settings and amounts.
 *
 * It is rounded down, so that no limit is passed; where that would fall under what a label or a limit
 * requires at least, up, if all limits leave room for it; where no figure of the usual precision lies between
 * the two, it takes more digits. docs/method.md, "Rounding", says it for users. */
#ifndef PRILL_MODEL_FIGURE_H
#define PRILL_MODEL_FIGURE_H

#include <stdbool.h>

struct arena;

/* How far the figure printed may be from the exact one, as shares of it: 1 - fall at least, 1 + rise at most.
 * `fall` is 0 to 1; `rise` may be INFINITY and, where the figure has to be less than exact so that another
 * one may be more, below 0; then `fall` is more than -rise. */
struct leeway {
    double fall, rise;
};

/* A label's least rate is met by what is less than it by no more than this share: no scale and no spreader
 * hits a figure more closely, and one rate is all that some labels state. (Common practice, no source.) */
#define LEAST_RATE_TOLERANCE 1e-3

/* As many digits as a person can weigh, set or hit; what is worked out from them is said with more. */
enum { FIGURE_DIGITS = 3 };

/* How many decimals it takes to write `value` with so many digits, at least its whole part. */
int figure_decimals(double value);
/* "46.3": written so; nobody weighs a nutrient more closely, and no laboratory promises more. */
const char *figure_number(struct arena *arena, double value);

/* Nothing holds it up, and nothing lets it grow. */
#define LEEWAY_DOWN ((struct leeway){1, 0})

/* What keeps both. */
struct leeway leeway_both(struct leeway a, struct leeway b);

/* `value` (finite, not below 0) rounded within the leeway at `*decimals` (0 to NUMBER_DECIMALS) or, where
 * nothing of that precision lies within it, at the least number of decimals that does; `*decimals` becomes
 * it. */
double figure_within(double value, struct leeway leeway, int *decimals);

/* A multiple of `step` (above 0) within the leeway: the one below or, where `nearest`, the nearest one; never
 * 0 for what is more. False where there is none. `*decimals` becomes what it takes to write the step. */
bool figure_in_step(double value, struct leeway leeway, double step, bool nearest, double *figure,
                    int *decimals);

/* The same; where no multiple lies within the leeway, those of a tenth of the step, and so on.
 * `*decimals` becomes what it takes to write the result, with the step seen. */
double figure_in_steps(double value, struct leeway leeway, double step, bool nearest, int *decimals);

#endif
