/* Lime tables: rows or a formula, and the most at once. */
#include "compiler/model/read.h"

#include <math.h>

/* Rows need goals, and one or the other way to an amount. */
static void finish_lime(const struct stated *stated)
{
    struct model *model = stated->model;
    struct lime_table *table = stated->subject;
    struct place place = stated->clause->place;
    if (table->symbol.broken)
        return;
    if (!table->rows.count && isnan(table->whole_way))
        report_lacks(model, place, &table->symbol, "this lime table has neither rows nor a formula",
                     "acidity 4.6 meq per 100 g needs 110, 70, 50 lb per 1000 sqft");
    else if (table->rows.count && !table->goals.count)
        report_lacks(model, place, &table->symbol, "this lime table does not say which pH its rows reach",
                     "goals 7.0, 6.5, 6.0");
    /* Rows of one measure, each with an amount for every goal. */
    for (size_t i = 0; i < table->rows.count && table->goals.count; i++) {
        const struct lime_row *row = &table->rows.items[i];
        struct report *report = NULL;
        if (row->amount_count != table->goals.count) {
            report = report_add(model->reports, &model_rules[RULE_TABLE], row->place,
                                "this row has %zu %s for %u %s", row->amount_count,
                                row->amount_count == 1 ? "amount" : "amounts", table->goals.count,
                                table->goals.count == 1 ? "goal" : "goals");
            report_label(model->reports, report, table->goals_place, "the goals");
        } else if (row->measure != table->rows.items[0].measure) {
            report = report_add(model->reports, &model_rules[RULE_TABLE], row->place,
                                "all rows of a lime table must use one measure");
            report_label(model->reports, report, table->rows.items[0].place, "the first row uses another");
        }
        table->symbol.broken = table->symbol.broken || report;
    }
}

void read_lime(const struct stated *stated)
{
    struct lime_table *table =
        object_declare(stated, SYMBOL_LIME, sizeof *table, PHASE_KNOWLEDGE, finish_lime);
    table->whole_way = table->way_end = table->buffer_start = table->buffer_step = table->most_at_once = NAN;
    table->neutralizing = 1;
    VECTOR_PUSH(stated->model->arena, &stated->model->lime_tables, table);
}

bool ph_possible(struct model *model, const struct value *ph)
{
    if (ph->number > 0 && ph->number <= 14)
        return true;
    report_add(model->reports, &model_rules[RULE_VALUE], ph->place, "a pH is above 0 and at most 14");
    return false;
}

void read_lime_goals(const struct stated *stated)
{
    struct lime_table *table = stated->subject;
    const struct value *goals = slot_value(stated, "goals");
    table->goals_place = stated->clause->place;
    for (size_t i = 0; i < goals->count; i++)
        if (ph_possible(stated->model, &goals->items[i]))
            VECTOR_PUSH(stated->model->arena, &table->goals, goals->items[i].number);
        else
            table->symbol.broken = true;
}

/* ---- rows ---- */

/* By exchangeable acidity, or by buffer pH. */
void read_lime_row(const struct stated *stated)
{
    struct model *model = stated->model;
    struct lime_table *table = stated->subject;
    const struct value *ph = slot_value(stated, "ph"), *acidity = slot_value(stated, "acidity");
    const struct value *amounts = slot_value(stated, "amounts");
    if (ph && !ph_possible(model, ph)) {
        table->symbol.broken = true;
        return;
    }
    double *kg_per_m2 = ARENA_ARRAY(model->arena, amounts->count, double);
    for (size_t i = 0; i < amounts->count; i++)
        kg_per_m2[i] = amounts->items[i].number * amounts->number;
    struct lime_row row = {.measure = ph                ? LIME_BY_BUFFER_PH
                                      : acidity->volume ? LIME_BY_ACIDITY_OF_VOLUME
                                                        : LIME_BY_ACIDITY,
                           .value = ph ? ph->number : acidity->number,
                           .amounts = kg_per_m2,
                           .amount_count = amounts->count,
                           .text = slot_written(stated, ph ? "ph" : "acidity"),
                           .place = stated->clause->place};
    VECTOR_PUSH(model->arena, &table->rows, row);
}

/* ---- a formula ---- */

/* The lime for each step of acidity on the whole way to a pH, and the acidity that a buffer pH shows. */
void read_lime_formula(const struct stated *stated)
{
    struct lime_table *table = stated->subject;
    const struct value *acidity = slot_value(stated, "acidity"), *rate = slot_value(stated, "rate");
    const struct value *ph = slot_value(stated, rate ? "end" : "start");
    if (!ph_possible(stated->model, ph)) {
        table->symbol.broken = true;
    } else if (rate) {
        table->whole_way = rate->number / acidity->number;
        table->way_end = ph->number;
        table->way_measure = acidity->volume ? LIME_BY_ACIDITY_OF_VOLUME : LIME_BY_ACIDITY;
        table->way_place = stated->clause->place;
    } else {
        table->buffer_start = ph->number;
        table->buffer_step = acidity->number;
    }
}

void read_lime_cap(const struct stated *stated)
{
    struct lime_table *table = stated->subject;
    const struct value *wait = slot_value(stated, "wait");
    table->most_at_once = slot_value(stated, "most")->number;
    table->interval = wait ? duration_of_time(wait, false) : (struct duration){0};
    table->interval_text = wait ? slot_written(stated, "wait") : "";
    table->cap_source = slot_source(stated);
    table->cap_place = stated->clause->place;
}
