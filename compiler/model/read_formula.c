/* Formulas in library text, and the conversions that are made of them. */
#include "compiler/model/read_formula.h"

const struct source_entry *source_in(struct model *model, const struct clause *clause)
{
    return (const struct source_entry *)symbol_find(model, SYMBOL_SOURCE, clause_value(clause, "source"));
}

struct level_unit level_unit_of(struct model *model, const struct value *unit)
{
    return (struct level_unit){unit->index, unit->number, string_of(model, unit)};
}

static bool terms_of(struct model *model, const struct value *terms, double factor,
                     struct polynomial *polynomial)
{
    if (terms->count > POLYNOMIAL_LIMIT) {
        report_add(model->reports, &model_rules[RULE_VALUE], terms->items[POLYNOMIAL_LIMIT].place,
                   "an equation has at most %d numbers: up to the cube of the result", POLYNOMIAL_LIMIT);
        return false;
    }
    polynomial->count = terms->count;
    polynomial->factor = factor;
    polynomial->text = string_of(model, terms);
    for (size_t i = 0; i < terms->count; i++)
        polynomial->term[i] = terms->items[i].number * factor;
    return true;
}

bool polynomial_of(struct model *model, const struct value *terms, struct polynomial *polynomial)
{
    return terms_of(model, terms, terms->number, polynomial);
}

bool polynomial_of_level(struct model *model, const struct value *terms, struct polynomial *polynomial)
{
    return terms_of(model, terms, 1, polynomial);
}

/* ---- conversions between extraction methods ---- */

static void finish_conversion(struct model *model, const struct clause *clause, struct symbol *subject)
{
    const struct conversion *conversion = (const struct conversion *)subject;
    if (subject->broken || (conversion->from && conversion->steps.count))
        return;
    struct report *report =
        report_add(model->reports, &model_rules[RULE_MISSING], clause->place, "%s",
                   conversion->from ? "this conversion has no equation"
                                    : "this conversion does not say between which methods");
    report_help(model->reports, report, "write, for example: %s",
                conversion->from ? "equation P -8.08, 0.832 ppm of ppm from SOURCE"
                                 : "from mehlich-3 to bray-1");
    subject->broken = true;
}

void read_conversion(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct conversion *conversion = symbol_new(model, clause, "name", sizeof *conversion);
    symbol_declare(model, SYMBOL_CONVERSION, &conversion->symbol);
    VECTOR_PUSH(model->arena, &model->conversions, conversion);
    body_later(model, clause, &conversion->symbol, PHASE_KNOWLEDGE, finish_conversion);
}

void read_conversion_methods(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct conversion *conversion = subject;
    conversion->from = clause_value(clause, "from")->name;
    conversion->to = clause_value(clause, "to")->name;
}

void read_conversion_equation(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *result = clause_value(clause, "result");
    struct conversion_step step = {.nutrient = clause_value(clause, "nutrient")->nutrient,
                                   .unit = {result->index, result->number, string_of(model, result)},
                                   .operand = level_unit_of(model, clause_value(clause, "operand")),
                                   .source = source_in(model, clause),
                                   .place = clause->place};
    struct conversion *conversion = subject;
    if (polynomial_of_level(model, result, &step.result))
        VECTOR_PUSH(model->arena, &conversion->steps, step);
    else
        conversion->symbol.broken = true;
}
