/* A piece of work in a line: what, which time, where, and the products with their sums. */
#include "compiler/result/work.h"

static void zones_add(struct buffer *text, const struct work *work)
{
    for (size_t i = 0; i < work->zones.count; i++) {
        buffer_add_string(text, i == 0 ? ": " : ", ");
        buffer_add(text, work->zones.items[i].zone->symbol.name->text);
    }
}

static void materials_add(struct buffer *text, const struct work *work)
{
    for (size_t i = 0; i < work->materials.count; i++) {
        const struct material *material = &work->materials.items[i];
        buffer_format(text, "%s%s %s", i == 0 ? ": " : ", ", name_string(material->product->symbol.name),
                      material->sum_text);
    }
}

const char *work_headline(const struct work *work, const struct season *season)
{
    const struct occurrence *occurrence = work->occurrence;
    struct buffer text = {.arena = season->arena};
    buffer_add_string(&text, occurrence_title(season->arena, occurrence));
    if (work->lawn)
        buffer_format(&text, " on %s", name_string(work->lawn->symbol.name));
    if (work->materials.count && !occurrence->skipped)
        materials_add(&text, work);
    else
        zones_add(&text, work);
    if (occurrence->done)
        buffer_add_string(&text, ", done");
    if (occurrence->skipped)
        buffer_add_string(&text, ", skipped");
    return text.string;
}
