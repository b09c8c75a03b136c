#include "compiler/model/measure.h"

#include "compiler/model/tolerance.h"

#include <assert.h>
#include <math.h>

const struct unit *measure_unit(const struct model *model, double amount, bool volume)
{
    enum quantity quantity = volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    return unit_named(display_parts(model, quantity, amount).unit);
}

/* A step in ounces, or in grams where results are in pounds, says in which unit the plan's own scale shows:
 * NULL where it says no more than results do. */
static const struct unit *own_unit(const struct model *model, bool volume)
{
    const struct unit *unit = volume ? model->measures_in : model->weighs_in;
    enum unit_system system = model->metric ? UNIT_METRIC : UNIT_US;
    bool names = unit && (unit->system != system || text_is(text_of(unit->name), "oz"));
    return names ? unit : NULL;
}

/* A kitchen scale carries 10 lb, a jug holds a gallon (common practice, no source). */
const struct unit *portion_unit(const struct model *model, double amount, bool volume)
{
    const struct unit *own = own_unit(model, volume);
    double most = volume ? unit_to_si(unit_named("gal"), 1) : unit_to_si(unit_named("lb"), 10);
    return own && !exceeds(amount, most) ? own : measure_unit(model, amount, volume);
}

/* What can be read off kitchen, luggage and platform scales, and off measuring jugs; heaps by the barrow
 * (common practice, no source). */
static const struct measure_step {
    const char *unit;
    int decimals, below_one;
} scale_steps[] = {{"lb", 2, 2}, {"kg", 2, 3}, {"g", 0, 0},    {"gal", 2, 2},   {"fl oz", 2, 2},
                   {"L", 2, 3},  {"mL", 0, 0}, {"cu m", 2, 2}, {"cu yd", 2, 2}, {"cu ft", 2, 2}};

static const double LARGEST_LOSS = 0.02; /* of the amount */

/* As many as the unit's scale shows, but no more digits in all than matter, and no fewer than keep the loss
 * small. */
static int measure_decimals(const struct unit *unit, double value)
{
    static const double powers[FIGURE_DIGITS + 1] = {1, 10, 100, 1000};
    assert(value >= 0 && isfinite(value));
    size_t row = 0;
    while (row < sizeof scale_steps / sizeof *scale_steps &&
           !text_is(text_of(unit->name), scale_steps[row].unit))
        row++;
    assert(row < sizeof scale_steps / sizeof *scale_steps && "an amount is shown in one of these units");
    int places = value < 1 ? scale_steps[row].below_one : scale_steps[row].decimals, digits = 0;
    while (digits <= FIGURE_DIGITS && value >= powers[digits]) /* before the point */
        digits++;
    while (places > 0 && places > FIGURE_DIGITS - digits)
        places--;
    while (value > 0 && places < NUMBER_DECIMALS && pow(10, -places) > LARGEST_LOSS * value)
        places++;
    return places;
}

double measure_part(const struct unit *unit, double amount, struct leeway leeway, int *decimals)
{
    double value = unit_from_si(unit, amount);
    *decimals = measure_decimals(unit, value);
    return figure_within(value, leeway, decimals);
}

/* How far a figure may be below the amount, or above it where nothing forbids that: by a step that others are
 * finer than, and by the finest that people have (common practice, no source). */
static const struct leeway COARSE = {0.02, 0.01}, FINEST = {0.05, 0.05};

/* The row's step in the unit; 0 where amounts in it do not take that step: it is of another measure or
 * system, of a larger unit, or not a short figure in this one, as a fluid ounce is of a gallon. */
static double row_step(const struct usual_step *row, const struct unit *unit)
{
    enum { SHORT = 5 };
    bool volume = unit->measure == MEASURE_VOLUME;
    double step = unit_from_si(unit, row->step);
    bool fits = row->volume == volume && row->unit && row->unit->system == unit->system &&
                !exceeds(row->unit->factor, unit->factor) && !differs(number_nearest(step, SHORT), step);
    return fits ? step : 0;
}

/* The first step that reaches the amount, then the finer ones before it: the first of them that changes
 * little. Where all change more, the finest has to do, or figures between its marks. */
double measure_portion(const struct model *model, const struct unit *unit, double amount,
                       struct leeway leeway, int *decimals)
{
    double value = unit_from_si(unit, amount), figure, finest = 0;
    bool volume = unit->measure == MEASURE_VOLUME;
    double own = volume ? model->measures_to : model->weighs_to;
    const struct usual *entry = model->tools[volume ? TOOL_CUP : TOOL_SCALE];
    if (own > 0 && (!own_unit(model, volume) || own_unit(model, volume) == unit))
        return figure_in_steps(value, leeway, unit_from_si(unit, own), true, decimals);
    size_t rows = 0;
    while (entry && rows < entry->steps.count &&
           !(rows && row_step(&entry->steps.items[rows - 1], unit) > 0 &&
             !exceeds(amount, entry->steps.items[rows - 1].most)))
        rows++;
    for (size_t i = rows; i-- > 0;) {
        double step = row_step(&entry->steps.items[i], unit);
        if (!(step > 0))
            continue;
        finest = step;
        if (figure_in_step(value, leeway_both(leeway, COARSE), step, false, &figure, decimals))
            return figure;
    }
    if (!(finest > 0))
        return measure_part(unit, amount, leeway, decimals);
    leeway = leeway_both(leeway, FINEST);
    return figure_in_step(value, leeway, finest, false, &figure, decimals)
               ? figure
               : figure_within(value, leeway, decimals);
}

double measure_up(const struct unit *unit, double amount, int *decimals)
{
    double value = unit_from_si(unit, amount);
    *decimals = measure_decimals(unit, value);
    return number_ceiling(value, *decimals);
}

const char *measure_text(struct arena *arena, const struct unit *unit, double value, int decimals)
{
    return number_before(arena, value, decimals, false, (const char *const[]){" ", unit->name}, 2);
}
