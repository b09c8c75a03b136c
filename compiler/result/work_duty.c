/* What goes on when the work itself is done. A record says that the product is down, not that it was watered
 * in or has dried: until then somebody has to know. */
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

enum { UNSTATED_DAYS = 1 }; /* for how long a duty without a time is shown after its day */

/* The last day of a time that began at any hour of `day`. */
static day_number day_of_end(day_number day, double seconds)
{
    const double one_day = 86400, most = 3650; /* days: beyond any label, and well within a day_number */
    return day + (day_number)ceil(fmin(seconds / one_day, most));
}

static void duty_add(struct work *work, const struct model *model, struct duty duty)
{
    VECTOR_PUSH(model->arena, &work->duties, duty);
}

/* ": 156 gal; 14 min with oscillating", ": 156 gal; north 14 min with oscillating, south 20 min with rotors":
 * the water for the zones that get the product, and how long a sprinkler takes whose cans were measured,
 * rounded up to a minute: by the mean of the cans and, for their driest quarter, that divided by the share of
 * the mean that it gets (California State University, Fresno, http://cwi.csufresno.edu/wateright/step_0.asp:
 * schedules go by the average rate times the uniformity). "" where no zone has one. */
static const char *watering_text(const struct model *model, const struct material *material)
{
    struct buffer text = {.arena = model->arena};
    double depth = material->product->water_in_m, area = 0;
    const struct sprinkler *only =
        material->portions.count ? material->portions.items[0].amount->zone->sprinkler : NULL;
    bool alike = only != NULL;
    for (size_t i = 0; i < material->portions.count; i++) {
        const struct zone *zone = material->portions.items[i].amount->zone;
        area += zone->area_m2;
        alike = alike && zone->sprinkler == only;
    }
    for (size_t i = 0; i < (alike ? 1 : material->portions.count); i++) {
        const struct zone *zone = material->portions.items[i].amount->zone;
        const double minute = 60, most = 1e6; /* minutes; keeps the conversion defined */
        if (!zone->sprinkler)
            continue;
        buffer_separate(&text, ", ");
        if (!alike)
            buffer_format(&text, "%s ", name_string(zone->symbol.name));
        double minutes = fmin(depth / zone->sprinkler->m_per_s / minute, most);
        const double slack = 1 - COMPARE_TOLERANCE;
        double longer = fmin(minutes / zone->sprinkler->driest, most); /* NAN without four cans */
        buffer_format(&text, "%.0f min with %s", ceil(minutes * slack),
                      name_string(zone->sprinkler->symbol.name));
        if (zone->sprinkler->driest > 0 && ceil(longer * slack) > ceil(minutes * slack))
            buffer_format(&text, ", %.0f for its driest quarter", ceil(longer * slack));
        else if (zone->sprinkler->driest <= 0)
            buffer_add_string(&text, ", and its driest quarter gets none");
    }
    if (!text.length)
        return "";
    return text_format(model->arena, ": %s; %s",
                       display_of(model->arena, model, QUANTITY_VOLUME, depth * area, NULL), text.string);
}

const char *sprinkler_text(struct arena *arena, const struct model *model, const struct sprinkler *sprinkler)
{
    const double hour = 3600;
    double depth = display_parts(model, QUANTITY_DEPTH, sprinkler->m_per_s * hour).value;
    const char *rate = text_format(arena, "%s %s per hour", figure_number(arena, depth),
                                   display_parts(model, QUANTITY_DEPTH, 0).unit);
    rate = text_format(arena, "%s by %zu %s", rate, sprinkler->cans, sprinkler->cans == 1 ? "can" : "cans");
    return isnan(sprinkler->driest)
               ? rate
               : text_format(arena, "%s, of which the driest quarter got %s of the mean", rate,
                             display_share(arena, number_nearest(sprinkler->driest, 2)));
}

/* Watering in and dry hours, as the product's label states them. */
static void product_duties(struct work *work, const struct model *model, const struct material *material)
{
    const struct product *product = material->product;
    struct arena *arena = model->arena;
    const char *name = name_string(product->symbol.name);
    day_number day = work->occurrence->day;
    if (!isnan(product->water_in_m)) {
        bool timed = !isnan(product->water_in_s);
        struct duty duty = {.last = timed ? day_of_end(day, product->water_in_s) : day + UNSTATED_DAYS};
        duty.text =
            text_format(arena, "Water %s in with %s", name, display_depth(arena, model, product->water_in_m));
        if (timed)
            duty.text =
                text_format(arena, "%s within %s", duty.text, display_hours(arena, product->water_in_s));
        duty.text = text_format(arena, "%s%s.", duty.text, watering_text(model, material));
        duty_add(work, model, duty);
    }
    if (!isnan(product->dry_s)) {
        struct duty duty = {.last = day_of_end(day, product->dry_s)};
        duty.text = text_format(arena, "Keep the lawn dry for %s after %s.",
                                display_hours(arena, product->dry_s), name);
        duty_add(work, model, duty);
    }
}

/* Cautions give no time: they are shown as long as a product must be watered in or dry, at least a day. */
void work_duties(struct work *work, const struct model *model)
{
    for (size_t i = 0; i < work->materials.count; i++)
        product_duties(work, model, &work->materials.items[i]);
    day_number last = work->occurrence->day + UNSTATED_DAYS;
    for (size_t i = 0; i < work->duties.count; i++)
        if (work->duties.items[i].last > last)
            last = work->duties.items[i].last;
    for (size_t i = 0; i < work->cautions.count; i++) {
        const struct caution *caution = work->cautions.items[i];
        if (caution->text && (caution->stages & 1U << STAGE_AFTERWARDS)) /* one for everything is no duty */
            duty_add(work, model, (struct duty){caution->text, last, caution});
    }
}

/* The day looked from is the one that was named; without one, the last that the plan speaks of as past. */
bool duty_in_force(const struct duty *duty, const struct work *work, const struct season *season)
{
    const struct model *model = season->model;
    day_number day = model->edition > 0 ? model->edition_day : DAY_NONE;
    if (!work->occurrence->done)
        return false;
    for (size_t i = 0; i < model->records.count && season->as_of == DAY_NEVER; i++)
        if (!model->records.items[i]->skipped && model->records.items[i]->day > day)
            day = model->records.items[i]->day;
    if (season->as_of != DAY_NEVER)
        day = season->as_of;
    return work->occurrence->day <= day && day <= duty->last;
}

const char *duty_sentence(struct arena *arena, const struct duty *duty)
{
    if (duty->caution) /* says itself how long */
        return text_format(arena, "Still in force: %s", duty->text);
    return text_format(arena, "Still in force until %s: %s", display_date(arena, duty->last), duty->text);
}
