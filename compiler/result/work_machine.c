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

/* ": dial at 12.4, between the tests at 12 and 14"; "" where nothing is known of the dial. */
static const char *dial_text(struct arena *arena, const struct dial_answer *dial)
{
    static const char *const untested[] = {[DIAL_UNKNOWN] = "",
                                           [DIAL_OTHER] = "",
                                           [DIAL_BELOW] = ": test the dial first, below the settings known",
                                           [DIAL_ABOVE] = ": test the dial first, above the settings known",
                                           [DIAL_BETWEEN] =
                                               ": test the dial first, between the settings known"};
    if (dial->found != DIAL_FOUND)
        return untested[dial->found];
    const char *by = dial->of_label ? "the label's marks" : "the tests at";
    if (dial->after)
        return text_format(arena, ": dial at %s, between %s %s", dial->text, by,
                           text_format(arena, "%s and %s", dial->after, dial->until));
    return text_format(arena, ": dial at %s, as %s", dial->text, dial->of_label ? "on the label" : "tested");
}

/* Zones of one rate share a sentence; where all do, they are not named. */
static void say_setting(struct work *work, const struct model *model, const struct material *material,
                        const struct machine *machine)
{
    struct arena *arena = model->arena;
    int passes = machine->passes;
    size_t count = material->portions.count;
    const char *product = text_format(arena, "of %s", name_string(material->product->symbol.name));
    const char *share = passes == 1   ? "the whole rate"
                        : passes == 2 ? "half the rate"
                                      : text_format(arena, "1/%d of the rate", passes);
    const char **zones = ARENA_ARRAY(arena, count, const char *);
    bool *said = ARENA_ARRAY(arena, count, bool);
    for (size_t i = 0; i < count; i++) {
        const struct portion *portion = &material->portions.items[i];
        size_t alike = 0;
        for (size_t j = i; j < count && !said[i]; j++) {
            const struct amount *amount = material->portions.items[j].amount;
            if (said[j] || differs(amount->rate, portion->amount->rate))
                continue;
            zones[alike++] = name_string(amount->zone->symbol.name);
            said[j] = j > i;
        }
        if (alike == 0)
            continue;
        struct shown_rate rate = {portion->amount->rate, material->volume, material->leeway, passes};
        const char *on =
            alike == count ? "" : text_format(arena, " on %s", list_text(arena, zones, alike, " and "));
        work_say(work, arena, "Set the spreader %s to %s%s%s.", name_string(machine->symbol.name),
                 display_passes(arena, model, &rate, 1, product), text_format(arena, "%s, %s", on, share),
                 portion->spreading ? dial_text(arena, &portion->spreading->dial) : "");
    }
}

/* In the order of doing: the setting for a product, what goes into the hopper, the walk, which is the same
 * for all products and said with the first of them, and what to check on the way. A setting is of one pass,
 * since that is what a spreader's dial does. */
static void say_spreading(struct work *work, const struct model *model, const struct machine *machine)
{
    struct arena *arena = model->arena;
    int passes = machine->passes;
    const char *lane_words = lanes(model, machine);
    const char *each = work->materials.count > 1 ? " with each product" : "";
    for (size_t i = 0; i < work->materials.count; i++) {
        const struct material *material = &work->materials.items[i];
        say_setting(work, model, material, machine);
        /* What goes into the hopper where one fill does not take all of a zone's. */
        for (size_t j = 0; j < material->portions.count; j++) {
            const struct spreading *spreading = material->portions.items[j].spreading;
            if (!spreading || spreading->once)
                continue;
            const char *first = spreading->fills.full + spreading->fills.rest > 1 ? "the first" : "it";
            const char *half = spreading->check_walk
                                   ? text_format(arena, "; check that half of %s is left after %s", first,
                                                 spreading->check_walk)
                                   : "";
            work_say(work, arena, "On %s, %s takes %s%s.",
                     name_string(material->portions.items[j].amount->zone->symbol.name),
                     machine->passes > 1 ? "each pass" : "the pass", spreading->load, half);
        }
        if (i == 0 && passes == 2)
            work_say(work, arena, "Walk each zone twice%s, the second pass across the first%s.", each,
                     lane_words);
        else if (i == 0 && passes > 2)
            work_say(work, arena, "Walk each zone %d times%s, each pass in another direction%s.", passes,
                     each, lane_words);
        else if (i == 0 && *lane_words)
            work_say(work, arena, "Walk each zone once%s%s.", each, lane_words);
        /* The check that people do, on the way: what is left of the only fill. */
        struct buffer left = {.arena = model->arena};
        for (size_t k = 0; k < material->portions.count; k++) {
            const struct portion *portion = &material->portions.items[k];
            if (!portion->spreading || !portion->spreading->once || !portion->spreading->shows)
                continue;
            buffer_format(&left, "%s%s %s", left.length ? "; " : "",
                          name_string(portion->amount->zone->symbol.name), portion->spreading->left);
            if (portion->spreading->band)
                buffer_format(&left, " (%s)", portion->spreading->band);
        }
        if (left.length)
            work_say(work, model->arena, "%s, check what is left: %s.",
                     machine->passes > 1 ? "After the first pass" : "Half way", left.string);
    }
}

/* ---- sprayers ---- */

const char *pace_text(struct arena *arena, const struct model *model, double m_per_s)
{
    double run = model->metric ? 30 : unit_to_si(unit_named("ft"), 100);
    return text_format(arena, "%s in %s seconds", display_length(arena, model, run),
                       number_text(arena, run / m_per_s, 1));
}

/* "3.65 gal", in the unit that `like_m3` is shown in. Water is no dose: the nearest will do. */
static const char *mix_text(const struct model *model, double m3, double like_m3)
{
    const struct unit *unit = measure_unit(model, like_m3, true);
    int decimals;
    measure_part(unit, m3, LEEWAY_DOWN, &decimals);
    return number_in(model->arena, unit_from_si(unit, m3), decimals, unit->name);
}

const char *water_text(const struct model *model, double m3)
{
    return mix_text(model, m3, m3);
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

/* "2 tanks of 4 gal, each with 12 fl oz of iron"; nothing where there is none. */
static void tanks_add(struct buffer *text, const struct work *work, const struct model *model, size_t count,
                      double m3, enum tank tank)
{
    if (count == 0)
        return;
    buffer_format(text, "%s%zu %s of %s", text->length ? "; then " : "", count, count == 1 ? "tank" : "tanks",
                  mix_text(model, m3, fmax(work->mix.full_m3, work->mix.rest_m3)));
    buffer_format(text, "%s with %s", count == 1 ? "" : ", each", tank_contents(work, model, tank));
}

/* Nothing where there is nothing to put out. */
void work_machine(struct work *work, const struct model *model)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    if (work->materials.count == 0)
        return;
    if (machine && machine->sprayer && !isnan(work->mix.volume_m3)) {
        /* Full tanks and last ones apart; one tank, or none of a known size, is simply mixed. */
        const struct mix *mix = &work->mix;
        struct arena *arena = model->arena;
        struct buffer tanks = {.arena = arena};
        if (isnan(mix->tank_m3) || mix->full + mix->rest == 1) {
            work_say(work, arena, "Mix %s with %s, filled up with water.", water_text(model, mix->volume_m3),
                     tank_contents(work, model, TANK_ONLY));
        } else {
            tanks_add(&tanks, work, model, mix->full, mix->full_m3, TANK_FULL);
            tanks_add(&tanks, work, model, mix->rest, mix->rest_m3, TANK_LAST);
            work_say(work, arena, "Mix %s: %s, filled up with water.", water_text(model, mix->volume_m3),
                     tanks.string);
            work_say(work, arena, "A tank of %s covers %s.",
                     water_text(model, mix->full ? mix->full_m3 : mix->rest_m3),
                     display_area(arena, model, mix->full ? mix->full_m2 : mix->rest_m2));
        }
        const char *pace = isnan(machine->speed) ? "" : pace_text(model->arena, model, machine->speed);
        work_say(work, model->arena, "Spray with %s: %s%s%s.", name_string(machine->symbol.name),
                 display_of(model->arena, model, QUANTITY_WATER_RATE, machine->output, NULL),
                 lanes(model, machine), *pace ? text_format(model->arena, ", %s", pace) : "");
    } else if (machine && !machine->sprayer) {
        say_spreading(work, model, machine);
    }
    /* Without a sprayer's output the label is all there is to go by. */
    for (size_t i = 0; i < work->materials.count && isnan(work->mix.volume_m3); i++) {
        const struct product *product = work->materials.items[i].product;
        if (isnan(product->label.water_low))
            continue;
        double low_m3 = product->label.water_low * work->area_m2;
        double high_m3 = product->label.water_high * work->area_m2;
        const char *low = water_text(model, low_m3), *high = water_text(model, high_m3);
        work_say(work, model->arena, "Water for %s on all zones, by its label: %s.",
                 name_string(product->symbol.name),
                 text_is(text_of(low), high) ? low : text_format(model->arena, "%s to %s", low, high));
    }
}
