/* What the library is made of: sources, cautions, grasses, and what products usually are. */
#include "compiler/model/read.h"

#include <math.h>

/* ---- sources ---- */

void read_source(const struct stated *stated)
{
    struct source_entry *entry = object_declare(stated, SYMBOL_SOURCE, sizeof *entry, PHASE_KNOWLEDGE, NULL);
    entry->day = DAY_NONE;
    VECTOR_PUSH(stated->model->arena, &stated->model->source_entries, entry);
}

void read_source_read(const struct stated *stated)
{
    day_number day;
    if (day_of_value(stated->model, slot_value(stated, "day"), &day))
        ((struct source_entry *)stated->subject)->day = day;
}

/* ---- cautions ---- */

void read_caution(const struct stated *stated)
{
    if (!stated->model->building->library)
        library_read_file(stated->model, LIBRARY_CAUTIONS);
    struct caution *caution = object_declare(stated, SYMBOL_CAUTION, sizeof *caution, PHASE_KNOWLEDGE, NULL);
    VECTOR_PUSH(stated->model->arena, &stated->model->cautions, caution);
}

void read_caution_stage(const struct stated *stated)
{
    ((struct caution *)stated->subject)->stages |= 1U << (unsigned)slot_value(stated, "stage")->number;
}

/* ---- grasses ---- */

void read_grass(const struct stated *stated)
{
    struct grass *grass = object_declare(stated, SYMBOL_GRASS, sizeof *grass, PHASE_KNOWLEDGE, NULL);
    VECTOR_PUSH(stated->model->arena, &stated->model->grasses, grass);
}

/* What a grass needs: a year's range of a nutrient, pH, months, or the use of one as a share of the N. */
void read_grass_range(const struct stated *stated)
{
    struct model *model = stated->model;
    const struct value *low = &stated->clause->values[0], *high, *region = slot_value(stated, "region");
    struct grass_range range = {.kind = (enum grass_range_kind)stated->clause->form->which,
                                .low = low->number,
                                .high = low->number,
                                .region = region ? region->name : NULL,
                                .place = stated->clause->place};
    switch (range.kind) {
    case GRASS_YEARLY:
        range.nutrient = low->nutrient;
        range.high = low->high;
        break;
    case GRASS_PH:
        range.high = slot_value(stated, "high")->number;
        if (range.low > range.high || range.high > 14) {
            report_add(model->reports, &model_rules[RULE_VALUE], range.place, "this is not a range of pH");
            return;
        }
        break;
    case GRASS_MONTHS:
        high = slot_value(stated, "last");
        range.low = month_of_text(low->text);
        range.high = month_of_text(high->text);
        if (!(range.low > 0) || !(range.high > 0)) {
            report_add(model->reports, &model_rules[RULE_DATE], (range.low > 0 ? high : low)->place,
                       "this is not a month");
            return;
        }
        break;
    case GRASS_USE:
        range.nutrient = slot_value(stated, "nutrient")->nutrient;
        break;
    }
    if (range.nutrient) {
        range.low *= range.nutrient->element_per_unit;
        range.high *= range.nutrient->element_per_unit;
    }
    range.source = slot_source(stated);
    VECTOR_PUSH(model->arena, &((struct grass *)stated->subject)->ranges, range);
}

/* ---- what products of a form or kind usually are ---- */

void read_usual(const struct stated *stated)
{
    struct usual *usual = object_declare(stated, SYMBOL_USUAL, sizeof *usual, PHASE_KNOWLEDGE, NULL);
    VECTOR_PUSH(stated->model->arena, &stated->model->usuals, usual);
}

static void set_range(const struct stated *stated, struct usual_range *range, double low, double high)
{
    if (range->place.source)
        report_repeated(stated->model, stated->clause->place, range->place, "this is stated twice");
    else
        *range = (struct usual_range){low, high, slot_source(stated), stated->clause->place};
}

/* One end goes without saying of some; a range is of two amounts, each with its unit, or of one slot. */
void read_usual_range(const struct stated *stated)
{
    struct usual *usual = stated->subject;
    const struct clause *clause = stated->clause;
    const struct value *first = &clause->values[0], *last = slot_value(stated, "high");
    int measure = first->volume ? BY_VOLUME : BY_MASS;
    double low = first->number, high = last ? last->high : fmax(first->number, first->high);
    if ((last && last->volume != first->volume) || high < low) {
        report_add(stated->model->reports, &model_rules[RULE_VALUE], clause->place,
                   "these two are not a range")
            ->help = "write the smaller one first, and both by mass or both by volume";
        return;
    }
    switch ((enum usual_figure)clause->form->which) {
    case USUAL_RATE:
        set_range(stated, &usual->rate[measure], low, high);
        break;
    case USUAL_DENSITY:
        set_range(stated, &usual->density, low, high);
        break;
    case USUAL_PACK:
        set_range(stated, &usual->pack[measure], low, high);
        break;
    case USUAL_GRADE:
        for (int i = 0; i < 3; i++)
            set_range(stated, &usual->grade[i], 0, first->items[i].number);
        break;
    case USUAL_LOADS:
        set_range(stated, &usual->loads, 1, high);
        break;
    case USUAL_PRICES:
        set_range(stated, &usual->prices, 1, high);
        break;
    case USUAL_LEAST:
        set_range(stated, &usual->least[measure], low, INFINITY);
        break;
    case USUAL_WITHIN:
        set_range(stated, &usual->within, 0, high);
        break;
    }
}

/* A step by mass up to an amount by volume could never be compared with one. */
void read_usual_step(const struct stated *stated)
{
    struct usual *usual = stated->subject;
    const struct value *step = &stated->clause->values[0], *most = slot_value(stated, "most");
    struct usual_step added = {.step = step->number,
                               .most = most ? most->number : INFINITY,
                               .volume = step->volume,
                               .unit = step->unit,
                               .system = step->unit ? step->unit->system : UNIT_BOTH,
                               .place = stated->clause->place};
    if (most && (most->volume != step->volume || most->number < step->number))
        report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
                   "this step does not go up to that amount")
            ->help = "write both by mass or both by volume, the step first";
    else
        VECTOR_PUSH(stated->model->arena,
                    form_says(stated->clause->form, "rates") ? &usual->rate_steps : &usual->steps, added);
}
