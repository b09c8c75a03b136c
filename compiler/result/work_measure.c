/* What to weigh or measure out: of each zone, each pass and each tank, so that the parts printed add up to
 * the sums printed. */
#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

/* ---- tanks ---- */

/* The zones' parts of what the tanks take: in proportion, with so many digits that they add up to it and none
 * is more than its zone may get. They are not measured, and need be no steps. False where a few digits more
 * than the sum has do not do. */
static bool portions_share(struct material *material, const struct model *model, int decimals)
{
    enum { FINER = 6 };
    static const double slack = COMPARE_TOLERANCE / 10, most_off = 0.02;
    const struct unit *unit = material->unit;
    double exact_sum = unit_from_si(unit, material->sum_exact);
    for (int places = decimals; places <= decimals + FINER; places++) {
        double step = pow(10, -places), left = material->sum;
        bool fits = true;
        for (size_t i = 0; i < material->portions.count; i++) {
            struct portion *portion = &material->portions.items[i];
            double exact = unit_from_si(unit, portion->amount->total);
            portion->value = number_floor(material->sum * (exact / exact_sum), places);
            left -= portion->value;
        }
        for (size_t i = 0; i < material->portions.count; i++) {
            struct portion *portion = &material->portions.items[i];
            const struct leeway *leeway = &portion->amount->leeway;
            double exact = unit_from_si(unit, portion->amount->total);
            double share = material->sum * (exact / exact_sum);
            double more = number_nearest(portion->value + step, places);
            if (left > step / 2 && more <= exact * (1 + leeway->rise) * (1 + slack) &&
                more <= share * (1 + most_off)) {
                portion->value = more;
                left -= step;
            }
            fits = fits && portion->value >= exact * (1 - leeway->fall) * (1 - slack) &&
                   portion->value >= share * (1 - most_off);
            portion->decimals = places;
            portion->number = number_text(model->arena, portion->value, places);
            portion->row = portion->text = text_format(model->arena, "%s %s", portion->number, unit->name);
        }
        if (fits && fabs(left) < step / 2)
            return true;
    }
    return false;
}

/* What goes into each tank, a step of the cup or scale; the sum is so many times that, and the zones share
 * it. Where it leaves them nothing to round with, the tanks take a little less. */
static void measure_tanks(struct material *material, const struct model *model, const struct mix *mix)
{
    static const double less[] = {0, 5e-4, 5e-3};
    struct arena *arena = model->arena;
    const struct unit *unit = material->tank_unit;
    const double in_unit = material->unit->factor / unit->factor;
    bool several = mix->full + mix->rest > 1;
    material->tank_exact = material->sum_exact * (mix->full_m3 / mix->volume_m3);
    material->last_exact = material->sum_exact * (mix->rest_m3 / mix->volume_m3);
    for (size_t i = 0; i < sizeof less / sizeof *less; i++) {
        struct leeway leeway = material->leeway;
        int full, last, finer = (int)lround(log10(in_unit));
        if (i > 0)
            leeway.rise = fmin(leeway.rise, -less[i]);
        if (i > 0 && -leeway.rise >= leeway.fall)
            break;
        material->tank_value = measure_portion(model, unit, material->tank_exact, leeway, &full);
        material->last_value = measure_portion(model, unit, material->last_exact, leeway, &last);
        int places = !mix->rest ? full : !mix->full ? last : full > last ? full : last;
        if (several && mix->full)
            material->tank_text = number_in(arena, material->tank_value, full, unit->name);
        if (several && mix->rest)
            material->last_text = number_in(arena, material->last_value, last, unit->name);
        material->sum =
            ((double)mix->full * material->tank_value + (double)mix->rest * material->last_value) / in_unit;
        places += finer > 0 ? finer : 0;
        material->sum = number_nearest(material->sum, places);
        material->sum_number = number_text(arena, material->sum, places);
        material->sum_text = text_format(arena, "%s %s", material->sum_number, material->unit->name);
        if (portions_share(material, model, places))
            return;
    }
}

/* One unit for all portions and their sum: a column of gallons and fluid ounces misleads. Where tanks are
 * mixed it is that of a tank, or in metric, where both are one figure with the point moved, that of the sum;
 * otherwise that of the sum, or of the largest portion. What the plan's own scale or cup shows comes first.
 */
static void material_measure(struct material *material, const struct work *work, const struct model *model)
{
    const struct machine *spreader = work_spreader(work);
    const struct mix *mix = &work->mix;
    bool mixed = !isnan(mix->volume_m3) && !material->recorded && material->sum_exact > 0;
    double largest = 0, tank = material->sum_exact * (fmax(mix->full_m3, mix->rest_m3) / mix->volume_m3);
    for (size_t i = 0; i < material->portions.count; i++)
        largest = fmax(largest, material->portions.items[i].amount->total);
    material->tank_unit = material->recorded ? measure_unit(model, largest, material->volume)
                                             : portion_unit(model, mixed ? tank : largest, material->volume);
    material->unit = model->metric && material->tank_unit->system == UNIT_METRIC
                         ? measure_unit(model, material->sum_exact, material->volume)
                         : material->tank_unit;
    if (mixed)
        measure_tanks(material, model, mix);
    else {
        /* Of what a record used, as it was written, to four digits; otherwise what a scale or cup shows of
         * each pass. */
        int passes = spreader ? spreader->passes : 1;
        struct arena *arena = model->arena;
        const struct unit *unit = material->unit;
        int decimals = 0;
        material->sum = 0;
        for (size_t j = 0; j < material->portions.count; j++) {
            struct portion *portion = &material->portions.items[j];
            const struct amount *amount = portion->amount;
            int places;
            if (material->recorded) {
                double used = unit_from_si(unit, amount->total);
                places = number_short_decimals(used);
                portion->value = number_nearest(used, places);
                portion->number = number_short(arena, used);
            } else {
                double each = measure_portion(model, unit, amount->total / passes, amount->leeway, &places);
                portion->value = each * passes;
                portion->number = number_fixed(arena, portion->value, places);
                portion->each = passes > 1 ? measure_text(arena, unit, each, places) : NULL;
                portion->row = portion->each
                                   ? text_format(arena, "%s %s, %s %s", portion->number, unit->name,
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
}

/* ---- what is laid ---- */

/* The mix first: what a tank takes decides what is measured. */
void work_measure(struct work *work, const struct model *model)
{
    /* What the sprayer puts out over all zones, and into how many tanks that goes. */
    const struct machine *machine = work->occurrence->treatment->machine;
    if (machine && machine->sprayer && machine->output > 0 && work->materials.count != 0 &&
        !work->occurrence->done) {
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
    for (size_t i = 0; i < work->materials.count; i++)
        material_measure(&work->materials.items[i], work, model);
    work_spread(work, model);
    work_spray(work);
    /* What to fetch of each material of a layer: rounded up, since it has to be enough, and in one unit for
     * all of them. Heaps are bought in these (common practice, no source). */
    const struct treatment *treatment = work->occurrence->treatment;
    double all_m3 = treatment->layer ? treatment->layer->depth_m * work->area_m2 : 0;
    if (treatment->layer && all_m3 > 0) {
        const double least_of_large = 0.5;
        const struct unit *unit = unit_named(model->metric ? "cu m" : "cu yd");
        if (unit_from_si(unit, all_m3) < least_of_large)
            unit = unit_named(model->metric ? "L" : "cu ft");
        for (size_t j = 0; j < treatment->layer->mix.count; j++) {
            const struct mix_part *part = &treatment->layer->mix.items[j];
            struct heap heap = {.material = part->material, .m3 = all_m3 * part->share};
            if (part->product) /* what is fetched is loose, and settles */
                heap.m3 = layer_loose_m(part->product, heap.m3);
            int decimals;
            double value = measure_up(unit, heap.m3, &decimals);
            heap.text = number_in(model->arena, value, decimals, unit->name);
            VECTOR_PUSH(model->arena, &work->heaps, heap);
        }
    }
}

struct shown_rate material_rate(const struct material *material, const struct work *work)
{
    const struct machine *spreader = work_spreader(work);
    return (struct shown_rate){material->rate, material->volume, material->leeway,
                               spreader ? spreader->passes : 1};
}

/* A record says what was used, and no rounding is owed to it. */
const char *material_rate_text(const struct material *material, double rate, const struct work *work,
                               const struct model *model)
{
    struct shown_rate shown = material_rate(material, work);
    shown.rate = rate;
    if (material->recorded)
        return display_product_rate(model->arena, model, rate, material->volume);
    return display_passes(model->arena, model, &shown, shown.passes, NULL);
}
