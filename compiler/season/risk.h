/* How often, by the history's years, a planned day would have broken what its weather is to be. */
#ifndef PRILL_SEASON_RISK_H
#define PRILL_SEASON_RISK_H

#include "compiler/season/season.h"

/* Whether the weather binds the occurrence at all; what was done it does not. */
bool season_asks_weather(const struct season *season, const struct occurrence *occurrence);

struct risk {
    int broken; /* years in which some condition was broken on that day */
    int known;  /* years in which that could be told */
};

/* Of the occurrence, were it on that day; all 0 without a history, or where the weather does not bind it. */
struct risk season_risk(const struct season *season, const struct occurrence *occurrence, day_number day);

/* Among the days that the occurrence may have while nothing else moves, the first of those that were broken
 * in the least share of the years. False, nothing stored, where no day's risk is known. */
bool season_least_risk(const struct season *season, const struct occurrence *occurrence, day_number *day,
                       struct risk *risk);

#endif
