/* Tanks of spray, and what goes into each. */
#include "compiler/output/work.h"

#include "compiler/model/compare.h"

/* A tank takes a small part of a sum in litres, which a jug in millilitres shows. */
static void tank_units(struct work *work, const struct model *model)
{
    double part = work->mix.full_m3 / work->mix.volume_m3;
    for (size_t i = 0; i < work->materials.count && model->metric; i++) {
        struct material *material = &work->materials.items[i];
        material->tank_unit = measure_unit(model->arena, model, material->sum_exact * part, material->volume);
    }
}

void work_mix(struct work *work, const struct model *model)
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
    if (mix->full > 0)
        tank_units(work, model);
}

const char *material_in_tank(struct arena *arena, const struct work *work, const struct material *material,
                             double tank_m3)
{
    bool whole = !exceeds(work->mix.volume_m3, tank_m3);
    if (whole) /* as the zones' column adds up */
        return material->sum_text;
    return measure_down_text(arena, material->tank_unit,
                             material->sum_exact * (tank_m3 / work->mix.volume_m3));
}
