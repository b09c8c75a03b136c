/* What to weigh or measure out: of each zone, each pass and each tank, so that the parts printed add up to
 * the sums printed. */
#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

enum { FINEST = 9 }; /* digits beyond the usual ones that are tried */

/* Of what a record used, as it was written, to four digits; otherwise `finer` digits more than a scale shows,
 * of each pass. */
static void measure_portions(struct material *material, const struct model *model, int passes, int finer)
{
    struct arena *arena = model->arena;
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
            double each =
                measure_portion(model, unit, amount->total / passes, amount->leeway, finer, &places);
            portion->value = each * passes;
            portion->number = number_fixed(arena, portion->value, places);
            portion->each = passes > 1 ? measure_text(arena, unit, each, places) : NULL;
            portion->row = portion->each ? text_format(arena, "%s %s, %s %s", portion->number, unit->name,
                                                       portion->each, passes == 2 ? "each way" : "each pass")
                                         : NULL;
        }
        portion->decimals = places;
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
    mix->tank_m3 = machine->tank_m3;
    struct loads loads = loads_of(mix->volume_m3, machine->tank_m3);
    mix->full = loads.full;
    mix->rest = loads.rest;
    mix->full_m3 = loads.full_each;
    mix->rest_m3 = loads.rest_each;
    mix->full_m2 = mix->full_m3 / machine->output;
    mix->rest_m2 = mix->rest_m3 / machine->output;
}

struct tanks {
    double count, last_count; /* of the full ones, and of those that take what is left of the sum */
    double full, last;        /* what one takes, exactly: kg or m3 */
};

/* Full tanks as they are rounded, and in the last ones what is left of the sum: within the leeway too, and
 * not by more than a fiftieth from its share, since it is sprayed over some zone. */
static bool last_tank_fits(struct material *material, const struct model *model, const struct tanks *tanks,
                           int finer)
{
    struct arena *arena = model->arena;
    const struct unit *unit = material->tank_unit;
    const double most_lost = 0.02;
    int places;
    double full = measure_portion(model, unit, tanks->full, material->leeway, finer, &places);
    double sum = unit_from_si(unit, unit_to_si(material->unit, material->sum));
    double last = (sum - tanks->count * full) / tanks->last_count, exact = unit_from_si(unit, tanks->last);
    /* What is left for two may not divide into equal figures; a step less in a full one, it does. */
    double less = full - pow(10, -places), other = (sum - tanks->count * less) / tanks->last_count;
    if (tanks->last_count > 1 && tanks->count > 0 && differs(last, number_nearest(last, places)) &&
        !differs(other, number_nearest(other, places)) &&
        !exceeds(unit_from_si(unit, tanks->full) * (1 - fmin(material->leeway.fall, most_lost)), less)) {
        full = less;
        last = other;
    }
    double least = exact * (1 - fmin(material->leeway.fall, most_lost));
    double most = exact * (1 + fmin(material->leeway.rise, most_lost));
    if (exceeds(least, last) || exceeds(last, most))
        return false;
    int finest = places > FINEST ? places : FINEST; /* what is left of many digits has as many */
    material->tank_value = full;
    material->last_value = number_nearest(last, finest);
    material->tank_text = text_format(arena, "%s %s", number_text(arena, full, places), unit->name);
    material->last_text = text_format(arena, "%s %s", number_text(arena, last, finest), unit->name);
    return true;
}

/* One unit for all portions and their sum: a column of gallons and fluid ounces misleads. The sum's, where a
 * jug shows both of a system's units at once, as of litres and millilitres; otherwise the largest portion's.
 * For the same reason a metric tank may have another unit than the sum: it takes a small part of it. */
static void material_measure(struct material *material, const struct work *work, const struct model *model)
{
    const struct machine *spreader = work_spreader(work);
    const struct mix *mix = &work->mix;
    double largest = 0;
    for (size_t i = 0; i < material->portions.count; i++)
        largest = fmax(largest, material->portions.items[i].amount->total);
    material->unit = material->tank_unit =
        measure_unit(model->arena, model, model->metric ? material->sum_exact : largest, material->volume);
    measure_portions(material, model, spreader ? spreader->passes : 1, 0);
    if (material->recorded)
        return;
    if (isnan(mix->volume_m3))
        return;
    /* Where the last tank is full too, it is the one that takes what is left of the sum. */
    double full_tank = material->sum_exact * (mix->full_m3 / mix->volume_m3);
    double last_tank = material->sum_exact * (mix->rest_m3 / mix->volume_m3);
    struct tanks tanks = mix->rest == 0
                             ? (struct tanks){(double)mix->full - 1, 1, full_tank, full_tank}
                             : (struct tanks){(double)mix->full, (double)mix->rest, full_tank, last_tank};
    material->tank_exact = tanks.full;
    material->last_exact = tanks.last;
    if (mix->full + mix->rest == 1)
        return;
    if (model->metric)
        material->tank_unit = measure_unit(
            model->arena, model, mix->full ? material->tank_exact : material->last_exact, material->volume);
    /* The fewest digits of zones and tanks with which they agree. */
    for (int zones = 0; zones <= FINEST; zones++) {
        measure_portions(material, model, 1, zones);
        for (int full = 0; full <= zones + 2; full++)
            if (last_tank_fits(material, model, &tanks, full))
                return;
    }
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
        const struct mix_part *part = &treatment->mix.items[i];
        struct heap heap = {.material = part->material, .m3 = all_m3 * part->share};
        if (part->product) /* what is fetched is loose, and settles */
            heap.m3 = layer_loose_m(part->product, heap.m3);
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
    work_spread(work, model);
    work_spray(work);
    work_heaps(work, model);
}

struct shown_rate material_rate(const struct material *material, const struct work *work)
{
    const struct machine *spreader = work_spreader(work);
    return (struct shown_rate){material->rate, material->volume, material->leeway,
                               spreader ? spreader->passes : 1};
}

static const char *rate_text(const struct material *material, double each, const struct work *work,
                             const struct model *model)
{
    struct shown_rate rate = material_rate(material, work);
    rate.rate = each;
    if (material->recorded)
        return display_product_rate(model->arena, model, each, material->volume);
    return display_whole_rate(model->arena, model, &rate, NULL);
}

const char *material_rate_text(const struct material *material, const struct work *work,
                               const struct model *model)
{
    return rate_text(material, material->rate, work, model);
}

const char *portion_rate_text(const struct material *material, const struct portion *portion,
                              const struct work *work, const struct model *model)
{
    return rate_text(material, portion->amount->rate, work, model);
}
