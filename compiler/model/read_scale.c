/* Scales, and conversions between extraction methods: how a laboratory's results are read. */
#include "compiler/model/read.h"

#include <math.h>

void read_scale(const struct stated *stated)
{
    struct scale *scale = object_declare(stated, SYMBOL_SCALE, sizeof *scale, PHASE_KNOWLEDGE, NULL);
    scale->depth_m = scale->spread = scale->bulk_density = NAN;
    VECTOR_PUSH(stated->model->arena, &stated->model->scales, scale);
}

void read_scale_density(const struct stated *stated)
{
    struct scale *scale = stated->subject;
    scale->bulk_density = slot_value(stated, "density")->number;
    scale->density_source = slot_source(stated);
    scale->density_place = stated->clause->place;
}

/* A minimum, or a class with two ends, one of which may be open. Its need is what it states, nothing, or
 * unstated (NAN). */
void read_scale_level(const struct stated *stated)
{
    struct model *model = stated->model;
    struct scale *scale = stated->subject;
    const struct form *form = stated->clause->form;
    const struct value *class = slot_value(stated, "class"), *need = slot_value(stated, "need");
    const struct value *levels = slot_value(stated, "levels"), *level = slot_value(stated, "level");
    const struct value *value = levels ? levels : level;
    struct level entry = {.nutrient = slot_value(stated, "nutrient")->nutrient,
                          .minimum = !class,
                          .index = value->index,
                          .above = form_says(form, " above "),
                          .below = form_says(form, " below "),
                          .name = class ? class->name : NULL,
                          .source = slot_source(stated),
                          .place = stated->clause->place};
    entry.low = entry.below ? 0 : value->number;
    entry.high = entry.below ? value->number : levels ? levels->high : INFINITY;
    entry.text = text_format(model->arena, "%s%.*s",
                             entry.above   ? "above "
                             : entry.below ? "below "
                                           : "",
                             (int)value->text.length, value->text.start);
    entry.need_low = entry.need_high = form_says(form, "needs nothing") ? 0 : NAN;
    if (need) {
        if (need->nutrient->nutrient != entry.nutrient->nutrient)
            report_add(model->reports, &model_rules[RULE_NUTRIENT], need->place,
                       "this class is for %s, but its need is for %s", entry.nutrient->name,
                       need->nutrient->name)
                ->help = "a class is for one nutrient; give the other nutrient its own classes";
        entry.need_low = need->number * need->nutrient->element_per_unit;
        entry.need_high = need->high * need->nutrient->element_per_unit;
    }
    VECTOR_PUSH(model->arena, &scale->levels, entry);
}

void read_scale_sum(const struct stated *stated)
{
    struct scale *scale = stated->subject;
    scale->sum = (enum scale_sum)stated->clause->form->which;
    scale->sum_source = slot_source(stated);
    scale->sum_place = stated->clause->place;
}

void read_scale_use(const struct stated *stated)
{
    struct scale_use use = {.nutrient = slot_value(stated, "nutrient")->nutrient,
                            .source = slot_source(stated),
                            .place = stated->clause->place};
    use.share = slot_value(stated, "share")->number * use.nutrient->element_per_unit;
    VECTOR_PUSH(stated->model->arena, &((struct scale *)stated->subject)->uses, use);
}

void read_scale_equation(const struct stated *stated)
{
    const struct value *need = slot_value(stated, "need");
    struct scale_equation equation = {.nutrient = slot_value(stated, "nutrient")->nutrient,
                                      .operand = level_unit_of(stated->model, slot_value(stated, "operand")),
                                      .source = slot_source(stated),
                                      .place = stated->clause->place};
    if (polynomial_of(stated->model, need, need->number, &equation.need))
        VECTOR_PUSH(stated->model->arena, &((struct scale *)stated->subject)->equations, equation);
}

void read_scale_activity(const struct stated *stated)
{
    struct scale_activity activity = {.nutrient = slot_value(stated, "nutrient")->nutrient,
                                      .base = slot_value(stated, "base")->number,
                                      .slope = slot_value(stated, "slope")->number,
                                      .acidity = slot_value(stated, "acidity")->number,
                                      .operand = level_unit_of(stated->model, slot_value(stated, "operand")),
                                      .enough = slot_value(stated, "enough")->number,
                                      .source = slot_source(stated),
                                      .place = stated->clause->place};
    VECTOR_PUSH(stated->model->arena, &((struct scale *)stated->subject)->activities, activity);
}

/* ---- conversions between extraction methods ---- */

static void finish_conversion(const struct stated *stated)
{
    struct conversion *conversion = stated->subject;
    if (conversion->symbol.broken)
        return;
    if (!conversion->from)
        report_lacks(stated->model, stated->clause->place, &conversion->symbol,
                     "this conversion does not name its two methods", "from mehlich-3 to bray-1");
    else if (!conversion->steps.count)
        report_lacks(stated->model, stated->clause->place, &conversion->symbol,
                     "this conversion has no equation", "equation P -8.08, 0.832 ppm of ppm from SOURCE");
}

void read_conversion(const struct stated *stated)
{
    struct conversion *conversion =
        object_declare(stated, SYMBOL_CONVERSION, sizeof *conversion, PHASE_KNOWLEDGE, finish_conversion);
    VECTOR_PUSH(stated->model->arena, &stated->model->conversions, conversion);
}

void read_conversion_methods(const struct stated *stated)
{
    struct conversion *conversion = stated->subject;
    conversion->from = slot_value(stated, "from")->name;
    conversion->to = slot_value(stated, "to")->name;
}

/* Its terms stay as written: what comes of them is a result in the unit that stands behind them. */
void read_conversion_equation(const struct stated *stated)
{
    struct model *model = stated->model;
    struct conversion *conversion = stated->subject;
    const struct value *result = slot_value(stated, "result");
    struct conversion_step step = {.nutrient = slot_value(stated, "nutrient")->nutrient,
                                   .unit = level_unit_of(model, result),
                                   .operand = level_unit_of(model, slot_value(stated, "operand")),
                                   .source = slot_source(stated),
                                   .place = stated->clause->place};
    if (polynomial_of(model, result, 1, &step.result))
        VECTOR_PUSH(model->arena, &conversion->steps, step);
    else
        conversion->symbol.broken = true;
}
