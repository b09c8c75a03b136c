/* Lime tables: rows or a formula, the most at once, and what a soil test and a lawn say of them. */
#include "compiler/model/read_formula.h"

static void lime_lacks(struct model *model, struct place place, const char *sentence, const char *example)
{
    struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], place, "%s", sentence);
    report_help(model->reports, report, "write, for example: %s", example);
}

static bool row_fits(struct model *model, const struct lime_table *table, const struct lime_row *row)
{
    const struct lime_row *first = &table->rows.items[0];
    struct report *report = NULL;
    if (row->amount_count != table->goals.count) {
        report =
            report_add(model->reports, &model_rules[RULE_TABLE], row->place, "this row has %zu %s for %zu %s",
                       row->amount_count, row->amount_count == 1 ? "amount" : "amounts", table->goals.count,
                       table->goals.count == 1 ? "goal" : "goals");
        report_label(model->reports, report, table->goals_place, "the goals");
    } else if (row->measure != first->measure) {
        report = report_add(model->reports, &model_rules[RULE_TABLE], row->place,
                            "the rows of a lime table go by one measure");
        report_label(model->reports, report, first->place, "the first row goes by another");
    }
    return report == NULL;
}

static bool lime_whole(struct model *model, const struct clause *clause, const struct lime_table *table)
{
    bool sound = true;
    if (!table->rows.count && isnan(table->whole_way)) {
        lime_lacks(model, clause->place, "this lime table has neither rows nor a formula",
                   "acidity 4.6 meq per 100 g needs 110, 70, 50 lb per 1000 sqft");
        return false;
    }
    if (table->rows.count && !table->goals.count) {
        lime_lacks(model, clause->place, "this lime table does not say which pH its rows reach",
                   "goals 7.0, 6.5, 6.0");
        return false;
    }
    for (size_t i = 0; i < table->rows.count; i++) {
        bool fine = row_fits(model, table, &table->rows.items[i]);
        sound = sound && fine;
    }
    return sound;
}

static void finish_lime(struct model *model, const struct clause *clause, struct symbol *subject)
{
    if (!subject->broken && !lime_whole(model, clause, (const struct lime_table *)subject))
        subject->broken = true;
}

void read_lime(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct lime_table *table = symbol_new(model, clause, "name", sizeof *table);
    table->whole_way = table->way_end = table->buffer_start = table->buffer_step = table->most_at_once = NAN;
    table->neutralizing = 1;
    symbol_declare(model, SYMBOL_LIME, &table->symbol);
    VECTOR_PUSH(model->arena, &model->lime_tables, table);
    body_later(model, clause, &table->symbol, PHASE_KNOWLEDGE, finish_lime);
}

void read_lime_buffer(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct lime_table *)subject)->buffer = clause_value(clause, "method")->name;
}

void read_lime_region(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct lime_table *)subject)->region = clause_value(clause, "region")->name;
}

void read_lime_source(struct model *model, const struct clause *clause, void *subject)
{
    ((struct lime_table *)subject)->source = source_in(model, clause);
}

static bool ph_possible(struct model *model, double ph, struct place place)
{
    if (ph > 0 && ph <= 14)
        return true;
    report_add(model->reports, &model_rules[RULE_VALUE], place, "this is no pH");
    return false;
}

void read_lime_goals(struct model *model, const struct clause *clause, void *subject)
{
    struct lime_table *table = subject;
    const struct value *goals = clause_value(clause, "goals");
    table->goals_place = clause->place;
    for (size_t i = 0; i < goals->count; i++)
        if (ph_possible(model, goals->items[i].number, goals->items[i].place))
            VECTOR_PUSH(model->arena, &table->goals, goals->items[i].number);
        else
            table->symbol.broken = true;
}

/* ---- rows ---- */

static void add_row(struct model *model, const struct clause *clause, struct lime_table *table,
                    enum lime_measure measure, const struct value *value)
{
    const struct value *amounts = clause_value(clause, "amounts");
    double *kg_per_m2 = ARENA_ARRAY(model->arena, amounts->count, double);
    for (size_t i = 0; i < amounts->count; i++)
        kg_per_m2[i] = amounts->items[i].number * amounts->number;
    struct lime_row row = {.measure = measure,
                           .value = value->number,
                           .amounts = kg_per_m2,
                           .amount_count = amounts->count,
                           .text = text_string(model->arena, place_text(value->place)),
                           .place = clause->place};
    VECTOR_PUSH(model->arena, &table->rows, row);
}

static enum lime_measure measure_of(const struct value *acidity)
{
    return acidity->volume ? LIME_BY_ACIDITY_OF_VOLUME : LIME_BY_ACIDITY;
}

void read_lime_by_acidity(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *acidity = clause_value(clause, "acidity");
    add_row(model, clause, subject, measure_of(acidity), acidity);
}

void read_lime_by_buffer(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *ph = clause_value(clause, "ph");
    if (ph_possible(model, ph->number, ph->place))
        add_row(model, clause, subject, LIME_BY_BUFFER_PH, ph);
    else
        ((struct symbol *)subject)->broken = true;
}

/* ---- a formula ---- */

void read_lime_by_way(struct model *model, const struct clause *clause, void *subject)
{
    struct lime_table *table = subject;
    const struct value *acidity = clause_value(clause, "acidity"), *end = clause_value(clause, "end");
    if (!ph_possible(model, end->number, end->place)) {
        table->symbol.broken = true;
        return;
    }
    table->whole_way = clause_value(clause, "rate")->number / acidity->number;
    table->way_end = end->number;
    table->way_measure = measure_of(acidity);
    table->way_place = clause->place;
}

void read_lime_buffer_acidity(struct model *model, const struct clause *clause, void *subject)
{
    struct lime_table *table = subject;
    const struct value *start = clause_value(clause, "start");
    if (!ph_possible(model, start->number, start->place)) {
        table->symbol.broken = true;
        return;
    }
    table->buffer_start = start->number;
    table->buffer_step = clause_value(clause, "acidity")->number;
    table->buffer_place = clause->place;
}

/* ---- what it is counted in, and how much at once ---- */

void read_lime_neutralizing(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct lime_table *)subject)->neutralizing = clause_value(clause, "value")->number;
}

void read_lime_cap(struct model *model, const struct clause *clause, void *subject)
{
    struct lime_table *table = subject;
    const struct value *wait = clause_value(clause, "wait");
    table->most_at_once = clause_value(clause, "most")->number;
    table->apart = wait ? duration_of_time(wait, false) : (struct duration){0};
    table->apart_text = wait ? text_string(model->arena, place_text(wait->place)) : "";
    table->cap_source = source_in(model, clause);
    table->cap_place = clause->place;
}

/* ---- in a soil test and a lawn ---- */

void read_test_convert(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_test *test = subject;
    const struct value *names = clause_value(clause, "conversions");
    for (size_t i = 0; i < names->count; i++) {
        const struct conversion *conversion =
            (const struct conversion *)symbol_find(model, SYMBOL_CONVERSION, &names->items[i]);
        if (conversion)
            VECTOR_PUSH(model->arena, &test->conversions, conversion);
        else
            test->symbol.broken = true;
    }
}

void read_test_lime(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_test *test = subject;
    const struct value *name = clause_value(clause, "table");
    test->lime = (const struct lime_table *)symbol_find(model, SYMBOL_LIME, name);
    test->lime_place = name->place;
}

void read_test_buffer(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct soil_test *test = subject;
    test->buffer = clause_value(clause, "method")->name;
    test->buffer_place = clause_value(clause, "method")->place;
}

void read_lawn_goal(struct model *model, const struct clause *clause, void *subject)
{
    struct lawn *lawn = subject;
    const struct value *ph = clause_value(clause, "ph");
    if (!ph_possible(model, ph->number, ph->place))
        return;
    lawn->goal_ph = ph->number;
    lawn->goal_place = clause->place;
}

static struct lawn_amount amount_of(const struct clause *clause)
{
    const struct value *rate = clause_value(clause, "rate");
    return (struct lawn_amount){rate->nutrient, rate->number * rate->nutrient->element_per_unit,
                                clause->place};
}

void read_lawn_yearly(struct model *model, const struct clause *clause, void *subject)
{
    VECTOR_PUSH(model->arena, &((struct lawn *)subject)->yearly, amount_of(clause));
}

void read_lawn_uses(struct model *model, const struct clause *clause, void *subject)
{
    VECTOR_PUSH(model->arena, &((struct lawn *)subject)->uses, amount_of(clause));
}
