/* Tanks of spray, and what goes into each. */
#include "compiler/result/work.h"

#include "compiler/model/tolerance.h"

void work_mix(struct work *work)
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
