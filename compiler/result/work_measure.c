/* What to weigh or measure out: of each zone, each pass and each tank, so that the parts printed add up to
 * the sums printed. */
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

enum { FINEST = 9 }; /* digits beyond the usual ones that are tried */

static const struct machine *spreader_of(const struct work *work)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    return machine && !machine->sprayer && !work->occurrence->done ? machine : NULL;
}

static int hopper_fills(const struct machine *spreader, const struct portion *portion)
{
    double fills = amount_loads(portion->amount, spreader) / spreader->passes;
    if (!isfinite(fills))
        return 0;
    const double most = 1e6; /* far beyond what anyone walks; keeps the conversion defined */
    return exceeds(fills, 1) ? (int)ceil(fmin(fills, most) * (1 - COMPARE_TOLERANCE)) : 1;
}

/* One unit for all portions and their sum: a column of gallons and fluid ounces misleads. The sum's, where a
 * jug shows both of a system's units at once, as of litres and millilitres; otherwise the largest portion's.
 */
static const struct unit *portions_unit(struct arena *arena, const struct model *model,
                                        const struct material *material)
{
    double largest = 0;
    for (size_t i = 0; i < material->portions.count; i++)
        largest = fmax(largest, material->portions.items[i].amount->total);
    return measure_unit(arena, model, model->metric ? material->sum_exact : largest, material->volume);
}

/* As it was written, to four digits. */
static void measure_recorded(struct material *material, struct arena *arena)
{
    int decimals = 0;
    for (size_t i = 0; i < material->portions.count; i++) {
        struct portion *portion = &material->portions.items[i];
        double used = unit_from_si(material->unit, portion->amount->total);
        int places = number_short_decimals(used);
        portion->text = text_format(arena, "%s %s", number_short(arena, used), material->unit->name);
        portion->value = number_nearest(used, places);
        decimals = places > decimals ? places : decimals;
        material->sum += portion->value;
    }
    material->sum_text =
        text_format(arena, "%s %s", number_text(arena, material->sum, decimals), material->unit->name);
}

static void measure_portions(struct material *material, struct arena *arena, int passes, int finer)
{
    int decimals = 0;
    material->sum = 0;
    for (size_t i = 0; i < material->portions.count; i++) {
        struct portion *portion = &material->portions.items[i];
        const struct amount *amount = portion->amount;
        int places;
        double each = measure_part(material->unit, amount->total / passes, amount->leeway, finer, &places);
        portion->value = each * passes;
        portion->text = measure_text(arena, material->unit, portion->value, places);
        portion->each = passes > 1 ? measure_text(arena, material->unit, each, places) : NULL;
        decimals = places > decimals ? places : decimals;
        material->sum += portion->value;
    }
    material->sum_text =
        text_format(arena, "%s %s", number_text(arena, material->sum, decimals), material->unit->name);
}

/* ---- tanks ---- */

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

/* A tank takes a small part of a sum in litres, which a jug in millilitres shows. */
static const struct unit *tank_unit(const struct material *material, const struct mix *mix,
                                    const struct model *model)
{
    if (!model->metric)
        return material->unit;
    return measure_unit(model->arena, model, material->sum_exact * (mix->full_m3 / mix->volume_m3),
                        material->volume);
}

void material_measure(struct material *material, const struct work *work, const struct model *model)
{
    const struct machine *spreader = spreader_of(work);
    const struct mix *mix = &work->mix;
    material->unit = material->tank_unit = portions_unit(model->arena, model, material);
    if (material->recorded) {
        measure_recorded(material, model->arena);
        return;
    }
    measure_portions(material, model->arena, spreader ? spreader->passes : 1, 0);
    for (size_t i = 0; i < material->portions.count && spreader; i++)
        material->portions.items[i].fills = hopper_fills(spreader, &material->portions.items[i]);
    if (isnan(mix->volume_m3) || !exceeds(mix->volume_m3, mix->full_m3) || mix->full == 0)
        return;
    material->tank_unit = tank_unit(material, mix, model);
    measure_tanks(material, model->arena, mix);
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
