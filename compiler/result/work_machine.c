/* How the spreader is set and walked, and the tank mixed. */
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

/* ", in lanes 8 ft apart"; "" where the machine's width is not stated. */
static const char *lanes(const struct model *model, const struct machine *machine)
{
    if (isnan(machine->width_m))
        return "";
    return text_format(model->arena, ", in lanes %s apart",
                       display_length(model->arena, model, machine->width_m));
}

/* The setting for each product is of one pass, since that is what a spreader's dial does. */
static void say_spreading(struct work *work, const struct model *model, const struct machine *machine)
{
    struct arena *arena = model->arena;
    int passes = machine->passes;
    const char *share = passes == 1   ? "the whole rate"
                        : passes == 2 ? "half the rate"
                                      : text_format(arena, "1/%d of the rate", passes);
    for (size_t i = 0; i < work->materials.count; i++) {
        const struct material *material = &work->materials.items[i];
        struct shown_rate rate = material_rate(material, work);
        const char *product = text_format(arena, "of %s", name_string(material->product->symbol.name));
        if (!isnan(material->rate))
            work_say(work, arena, "Set the spreader %s to %s, %s.", name_string(machine->symbol.name),
                     display_pass_rate(arena, model, &rate, product), share);
        for (size_t j = 0; j < material->portions.count; j++) {
            const struct portion *portion = &material->portions.items[j];
            if (portion->fills > 1)
                work_say(work, arena, "The hopper holds %s: on %s, fill it %d times%s.",
                         display_amount(arena, model, machine->hopper_kg, false),
                         name_string(portion->amount->zone->symbol.name), portion->fills,
                         passes > 1 ? " for each pass" : "");
        }
    }
    const char *apart = lanes(model, machine);
    const char *each = work->materials.count > 1 ? " with each product" : "";
    if (passes == 2)
        work_say(work, arena, "Walk each zone twice%s, the second pass across the first%s.", each, apart);
    else if (passes > 2)
        work_say(work, arena, "Walk each zone %d times%s, each pass in another direction%s.", passes, each,
                 apart);
    else if (*apart)
        work_say(work, arena, "Walk each zone once%s%s.", each, apart);
}

/* ---- sprayers ---- */

/* "3.65 gal". Water is no dose: the nearest will do. */
static const char *mix_text(const struct model *model, double m3)
{
    const struct unit *unit = measure_unit(model->arena, model, m3, true);
    int decimals;
    measure_part(unit, m3, LEEWAY_DOWN, 0, &decimals);
    return text_format(model->arena, "%s %s", number_text(model->arena, unit_from_si(unit, m3), decimals),
                       unit->name);
}

enum tank { TANK_ONLY, TANK_FULL, TANK_LAST };

/* "10.93 fl oz of iron and 2 fl oz of wetting" */
static const char *tank_contents(const struct work *work, const struct model *model, enum tank tank)
{
    size_t count = work->materials.count;
    const char **parts = ARENA_ARRAY(model->arena, count, const char *);
    for (size_t i = 0; i < count; i++) {
        const struct material *material = &work->materials.items[i];
        const char *amount = tank == TANK_ONLY   ? material->sum_text
                             : tank == TANK_FULL ? material->tank_text
                                                 : material->last_text;
        parts[i] = text_format(model->arena, "%s of %s", amount, name_string(material->product->symbol.name));
    }
    return list_text(model->arena, parts, count, " and ");
}

/* "2 tanks of 4 gal, each with 12 fl oz of iron" */
static void tanks_add(struct buffer *text, const struct work *work, const struct model *model, size_t count,
                      double m3, enum tank tank)
{
    buffer_format(text, "%zu %s of %s", count, count == 1 ? "tank" : "tanks", mix_text(model, m3));
    buffer_format(text, "%s with %s", count == 1 ? "" : ", each", tank_contents(work, model, tank));
}

/* The last of several tanks is told apart where it takes something else than the full ones. */
static void say_tanks(struct work *work, const struct model *model)
{
    const struct mix *mix = &work->mix;
    struct buffer text = {.arena = model->arena};
    bool even = mix->rest_m3 == 0, alike = even;
    for (size_t i = 0; i < work->materials.count; i++)
        alike = alike && work->materials.items[i].last_value == work->materials.items[i].tank_value;
    buffer_format(&text, "Mix %s", mix_text(model, mix->volume_m3));
    if (mix->full_m3 == 0)
        buffer_format(&text, " with %s", tank_contents(work, model, TANK_ONLY));
    else
        buffer_add_string(&text, ": ");
    if (mix->full_m3 > 0 && !exceeds(mix->volume_m3, mix->full_m3))
        tanks_add(&text, work, model, 1, mix->volume_m3, TANK_ONLY);
    else if (mix->full_m3 > 0) {
        tanks_add(&text, work, model, mix->full - (even && !alike), mix->full_m3, TANK_FULL);
        if (!alike) {
            buffer_add_string(&text, "; then ");
            tanks_add(&text, work, model, 1, even ? mix->full_m3 : mix->rest_m3, TANK_LAST);
        }
    }
    work_say(work, model->arena, "%s, filled up with water.", text.string);
}

/* Nothing where there is nothing to put out. */
void work_machine(struct work *work, const struct model *model)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    if (work->materials.count == 0)
        return;
    if (machine && machine->sprayer && !isnan(work->mix.volume_m3)) {
        work_say(work, model->arena, "Spray with %s: %s%s.", name_string(machine->symbol.name),
                 display_of(model->arena, model, QUANTITY_WATER_RATE, machine->output, NULL),
                 lanes(model, machine));
        say_tanks(work, model);
    } else if (machine && !machine->sprayer) {
        say_spreading(work, model, machine);
    }
    /* Without a sprayer's output the label is all there is to go by. */
    for (size_t i = 0; i < work->materials.count && isnan(work->mix.volume_m3); i++) {
        const struct product *product = work->materials.items[i].product;
        if (isnan(product->label.water_low))
            continue;
        const char *low = mix_text(model, product->label.water_low * work->area_m2);
        const char *high = mix_text(model, product->label.water_high * work->area_m2);
        work_say(work, model->arena, "Water for %s on all zones, by its label: %s.",
                 name_string(product->symbol.name),
                 text_is(text_of(low), high) ? low : text_format(model->arena, "%s to %s", low, high));
    }
}
