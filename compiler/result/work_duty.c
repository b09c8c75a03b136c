/* What goes on when the work itself is done. A record says that the product is down, not that it was watered
 * in or has dried: until then somebody has to know. */
#include "compiler/result/work.h"

enum { UNSTATED_DAYS = 1 }; /* for how long a duty without a time is shown after its day */

/* The last day of a time that began at any hour of `day`. */
static day_number day_of_end(day_number day, double seconds)
{
    const double one_day = 86400, most = 3650; /* days: beyond any label, and well within a day_number */
    return day + (day_number)ceil(fmin(seconds / one_day, most));
}

static void duty_add(struct work *work, const struct model *model, day_number last, const char *text,
                     const struct caution *caution)
{
    struct duty duty = {text, last, caution};
    VECTOR_PUSH(model->arena, &work->duties, duty);
}

static void product_duties(struct work *work, const struct model *model, const struct product *product)
{
    const char *name = name_string(product->symbol.name);
    day_number day = work->occurrence->day;
    if (!isnan(product->water_in_m)) {
        const char *within =
            isnan(product->water_in_s)
                ? ""
                : text_format(model->arena, " within %s", display_hours(model->arena, product->water_in_s));
        duty_add(work, model,
                 isnan(product->water_in_s) ? day + UNSTATED_DAYS : day_of_end(day, product->water_in_s),
                 text_format(model->arena, "Water %s in with %s%s.", name,
                             display_depth(model->arena, model, product->water_in_m), within),
                 NULL);
    }
    if (!isnan(product->dry_s))
        duty_add(work, model, day_of_end(day, product->dry_s),
                 text_format(model->arena, "Keep the lawn dry for %s after %s.",
                             display_hours(model->arena, product->dry_s), name),
                 NULL);
}

void work_duties(struct work *work, const struct model *model)
{
    for (size_t i = 0; i < work->materials.count; i++)
        product_duties(work, model, work->materials.items[i].product);
    /* Cautions give no time: they are shown as long as a product must be watered in or dry, at least a day.
     */
    day_number last = work->occurrence->day + UNSTATED_DAYS;
    for (size_t i = 0; i < work->duties.count; i++)
        if (work->duties.items[i].last > last)
            last = work->duties.items[i].last;
    for (size_t i = 0; i < work->cautions.count; i++) {
        const struct caution *caution = work->cautions.items[i];
        if (caution->text && (caution->stages & 1U << STAGE_AFTERWARDS)) /* one for everything is no duty */
            duty_add(work, model, last, caution->text, caution);
    }
}

static day_number day_known(const struct season *season)
{
    const struct model *model = season->model;
    day_number last = model->edition > 0 ? model->edition_day : DAY_NONE;
    if (season->as_of != DAY_NEVER)
        return season->as_of;
    for (size_t i = 0; i < model->records.count; i++)
        if (!model->records.items[i]->skipped && model->records.items[i]->day > last)
            last = model->records.items[i]->day;
    return last;
}

bool duty_in_force(const struct duty *duty, const struct work *work, const struct season *season)
{
    day_number day = day_known(season);
    return work->occurrence->done && work->occurrence->day <= day && day <= duty->last;
}

const char *duty_sentence(struct arena *arena, const struct duty *duty)
{
    if (duty->caution) /* says itself how long */
        return text_format(arena, "Still in force: %s", duty->text);
    return text_format(arena, "Still in force until %s: %s", display_date(arena, duty->last), duty->text);
}
