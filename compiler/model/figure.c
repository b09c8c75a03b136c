#include "compiler/model/figure.h"

#include "compiler/model/tolerance.h"
#include "lexer/text.h"

#include <assert.h>

/* A tenth of what a check overlooks: what was printed within it is still within that after its sums. */
static const double OVERLOOKED = COMPARE_TOLERANCE / 10;

struct leeway leeway_both(struct leeway a, struct leeway b)
{
    return (struct leeway){fmin(a.fall, b.fall), fmin(a.rise, b.rise)};
}

int figure_decimals(double value)
{
    enum { SHORT_DIGITS = 4 }; /* of number_short */
    int decimals = number_short_decimals(value) - (SHORT_DIGITS - FIGURE_DIGITS);
    return decimals > 0 ? decimals : 0;
}

const char *figure_number(struct arena *arena, double value)
{
    return number_text(arena, value, figure_decimals(value));
}

double figure_within(double value, struct leeway leeway, int *decimals)
{
    assert(value >= 0 && isfinite(value) && *decimals >= 0);
    double least = value * (1 - leeway.fall) * (1 - OVERLOOKED);
    double most = value * (1 + leeway.rise) * (1 + OVERLOOKED);
    for (;; ++*decimals) {
        double down = number_floor(fmin(value, most), *decimals), up = number_ceiling(value, *decimals);
        if (down >= least || *decimals >= NUMBER_DECIMALS)
            return down;
        if (up <= most)
            return up;
    }
}

/* The two neighbouring multiples are tried: down before up, so that no limit is passed, unless the nearest
 * one is asked for. */
bool figure_in_step(double value, struct leeway leeway, double step, bool nearest, double *figure,
                    int *decimals)
{
    assert(value >= 0 && isfinite(value) && step > 0);
    double least = value * (1 - leeway.fall) * (1 - OVERLOOKED);
    double most = value * (1 + leeway.rise) * (1 + OVERLOOKED);
    *decimals = 0; /* as many as show every multiple of the step */
    while (*decimals < NUMBER_DECIMALS && differs(number_nearest(step, *decimals), step))
        ++*decimals;
    double down = number_floor(fmin(value, most) / step, 0) * step;
    double up = number_ceiling(value / step, 0) * step;
    bool down_fits = down >= least && (down > 0 || value == 0), up_fits = up <= most;
    bool upward = up_fits && (!down_fits || (nearest && up - value < value - down));
    *figure = number_nearest(upward ? up : down, *decimals);
    return upward || down_fits;
}

double figure_in_steps(double value, struct leeway leeway, double step, bool nearest, int *decimals)
{
    double figure;
    while (!figure_in_step(value, leeway, step, nearest, &figure, decimals)) {
        if (*decimals >= NUMBER_DECIMALS)
            return figure_within(value, leeway, decimals);
        step /= 10;
    }
    return figure;
}
