#include "compiler/season/normals.h"

#include "compiler/model/date.h"

#include <math.h>
#include <string.h>

enum { MONTHS = 12, A_LEAP_YEAR = 2000, A_COMMON_YEAR = 2001 };

struct year {
    double monthly[MONTHS + 1]; /* as stated, and the months lent at the edges of gaps */
    bool lent[MONTHS + 1];
    int month[YEAR_DAYS];
    int days;
    int start[MONTHS + 2]; /* of month 1 to 12; [13] is the year's end */
};

static int month_beside(int month, int step)
{
    return (month - 1 + step + MONTHS) % MONTHS + 1;
}

/* What a month would be if the two on one side of it went straight on; NAN where they are not stated. */
static double extended(const double monthly[13], int month, int step)
{
    double near = monthly[month_beside(month, step)], far = monthly[month_beside(month, 2 * step)];
    return isnan(far) ? near : 2 * near - far;
}

static double month_lent(const double monthly[13], int month)
{
    double before = extended(monthly, month, -1), after = extended(monthly, month, 1);
    return isnan(before) ? after : isnan(after) ? before : (before + after) / 2;
}

static struct year year_of(const double monthly[13], bool leap)
{
    struct year year = {.days = 0};
    for (int month = 1; month <= MONTHS; month++) {
        year.lent[month] = isnan(monthly[month]);
        year.monthly[month] = year.lent[month] ? month_lent(monthly, month) : monthly[month];
        year.start[month] = year.days;
        year.days += days_in_month(leap ? A_LEAP_YEAR : A_COMMON_YEAR, month);
    }
    year.start[MONTHS + 1] = year.days;
    return year;
}

static void begin_with_means(struct year *year, double *daily)
{
    for (int month = 1; month <= MONTHS; month++)
        for (int day = year->start[month]; day < year->start[month + 1]; day++) {
            year->month[day] = month;
            daily[day] = year->monthly[month];
        }
}

/* Beyond what was lent nothing is known: there the day stands in for its neighbour. */
static int neighbour(const struct year *year, int day, int step)
{
    int beside = (day + step + year->days) % year->days;
    int here = year->month[day], there = year->month[beside];
    bool edge = isnan(year->monthly[there]) || (here != there && year->lent[here] && year->lent[there]);
    return edge ? day : beside;
}

/* Found once: they stay the same through some hundred rounds. */
struct neighbours {
    int before[YEAR_DAYS], after[YEAR_DAYS];
};

static void find_neighbours(const struct year *year, struct neighbours *neighbours)
{
    for (int day = 0; day < year->days; day++) {
        neighbours->before[day] = neighbour(year, day, -1);
        neighbours->after[day] = neighbour(year, day, 1);
    }
}

static void smooth(const struct year *year, const struct neighbours *neighbours, double *daily)
{
    double old[YEAR_DAYS];
    memcpy(old, daily, sizeof *old * (size_t)year->days);
    for (int day = 0; day < year->days; day++)
        daily[day] = (old[neighbours->before[day]] + old[day] + old[neighbours->after[day]]) / 3;
}

static void give_back(const struct year *year, double *daily)
{
    for (int month = 1; month <= MONTHS; month++) {
        int days = year->start[month + 1] - year->start[month];
        double lost = 0;
        for (int day = year->start[month]; day < year->start[month + 1]; day++)
            lost += year->monthly[month] - daily[day];
        double each = lost / days;
        for (int day = year->start[month]; day < year->start[month + 1]; day++)
            daily[day] += each;
    }
}

void normals_daily(const double monthly[13], bool leap, double daily[YEAR_DAYS])
{
    struct year year = year_of(monthly, leap);
    struct neighbours neighbours;
    begin_with_means(&year, daily);
    find_neighbours(&year, &neighbours);
    for (int round = 0; round < year.days; round++) {
        smooth(&year, &neighbours, daily);
        give_back(&year, daily);
    }
    for (int month = 1; month <= MONTHS; month++)
        for (int day = year.start[month]; day < year.start[month + 1] && isnan(monthly[month]); day++)
            daily[day] = NAN;
}
