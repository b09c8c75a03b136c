/* What the library is made of: sources, cautions, grasses, and what products usually are. */
#include "compiler/model/read.h"

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

void read_grass_also(const struct stated *stated)
{
    struct grass *grass = stated->subject;
    const struct value *names = slot_value(stated, "names");
    for (size_t i = 0; i < names->count; i++)
        VECTOR_PUSH(stated->model->arena, &grass->also, names->items[i].name);
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

void read_usual_rate(const struct stated *stated)
{
    struct usual *usual = stated->subject;
    const struct value *rates = slot_value(stated, "rates");
    set_range(stated, &usual->rate[rates->volume ? BY_VOLUME : BY_MASS], rates->number, rates->high);
}

void read_usual_density(const struct stated *stated)
{
    const struct value *densities = slot_value(stated, "densities");
    set_range(stated, &((struct usual *)stated->subject)->density, densities->number, densities->high);
}

/* Two amounts, each with its unit, or a range in one unit. */
void read_usual_pack(const struct stated *stated)
{
    struct usual *usual = stated->subject;
    const struct value *amounts = slot_value(stated, "amounts");
    const struct value *low = amounts ? amounts : slot_value(stated, "low");
    const struct value *high = amounts ? amounts : slot_value(stated, "high");
    if (low->volume != high->volume || high->high < low->number)
        report_add(stated->model->reports, &model_rules[RULE_VALUE], stated->clause->place,
                   "these two are not a range")
            ->help = "write the smaller one first, and both by mass or both by volume";
    else
        set_range(stated, &usual->pack[low->volume ? BY_VOLUME : BY_MASS], low->number, high->high);
}

void read_usual_grade(const struct stated *stated)
{
    for (int i = 0; i < 3; i++)
        set_range(stated, &((struct usual *)stated->subject)->grade[i], 0,
                  slot_value(stated, "grade")->grade[i]);
}

void read_usual_loads(const struct stated *stated)
{
    set_range(stated, &((struct usual *)stated->subject)->loads, 1, slot_value(stated, "count")->number);
}

void read_usual_prices(const struct stated *stated)
{
    set_range(stated, &((struct usual *)stated->subject)->prices, 1, slot_value(stated, "factor")->number);
}

/* ---- what people do the work with ---- */

void read_usual_least(const struct stated *stated)
{
    const struct value *rate = slot_value(stated, "rate");
    struct usual *usual = stated->subject;
    set_range(stated, &usual->least[rate->volume ? BY_VOLUME : BY_MASS], rate->number, INFINITY);
}

void read_usual_within(const struct stated *stated)
{
    set_range(stated, &((struct usual *)stated->subject)->within, 0, slot_value(stated, "share")->number);
}

/* A step by mass up to an amount by volume could never be compared with one. */
static void step_add(const struct stated *stated, struct usual_steps *steps, const struct value *step)
{
    const struct value *most = slot_value(stated, "most");
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
        VECTOR_PUSH(stated->model->arena, steps, added);
}

void read_usual_step(const struct stated *stated)
{
    step_add(stated, &((struct usual *)stated->subject)->steps, slot_value(stated, "step"));
}

void read_usual_rate_step(const struct stated *stated)
{
    step_add(stated, &((struct usual *)stated->subject)->rate_steps, slot_value(stated, "rate"));
}
