/* The nutrients that a piece of work brings, in a sentence. */
#include "compiler/result/nutrient_text.h"
#include "compiler/result/work.h"

static void supply_bounds(const struct work *work, double least[NUTRIENT_COUNT], double most[NUTRIENT_COUNT])
{
    for (size_t n = 0; n < NUTRIENT_COUNT; n++) {
        least[n] = work->zones.count ? INFINITY : 0;
        most[n] = 0;
    }
    for (size_t i = 0; i < work->zones.count; i++)
        for (size_t n = 0; n < NUTRIENT_COUNT; n++) {
            least[n] = fmin(least[n], work->zones.items[i].supplied[n]);
            most[n] = fmax(most[n], work->zones.items[i].supplied[n]);
        }
}

void work_supply(struct work *work, const struct model *model)
{
    double least[NUTRIENT_COUNT], most[NUTRIENT_COUNT];
    supply_bounds(work, least, most);
    struct leeway leeway = {1, INFINITY};
    for (size_t i = 0; i < work->materials.count; i++)
        leeway = leeway_both(leeway, work->materials.items[i].leeway);
    leeway.rise = fmax(leeway.rise, 0); /* of several products one may be a little less, and another more */
    const char *text =
        nutrients_text(model->arena, model, least, most, work->occurrence->done ? NULL : &leeway);
    if (text)
        work_say(work, model->arena, "%s %s.", work->occurrence->done ? "Brought" : "Brings", text);
}
