/* What the library is made of: grasses, sources, cautions. */
#include "compiler/model/read_formula.h"

#include <math.h>

/* ---- sources ---- */

void read_source(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct source_entry *entry = symbol_new(model, clause, "name", sizeof *entry);
    entry->day = DAY_NONE;
    symbol_declare(model, SYMBOL_SOURCE, &entry->symbol);
    VECTOR_PUSH(model->arena, &model->source_entries, entry);
    body_later(model, clause, &entry->symbol, PHASE_KNOWLEDGE, NULL);
}

void read_source_title(struct model *model, const struct clause *clause, void *subject)
{
    ((struct source_entry *)subject)->title = string_of(model, clause_value(clause, "text"));
}

void read_source_by(struct model *model, const struct clause *clause, void *subject)
{
    ((struct source_entry *)subject)->by = string_of(model, clause_value(clause, "text"));
}

void read_source_at(struct model *model, const struct clause *clause, void *subject)
{
    ((struct source_entry *)subject)->at = string_of(model, clause_value(clause, "text"));
}

void read_source_year(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct source_entry *)subject)->year = (int)clause_value(clause, "count")->number;
}

void read_source_read(struct model *model, const struct clause *clause, void *subject)
{
    day_number day;
    if (day_of_value(model, clause_value(clause, "day"), &day))
        ((struct source_entry *)subject)->day = day;
}

void read_source_status(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct source_entry *)subject)->status =
        (enum source_status)(int)clause_value(clause, "status")->number;
}

/* ---- cautions ---- */

void read_caution(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct caution *caution = symbol_new(model, clause, "name", sizeof *caution);
    symbol_declare(model, SYMBOL_CAUTION, &caution->symbol);
    VECTOR_PUSH(model->arena, &model->cautions, caution);
    body_later(model, clause, &caution->symbol, PHASE_KNOWLEDGE, NULL);
}

void read_caution_kinds(struct model *model, const struct clause *clause, void *subject)
{
    struct caution *caution = subject;
    const struct value *kinds = clause_value(clause, "kinds");
    for (size_t i = 0; i < kinds->count; i++)
        VECTOR_PUSH(model->arena, &caution->kinds, kinds->items[i].name);
}

void read_caution_text(struct model *model, const struct clause *clause, void *subject)
{
    ((struct caution *)subject)->text = string_of(model, clause_value(clause, "text"));
}

void read_caution_neutralizing(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct caution *)subject)->neutralizing_above = clause_value(clause, "value")->number;
}

void read_caution_brief(struct model *model, const struct clause *clause, void *subject)
{
    ((struct caution *)subject)->brief = string_of(model, clause_value(clause, "text"));
}

void read_caution_stage(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct caution *)subject)->stages |= 1U << (unsigned)clause_value(clause, "stage")->number;
}

void read_caution_source(struct model *model, const struct clause *clause, void *subject)
{
    ((struct caution *)subject)->source = source_in(model, clause);
}

/* ---- grasses ---- */

void read_grass(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct grass *grass = symbol_new(model, clause, "name", sizeof *grass);
    symbol_declare(model, SYMBOL_GRASS, &grass->symbol);
    VECTOR_PUSH(model->arena, &model->grasses, grass);
    body_later(model, clause, &grass->symbol, PHASE_KNOWLEDGE, NULL);
}

void read_grass_season(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct grass *)subject)->warm_season = clause_value(clause, "season")->number > 0;
}

static void add_range(struct model *model, const struct clause *clause, struct grass *grass,
                      struct grass_range range)
{
    const struct value *region = clause_value(clause, "region");
    range.region = region ? region->name : NULL;
    range.source = source_in(model, clause);
    range.place = clause->place;
    VECTOR_PUSH(model->arena, &grass->ranges, range);
}

void read_grass_yearly(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *rates = clause_value(clause, "rates");
    double element = rates->nutrient->element_per_unit;
    add_range(model, clause, subject,
              (struct grass_range){.kind = GRASS_YEARLY,
                                   .nutrient = rates->nutrient,
                                   .low = rates->number * element,
                                   .high = rates->high * element});
}

void read_grass_ph(struct model *model, const struct clause *clause, void *subject)
{
    double low = clause_value(clause, "low")->number, high = clause_value(clause, "high")->number;
    if (low > high || high > 14) {
        report_add(model->reports, &model_rules[RULE_VALUE], clause->place, "this is no range of pH");
        return;
    }
    add_range(model, clause, subject, (struct grass_range){.kind = GRASS_PH, .low = low, .high = high});
}

void read_grass_grows(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *first = clause_value(clause, "first"), *last = clause_value(clause, "last");
    int low = month_of_text(first->text), high = month_of_text(last->text);
    if (!low || !high) {
        report_add(model->reports, &model_rules[RULE_DATE], (low ? last : first)->place, "this is no month");
        return;
    }
    add_range(model, clause, subject, (struct grass_range){.kind = GRASS_MONTHS, .low = low, .high = high});
}

void read_grass_use(struct model *model, const struct clause *clause, void *subject)
{
    const struct nutrient_form *nutrient = clause_value(clause, "nutrient")->nutrient;
    double share = clause_value(clause, "share")->number * nutrient->element_per_unit;
    add_range(model, clause, subject,
              (struct grass_range){.kind = GRASS_USE, .nutrient = nutrient, .low = share, .high = share});
}
