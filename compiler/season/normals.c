#include "compiler/season/normals.h"

#include "compiler/model/date.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { MONTHS = 12, A_LEAP_YEAR = 2000, A_COMMON_YEAR = 2001, EDGES = 2 * MONTHS + 2 };

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

static struct year year_of(const double monthly[13], bool leap)
{
    struct year year = {.days = 0};
    for (int month = 1; month <= MONTHS; month++) {
        year.lent[month] = isnan(monthly[month]);
        double before = extended(monthly, month, -1), after = extended(monthly, month, 1);
        double lent = isnan(before) ? after : isnan(after) ? before : (before + after) / 2;
        year.monthly[month] = year.lent[month] ? lent : monthly[month];
        year.start[month] = year.days;
        year.days += days_in_month(leap ? A_LEAP_YEAR : A_COMMON_YEAR, month);
    }
    year.start[MONTHS + 1] = year.days;
    return year;
}

/* Beyond what was lent nothing is known: there the day stands in for its neighbour. */
static int neighbour(const struct year *year, int day, int step)
{
    int beside = (day + step + year->days) % year->days;
    int here = year->month[day], there = year->month[beside];
    bool edge = isnan(year->monthly[there]) || (here != there && year->lent[here] && year->lent[there]);
    return edge ? day : beside;
}

/* The days whose neighbours are not the days beside them. Found once: they stay the same through some hundred
 * rounds. */
struct edges {
    int days[EDGES], before[EDGES], after[EDGES];
    int count;
};

/* At most two for each month, and the ends of the year. */
static struct edges find_edges(const struct year *year)
{
    struct edges edges = {.count = 0};
    for (int day = 0; day < year->days; day++) {
        int before = neighbour(year, day, -1), after = neighbour(year, day, 1);
        bool unknown = isnan(year->monthly[year->month[day]]); /* and stays so, whatever is beside it */
        if (unknown || (before == day - 1 && after == day + 1))
            continue;
        assert(edges.count < EDGES);
        edges.days[edges.count] = day;
        edges.before[edges.count] = before;
        edges.after[edges.count++] = after;
    }
    return edges;
}

/* Smoothed days whose months keep their means: a round smooths, then gives each month back what it lost. */
void normals_daily(const double monthly[13], bool leap, double daily[YEAR_DAYS])
{
    struct year year = year_of(monthly, leap);
    /* Each day begins with the mean of its month. */
    for (int month = 1; month <= MONTHS; month++)
        for (int day = year.start[month]; day < year.start[month + 1]; day++) {
            year.month[day] = month;
            daily[day] = year.monthly[month];
        }
    daily[YEAR_DAYS - 1] = leap ? daily[YEAR_DAYS - 1] : NAN;
    struct edges edges = find_edges(&year);
    for (int round = 0; round < year.days; round++) {
        /* All days alike in one loop of a known length, which compilers make wide; then the few that are not.
         * Of a common year the last element is no day, and no day's neighbour. */
        double old[YEAR_DAYS];
        memcpy(old, daily, sizeof old);
        for (int day = 1; day < YEAR_DAYS - 1; day++)
            daily[day] = (old[day - 1] + old[day] + old[day + 1]) / 3;
        for (int i = 0; i < edges.count; i++)
            daily[edges.days[i]] = (old[edges.before[i]] + old[edges.days[i]] + old[edges.after[i]]) / 3;
        /* What smoothing took from a month, or gave it, goes back in equal parts to its days. */
        for (int month = 1; month <= MONTHS; month++) {
            /* The sum in four parts, none of which waits for another's result. */
            int first = year.start[month], end = year.start[month + 1], at = first;
            double parts[4] = {0};
            for (; at + 4 <= end; at += 4)
                for (int part = 0; part < 4; part++)
                    parts[part] += daily[at + part];
            for (; at < end; at++)
                parts[0] += daily[at];
            double sum = (parts[0] + parts[1]) + (parts[2] + parts[3]);
            double each = year.monthly[month] - sum / (end - first);
            for (int day = first; day < end; day++)
                daily[day] += each;
        }
    }
    for (int month = 1; month <= MONTHS; month++)
        for (int day = year.start[month]; day < year.start[month + 1] && isnan(monthly[month]); day++)
            daily[day] = NAN;
}
