/* Daily values from monthly means, such that every month keeps its mean.
 *
 * Method: M.D. Rymes, D.R. Myers, "Mean preserving algorithm for smoothly interpolating averaged data", Solar
 * Energy 71 (2001) 225-231, https://doi.org/10.1016/S0038-092X(01)00052-4. Every day begins with its month's
 * mean. Then, as often as there are days: each day becomes the mean of itself and its two neighbours, and
 * what a month's mean has lost by that is given back to all its days alike.
 *
 * Here the year closes: December's neighbour is January. The paper has no gaps; at the edge of one we lend
 * the first month that is not stated a mean, by which the two stated months beside it go straight on, so that
 * the slope of the last stated month does not end flat. Beyond what was lent the year is cut: a day there
 * stands in for its neighbour. Nothing else is made of what was lent. */
#ifndef PRILL_SEASON_NORMALS_H
#define PRILL_SEASON_NORMALS_H

#include "lexer/arena.h"

enum { YEAR_DAYS = 366 }; /* at most */

/* `monthly` by month 1 to 12, NAN where it is not stated; `daily` by day of the year from 0, NAN in those
 * months. Any unit. The result depends on nothing but the means and whether the year is a leap year. */
void normals_daily(const double monthly[13], bool leap, double daily[YEAR_DAYS]);

#endif
