#include "compiler/season/normals.h"

#include "compiler/model/date.h"

#include <math.h>

enum { MONTHS = 12, A_LEAP_YEAR = 2000, A_COMMON_YEAR = 2001 };

static const double LEAST_WEIGHT = 1e-15;

static int month_beside(int month, int step)
{
    return (month - 1 + step + MONTHS) % MONTHS + 1;
}

/* Days as if there were no months, in one loop of a known length, which compilers make wide only where the
 * two cannot overlap. A day before the year and one behind it close the circle. */
static void smooth(double *restrict old, double *restrict new, int days)
{
    old[0] = old[days];
    old[days + 1] = old[1];
    for (int day = 1; day <= YEAR_DAYS; day++)
        new[day] = old[day - 1] + old[day + 1] - new[day];
}

/* A day's value is what its month has been given, alike for all its days, and a rest. Within a month, means
 * of three days change the rest and not its sum: what a month loses it loses over its two ends. So a round
 * works on the rest as if there were no months, and then sees to the ends.
 *
 * As many rounds as there are days make a polynomial of what one does to how the year departs from its
 * monthly means. Written as a sum of Chebyshev's polynomials of the second kind, its terms vanish after a
 * third of those rounds; Clenshaw's recurrence adds them up, from the last to the first (C.W. Clenshaw, "A
 * note on the summation of Chebyshev series", Mathematical Tables and other Aids to Computation 9 (1955)
 * 118-120). A term's weight follows from the share that a day gets of one so many days away when no mean is
 * given back. */
void normals_daily(const double monthly[13], bool leap, double daily[YEAR_DAYS])
{
    double full[MONTHS + 1];   /* as stated, and the months lent at the edges of gaps; NAN for the others */
    int end[MONTHS + 1] = {0}; /* the last day of month 1 to 12, as a day from 1 */
    for (int month = 1; month <= MONTHS; month++) {
        /* A month without a mean lends from those beside it: on each side what it would be if the two there
         * went straight on; NAN where they are not stated. */
        double side[2];
        for (int i = 0; i < 2; i++) {
            int step = i ? 1 : -1;
            double near = monthly[month_beside(month, step)], far = monthly[month_beside(month, 2 * step)];
            side[i] = isnan(far) ? near : 2 * near - far;
        }
        double lent = isnan(side[0]) ? side[1] : isnan(side[1]) ? side[0] : (side[0] + side[1]) / 2;
        full[month] = isnan(monthly[month]) ? lent : monthly[month];
        end[month] = end[month - 1] + days_in_month(leap ? A_LEAP_YEAR : A_COMMON_YEAR, month);
    }
    /* Beyond what was lent nothing is known: there a month is beside itself. */
    double climb[MONTHS + 1]; /* to the month behind it; NAN where there is none */
    for (int month = 1; month <= MONTHS; month++) {
        int next = month_beside(month, 1);
        bool both_lent = isnan(monthly[month]) && isnan(monthly[next]);
        climb[month] = both_lent ? NAN : full[next] - full[month];
    }
    int days = end[MONTHS];
    double rests[2][YEAR_DAYS + 2] = {{0}}, givens[2][MONTHS + 1] = {{0}};
    /* Of a day as many away as there are rounds; of one farther away; of all that are. */
    double share = 1, farther = 0, beyond = 0;
    for (int round = 0; round < days; round++)
        share /= 3;
    for (int term = days - 1; term >= 0; term--) {
        double weight = 2 * beyond + share;
        double nearer = ((term + 2 + days) * farther + (term + 1) * share) / (days - term);
        beyond += share;
        farther = share;
        share = nearer;
        if (weight < LEAST_WEIGHT)
            continue;
        double *old = rests[term % 2], *rest = rests[(term + 1) % 2];
        double *had = givens[term % 2], *given = givens[(term + 1) % 2];
        smooth(old, rest, days);
        for (int month = 1; month <= MONTHS; month++)
            given[month] = 2 * had[month] - given[month];
        for (int month = MONTHS, next = 1; next <= MONTHS; month = next++) {
            int last = end[month], first = end[next - 1] + 1;
            double step =
                isnan(climb[month]) ? old[last] - old[first] : had[next] - had[month] + weight * climb[month];
            double flow = step + old[first] - old[last];
            rest[last] += step;
            rest[first] -= step;
            given[month] -= flow / (end[month] - end[month - 1]);
            given[next] += flow / (end[next] - end[next - 1]);
        }
    }
    daily[YEAR_DAYS - 1] = NAN;
    for (int month = 1; month <= MONTHS; month++)
        for (int day = end[month - 1] + 1; day <= end[month]; day++)
            daily[day - 1] = isnan(monthly[month]) ? NAN : full[month] + givens[1][month] + rests[1][day];
}
