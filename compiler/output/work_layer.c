/* A layer of material to lay over the zones, and how much of it to fetch. */
#include "compiler/output/work.h"

/* Of material to fetch, so rounded up. Heaps are bought in these units (common practice, no source). */
static const char *heap_text(const struct model *model, double m3)
{
    const struct unit *large = unit_named(model->metric ? "cu m" : "cu yd");
    const struct unit *small = unit_named(model->metric ? "L" : "cu ft");
    const double least_of_large = 0.5;
    const struct unit *unit = unit_from_si(large, m3) < least_of_large ? small : large;
    double value = number_ceiling(unit_from_si(unit, m3), 2);
    return text_format(model->arena, "%s %s", number_text(model->arena, value, 2), unit->name);
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
    for (size_t i = 0; i < treatment->mix.count; i++) {
        const struct mix_part *part = &treatment->mix.items[i];
        buffer_format(&text, "%s%s of %s",
                      i == 0                         ? ""
                      : i + 1 < treatment->mix.count ? ", "
                                                     : " and ",
                      heap_text(model, treatment->lay_m * work->area_m2 * part->share),
                      name_string(part->material));
    }
    if (work->area_m2 > 0 && text.length)
        work_say(work, model->arena, "For %s that takes %s.",
                 display_area(model->arena, model, work->area_m2), text.string);
}
