#include "compiler/season/risk.h"

bool season_asks_weather(const struct season *season, const struct occurrence *occurrence)
{
    uint32_t at = 0;
    return season_weather_bound(season, occurrence, &at) != NULL;
}

/* Year by year of the history, by all that the days of the occurrence wait for. */
struct risk season_risk(const struct season *season, const struct occurrence *occurrence, day_number day)
{
    struct risk risk = {0};
    int first, last;
    if (!season->climate || !climate_years(season->climate, &first, &last) ||
        !season_asks_weather(season, occurrence))
        return risk;
    for (int year = first; year <= last; year++) {
        /* Broken by one is broken; not known of one, and broken by none, is not known. */
        const struct bound *bound;
        enum verdict verdict = VERDICT_KEPT;
        for (uint32_t at = 0;
             verdict != VERDICT_BROKEN && (bound = season_weather_bound(season, occurrence, &at)) != NULL;) {
            enum verdict one = watch_year(bound->watch, day, year);
            verdict = one == VERDICT_KEPT ? verdict : one;
        }
        risk.broken += verdict == VERDICT_BROKEN;
        risk.known += verdict != VERDICT_UNKNOWN;
    }
    return risk;
}

/* Of equal risks the first day. */
bool season_least_risk(const struct season *season, const struct occurrence *occurrence, day_number *day,
                       struct risk *risk)
{
    struct risk least = {0};
    if (!occurrence->dated || occurrence->done || !season_asks_weather(season, occurrence))
        return false;
    uint32_t node = season->node_of[occurrence->index];
    for (day_number at = occurrence->day; at <= occurrence->slip->farthest; at++) {
        /* By the sets of days; the window's ends are those of the days it may slip through. */
        bool open = true;
        const struct timetable_closure *set = season->nodes[node].closures;
        for (; set && open; set = set->next)
            open = day_set_contains(set->days, at);
        struct risk here = open ? season_risk(season, occurrence, at) : (struct risk){0};
        /* Fractions of years by cross products, so that nothing is rounded. */
        if (here.known == 0 ||
            !(least.known == 0 || (int64_t)here.broken * least.known < (int64_t)least.broken * here.known))
            continue;
        least = here;
        *day = at;
    }
    if (least.known)
        *risk = least;
    return least.known > 0;
}
