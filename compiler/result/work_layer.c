/* A layer of material to lay over the zones, and how much of it to fetch. */
#include "compiler/result/work.h"

/* One unit for all materials of a layer: heaps are bought in these (common practice, no source). */
static const struct unit *heap_unit(const struct model *model, double all_m3)
{
    const struct unit *large = unit_named(model->metric ? "cu m" : "cu yd");
    const double least_of_large = 0.5;
    if (unit_from_si(large, all_m3) >= least_of_large)
        return large;
    return unit_named(model->metric ? "L" : "cu ft");
}

/* Material to fetch has to be enough. */
static struct heap heap_of(const struct model *model, const struct unit *unit, const struct name *material,
                           double m3)
{
    int decimals;
    double value = measure_up(unit, m3, &decimals);
    const char *text =
        text_format(model->arena, "%s %s", number_text(model->arena, value, decimals), unit->name);
    return (struct heap){material, m3, text};
}

void work_heaps(struct work *work, const struct model *model)
{
    const struct treatment *treatment = work->occurrence->treatment;
    double all_m3 = treatment->lay_m * work->area_m2;
    if (!(all_m3 > 0))
        return;
    const struct unit *unit = heap_unit(model, all_m3);
    for (size_t i = 0; i < treatment->mix.count; i++) {
        const struct mix_part *part = &treatment->mix.items[i];
        struct heap heap = heap_of(model, unit, part->material, all_m3 * part->share);
        VECTOR_PUSH(model->arena, &work->heaps, heap);
    }
}

const char *layer_text(const struct model *model, const struct treatment *treatment)
{
    struct buffer text = {.arena = model->arena};
    buffer_add_string(&text, display_depth(model->arena, model, treatment->lay_m));
    for (size_t i = 0; i < treatment->mix.count; i++) {
        const struct mix_part *part = &treatment->mix.items[i];
        buffer_add_string(&text, i == 0 ? " of " : i + 1 < treatment->mix.count ? ", " : " and ");
        if (treatment->mix.count > 1)
            buffer_format(&text, "%s ", display_share(model->arena, part->share));
        buffer_add(&text, part->material->text);
    }
    return text.string;
}

void work_layer(struct work *work, const struct model *model)
{
    const struct treatment *treatment = work->occurrence->treatment;
    if (isnan(treatment->lay_m))
        return;
    work_say(work, model->arena, "Lay %s.", layer_text(model, treatment));
    struct buffer text = {.arena = model->arena};
    for (size_t i = 0; i < work->heaps.count; i++) {
        const struct heap *heap = &work->heaps.items[i];
        const char *between = i == 0 ? "" : i + 1 < work->heaps.count ? ", " : " and ";
        buffer_format(&text, "%s%s of %s", between, heap->text, name_string(heap->material));
    }
    if (text.length)
        work_say(work, model->arena, "For %s that takes %s.",
                 display_area(model->arena, model, work->area_m2), text.string);
}
