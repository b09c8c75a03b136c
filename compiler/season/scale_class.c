#include "compiler/season/scale_class.h"
#include "compiler/model/tolerance.h"
#include "compiler/model/soil_test.h"

double polynomial_at(const struct polynomial *polynomial, double x)
{
    double value = 0;
    for (size_t i = polynomial->count; i-- > 0;)
        value = value * x + polynomial->term[i];
    return value;
}

double level_in_unit(double level, const struct level_unit *unit)
{
    return unit->index ? level : level / unit->share;
}

/* ---- levels ---- */

/* kg of the element in 1 kg of soil, so that P and P2O5 can be compared; an index as it is. */
double level_begin(const struct level *level)
{
    return level->index ? level->low : level->low * level->nutrient->element_per_unit;
}

static bool level_usable(const struct level *level, enum nutrient nutrient, bool minimum, bool index)
{
    return level->nutrient && level->nutrient->nutrient == nutrient && level->minimum == minimum &&
           level->index == index && !isnan(level->low);
}

/* A class reaches up to where the next one begins: tables of whole numbers (25 to 45, 46 to 71) leave gaps
 * that a mean may fall into. Above the end of the last class there is none. */
static const struct level *class_of(const struct scale *scale, enum nutrient nutrient, bool index,
                                    double value)
{
    const struct level *class = NULL;
    bool higher = false;
    for (size_t i = 0; i < scale->levels.count; i++) {
        const struct level *level = &scale->levels.items[i];
        if (!level_usable(level, nutrient, false, index))
            continue;
        if (!(level->above ? exceeds(value, level_begin(level)) : !exceeds(level_begin(level), value)))
            higher = true;
        else if (!class || level_begin(level) > level_begin(class))
            class = level;
    }
    if (!class || higher)
        return class;
    double end = class->index ? class->high : class->high * class->nutrient->element_per_unit;
    bool passed = class->below ? !exceeds(end, value) : exceeds(value, end);
    return passed ? NULL : class;
}

const struct level *scale_enough(const struct scale *scale, enum nutrient nutrient, bool index)
{
    for (size_t i = 0; i < scale->levels.count && scale->enough; i++) {
        const struct level *level = &scale->levels.items[i];
        if (level_usable(level, nutrient, false, index) && level->name == scale->enough)
            return level;
    }
    return NULL;
}

static const struct scale_equation *equation_of(const struct scale *scale, enum nutrient nutrient, bool index)
{
    for (size_t i = 0; i < scale->equations.count; i++)
        if (scale->equations.items[i].nutrient->nutrient == nutrient &&
            scale->equations.items[i].operand.index == index)
            return &scale->equations.items[i];
    return NULL;
}

static const struct scale_activity *activity_of(const struct scale *scale, enum nutrient nutrient, bool index)
{
    for (size_t i = 0; i < scale->activities.count; i++)
        if (scale->activities.items[i].nutrient->nutrient == nutrient &&
            scale->activities.items[i].operand.index == index)
            return &scale->activities.items[i];
    return NULL;
}

/* A square or cube turns and rises again far beyond the results it was fitted to: an index of 200 would ask
 * for phosphate where 120 asks for none. A need does not grow with what the soil holds, so the equation
 * counts up to its turn only. One that rises from the start is taken as it stands. */
double equation_operand(const struct scale_equation *equation, double x)
{
    const double *term = equation->need.term;
    /* The turn is the least root above 0 of the slope a + b x + c x^2, where it begins below 0 and rises. */
    double a = term[1], b = 2 * term[2], c = 3 * term[3], inside = b * b - 4 * a * c;
    if (!(a < 0) || inside < 0 || (!(b > 0) && !(c > 0)))
        return x;
    return fmin(x, -2 * a / (b + sqrt(inside)));
}

static double equation_at(const struct scale_equation *equation, double x)
{
    return polynomial_at(&equation->need, equation_operand(equation, x));
}

enum { EQUATION_STEPS = 1000 }; /* of one unit each: results beyond are not met with */

/* The first step on which the need is gone, halved until nothing is left to halve. */
double equation_end(const struct scale_equation *equation)
{
    int step = 1;
    while (step <= EQUATION_STEPS && equation_at(equation, step) > 0)
        step++;
    if (step > EQUATION_STEPS || !(equation_at(equation, 0) > 0))
        return NAN;
    double low = step - 1, high = step;
    while (exceeds(high, low)) {
        double middle = (low + high) / 2;
        if (equation_at(equation, middle) > 0)
            low = middle;
        else
            high = middle;
    }
    return equation->operand.index ? high : high * equation->operand.share;
}

bool scale_speaks_so(const struct scale *scale, enum nutrient nutrient, bool index)
{
    for (size_t i = 0; i < scale->levels.count; i++)
        if (level_usable(&scale->levels.items[i], nutrient, true, index) ||
            level_usable(&scale->levels.items[i], nutrient, false, index))
            return true;
    return equation_of(scale, nutrient, index) || activity_of(scale, nutrient, index);
}

bool scale_speaks_of(const struct scale *scale, enum nutrient nutrient)
{
    return scale_speaks_so(scale, nutrient, false) || scale_speaks_so(scale, nutrient, true);
}

/* ---- which scale ---- */

bool test_scale_repeated(const struct soil_test *test, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (test->scales.items[i].scale == test->scales.items[index].scale)
            return true;
    return false;
}

/* ---- the judgement ---- */

static enum need need_if(bool low)
{
    return low ? NEED_LOW : NEED_NONE;
}

/* The mean as the scale counts it, where it reads the test's method or something converts to it; of that a
 * minimum decides before classes do, and both before an equation. */
void reading_judge(struct soil_reading *reading)
{
    const struct soil_test *test = reading->test;
    const struct scale *scale = reading->scale ? reading->scale->scale : NULL;
    enum nutrient nutrient = reading->nutrient->nutrient;
    reading->judged_index = reading->index;
    reading->judged = reading->index ? reading->mean : reading->mean * reading->nutrient->element_per_unit;
    if (!scale || scale->symbol.broken)
        return;
    if (scale->method != test->method) {
        for (size_t i = 0; i < test->conversions.count && !reading->conversion; i++) {
            const struct conversion *conversion = test->conversions.items[i];
            if (!conversion->symbol.broken && conversion->from == test->method &&
                conversion->to == scale->method)
                reading->conversion = conversion;
        }
        for (size_t i = 0; reading->conversion && i < reading->conversion->steps.count && !reading->step; i++)
            if (reading->conversion->steps.items[i].nutrient->nutrient == nutrient)
                reading->step = &reading->conversion->steps.items[i];
        if (!reading->step || reading->step->operand.index != reading->index)
            return;
        /* Below zero there is nothing: a straight line through measured soils says so of the poorest. */
        double result = fmax(
            polynomial_at(&reading->step->result, level_in_unit(reading->judged, &reading->step->operand)),
            0);
        reading->judged = reading->step->unit.index ? result : result * reading->step->unit.share;
        reading->judged_index = reading->step->unit.index;
    }

    const struct level *minimum = NULL;
    for (size_t i = 0; i < scale->levels.count && !minimum; i++)
        if (level_usable(&scale->levels.items[i], nutrient, true, reading->judged_index))
            minimum = &scale->levels.items[i];
    reading->level = minimum ? minimum : class_of(scale, nutrient, reading->judged_index, reading->judged);
    reading->equation = equation_of(scale, nutrient, reading->judged_index);
    reading->activity = reading->level ? NULL : activity_of(scale, nutrient, reading->judged_index);
    if (minimum)
        reading->need = need_if(exceeds(level_begin(minimum), reading->judged));
    else if (reading->level) {
        const struct level *enough = scale_enough(scale, reading->nutrient->nutrient, reading->judged_index);
        const struct level *level = reading->level;
        if (enough)
            reading->need = need_if(level_begin(level) < level_begin(enough));
        else if (!isnan(level->need_high))
            reading->need = need_if(level->need_high > 0);
    } else if (reading->activity) {
        const struct scale_activity *activity = reading->activity;
        double index = activity->base + activity->slope * level_in_unit(reading->judged, &activity->operand) +
                       activity->acidity * reading->ph;
        if (!isnan(index)) {
            reading->judged = index;
            reading->need = need_if(exceeds(activity->enough, index));
        }
    }
    if (reading->equation) {
        const struct scale_equation *equation = reading->equation;
        double need = equation_at(equation, level_in_unit(reading->judged, &equation->operand));
        if (reading->need == NEED_UNKNOWN)
            reading->need = need_if(need > 0);
    }
    reading->open_above = reading->above_range && reading->need == NEED_LOW;
    if (reading->open_above)
        reading->need = NEED_UNKNOWN;
    double deviation = fmax(reading->highest - reading->mean, reading->mean - reading->lowest);
    reading->disagree = exceeds(deviation, scale->spread * reading->mean);
}

/* ---- the laboratory's own word ---- */

/* A need shown to a law is one that neither scale nor laboratory denies. */
void reading_follow(struct soil_reading *reading)
{
    const struct soil_test *test = reading->test;
    reading->counts = reading->need;
    reading->recommended = recommendation_of(test, reading->nutrient->nutrient);
    /* The laboratory's rating, only where all spots rated say the same. */
    const struct table *results = &test->results;
    bool agreed = true;
    for (size_t i = 0; i < results->column_count; i++)
        for (size_t j = 0; j < results->row_count && results->columns[i].nutrient == reading->nutrient; j++) {
            const struct table_cell *cell = &results->rows[j].cells[i];
            if (cell->rating == RATING_NONE || !agreed)
                continue;
            agreed = reading->rated == RATING_NONE || cell->rating == reading->rated;
            reading->rated = agreed ? cell->rating : RATING_NONE;
            if (agreed && !reading->rated_text)
                reading->rated_text = cell->rating_text;
        }
    if (reading->recommended) {
        reading->laboratory = test->follow == FOLLOW_LABORATORY || reading->need == NEED_UNKNOWN;
        if (reading->laboratory)
            reading->counts = need_if(reading->recommended->high > 0);
    } else if (reading->need == NEED_UNKNOWN && !reading->open_above &&
               (reading->rated == RATING_LOW || reading->rated == RATING_ENOUGH)) {
        reading->by_rating = true;
        reading->counts = need_if(reading->rated == RATING_LOW);
    }
    /* Laws ask what the laboratory found: one that recommends none, or finds enough, has found no need,
     * whatever the plan goes by. */
    bool none = reading->recommended ? !(reading->recommended->high > 0) : reading->rated == RATING_ENOUGH;
    reading->shown = none ? NEED_NONE : reading->counts;
}
