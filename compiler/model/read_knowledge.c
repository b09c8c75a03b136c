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

void read_source_status(const struct stated *stated)
{
    ((struct source_entry *)stated->subject)->status =
        (enum source_status)(int)slot_value(stated, "status")->number;
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

static void add_range(const struct stated *stated, struct grass_range range)
{
    struct grass *grass = stated->subject;
    const struct value *region = slot_value(stated, "region");
    range.region = region ? region->name : NULL;
    range.source = slot_source(stated);
    range.place = stated->clause->place;
    VECTOR_PUSH(stated->model->arena, &grass->ranges, range);
}

void read_grass_yearly(const struct stated *stated)
{
    const struct value *rates = slot_value(stated, "rates");
    double element = rates->nutrient->element_per_unit;
    add_range(stated, (struct grass_range){.kind = GRASS_YEARLY,
                                           .nutrient = rates->nutrient,
                                           .low = rates->number * element,
                                           .high = rates->high * element});
}

void read_grass_ph(const struct stated *stated)
{
    double low = slot_value(stated, "low")->number, high = slot_value(stated, "high")->number;
    if (low > high || high > 14)
        report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
                   "this is not a range of pH");
    else
        add_range(stated, (struct grass_range){.kind = GRASS_PH, .low = low, .high = high});
}

void read_grass_grows(const struct stated *stated)
{
    const struct value *first = slot_value(stated, "first"), *last = slot_value(stated, "last");
    int low = month_of_text(first->text), high = month_of_text(last->text);
    if (!low || !high)
        report_add(stated->model->reports, &model_rules[RULE_DATE], (low ? last : first)->place,
                   "this is not a month");
    else
        add_range(stated, (struct grass_range){.kind = GRASS_MONTHS, .low = low, .high = high});
}

void read_grass_use(const struct stated *stated)
{
    const struct nutrient_form *nutrient = slot_value(stated, "nutrient")->nutrient;
    double share = slot_value(stated, "share")->number * nutrient->element_per_unit;
    add_range(stated,
              (struct grass_range){.kind = GRASS_USE, .nutrient = nutrient, .low = share, .high = share});
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
            set_range(stated, &usual->grade[i], 0, first->grade[i]);
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
