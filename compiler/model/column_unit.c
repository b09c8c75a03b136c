#include "compiler/model/column_unit.h"
#include "compiler/model/slot.h"

#include <assert.h>
#include <math.h>

static const struct dimension share = {0};
static const struct dimension charge_per_mass = {.mass = -1, .charge = 1};
static const struct dimension mass_per_volume = {.mass = 1, .length = -3};
static const struct dimension charge_per_volume = {.length = -3, .charge = 1};

struct unit_as_read {
    double factor;
    struct dimension dimension;
    struct place place;
    const char *text;
};

static struct report *complain(struct model *model, enum model_rule rule, struct place place,
                               const char *sentence, const char *help)
{
    struct report *report = report_add(model->reports, &model_rules[rule], place, "%s", sentence);
    report->help = help;
    return report;
}

/* ---- a nutrient of the soil ---- */

/* What a result of a nutrient may be counted in; all but an index becomes a share of the soil. */
static bool soil_unit(struct model *model, struct unit_as_read *unit, const struct nutrient_form *nutrient)
{
    if (dimension_equal(unit->dimension, measure_rows[MEASURE_MASS_PER_AREA].dimension)) {
        unit->factor = level_of_area(unit->factor);
        unit->dimension = share;
    } else if (dimension_equal(unit->dimension, charge_per_mass)) {
        /* The counted charge of an ion to its mass; false after a report. */
        double equivalent = nutrient_equivalent(nutrient->nutrient);
        if (isnan(equivalent)) {
            complain(model, RULE_DIMENSION, unit->place,
                     text_format(model->arena,
                                 "`%s` is a charge, and soil does not hold %s as one kind of ion", unit->text,
                                 nutrient->name),
                     "only K, Ca, Mg and Na are stated so; write this column in ppm");
            return false;
        }
        unit->factor *= equivalent / nutrient->element_per_unit;
        unit->dimension = share;
        return true;
    } else if (dimension_equal(unit->dimension, mass_per_volume) ||
               dimension_equal(unit->dimension, charge_per_volume)) {
        complain(model, RULE_DIMENSION, unit->place,
                 text_format(model->arena, "`%s` is per volume of soil, not per mass", unit->text),
                 "it cannot be turned into ppm without the mass of that volume: ask the laboratory for ppm "
                 "or its index");
        return false;
    }
    if (dimension_equal(unit->dimension, share))
        return true;
    complain(model, RULE_DIMENSION, unit->place,
             text_format(model->arena, "`%s` is %s", unit->text,
                         measure_rows[dimension_measure(unit->dimension)].name),
             "use ppm, mg per kg, lb per acre, meq per 100 g or index here");
    return false;
}

/* ---- other columns ---- */

/* At what stands where the unit should, unless that is another column's name. */
static void complain_of_none(struct matcher *matcher, uint32_t at, const struct dimension *wanted, bool soil,
                             const struct column_form *others, const struct table_column *column)
{
    struct arena *arena = matcher->model->arena;
    struct text found = match_kind(matcher, at) == TOKEN_END ? (struct text){"", 0} : slot_text(matcher, at);
    bool none = !found.length || nutrient_find(found);
    for (; others && others->name; others++)
        none = none || text_is(found, others->name);
    struct place place = none ? column->place : slot_place(matcher, at);
    const char *example = measure_rows[dimension_measure(*wanted)].example;
    if (match_kind(matcher, at) == TOKEN_OPEN_GROUP) {
        uint32_t end = at;
        while (match_kind(matcher, end) != TOKEN_END && match_kind(matcher, end) != TOKEN_CLOSE_GROUP)
            end++;
        struct text unit = place_text(match_place(matcher, at + 1, end));
        const char *written = text_string(arena, unit);
        place = match_place(matcher, at, end + 1);
        report_fix(matcher->model->reports,
                   complain(matcher->model, RULE_UNIT, place, "a column's unit has no brackets", NULL), false,
                   place, written, text_format(arena, "write `%s`", written));
        return;
    }
    complain(matcher->model, RULE_UNIT, place, "this column has no unit",
             text_format(arena, "write its unit after its name, such as %s",
                         soil ? text_format(arena, "%s ppm", text_string(arena, place_text(column->place)))
                         : example ? example
                                   : "F"));
}

/* A nutrient without a unit would be ppm to one reader and lb per acre to another: it must have one. */
bool column_unit_read(struct matcher *matcher, uint32_t *at, const struct column_form *form,
                      const struct column_form *others, struct table_column *column)
{
    struct model *model = matcher->model;
    const struct dimension *wanted = form ? &form->dimension : &share;
    uint32_t first = *at;
    struct unit_as_read unit = {0};
    const struct unit *first_unit;
    double zero = 0;
    assert(form || column->nutrient);
    if (column->nutrient && nutrient_is_lime(column->nutrient->nutrient)) {
        complain(model, RULE_TABLE, column->place, "lime is not a result of a soil test",
                 "write the soil's acidity or buffer pH");
        return false;
    }
    if (!form && match_word(matcher, first, "index")) {
        *at = match_next(matcher, first);
        column->index = true;
        column->unit_text = "index";
        return true;
    }
    if (!unit_read(matcher, at, wanted, &unit.factor, &zero, &unit.dimension, &first_unit)) {
        complain_of_none(matcher, first, wanted, !form, others, column);
        return false;
    }
    unit.place = match_place(matcher, first, *at);
    unit.text = column->unit_text = text_string(model->arena, place_text(unit.place));
    if (!form && !soil_unit(model, &unit, column->nutrient))
        return false;
    if (form && form->other_kind && dimension_equal(unit.dimension, form->other)) {
        column->kind = form->other_kind; /* of a column that has two kinds the unit decides */
    } else if (form && !dimension_equal(unit.dimension, form->dimension)) {
        complain(model, RULE_DIMENSION, unit.place,
                 text_format(model->arena, "`%s` is %s", unit.text,
                             measure_rows[dimension_measure(unit.dimension)].name),
                 text_format(model->arena, "%s is needed here",
                             measure_rows[dimension_measure(form->dimension)].name));
        return false;
    }
    column->factor = unit.factor;
    column->offset = zero * unit.factor;
    return true;
}
