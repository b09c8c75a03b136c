/* A condition on the weather, looked at day by day: whether a day keeps it, in how many years, which days do.
 *
 * A day on which the condition cannot be told, because nothing is known or expected of the weather, counts as
 * open: what is not known closes nothing. */
#ifndef PRILL_SEASON_WATCH_H
#define PRILL_SEASON_WATCH_H

#include "compiler/season/climate.h"
#include "compiler/season/day_set.h"

enum verdict { VERDICT_UNKNOWN, VERDICT_BROKEN, VERDICT_KEPT };

struct weather_odds {
    int kept, known; /* years of the history */
};

/* What a verdict rests on. */
struct weather_look {
    enum verdict verdict;
    double value; /* of the condition's quantity: the mean, the sum, or of each day the one nearest to
                     breaking it; K, m, K days; NAN when unknown, or when `by_years` */
    enum reading_origin origin; /* of the least sure reading */
    bool estimated;             /* some reading is an estimate from the air */
    bool by_years;              /* told by the odds */
    struct weather_odds odds;
};

struct watch;

/* The climate and the condition must outlive the watch. */
const struct watch *watch_make(struct arena *arena, const struct climate *climate,
                               const struct weather_condition *condition);
const struct weather_condition *watch_condition(const struct watch *watch);

/* The days that the condition looks at, counted from the day. */
void watch_span(const struct watch *watch, day_number day, int *from, int *to);

/* By what was measured, is forecast or expected. A condition that asks for so many years in so many goes by
 * the odds, unless the day itself is measured or forecast. */
struct weather_look watch_day(const struct watch *watch, day_number day);

/* The same day of one year of the history (Feb 28 for Feb 29), by what was measured alone; of degree days one
 * day in ten may be missing. */
enum verdict watch_year(const struct watch *watch, day_number day, int year);
struct weather_odds watch_odds(const struct watch *watch, day_number day);

/* The days of `all` on which the condition is not known to be broken. */
const struct day_set *watch_open(struct arena *arena, const struct watch *watch, const struct day_set *all);

#endif
