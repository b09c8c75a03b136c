/* The nutrients that a piece of work brings, in a sentence. */
#include "compiler/output/work.h"

#include <string.h>

/* "0.75", or "0.737 to 0.759" where the zones differ. */
static const char *supply_range(const struct model *model, double least, double most)
{
    const char *low = display_number(model->arena, model, QUANTITY_MASS_RATE, least);
    const char *high = display_number(model->arena, model, QUANTITY_MASS_RATE, most);
    return text_is(text_of(low), high) ? low : text_format(model->arena, "%s to %s", low, high);
}

static void supply_bounds(const struct work *work, const struct nutrient_form *form, double *least,
                          double *most)
{
    *least = INFINITY;
    *most = 0;
    for (size_t i = 0; i < work->zones.count; i++) {
        double supplied = supplied_as(work->zones.items[i].supplied, form);
        *least = fmin(*least, supplied);
        *most = fmax(*most, supplied);
    }
}

/* "0.75 lb N (0.525 lb soluble)", after what the buffer holds already. */
static void supply_add(struct buffer *text, const struct work *work, const struct model *model,
                       const char *unit, const struct nutrient_form *form)
{
    double least, most;
    supply_bounds(work, form, &least, &most);
    if (!(most > 0))
        return;
    buffer_format(text, "%s%s %s %s", text->length ? ", " : "", supply_range(model, least, most), unit,
                  form->name);
    const struct nutrient_form *soluble = nutrient_part(form, false);
    if (!soluble)
        return;
    supply_bounds(work, soluble, &least, &most);
    buffer_format(text, " (%s %s soluble)", supply_range(model, least, most), unit);
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
    /* "lb per 1000 sqft", said once for all. */
    const char *unit = display_unit(model->arena, model, QUANTITY_MASS_RATE, 0), *per = strstr(unit, " per ");
    const char *mass = per ? text_string(model->arena, (struct text){unit, (size_t)(per - unit)}) : unit;
    struct buffer text = {.arena = model->arena};
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        supply_add(&text, work, model, mass, nutrient_trade_form(n));
    const struct product *unknown = unknown_product(work);
    if (text.length)
        work_say(work, model->arena, "%s %s%s.", work->occurrence->done ? "Brought" : "Brings", text.string,
                 per ? per : "");
    if (unknown)
        work_say(work, model->arena, "What %s brings is not counted: its density is not stated.",
                 name_string(unknown->thing.name));
}
