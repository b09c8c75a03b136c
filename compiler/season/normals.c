#include "compiler/season/normals.h"

#include "compiler/model/date.h"

#include <math.h>
#include <string.h>

enum { MONTHS = 12, A_LEAP_YEAR = 2000, A_COMMON_YEAR = 2001 };

struct year {
    double monthly[MONTHS + 1]; /* as stated, and the months lent at the edges of gaps; NAN for the others */
    bool lent[MONTHS + 1];
    int start[MONTHS + 2]; /* of month 1 to 12, as a day from 1; [13] is the day behind the year */
    int days;
};

static int month_beside(int month, int step)
{
    return (month - 1 + step + MONTHS) % MONTHS + 1;
}

/* Where a month ends, on one of its sides, and what is beside it there. */
struct end {
    int month, beside, day, outside; /* days from 1; `outside` is a day of `beside` */
};

#define THIRD (1.0 / 3)

/* All days alike in one loop of a known length, which compilers make wide only where the two cannot
 * overlap. */
static void smooth(const double *restrict old, double *restrict new)
{
    for (int day = 1; day <= YEAR_DAYS; day++)
        new[day] = (old[day - 1] + old[day] + old[day + 1]) * THIRD;
}

/* A day's value is what its month has been given so far, alike for all its days, and a rest. Within a month,
 * means of three days change the rest and not its sum: what a month loses it loses over its two ends. So a
 * round smooths the rest as if there were no months, and then sees to the ends. A day before the year and one
 * behind it close the circle. */
void normals_daily(const double monthly[13], bool leap, double daily[YEAR_DAYS])
{
    struct year year = {.days = 0};
    struct end ends[2 * MONTHS];
    double rest[2][YEAR_DAYS + 2] = {{0}}, rest_sum[MONTHS + 1] = {0}, given[MONTHS + 1];
    int end_count = 0;
    for (int month = 1; month <= MONTHS; month++) {
        year.lent[month] = isnan(monthly[month]);
        /* A month without a mean lends from those beside it: on each side what it would be if the two there
         * went straight on; NAN where they are not stated. */
        double side[2];
        for (int i = 0; i < 2; i++) {
            int step = i ? 1 : -1;
            double near = monthly[month_beside(month, step)], far = monthly[month_beside(month, 2 * step)];
            side[i] = isnan(far) ? near : 2 * near - far;
        }
        double lent = isnan(side[0]) ? side[1] : isnan(side[1]) ? side[0] : (side[0] + side[1]) / 2;
        year.monthly[month] = year.lent[month] ? lent : monthly[month];
        year.start[month] = year.days + 1;
        year.days += days_in_month(leap ? A_LEAP_YEAR : A_COMMON_YEAR, month);
    }
    year.start[MONTHS + 1] = year.days + 1;
    /* Both ends of each month that is known. Beyond what was lent nothing is known: there a month is beside
     * itself. */
    for (int month = 1; month <= MONTHS; month++)
        for (int step = -1; step <= 1 && !isnan(year.monthly[month]); step += 2) {
            int day = step < 0 ? year.start[month] : year.start[month + 1] - 1;
            int beside = month_beside(month, step);
            bool open = !isnan(year.monthly[beside]) && !(year.lent[month] && year.lent[beside]);
            ends[end_count++] = (struct end){month, open ? beside : month, day, day + step};
        }
    memcpy(given, year.monthly, sizeof given);
    for (int round = 0; round < year.days; round++) {
        double *old = rest[round % 2], *new = rest[(round + 1) % 2];
        old[0] = old[year.days];
        old[year.days + 1] = old[1];
        smooth(old, new);
        for (const struct end *end = ends; end < ends + end_count; end++) {
            double outside = end->beside == end->month
                                 ? old[end->day]
                                 : old[end->outside] + given[end->beside] - given[end->month];
            new[end->day] += (outside - old[end->outside]) * THIRD;
            rest_sum[end->month] += (outside - old[end->day]) * THIRD;
        }
        for (int month = 1; month <= MONTHS; month++)
            given[month] =
                year.monthly[month] - rest_sum[month] / (year.start[month + 1] - year.start[month]);
    }
    daily[YEAR_DAYS - 1] = NAN;
    for (int month = 1; month <= MONTHS; month++)
        for (int day = year.start[month]; day < year.start[month + 1]; day++)
            daily[day - 1] = isnan(monthly[month]) ? NAN : rest[year.days % 2][day] + given[month];
}
