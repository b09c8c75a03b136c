#include "tests/unit/made_weather.h"

#include <math.h>

double fahrenheit(double value)
{
    return (value + 459.67) * 5 / 9;
}

double celsius(double value)
{
    return value + 273.15;
}

struct weather weather_none(void)
{
    struct weather weather = {.stated = true};
    for (int month = 0; month <= 12; month++)
        weather.high[month] = weather.low[month] = weather.rain[month] = weather.soil[month] = NAN;
    return weather;
}

void weather_add(struct arena *arena, struct weather_series *series, day_number day, double high, double low)
{
    struct weather_row row = {.day = day, .high = high, .low = low, .rain = NAN, .soil = NAN};
    VECTOR_PUSH(arena, &series->rows, row);
}
