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

enum { MOST_DIGITS = FIGURE_DIGITS, MOST_DECIMALS = 12 };
static const double LARGEST_LOSS = 0.02; /* of the amount */

/* As many as the unit's scale shows, but no more digits in all than matter, and no fewer than keep the loss
 * small. */
static int measure_decimals(const struct unit *unit, double value)
{
    static const double powers[MOST_DIGITS + 1] = {1, 10, 100, 1000};
    assert(value >= 0 && isfinite(value));
    size_t row = 0;
    while (row < sizeof steps / sizeof *steps && !text_is(text_of(unit->name), steps[row].unit))
        row++;
    assert(row < sizeof steps / sizeof *steps && "an amount is shown in one of these units");
    int places = value < 1 ? steps[row].below_one : steps[row].decimals, digits = 0;
    while (digits <= MOST_DIGITS && value >= powers[digits]) /* before the point */
        digits++;
    while (places > 0 && places > MOST_DIGITS - digits)
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

/* In steps that a scale or cup shows, so that a person can weigh what is printed. */
double measure_portion(const struct model *model, const struct unit *unit, double amount,
                       struct leeway leeway, int finer, int *decimals)
{
    static const double parts[] = {1, 0.5, 0.2}; /* then a tenth, and so on */
    double value = unit_from_si(unit, amount);
    double own = unit->measure == MEASURE_VOLUME ? model->measures_to : model->weighs_to;
    double step = own > 0 ? unit_from_si(unit, own) : 0;
    /* Without a scale or cup of the plan's own: the step of the entry that reaches the amount. */
    bool volume = unit->measure == MEASURE_VOLUME;
    const struct usual *entry = own > 0 ? NULL : model->tools[volume ? TOOL_CUP : TOOL_SCALE];
    for (size_t i = 0; entry && i < entry->steps.count && !(step > 0); i++) {
        const struct usual_step *row = &entry->steps.items[i];
        if (row->volume == volume && row->system == unit->system && amount <= row->most * (1 + 1e-9))
            step = unit_from_si(unit, row->step);
    }
    if (!(step > 0))
        return measure_part(unit, amount, leeway, finer, decimals);
    size_t part = 0;
    while (!(own > 0) && value > 0 && step * parts[part] > LARGEST_LOSS * value)
        if (++part == sizeof parts / sizeof *parts) {
            part = 0;
            step /= 10;
        }
    return figure_in_steps(value, leeway, step * parts[part] / pow(10, finer), own > 0, decimals);
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
