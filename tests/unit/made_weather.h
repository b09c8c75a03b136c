/* Weather made up for tests. */
#ifndef PRILL_TESTS_MADE_WEATHER_H
#define PRILL_TESTS_MADE_WEATHER_H

#include "compiler/model/weather.h"

/* Nothing stated. */
struct weather weather_none(void);
/* A further row, to be added in the order of days; rain and soil are not told. */
void weather_add(struct arena *arena, struct weather_series *series, day_number day, double high, double low);

double fahrenheit(double value); /* in K */
double celsius(double value);

#define DAY(year, month, day) day_of_date((struct civil_date){year, month, day})

#define assert_close(value, expected)                                                                        \
    do {                                                                                                     \
        if (!(fabs((value) - (expected)) <= 1e-9))                                                           \
            fail_msg("%s is %.15g, not %.15g", #value, (double)(value), (double)(expected));                 \
    } while (0)

#endif
