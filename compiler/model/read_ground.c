/* Lawns and zones. */
#include "compiler/model/read.h"

#include <math.h>

static void finish_lawn(const struct stated *stated)
{
    struct lawn *lawn = stated->subject;
    if (!lawn->zones.count && !lawn->symbol.broken)
        report_lacks(stated->model, stated->clause->place, &lawn->symbol, "this lawn has no zone",
                     "zone north rectangle 62 ft by 40 ft");
}

void read_lawn(const struct stated *stated)
{
    struct lawn *lawn = object_declare(stated, SYMBOL_LAWN, sizeof *lawn, PHASE_GROUND, finish_lawn);
    lawn->bulk_density = lawn->goal_ph = NAN;
    VECTOR_PUSH(stated->model->arena, &stated->model->lawns, lawn);
}

void read_lawn_goal(const struct stated *stated)
{
    struct lawn *lawn = stated->subject;
    if (!ph_possible(stated->model, slot_value(stated, "ph")))
        return;
    lawn->goal_ph = slot_value(stated, "ph")->number;
    lawn->goal_place = stated->clause->place;
}

/* `yearly` and `uses`: amounts of a year, kept as the element. */
void read_lawn_amount(const struct stated *stated)
{
    struct lawn *lawn = stated->subject;
    const struct value *rate = slot_value(stated, "rate");
    struct lawn_amount amount = {rate->nutrient, rate->number * rate->nutrient->element_per_unit,
                                 stated->clause->place};
    if (form_says(stated->clause->form, "yearly"))
        VECTOR_PUSH(stated->model->arena, &lawn->yearly, amount);
    else
        VECTOR_PUSH(stated->model->arena, &lawn->uses, amount);
}

/* The area is worked out at once: a shape that cannot be measured breaks its zone and no other. */
void read_zone(const struct stated *stated)
{
    struct model *model = stated->model;
    struct lawn *lawn = stated->subject;
    struct zone *zone = object_new(stated, slot_value(stated, "name"), sizeof *zone);
    const struct value *distance = slot_value(stated, "distance");
    zone->lawn = lawn;
    zone->index = (uint32_t)model->zones.count;
    zone->shape = slot_value(stated, "shape")->shape;
    zone->water_m = distance ? distance->number : INFINITY;
    if (distance)
        zone->water_place = distance->place;
    if (!shape_measure(zone->shape, model))
        zone->symbol.broken = true;
    zone->area_m2 = zone->shape->area;
    symbol_declare(model, SYMBOL_ZONE, &zone->symbol);
    VECTOR_PUSH(model->arena, &model->zones, zone);
    VECTOR_PUSH(model->arena, &lawn->zones, zone);
}
