/* What an edge asks of the day at its one end, given the other's. */
#include "compiler/season/timetable.h"

#include <stdlib.h>

struct timetable_edge timetable_at_least(uint32_t early, uint32_t late, struct duration duration,
                                         uint32_t cause)
{
    return (struct timetable_edge){.from = early,
                                   .to = late,
                                   .least = duration.days,
                                   .from_months = (int16_t)duration.months,
                                   .cause = cause};
}

struct timetable_edge timetable_at_most(uint32_t early, uint32_t late, struct duration duration,
                                        uint32_t cause)
{
    return (struct timetable_edge){.from = late,
                                   .to = early,
                                   .least = -duration.days,
                                   .to_months = (int16_t)duration.months,
                                   .cause = cause};
}

struct timetable_edge timetable_counted_back(struct timetable_edge edge)
{
    int16_t from_months = edge.from_months;
    edge.from_months = (int16_t)-edge.to_months;
    edge.to_months = (int16_t)-from_months;
    return edge;
}

int32_t timetable_edge_days(const struct timetable_edge *edge)
{
    /* Months at either end, as if all counted on from the earlier day: above 0 they keep `to` behind, below 0
     * they bound how far behind `from` may lie. */
    int32_t months = edge->from_months - edge->to_months;
    if (months == 0)
        return edge->least;
    struct duration duration = {.months = months > 0 ? months : -months};
    return edge->least + (months > 0 ? duration_least_days(duration) : -duration_most_days(duration));
}

struct duration timetable_edge_wait(const struct timetable_edge *edge)
{
    int32_t months = edge->from_months - edge->to_months;
    if (months != 0)
        return (struct duration){.months = months > 0 ? months : -months};
    return (struct duration){.days = edge->least == INT32_MIN ? INT32_MAX : abs(edge->least)};
}

int64_t timetable_edge_first(const struct timetable_edge *edge, int64_t day)
{
    if (edge->from_months)
        day = day_add_months((day_number)day, edge->from_months);
    day += edge->least;
    return edge->to_months ? day_last_reaching((day_number)day - 1, edge->to_months) + 1 : day;
}

int64_t timetable_edge_last(const struct timetable_edge *edge, int64_t day)
{
    if (edge->to_months)
        day = day_add_months((day_number)day, edge->to_months);
    day -= edge->least;
    return edge->from_months ? day_last_reaching((day_number)day, edge->from_months) : day;
}
