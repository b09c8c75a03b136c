#include "compiler/model/display.h"

#include "compiler/model/tolerance.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Those for fields come first, where the plan's units are those; then the largest unit first. The first row
 * whose `least` the value reaches is the one it is shown in. */
struct display_row {
    const char *unit, *symbol; /* its name in the unit table; as shown */
    double per;                /* "per 1000 sqft": so many ... */
    const char *per_unit;      /* ... of this unit; NULL for a plain quantity */
    const char *per_symbol;
    enum ground_units ground;
    double least; /* shown in the next row below so much of `unit` */
};

static const struct display_row rows[][UNIT_METRIC + 1][2] = {
    [QUANTITY_MASS] = {[UNIT_US] = {{"lb", "lb", 1, NULL, "", PER_LAWN, 0}},
                       [UNIT_METRIC] = {{"kg", "kg", 1, NULL, "", PER_LAWN, 1},
                                        {"g", "g", 1, NULL, "", PER_LAWN, 0}}},
    [QUANTITY_VOLUME] = {[UNIT_US] = {{"gal", "gal", 1, NULL, "", PER_LAWN, 1},
                                      {"fl oz", "fl oz", 1, NULL, "", PER_LAWN, 0}},
                         [UNIT_METRIC] = {{"L", "L", 1, NULL, "", PER_LAWN, 1},
                                          {"mL", "mL", 1, NULL, "", PER_LAWN, 0}}},
    [QUANTITY_MASS_RATE] = {[UNIT_US] = {{"lb", "lb", 1, "acre", " per acre", PER_FIELD, 0},
                                         {"lb", "lb", 1000, "sq ft", " per 1000 sqft", PER_LAWN, 0}},
                            [UNIT_METRIC] = {{"kg", "kg", 1, "ha", " per ha", PER_FIELD, 0},
                                             {"g", "g", 1, "sq m", " per m2", PER_LAWN, 0}}},
    [QUANTITY_VOLUME_RATE] = {[UNIT_US] = {{"fl oz", "fl oz", 1, "acre", " per acre", PER_FIELD, 0},
                                           {"fl oz", "fl oz", 1000, "sq ft", " per 1000 sqft", PER_LAWN, 0}},
                              [UNIT_METRIC] = {{"L", "L", 1, "ha", " per ha", PER_FIELD, 0},
                                               {"mL", "mL", 1, "sq m", " per m2", PER_LAWN, 0}}},
    [QUANTITY_WATER_RATE] = {[UNIT_US] = {{"gal", "gal", 1, "acre", " per acre", PER_FIELD, 0},
                                          {"gal", "gal", 1000, "sq ft", " per 1000 sqft", PER_LAWN, 0}},
                             [UNIT_METRIC] = {{"L", "L", 1, "ha", " per ha", PER_FIELD, 0},
                                              {"L", "L", 100, "sq m", " per 100 m2", PER_LAWN, 0}}},
    [QUANTITY_AREA] = {[UNIT_US] = {{"acre", "acres", 1, NULL, "", PER_FIELD, 0},
                                    {"sq ft", "sqft", 1, NULL, "", PER_LAWN, 0}},
                       [UNIT_METRIC] = {{"ha", "ha", 1, NULL, "", PER_FIELD, 0},
                                        {"sq m", "m2", 1, NULL, "", PER_LAWN, 0}}},
    [QUANTITY_LENGTH] = {[UNIT_US] = {{"ft", "ft", 1, NULL, "", PER_LAWN, 0}},
                         [UNIT_METRIC] = {{"m", "m", 1, NULL, "", PER_LAWN, 0}}},
    [QUANTITY_DEPTH] = {[UNIT_US] = {{"in", "in", 1, NULL, "", PER_LAWN, 0}},
                        [UNIT_METRIC] = {{"mm", "mm", 1, NULL, "", PER_LAWN, 0}}},
    [QUANTITY_TEMPERATURE] = {[UNIT_US] = {{"F", "F", 1, NULL, "", PER_LAWN, 0}},
                              [UNIT_METRIC] = {{"C", "C", 1, NULL, "", PER_LAWN, 0}}},
    [QUANTITY_DENSITY] = {[UNIT_US] = {{"lb", "lb", 1, "gal", " per gal", PER_LAWN, 0}},
                          [UNIT_METRIC] = {{"kg", "kg", 1, "L", " per L", PER_LAWN, 0}}},
};

static double row_value(const struct display_row *row, double si)
{
    double per = row->per_unit ? row->per * unit_named(row->per_unit)->factor : 1;
    return unit_from_si(unit_named(row->unit), si * per);
}

/* The largest unit of the plan's system that the figure reaches. 0.99999999999 kg is a kg that was multiplied
 * on the way. */
static const struct display_row *row_for(const struct model *model, enum quantity quantity, double si)
{
    const struct display_row *row = rows[quantity][model->metric ? UNIT_METRIC : UNIT_US];
    bool last = row->ground <= model->ground &&
                (row->least <= 0 || fabs(row_value(row, si)) >= row->least * (1 - 1e-9));
    return last ? row : row + 1;
}

/* "12.94 lb of starter", "0.75 lb N per 1000 sqft" */
static const char *row_text(struct arena *arena, const struct display_row *row, double value, int decimals,
                            const char *what)
{
    bool one_acre =
        !row->per_unit && row->ground == PER_FIELD && text_is(TEXT("1"), number_text(arena, value, decimals));
    const char *symbol = one_acre ? row->unit : row->symbol, *per = row->per_symbol;
    const char *const after[] = {" ", symbol, what ? " " : per, what, per};
    return number_before(arena, value, decimals, true, after, what ? 5 : 3);
}

const char *display_of(struct arena *arena, const struct model *model, enum quantity quantity, double si,
                       const char *what)
{
    const struct display_row *row = row_for(model, quantity, si);
    double value = row_value(row, si);
    return row_text(arena, row, value, number_short_decimals(value), what);
}

const char *display_rounded(struct arena *arena, const struct model *model, enum quantity quantity, double si,
                            double (*round_to)(double, int), const char *what)
{
    const struct display_row *row = row_for(model, quantity, si);
    double value = row_value(row, si);
    int decimals = number_short_decimals(value);
    return row_text(arena, row, round_to(value, decimals), decimals, what);
}

/* ---- what a person puts down ---- */

static double within(double value, struct leeway leeway, int *decimals)
{
    *decimals = number_short_decimals(value);
    return figure_within(value, leeway, decimals);
}

static const char *within_number(struct arena *arena, double value, struct leeway leeway)
{
    int decimals;
    double figure = within(value, leeway, &decimals);
    return number_text(arena, figure, decimals);
}

const char *display_within(struct arena *arena, const struct model *model, enum quantity quantity, double si,
                           struct leeway leeway, const char *what)
{
    const struct display_row *row = row_for(model, quantity, si);
    int decimals;
    double figure = within(row_value(row, si), leeway, &decimals);
    return row_text(arena, row, figure, decimals, what);
}

const char *display_number_within(struct arena *arena, const struct model *model, enum quantity quantity,
                                  double si, struct leeway leeway)
{
    return within_number(arena, row_value(row_for(model, quantity, si), si), leeway);
}

/* Of so many of its passes; a row gets the unit that the figure is in. */
static double passes_figure(const struct model *model, const struct shown_rate *rate, int passes,
                            const struct display_row **row, int *decimals)
{
    *row = row_for(model, rate->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE, rate->rate);
    double each = row_value(*row, rate->rate) / rate->passes;
    *decimals = figure_decimals(each);
    return figure_within(each, rate->leeway, decimals) * passes;
}

const char *display_passes(struct arena *arena, const struct model *model, const struct shown_rate *rate,
                           int passes, const char *what)
{
    const struct display_row *row;
    int decimals;
    double figure = passes_figure(model, rate, passes, &row, &decimals);
    return row_text(arena, row, figure, decimals, what);
}

const char *display_whole_number(struct arena *arena, const struct model *model,
                                 const struct shown_rate *rate)
{
    const struct display_row *row;
    int decimals;
    double figure = passes_figure(model, rate, rate->passes, &row, &decimals);
    return number_text(arena, figure, decimals);
}

const char *display_label_range(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high)
{
    const struct display_row *row = row_for(model, quantity, high);
    double least = row_value(row, low), most = row_value(row, high);
    const char *from =
        within_number(arena, least, (struct leeway){LEAST_RATE_TOLERANCE, most / fmax(least, 1e-300) - 1});
    const char *to = within_number(arena, most, LEEWAY_DOWN);
    const char *range = text_is(text_of(from), to) ? from : text_format(arena, "%s to %s", from, to);
    return text_format(arena, "%s %s%s", range, row->symbol, row->per_symbol);
}

/* ---- a value beside its bound ---- */

/* A bound that was written in this unit needs few digits more than the usual four to be shown as it is; one
 * that was converted needs endlessly many, and is rounded. */
enum { DIGITS_MORE = 2 };

struct pair_decimals {
    int value, bound;
};

/* A bound that is shown as it is keeps its digits: only the value takes more. */
static struct pair_decimals decimals_of_pair(struct arena *arena, double value, double bound)
{
    /* The fewest decimals that show the bound as it is; -1 where it takes too many. */
    int exact = -1, least = number_short_decimals(value);
    int most = number_short_decimals(bound) + DIGITS_MORE;
    for (int decimals = 0; exact < 0 && decimals <= most && decimals <= NUMBER_DECIMALS; decimals++)
        if (!differs(number_nearest(bound, decimals), bound))
            exact = decimals;
    struct pair_decimals decimals = {0, exact < 0 ? number_short_decimals(bound) : exact};
    decimals.value = least > decimals.bound ? least : decimals.bound;
    for (; differs(value, bound) && decimals.value < NUMBER_DECIMALS; decimals.value++) {
        /* Enough where the two read differently, and on the right side of each other. */
        double shown = number_nearest(value, decimals.value) - number_nearest(bound, decimals.bound);
        if ((value > bound ? shown > 0 : shown < 0) &&
            !text_is(text_of(number_text(arena, value, decimals.value)),
                     number_text(arena, bound, decimals.bound)))
            break;
        if (exact < 0 && decimals.bound <= decimals.value)
            decimals.bound = decimals.value + 1;
    }
    return decimals;
}

struct display_pair display_pair(struct arena *arena, const struct model *model, enum quantity quantity,
                                 double value, double bound, const char *what)
{
    const struct display_row *row = row_for(model, quantity, fmax(value, bound));
    double a = row_value(row, value), b = row_value(row, bound);
    struct pair_decimals decimals = decimals_of_pair(arena, a, b);
    return (struct display_pair){row_text(arena, row, a, decimals.value, what),
                                 row_text(arena, row, b, decimals.bound, what)};
}

struct display_pair display_share_pair(struct arena *arena, double value, double bound)
{
    double a = value * 100, b = bound * 100;
    struct pair_decimals decimals = decimals_of_pair(arena, a, b);
    return (struct display_pair){text_format(arena, "%s%%", number_text(arena, a, decimals.value)),
                                 text_format(arena, "%s%%", number_text(arena, b, decimals.bound))};
}

/* ---- numbers alone, and the usual ones by name ---- */

const char *display_number(struct arena *arena, const struct model *model, enum quantity quantity, double si)
{
    return number_short(arena, row_value(row_for(model, quantity, si), si));
}

struct display_parts display_parts(const struct model *model, enum quantity quantity, double si)
{
    const struct display_row *row = row_for(model, quantity, si);
    return (struct display_parts){row_value(row, si), row->symbol, row->per_symbol};
}

const char *display_unit(struct arena *arena, const struct model *model, enum quantity quantity, double si)
{
    const struct display_row *row = row_for(model, quantity, si);
    return text_format(arena, "%s%s", row->symbol, row->per_symbol);
}

const char *display_rate(struct arena *arena, const struct model *model, double kg_per_m2)
{
    return display_of(arena, model, QUANTITY_MASS_RATE, kg_per_m2, NULL);
}

const char *display_product_rate(struct arena *arena, const struct model *model, double rate, bool volume)
{
    return display_of(arena, model, volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE, rate, NULL);
}

const char *display_amount(struct arena *arena, const struct model *model, double amount, bool volume)
{
    return display_of(arena, model, volume ? QUANTITY_VOLUME : QUANTITY_MASS, amount, NULL);
}

const char *display_area(struct arena *arena, const struct model *model, double m2)
{
    return display_of(arena, model, QUANTITY_AREA, m2, NULL);
}

const char *display_length(struct arena *arena, const struct model *model, double m)
{
    return display_of(arena, model, QUANTITY_LENGTH, m, NULL);
}

const char *display_distance(struct arena *arena, const struct model *model, double m)
{
    const struct display_row *row = row_for(model, QUANTITY_LENGTH, m);
    double value = row_value(row, m);
    int decimals = figure_decimals(value);
    return row_text(arena, row, number_ceiling(value, decimals), decimals, NULL);
}

const char *display_depth(struct arena *arena, const struct model *model, double m)
{
    return display_of(arena, model, QUANTITY_DEPTH, m, NULL);
}

const char *display_date(struct arena *arena, day_number day)
{
    return text_format(arena, "%.3s %s", weekday_name(weekday_of_day(day)), day_text(arena, day));
}

const char *display_dates(struct arena *arena, day_number a, day_number b)
{
    return a == b ? display_date(arena, a)
                  : text_format(arena, "%s to %s", display_date(arena, a), display_date(arena, b));
}

const char *display_days(struct arena *arena, int days)
{
    return text_format(arena, "%d %s", days, days == 1 || days == -1 ? "day" : "days");
}

const char *display_duration(struct arena *arena, struct duration duration)
{
    const int year = 12;
    bool years = duration.months > 0 && duration.months % year == 0;
    int count = years ? duration.months / year : duration.months;
    if (duration.months == 0)
        return display_days(arena, duration.days);
    return text_format(arena, "%d %s%s", count, years ? "year" : "month", count == 1 ? "" : "s");
}

const char *display_share(struct arena *arena, double share)
{
    return text_format(arena, "%s%%", number_short(arena, share * 100));
}

const char *display_hours(struct arena *arena, double seconds)
{
    const double minute = 60, hour = 3600, day = 86400;
    if (seconds < hour)
        return text_format(arena, "%s min", number_short(arena, seconds / minute));
    if (fmod(seconds, day) != 0)
        return text_format(arena, "%s h", number_short(arena, seconds / hour));
    return display_days(arena, (int)(seconds / day));
}
