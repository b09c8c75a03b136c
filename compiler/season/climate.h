/* The weather of every day, as well as the plan lets it be known: measured, else forecast, else expected.
 *
 * Expected is the monthly mean brought down to days (normals.h): the normals the plan states, or where it
 * states none the mean of the history's days in that month, if there are at least MONTH_DAYS of them. Rain
 * has no expected day: a month's rain falls on some days and not on others. Soil temperature that nobody
 * measured is estimated from the air (soil_temperature.h); so it is where the soil's normals are stated but
 * the air was measured or forecast. */
#ifndef PRILL_SEASON_CLIMATE_H
#define PRILL_SEASON_CLIMATE_H

#include "compiler/model/weather.h"
#include "compiler/season/normals.h"

enum { MONTH_DAYS = 20 };

enum reading_origin { READING_NONE, READING_EXPECTED, READING_FORECAST, READING_MEASURED }; /* ever surer */

struct reading {
    double value; /* K; m of rain; NAN for READING_NONE */
    enum reading_origin origin;
    bool estimated; /* soil temperature told from the air's; `origin` is then the air's */
};

struct climate { /* only read from outside; what is behind the days is climate.c's own */
    struct arena *arena;
    const struct weather *weather;
    day_number first, last;
    size_t count;  /* days */
    size_t blocks; /* whole ones */
    struct quantity_days *quantities;
};

/* For the days from `first` to `last` and all that files tell of. What is not asked for takes no effort; the
 * days of a quantity are worked out by the first call that does, which takes memory for a while. */
const struct climate *climate_make(struct arena *arena, const struct weather *weather, day_number first,
                                   day_number last);

/* READING_NONE outside these days. `quantity` is below WEATHER_QUANTITY_COUNT. */
struct reading climate_reading(const struct climate *climate, enum weather_quantity quantity, day_number day);

/* What is known of a run of days. */
struct weather_summary {
    double lowest, highest, sum; /* of the days known */
    int known;                   /* days */
    enum reading_origin origin;  /* the least sure of them; READING_NONE where none is known */
    bool estimated;              /* one of them is */
};

/* Of the days from `first` to `last`. Effort grows with the logarithm of a long run. */
struct weather_summary climate_summary(const struct climate *climate, enum weather_quantity quantity,
                                       day_number first, day_number last);

/* The day of the year, from 0, as if every year had a Feb 29. */
int climate_day_of_year(day_number day);

/* The years in which the history has a day; false, and nothing stored, without a history. */
bool climate_years(const struct climate *climate, int *first, int *last);

/* The month whose lows are expected to be highest: January south of the equator; July where no low is. */
int climate_hottest_month(const struct climate *climate);

#endif
