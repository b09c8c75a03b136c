#include "compiler/output/measure.h"

#include <assert.h>
#include <math.h>

const struct unit *measure_unit(struct arena *arena, const struct model *model, double amount, bool volume)
{
    enum quantity quantity = volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    return unit_named(display_unit(arena, model, quantity, amount));
}

/* What can be read off kitchen, luggage and platform scales, and off measuring jugs (common practice, no
 * source). */
static const struct measure_step {
    const char *unit;
    int decimals;
} steps[] = {{"lb", 2}, {"kg", 2}, {"g", 0}, {"gal", 2}, {"fl oz", 2}, {"L", 2}, {"mL", 0}};

static int unit_decimals(const struct unit *unit)
{
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        if (text_is(text_of(unit->name), steps[i].unit))
            return steps[i].decimals;
    assert(!"an amount is shown in one of these units");
    return 0;
}

enum { FEWEST_DIGITS = 3, MOST_DIGITS = 4, MOST_DECIMALS = 12 };

/* Digits before the point, below 1 the zeros after it counted down: 123 has 3, 0.05 has -1. */
static int magnitude(double value)
{
    int digits = 0;
    while (value >= 1 && digits < 300) {
        value /= 10;
        digits++;
    }
    while (value < 0.1 && digits > -MOST_DECIMALS) {
        value *= 10;
        digits--;
    }
    return digits;
}

double measure_down(const struct unit *unit, double amount, int *decimals)
{
    double value = unit_from_si(unit, amount);
    assert(value >= 0 && isfinite(value));
    int places = unit_decimals(unit), digits = value > 0 ? magnitude(value) : 1;
    if (digits + places > MOST_DIGITS)
        places = MOST_DIGITS - digits;
    if (digits + places < FEWEST_DIGITS)
        places = FEWEST_DIGITS - digits;
    *decimals = places < 0 ? 0 : places > MOST_DECIMALS ? MOST_DECIMALS : places;
    return number_floor(value, *decimals);
}

const char *measure_text(struct arena *arena, const struct unit *unit, double value, int decimals)
{
    return text_format(arena, "%s %s", number_fixed(arena, value, decimals), unit->name);
}

const char *measure_down_text(struct arena *arena, const struct unit *unit, double amount)
{
    int decimals;
    double value = measure_down(unit, amount, &decimals);
    return measure_text(arena, unit, value, decimals);
}
