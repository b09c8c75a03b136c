/* How a spreader is loaded, walked and checked zone by zone, and what a sprayer puts out on each. */
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"

const struct machine *work_spreader(const struct work *work)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    return machine && !machine->sprayer && !work->occurrence->done ? machine : NULL;
}

/* "about 310 ft": nobody walks to a foot. */
static const char *walk_text(const struct model *model, double m)
{
    double value = display_parts(model, QUANTITY_LENGTH, m).value, step = pow(10, floor(log10(value)) - 1);
    double shown = m * (round(value / step) * step / value);
    return text_format(model->arena, "about %s", display_length(model->arena, model, shown));
}

/* "a fill of 35 lb", "2 fills of 20.5 lb" behind what was added before. */
static void fills_add(struct buffer *text, double count, const char *amount)
{
    if (count > 0)
        buffer_format(text, "%s%s of %s", text->length ? ", then " : "",
                      count > 1 ? text_format(text->arena, "%.0f fills", count) : "a fill", amount);
}

/* "a fill of 35 lb, then 2 fills of 20.5 lb": the fills of one pass, which takes `value`. A full hopper is a
 * step of the scale, the last fills take what is left: with finer steps where many roundings would make these
 * too large. Of two whose last digits cannot be equal the second takes that digit. */
static const char *fills_text(const struct model *model, const struct loads *fills, const struct unit *unit,
                              double value, int decimals)
{
    struct arena *arena = model->arena;
    struct buffer text = {.arena = arena};
    const double slack = 1 + COMPARE_TOLERANCE, most_over = 1.02; /* a hopper holds a little more */
    double before =
        (double)(fills->rest ? fills->full : fills->full - 1); /* else the last full one is the last */
    double last_exact = unit_from_si(unit, fills->rest ? fills->rest_each : fills->full_each), left;
    size_t rest = fills->rest ? fills->rest : 1;
    int places;
    double full = measure_portion(model, unit, fills->full_each, LEEWAY_DOWN, &places);
    places = places > decimals ? places : decimals;
    for (int most = places + 3;; places++) {
        left = number_nearest(value - before * full, places);
        if (places >= most || left <= (double)rest * last_exact * most_over)
            break;
        full = number_floor(unit_from_si(unit, fills->full_each) * slack, places + 1);
    }
    double each = rest == 2 ? number_floor(left / 2 * slack, places) : left;
    double last = number_nearest(left - each, places);
    const char *full_text = number_in(arena, full, places, unit->name);
    const char *each_text = number_in(arena, each, places, unit->name);
    if (!fills->rest && !differs(each, full)) {
        fills_add(&text, (double)fills->full, full_text);
        return text.string;
    }
    fills_add(&text, before, full_text);
    if (rest == 2 && differs(each, last))
        buffer_format(&text, "%sfills of %s and %s %s", text.length ? ", then " : "",
                      number_text(arena, each, places), number_text(arena, last, places), unit->name);
    else
        fills_add(&text, (double)rest, each_text);
    return text.string;
}

/* What goes into the hopper for a zone, how far that is walked, and how the dial is set. */
static struct spreading *spreading_of(const struct portion *portion, const struct material *material,
                                      const struct machine *spreader, const struct model *model)
{
    struct arena *arena = model->arena;
    const struct amount *amount = portion->amount;
    struct spreading *spreading = ARENA_NEW(arena, struct spreading);
    int passes = spreader->passes;
    struct shown_rate rate = {amount->rate, amount->volume, amount->leeway, passes};
    spreading->pass_kg = amount->total / passes;
    spreading->pass_rate = amount->rate / passes;
    spreading->rate = display_passes(arena, model, &rate, 1, NULL);
    spreading->once = !exceeds(amount->total, isnan(spreader->hopper_kg) ? INFINITY : spreader->hopper_kg);
    spreading->fills = loads_of(spreading->pass_kg, spreader->hopper_kg);
    spreading->load = spreading->once ? portion->text
                                      : fills_text(model, &spreading->fills, material->unit,
                                                   portion->value / passes, portion->decimals);
    spreading->distance_m = amount->zone->area_m2 / spreader->width_m;
    spreading->walk = isnan(spreading->distance_m) ? NULL : walk_text(model, spreading->distance_m);
    spreading->dial = dial_for(arena, spreader, amount->product, spreading->pass_rate);
    /* What must be left when the setting is right: of all passes after the first of them, or of the first
     * fill when half its way is walked. The band is that of what has been spread by then, rounded towards its
     * middle. */
    const struct unit *unit = material->unit;
    int decimals = portion->decimals;
    double load = spreading->fills.full ? spreading->fills.full_each : spreading->fills.rest_each, spread;
    if (spreading->once && passes > 1) {
        spreading->check = CHECK_AFTER_FIRST_PASS;
        spreading->left_kg = (passes - 1) * spreading->pass_kg;
        spreading->check_m = spreading->distance_m;
        spread = spreading->pass_kg;
    } else {
        spreading->check = CHECK_HALF_WAY;
        spreading->left_kg = spread = load / 2;
        spreading->check_m = spreading->distance_m * (load / spreading->pass_kg) / 2;
    }
    spreading->least_kg = spreading->left_kg - ACCEPT_BAND * spread;
    spreading->most_kg = spreading->left_kg + ACCEPT_BAND * spread;
    double least = number_ceiling(unit_from_si(unit, spreading->least_kg), decimals);
    double most = number_floor(unit_from_si(unit, spreading->most_kg), decimals);
    double left = spreading->check == CHECK_AFTER_FIRST_PASS
                      ? portion->value / passes * (passes - 1)
                      : number_nearest(unit_from_si(unit, spreading->left_kg), decimals);
    spreading->left = measure_text(arena, unit, left, decimals);
    double left_kg = unit_to_si(unit, left);
    spreading->shows = !exceeds(left_kg, spreading->most_kg) && !exceeds(spreading->least_kg, left_kg);
    /* Where the plan's own scale has steps as wide as the band, it does not show it. */
    spreading->band = least < most && least <= left && left <= most
                          ? text_format(arena, "%s to %s", number_fixed(arena, least, decimals),
                                        measure_text(arena, unit, most, decimals))
                          : NULL;
    spreading->check_walk = isnan(spreading->check_m) ? NULL
                            : spreading->check_m == spreading->distance_m
                                ? spreading->walk
                                : walk_text(model, spreading->check_m);
    return spreading;
}

/* Rates are rounded as far as every limit and label leaves room for; what was recorded is not. */
void work_spread(struct work *work, const struct model *model)
{
    const struct machine *spreader = work_spreader(work);
    for (size_t i = 0; i < work->materials.count; i++) {
        struct material *material = &work->materials.items[i];
        for (size_t j = 0; j < material->portions.count; j++) {
            struct portion *portion = &material->portions.items[j];
            const struct amount *amount = portion->amount;
            if (amount->recorded) {
                portion->rate = display_product_rate(model->arena, model, amount->rate, amount->volume);
                continue;
            }
            struct shown_rate rate = {amount->rate, amount->volume, amount->leeway,
                                      spreader ? spreader->passes : 1};
            portion->rate = display_passes(model->arena, model, &rate, rate.passes, NULL);
            if (isnan(material->rate)) { /* no line above says it of all zones */
                const char *each = spreader && spreader->passes == 2 ? "each way" : "each pass";
                portion->row = text_format(model->arena, "%s at %s", portion->text, portion->rate);
                if (portion->each)
                    portion->row = text_format(model->arena, "%s, %s %s", portion->row, portion->each, each);
            }
            if (spreader && !amount->volume && amount->total > 0)
                portion->spreading = spreading_of(portion, material, spreader, model);
        }
    }
}

/* In one tank: its volume without the products', as far as their volumes are known. */
static double water_of(const struct work *work, double tank_m3)
{
    double water = tank_m3;
    for (size_t i = 0; i < work->materials.count; i++) {
        const struct material *material = &work->materials.items[i];
        double amount = material->sum_exact * (tank_m3 / work->mix.volume_m3);
        water -= material->volume ? amount : amount / material->product->density;
    }
    return water;
}

/* Water fills up what the products leave of each tank; walks and times go by the sprayer's measured
 * output. */
void work_spray(struct work *work)
{
    const struct machine *machine = work->occurrence->treatment->machine;
    struct mix *mix = &work->mix;
    if (isnan(mix->volume_m3))
        return;
    mix->full_water_m3 = mix->full ? water_of(work, mix->full_m3) : 0;
    mix->rest_water_m3 = mix->rest ? water_of(work, mix->rest_m3) : 0;
    for (size_t i = 0; i < work->zones.count; i++) {
        struct work_zone *zone = &work->zones.items[i];
        zone->spray_m3 = machine->output * zone->zone->area_m2;
        zone->spray_m = zone->zone->area_m2 / machine->width_m;
        zone->spray_s = zone->spray_m / machine->speed;
    }
}
