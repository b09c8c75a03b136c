/* What to weigh or measure out: of each zone, each pass and each tank, so that the parts printed add up to
 * the sums printed. */
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

enum { FINEST = 9 }; /* digits beyond the usual ones that are tried */

/* NULL for a sprayer, and of what is done: a record says what was used, not how it was walked. */
static const struct machine *spreader_of(const struct work *work)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    return machine && !machine->sprayer && !work->occurrence->done ? machine : NULL;
}

/* Of what a record used, as it was written, to four digits; otherwise `finer` digits more than a scale shows,
 * of each pass. */
static void measure_portions(struct material *material, struct arena *arena, int passes, int finer)
{
    const struct unit *unit = material->unit;
    int decimals = 0;
    material->sum = 0;
    for (size_t i = 0; i < material->portions.count; i++) {
        struct portion *portion = &material->portions.items[i];
        const struct amount *amount = portion->amount;
        int places;
        if (material->recorded) {
            double used = unit_from_si(unit, amount->total);
            places = number_short_decimals(used);
            portion->value = number_nearest(used, places);
            portion->number = number_short(arena, used);
        } else {
            double each = measure_part(unit, amount->total / passes, amount->leeway, finer, &places);
            portion->value = each * passes;
            portion->number = number_fixed(arena, portion->value, places);
            portion->each = passes > 1 ? measure_text(arena, unit, each, places) : NULL;
            portion->row = portion->each ? text_format(arena, "%s %s, %s %s", portion->number, unit->name,
                                                       portion->each, passes == 2 ? "each way" : "each pass")
                                         : NULL;
        }
        portion->text = text_format(arena, "%s %s", portion->number, unit->name);
        portion->row = portion->row ? portion->row : portion->text;
        decimals = places > decimals ? places : decimals;
        material->sum += portion->value;
    }
    material->sum_number = number_text(arena, material->sum, decimals);
    material->sum_text = text_format(arena, "%s %s", material->sum_number, unit->name);
}

/* ---- tanks ---- */

/* What the sprayer puts out over all zones, and into how many tanks that goes. */
static void work_mix(struct work *work)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    if (!machine || !machine->sprayer || !(machine->output > 0) || work->materials.count == 0 ||
        work->occurrence->done)
        return;
    struct mix *mix = &work->mix;
    mix->volume_m3 = machine->output * work->area_m2;
    mix->rest_m3 = mix->volume_m3;
    if (!(machine->tank_m3 > 0))
        return;
    const double most = 1e6; /* far beyond what anyone sprays; keeps the conversion defined */
    double tanks = fmin(mix->volume_m3 / machine->tank_m3, most);
    mix->full = (size_t)floor(tanks * (1 + COMPARE_TOLERANCE));
    mix->full_m3 = machine->tank_m3;
    mix->rest_m3 = mix->volume_m3 - (double)mix->full * machine->tank_m3;
    if (!exceeds(mix->rest_m3, COMPARE_TOLERANCE * mix->volume_m3))
        mix->rest_m3 = 0;
}

struct tanks {
    double count;      /* of the full ones before the last */
    double full, last; /* what they take, exactly: kg or m3 */
};

/* Full tanks as they are rounded, and in the last one what is left of the sum: within the leeway too, and not
 * by more than a fiftieth from its share, since it is sprayed over some zone. */
static bool last_tank_fits(struct material *material, struct arena *arena, const struct tanks *tanks,
                           int finer)
{
    const struct unit *unit = material->tank_unit;
    const double most_lost = 0.02;
    int places;
    double full = measure_part(unit, tanks->full, material->leeway, finer, &places);
    double sum = unit_from_si(unit, unit_to_si(material->unit, material->sum));
    double last = sum - tanks->count * full, exact = unit_from_si(unit, tanks->last);
    double least = exact * (1 - fmin(material->leeway.fall, most_lost));
    double most = exact * (1 + fmin(material->leeway.rise, most_lost));
    if (exceeds(least, last) || exceeds(last, most))
        return false;
    int finest = places > FINEST ? places : FINEST; /* what is left of many digits has as many */
    material->tank_value = full;
    material->last_value = number_nearest(last, finest);
    material->tank_text = measure_text(arena, unit, full, places);
    material->last_text = text_format(arena, "%s %s", number_text(arena, last, finest), unit->name);
    return true;
}

/* The fewest digits of zones and tanks with which they agree. */
static void measure_tanks(struct material *material, struct arena *arena, const struct mix *mix)
{
    bool even = mix->rest_m3 == 0; /* the last one is full too */
    double last_m3 = even ? mix->full_m3 : mix->rest_m3;
    struct tanks tanks = {(double)(mix->full - even), material->sum_exact * (mix->full_m3 / mix->volume_m3),
                          material->sum_exact * (last_m3 / mix->volume_m3)};
    for (int zones = 0; zones <= FINEST; zones++) {
        measure_portions(material, arena, 1, zones);
        for (int full = 0; full <= zones + 2; full++)
            if (last_tank_fits(material, arena, &tanks, full))
                return;
    }
}

/* One unit for all portions and their sum: a column of gallons and fluid ounces misleads. The sum's, where a
 * jug shows both of a system's units at once, as of litres and millilitres; otherwise the largest portion's.
 * For the same reason a metric tank may have another unit than the sum: it takes a small part of it. */
static void material_measure(struct material *material, const struct work *work, const struct model *model)
{
    const struct machine *spreader = spreader_of(work);
    const struct mix *mix = &work->mix;
    double largest = 0;
    for (size_t i = 0; i < material->portions.count; i++)
        largest = fmax(largest, material->portions.items[i].amount->total);
    material->unit = material->tank_unit =
        measure_unit(model->arena, model, model->metric ? material->sum_exact : largest, material->volume);
    measure_portions(material, model->arena, spreader ? spreader->passes : 1, 0);
    if (material->recorded)
        return;
    /* How often the hopper is filled for one pass over each portion's zone. */
    const double most = 1e6; /* far beyond what anyone walks; keeps the conversion defined */
    for (size_t i = 0; i < material->portions.count && spreader; i++) {
        struct portion *portion = &material->portions.items[i];
        double fills = amount_loads(portion->amount, spreader) / spreader->passes;
        if (isfinite(fills))
            portion->fills = exceeds(fills, 1) ? (int)ceil(fmin(fills, most) * (1 - COMPARE_TOLERANCE)) : 1;
    }
    if (isnan(mix->volume_m3) || !exceeds(mix->volume_m3, mix->full_m3) || mix->full == 0)
        return;
    if (model->metric)
        material->tank_unit = measure_unit(
            model->arena, model, material->sum_exact * (mix->full_m3 / mix->volume_m3), material->volume);
    measure_tanks(material, model->arena, mix);
}

/* ---- what is laid ---- */

/* What to fetch of each material of a layer: rounded up, since it has to be enough, and in one unit for all
 * of them. Heaps are bought in these (common practice, no source). */
static void work_heaps(struct work *work, const struct model *model)
{
    const struct treatment *treatment = work->occurrence->treatment;
    double all_m3 = treatment->lay_m * work->area_m2;
    if (!(all_m3 > 0))
        return;
    const double least_of_large = 0.5;
    const struct unit *unit = unit_named(model->metric ? "cu m" : "cu yd");
    if (unit_from_si(unit, all_m3) < least_of_large)
        unit = unit_named(model->metric ? "L" : "cu ft");
    for (size_t i = 0; i < treatment->mix.count; i++) {
        struct heap heap = {.material = treatment->mix.items[i].material,
                            .m3 = all_m3 * treatment->mix.items[i].share};
        int decimals;
        double value = measure_up(unit, heap.m3, &decimals);
        heap.text =
            text_format(model->arena, "%s %s", number_text(model->arena, value, decimals), unit->name);
        VECTOR_PUSH(model->arena, &work->heaps, heap);
    }
}

void work_measure(struct work *work, const struct model *model)
{
    work_mix(work);
    for (size_t i = 0; i < work->materials.count; i++)
        material_measure(&work->materials.items[i], work, model);
    work_heaps(work, model);
}

struct shown_rate material_rate(const struct material *material, const struct work *work)
{
    const struct machine *spreader = spreader_of(work);
    return (struct shown_rate){material->rate, material->volume, material->leeway,
                               spreader ? spreader->passes : 1};
}

const char *material_rate_text(const struct material *material, const struct work *work,
                               const struct model *model)
{
    struct shown_rate rate = material_rate(material, work);
    if (material->recorded)
        return display_product_rate(model->arena, model, material->rate, material->volume);
    return display_whole_rate(model->arena, model, &rate, NULL);
}
