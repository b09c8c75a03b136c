#include "compiler/model/unit.h"

/* A plan's units are a few deep, so an exponent stays far within a byte. */
struct dimension dimension_combined(struct dimension a, struct dimension b, int sign)
{
    return (struct dimension){
        .mass = (int8_t)(a.mass + sign * b.mass),
        .length = (int8_t)(a.length + sign * b.length),
        .time = (int8_t)(a.time + sign * b.time),
        .month = (int8_t)(a.month + sign * b.month),
        .temperature = (int8_t)(a.temperature + sign * b.temperature),
        .charge = (int8_t)(a.charge + sign * b.charge),
    };
}

const struct measure_row measure_rows[] = {
    [MEASURE_NUMBER] = {{0}, "a plain number", "2"},
    [MEASURE_MASS] = {{.mass = 1}, "a mass", "5 lb"},
    [MEASURE_LENGTH] = {{.length = 1}, "a length", "8 ft"},
    [MEASURE_AREA] = {{.length = 2}, "an area", "640 sqft"},
    [MEASURE_VOLUME] = {{.length = 3}, "a volume", "2.5 gal"},
    [MEASURE_TIME] = {{.time = 1}, "a time", "4 h"},
    [MEASURE_MONTHS] = {{.month = 1}, "a number of months", "2 months"},
    [MEASURE_TEMPERATURE] = {{.temperature = 1}, "a temperature", "85 F"},
    [MEASURE_SPEED] = {{.length = 1, .time = -1}, "a speed", "3 mph"},
    [MEASURE_CHARGE] = {{.charge = 1}, "an amount of charge", "8 meq"},
    [MEASURE_MASS_PER_AREA] = {{.mass = 1, .length = -2}, "a mass per area", "4 lb per 1000 sqft"},
    [MEASURE_VOLUME_PER_AREA] = {{.length = 1}, "a volume per area", "3 fl oz per 1000 sqft"},
    [MEASURE_DENSITY] = {{.mass = 1, .length = -3}, "a mass per volume", "10.6 lb per gal"},
    [MEASURE_MASS_PER_AREA_AND_MONTH] = {{.mass = 1, .length = -2, .month = -1},
                                         "a mass per area and year",
                                         "3.2 lb per 1000 sqft per year"},
    [MEASURE_MASS_PER_TIME] = {{.mass = 1, .time = -1}, "a mass per time", "6 lb per min"},
    [MEASURE_VOLUME_PER_TIME] = {{.length = 3, .time = -1}, "a volume per time", "2 gal per min"},
    [MEASURE_CHARGE_PER_MASS] = {{.mass = -1, .charge = 1}, "an exchange capacity", "8 meq per 100 g"},
    [MEASURE_OTHER] = {{0}, "a quantity of its own kind", ""},
};

enum measure dimension_measure(struct dimension dimension)
{
    enum measure measure = MEASURE_NUMBER;
    while (measure < MEASURE_OTHER && !dimension_equal(measure_rows[measure].dimension, dimension))
        measure++;
    return measure;
}
