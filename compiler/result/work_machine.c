/* How the spreader is set and walked, and the tank mixed. */
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

static const char *of_product(struct arena *arena, const struct product *product)
{
    return text_format(arena, "of %s", name_string(product->symbol.name));
}

/* ---- spreaders ---- */

static const char *pass_share(struct arena *arena, int passes)
{
    if (passes == 1)
        return "the whole rate at once";
    return passes == 2 ? "half the rate" : text_format(arena, "1/%d of the rate", passes);
}

static void say_setting(struct work *work, const struct model *model, const struct machine *machine,
                        const struct material *material)
{
    if (isnan(material->rate))
        return;
    struct shown_rate rate = material_rate(material, work);
    work_say(work, model->arena, "Set the spreader %s for %s: %s.", name_string(machine->symbol.name),
             display_pass_rate(model->arena, model, &rate, of_product(model->arena, material->product)),
             pass_share(model->arena, machine->passes));
}

static void say_fills(struct work *work, const struct model *model, const struct machine *machine,
                      const struct material *material)
{
    for (size_t i = 0; i < material->portions.count; i++) {
        const struct portion *portion = &material->portions.items[i];
        if (portion->fills > 1)
            work_say(work, model->arena, "The hopper holds %s: %s takes %d fills%s.",
                     display_amount(model->arena, model, machine->hopper_kg, false),
                     name_string(portion->amount->zone->symbol.name), portion->fills,
                     machine->passes > 1 ? " for each pass" : "");
    }
}

static const char *lanes(const struct model *model, const struct machine *machine)
{
    if (isnan(machine->width_m))
        return "";
    return text_format(model->arena, ", in lanes %s apart",
                       display_length(model->arena, model, machine->width_m));
}

static void say_walk(struct work *work, const struct model *model, const struct machine *machine)
{
    const char *apart = lanes(model, machine);
    const char *each = work->materials.count > 1 ? " with each product" : "";
    if (machine->passes == 2)
        work_say(work, model->arena, "Walk each zone twice%s, the second time across the first%s.", each,
                 apart);
    else if (machine->passes > 2)
        work_say(work, model->arena, "Walk each zone %d times%s, each in another direction%s.",
                 machine->passes, each, apart);
    else if (*apart)
        work_say(work, model->arena, "Walk each zone once%s%s.", each, apart);
}

static void say_spreading(struct work *work, const struct model *model, const struct machine *machine)
{
    for (size_t i = 0; i < work->materials.count; i++) {
        say_setting(work, model, machine, &work->materials.items[i]);
        say_fills(work, model, machine, &work->materials.items[i]);
    }
    say_walk(work, model, machine);
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

static const char *in_tank(const struct material *material, enum tank tank)
{
    switch (tank) {
    case TANK_ONLY:
        break;
    case TANK_FULL:
        return material->tank_text;
    case TANK_LAST:
        return material->last_text;
    }
    return material->sum_text;
}

/* "10.93 fl oz of iron and 2 fl oz of wetting" */
static const char *tank_contents(const struct work *work, const struct model *model, enum tank tank)
{
    struct buffer text = {.arena = model->arena};
    size_t count = work->materials.count;
    for (size_t i = 0; i < count; i++) {
        const struct material *material = &work->materials.items[i];
        buffer_format(&text, "%s%s of %s",
                      i == 0          ? ""
                      : i + 1 < count ? ", "
                                      : " and ",
                      in_tank(material, tank), name_string(material->product->symbol.name));
    }
    return text.string;
}

/* "2 tanks of 4 gal, each with 12 fl oz of iron" */
static const char *tanks_text(const struct work *work, const struct model *model, size_t count, double m3,
                              enum tank tank)
{
    return text_format(model->arena, "%zu %s of %s%s with %s", count, count == 1 ? "tank" : "tanks",
                       mix_text(model, m3), count == 1 ? "" : ", each", tank_contents(work, model, tank));
}

/* Whether the last of tanks that are all full takes what the others take. */
static bool tanks_alike(const struct work *work)
{
    bool alike = true;
    for (size_t i = 0; i < work->materials.count; i++)
        alike = alike && work->materials.items[i].last_value == work->materials.items[i].tank_value;
    return alike;
}

static void say_tanks(struct work *work, const struct model *model)
{
    const struct mix *mix = &work->mix;
    struct buffer text = {.arena = model->arena};
    if (mix->full_m3 == 0)
        buffer_format(&text, " with %s", tank_contents(work, model, TANK_ONLY));
    else if (!exceeds(mix->volume_m3, mix->full_m3))
        buffer_format(&text, ": %s", tanks_text(work, model, 1, mix->volume_m3, TANK_ONLY));
    else if (mix->rest_m3 == 0 && tanks_alike(work))
        buffer_format(&text, ": %s", tanks_text(work, model, mix->full, mix->full_m3, TANK_FULL));
    else
        buffer_format(&text, ": %s; then %s",
                      tanks_text(work, model, mix->full - (mix->rest_m3 == 0), mix->full_m3, TANK_FULL),
                      tanks_text(work, model, 1, mix->rest_m3 > 0 ? mix->rest_m3 : mix->full_m3, TANK_LAST));
    work_say(work, model->arena, "Mix %s%s, filled up with water.", mix_text(model, mix->volume_m3),
             text.string);
}

static void say_spraying(struct work *work, const struct model *model, const struct machine *machine)
{
    if (isnan(work->mix.volume_m3))
        return;
    work_say(work, model->arena, "Spray with %s: %s%s.", name_string(machine->symbol.name),
             display_of(model->arena, model, QUANTITY_WATER_RATE, machine->output, NULL),
             lanes(model, machine));
    say_tanks(work, model);
}

/* Without a sprayer's output the label is all there is to go by. */
static void say_label_water(struct work *work, const struct model *model, const struct product *product)
{
    if (!isnan(work->mix.volume_m3) || isnan(product->label.water_low))
        return;
    const char *low = mix_text(model, product->label.water_low * work->area_m2);
    const char *high = mix_text(model, product->label.water_high * work->area_m2);
    work_say(work, model->arena, "Water for %s on all zones, as its label says: %s.",
             name_string(product->symbol.name),
             text_is(text_of(low), high) ? low : text_format(model->arena, "%s to %s", low, high));
}

void work_machine(struct work *work, const struct model *model)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    if (work->materials.count == 0)
        return;
    if (machine && machine->sprayer)
        say_spraying(work, model, machine);
    else if (machine)
        say_spreading(work, model, machine);
    for (size_t i = 0; i < work->materials.count; i++)
        say_label_water(work, model, work->materials.items[i].product);
}
