#include "compiler/model/measure.h"

#include <assert.h>
#include <math.h>

const struct unit *measure_unit(struct arena *arena, const struct model *model, double amount, bool volume)
{
    enum quantity quantity = volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    return unit_named(display_unit(arena, model, quantity, amount));
}

/* What can be read off kitchen, luggage and platform scales, and off measuring jugs; heaps by the barrow
 * (common practice, no source). */
static const struct measure_step {
    const char *unit;
    int decimals, below_one;
} steps[] = {{"lb", 2, 2}, {"kg", 2, 3}, {"g", 0, 0},    {"gal", 2, 2},   {"fl oz", 2, 2},
             {"L", 2, 3},  {"mL", 0, 0}, {"cu m", 2, 2}, {"cu yd", 2, 2}, {"cu ft", 2, 2}};

static int unit_decimals(const struct unit *unit, double value)
{
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
        if (text_is(text_of(unit->name), steps[i].unit))
            return value < 1 ? steps[i].below_one : steps[i].decimals;
    assert(false && "an amount is shown in one of these units");
    return 0;
}

enum { MOST_DIGITS = FIGURE_DIGITS, MOST_DECIMALS = 12 };
static const double LARGEST_LOSS = 0.02; /* of the amount */

/* Up to one more than the most that matter. */
static int whole_digits(double value)
{
    static const double powers[MOST_DIGITS + 1] = {1, 10, 100, 1000};
    int digits = 0;
    while (digits <= MOST_DIGITS && value >= powers[digits])
        digits++;
    return digits;
}

static int measure_decimals(const struct unit *unit, double value)
{
    assert(value >= 0 && isfinite(value));
    int places = unit_decimals(unit, value), room = MOST_DIGITS - whole_digits(value);
    while (places > 0 && places > room)
        places--;
    while (value > 0 && places < MOST_DECIMALS && pow(10, -places) > LARGEST_LOSS * value)
        places++;
    return places;
}

double measure_part(const struct unit *unit, double amount, struct leeway leeway, int finer, int *decimals)
{
    double value = unit_from_si(unit, amount);
    *decimals = measure_decimals(unit, value) + finer;
    *decimals = *decimals < MOST_DECIMALS ? *decimals : MOST_DECIMALS;
    return figure_within(value, leeway, decimals);
}

double measure_up(const struct unit *unit, double amount, int *decimals)
{
    double value = unit_from_si(unit, amount);
    *decimals = measure_decimals(unit, value);
    return number_ceiling(value, *decimals);
}

const char *measure_text(struct arena *arena, const struct unit *unit, double value, int decimals)
{
    return text_format(arena, "%s %s", number_fixed(arena, value, decimals), unit->name);
}
