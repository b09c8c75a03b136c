/* The weather a plan counts on, as it was stated, and what a plan asks of it. Computed values are the
 * season's.
 *
 * Temperatures in K, rain in m; NAN where nothing was stated or a reading is missing. */
#ifndef PRILL_MODEL_WEATHER_H
#define PRILL_MODEL_WEATHER_H

#include "compiler/model/date.h"
#include "lexer/source.h"

/* One line of a file of daily weather. */
struct weather_row {
    day_number day;
    double high, low, rain, soil;
    struct place place;
};

struct weather_series {
    struct place place;              /* of the first statement that named a file; source NULL without */
    VECTOR(struct weather_row) rows; /* by day, each day once */
    double soil_depth_m;             /* NAN without a column of soil temperature */
};

struct weather {
    bool stated;
    bool broken; /* something of it was reported; nothing is concluded from the rest */
    struct place place;
    double high[13], low[13]; /* monthly means by month 1 to 12 */
    double rain[13];          /* of the whole month */
    double soil[13];
    struct place month_place[13];
    struct weather_series history, forecast;
};

/* ---- what is asked ---- */

enum weather_quantity {
    WEATHER_HIGH,
    WEATHER_LOW,
    WEATHER_MEAN, /* of high and low */
    WEATHER_SOIL,
    WEATHER_RAIN,
    WEATHER_QUANTITY_COUNT,
    WEATHER_DEGREE_DAYS = WEATHER_QUANTITY_COUNT /* summed up from a start; not a reading of one day */
};

/* Water freezes, at 32 F. */
#define FREEZING_K 273.15

enum weather_side { SIDE_BELOW, SIDE_ABOVE, SIDE_AT_MOST, SIDE_AT_LEAST };

enum weather_way {           /* how the days of the condition count */
                   WAY_EACH, /* every one of them */
                   WAY_MEAN,
                   WAY_SUM
};

/* Of a condition on frost, which looks from the day on to midsummer, or from midsummer to the day. */
enum weather_frost { FROST_NONE, FROST_LAST, FROST_FIRST };

enum { WEATHER_DAYS_LIMIT = 366 }; /* that a condition may hold over */

/* "The quantity is on this side of the limit", on the days from `from` to `to` counted from the day in
 * question: 0 and 0 is the day itself, -2 and 0 that day and the two before it. */
struct weather_condition {
    enum weather_quantity quantity;
    enum weather_side side;
    enum weather_way way;
    double limit; /* K; m of rain; K days */
    int from, to;
    enum weather_frost frost; /* in place of `from` and `to`; FROST_NONE mostly */
    double base, cap;         /* of degree days; cap INFINITY without */
    bool clipped;
    day_number start; /* of degree days: nothing is reached before it, and every year they begin anew */
    int years, of;    /* in at least so many years of so many; 0: by what the day is expected to be like */
    struct place place;
};

#endif
