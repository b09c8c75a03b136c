/* The nutrients that a piece of work brings, in a sentence. */
#include "compiler/output/nutrient_text.h"
#include "compiler/output/work.h"

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

static const struct product *unknown_product(const struct work *work)
{
    for (size_t i = 0; i < work->zones.count; i++)
        if (work->zones.items[i].unknown)
            return work->zones.items[i].unknown;
    return NULL;
}

void work_supply(struct work *work, const struct model *model)
{
    double least[NUTRIENT_COUNT], most[NUTRIENT_COUNT];
    supply_bounds(work, least, most);
    const char *text = nutrients_text(model->arena, model, least, most);
    const struct product *unknown = unknown_product(work);
    if (text)
        work_say(work, model->arena, "%s %s.", work->occurrence->done ? "Brought" : "Brings", text);
    if (unknown)
        work_say(work, model->arena, "What %s brings is not counted: its density is not stated.",
                 name_string(unknown->thing.name));
}
