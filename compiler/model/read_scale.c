/* Scales: how a laboratory's results are read, and what they ask for. */
#include "compiler/model/read.h"
#include "compiler/model/read_formula.h"

void read_scale(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct scale *scale = symbol_new(model, clause, "name", sizeof *scale);
    scale->depth_m = scale->spread = scale->bulk_density = NAN;
    symbol_declare(model, SYMBOL_SCALE, &scale->symbol);
    VECTOR_PUSH(model->arena, &model->scales, scale);
    body_later(model, clause, &scale->symbol, PHASE_KNOWLEDGE, NULL);
}

/* ---- what it is made for ---- */

void read_scale_method(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct scale *)subject)->method = clause_value(clause, "method")->name;
}

void read_scale_depth(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct scale *)subject)->depth_m = clause_value(clause, "depth")->number;
}

void read_scale_region(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct scale *scale = subject;
    scale->region = clause_value(clause, "region")->name;
    scale->region_place = clause->place;
}

void read_scale_grass(struct model *model, const struct clause *clause, void *subject)
{
    struct scale *scale = subject;
    const struct value *grasses = clause_value(clause, "grasses");
    for (size_t i = 0; i < grasses->count; i++) {
        const struct grass *grass =
            (const struct grass *)symbol_find(model, SYMBOL_GRASS, &grasses->items[i]);
        if (grass)
            VECTOR_PUSH(model->arena, &scale->grasses, grass);
        else
            scale->symbol.broken = true;
    }
}

void read_scale_soil(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *textures = clause_value(clause, "textures");
    for (size_t i = 0; i < textures->count; i++)
        VECTOR_PUSH(model->arena, &((struct scale *)subject)->soils, textures->items[i].name);
}

void read_scale_density(struct model *model, const struct clause *clause, void *subject)
{
    struct scale *scale = subject;
    scale->bulk_density = clause_value(clause, "density")->number;
    scale->density_source = source_in(model, clause);
    scale->density_place = clause->place;
}

void read_scale_spread(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct scale *)subject)->spread = clause_value(clause, "share")->number;
}

void read_scale_spots(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct scale *)subject)->spots = (int)clause_value(clause, "count")->number;
}

/* ---- levels ---- */

static void add_level(struct model *model, const struct clause *clause, struct scale *scale,
                      struct level level)
{
    const struct value *class = clause_value(clause, "class"), *need = clause_value(clause, "need");
    const struct value *value = clause_value(clause, "levels");
    if (!value)
        value = clause_value(clause, "level");
    level.nutrient = clause_value(clause, "nutrient")->nutrient;
    level.index = value->index;
    level.minimum = !class;
    level.name = class ? class->name : NULL;
    level.source = source_in(model, clause);
    level.place = clause->place;
    level.need_low = level.need_high = NAN;
    if (need) {
        if (need->nutrient->nutrient != level.nutrient->nutrient)
            report_add(model->reports, &model_rules[RULE_NUTRIENT], need->place,
                       "a class of %s says what is needed of %s", level.nutrient->name, need->nutrient->name)
                ->help = "a class speaks of one nutrient; give the other its own classes";
        level.need_low = need->number * need->nutrient->element_per_unit;
        level.need_high = need->high * need->nutrient->element_per_unit;
    }
    VECTOR_PUSH(model->arena, &scale->levels, level);
}

void read_scale_minimum(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *value = clause_value(clause, "level");
    add_level(model, clause, subject,
              (struct level){.low = value->number, .high = INFINITY, .text = string_of(model, value)});
}

void read_scale_class(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *value = clause_value(clause, "levels");
    add_level(model, clause, subject,
              (struct level){.low = value->number, .high = value->high, .text = string_of(model, value)});
}

void read_scale_class_below(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *value = clause_value(clause, "level");
    add_level(model, clause, subject,
              (struct level){.high = value->number,
                             .below = true,
                             .text = text_format(model->arena, "below %s", string_of(model, value))});
}

void read_scale_class_above(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *value = clause_value(clause, "level");
    add_level(model, clause, subject,
              (struct level){.low = value->number,
                             .high = INFINITY,
                             .above = true,
                             .text = text_format(model->arena, "above %s", string_of(model, value))});
}

static void need_nothing(struct scale *scale)
{
    struct level *level = &scale->levels.items[scale->levels.count - 1];
    level->need_low = level->need_high = 0;
}

void read_scale_class_without_need(struct model *model, const struct clause *clause, void *subject)
{
    read_scale_class(model, clause, subject);
    need_nothing(subject);
}

void read_scale_class_below_without_need(struct model *model, const struct clause *clause, void *subject)
{
    read_scale_class_below(model, clause, subject);
    need_nothing(subject);
}

void read_scale_class_above_without_need(struct model *model, const struct clause *clause, void *subject)
{
    read_scale_class_above(model, clause, subject);
    need_nothing(subject);
}

void read_scale_enough(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct scale *scale = subject;
    scale->enough = clause_value(clause, "class")->name;
    scale->enough_place = clause->place;
}

/* ---- what results amount to ---- */

static void set_sum(struct model *model, const struct clause *clause, struct scale *scale, enum scale_sum sum)
{
    scale->sum = sum;
    scale->sum_source = source_in(model, clause);
    scale->sum_place = clause->place;
}

void read_scale_sum(struct model *model, const struct clause *clause, void *subject)
{
    set_sum(model, clause, subject, SUM_SHORTFALL);
}

void read_scale_sum_with_use(struct model *model, const struct clause *clause, void *subject)
{
    set_sum(model, clause, subject, SUM_USE_AND_SHORTFALL);
}

void read_scale_use(struct model *model, const struct clause *clause, void *subject)
{
    struct scale_use use = {.nutrient = clause_value(clause, "nutrient")->nutrient,
                            .source = source_in(model, clause),
                            .place = clause->place};
    use.share = clause_value(clause, "share")->number * use.nutrient->element_per_unit;
    VECTOR_PUSH(model->arena, &((struct scale *)subject)->uses, use);
}

void read_scale_equation(struct model *model, const struct clause *clause, void *subject)
{
    struct scale_equation equation = {.nutrient = clause_value(clause, "nutrient")->nutrient,
                                      .operand = level_unit_of(model, clause_value(clause, "operand")),
                                      .source = source_in(model, clause),
                                      .place = clause->place};
    if (polynomial_of(model, clause_value(clause, "need"), &equation.need))
        VECTOR_PUSH(model->arena, &((struct scale *)subject)->equations, equation);
}

void read_scale_activity(struct model *model, const struct clause *clause, void *subject)
{
    struct scale_activity activity = {.nutrient = clause_value(clause, "nutrient")->nutrient,
                                      .base = clause_value(clause, "base")->number,
                                      .slope = clause_value(clause, "slope")->number,
                                      .acidity = clause_value(clause, "acidity")->number,
                                      .operand = level_unit_of(model, clause_value(clause, "operand")),
                                      .enough = clause_value(clause, "enough")->number,
                                      .source = source_in(model, clause),
                                      .place = clause->place};
    VECTOR_PUSH(model->arena, &((struct scale *)subject)->activities, activity);
}
