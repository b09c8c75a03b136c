/* What products of a form or kind usually are. */
#include "compiler/model/read.h"

void read_usual(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct usual *usual = symbol_new(model, clause, "name", sizeof *usual);
    symbol_declare(model, SYMBOL_USUAL, &usual->symbol);
    VECTOR_PUSH(model->arena, &model->usuals, usual);
    body_later(model, clause, &usual->symbol, PHASE_KNOWLEDGE, NULL);
}

static void set_range(struct model *model, const struct clause *clause, struct usual_range *range, double low,
                      double high)
{
    const struct value *source = clause_value(clause, "source");
    if (range->place.source) {
        struct report *report =
            report_add(model->reports, &model_rules[RULE_REPEATED], clause->place, "this is stated twice");
        report_label(model->reports, report, range->place, "it stands here already");
        return;
    }
    *range = (struct usual_range){
        low, high, (const struct source_entry *)symbol_find(model, SYMBOL_SOURCE, source), clause->place};
}

void read_usual_rate(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *rates = clause_value(clause, "rates");
    set_range(model, clause, &((struct usual *)subject)->rate[rates->volume ? BY_VOLUME : BY_MASS],
              rates->number, rates->high);
}

void read_usual_density(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *densities = clause_value(clause, "densities");
    set_range(model, clause, &((struct usual *)subject)->density, densities->number, densities->high);
}

void read_usual_pack(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *amounts = clause_value(clause, "amounts");
    const struct value *low = amounts ? amounts : clause_value(clause, "low");
    const struct value *high = amounts ? amounts : clause_value(clause, "high");
    if (low->volume != high->volume || high->high < low->number) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place, "these two are no range")->help =
            "write the smaller one first, and both by mass or both by volume";
        return;
    }
    set_range(model, clause, &((struct usual *)subject)->pack[low->volume ? BY_VOLUME : BY_MASS], low->number,
              high->high);
}

void read_usual_grade(struct model *model, const struct clause *clause, void *subject)
{
    for (int i = 0; i < 3; i++)
        set_range(model, clause, &((struct usual *)subject)->grade[i], 0,
                  clause_value(clause, "grade")->grade[i]);
}

void read_usual_loads(struct model *model, const struct clause *clause, void *subject)
{
    set_range(model, clause, &((struct usual *)subject)->loads, 1, clause_value(clause, "count")->number);
}

void read_usual_prices(struct model *model, const struct clause *clause, void *subject)
{
    set_range(model, clause, &((struct usual *)subject)->prices, 1, clause_value(clause, "factor")->number);
}
