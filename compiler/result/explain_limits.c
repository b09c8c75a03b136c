/* The limits on one time a treatment occurs, and what each of them leaves. */
#include "compiler/result/explanation.h"
#include "compiler/season/weather_text.h"

#include "compiler/model/tolerance.h"

#include <string.h>

static double supplied_between(const struct ledger *ledger, const struct nutrient_form *form,
                               day_number first, day_number last)
{
    double sum = 0;
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        if (application->day >= first && application->day <= last)
            sum += supplied_as(application->supplied, form);
    }
    return sum;
}

/* The most in any run of days so long that holds `day`: one that begins with an application is never less. */
static double most_in_period(const struct ledger *ledger, const struct limit *limit, day_number day)
{
    double most = 0;
    for (size_t i = 0; i < ledger->applications.count; i++) {
        day_number first = ledger->applications.items[i].day;
        day_number end = day_after(first, limit->time);
        if (first <= day && day < end)
            most = fmax(most, supplied_between(ledger, limit->nutrient, first, end - 1));
    }
    return most;
}

/* NAN where the application brings no N, or no more than the limit begins at. */
static double slow_share(const struct limit *limit, const struct application *application)
{
    if (!application || !exceeds(application->supplied[NUTRIENT_N], limit->free_n))
        return NAN;
    double share = application->supplied[NUTRIENT_SLOW_N] / application->supplied[NUTRIENT_N];
    for (size_t i = 0; i < application->amounts.count && limit->each; i++) {
        const double *supplied = application->amounts.items[i]->supplied;
        if (supplied[NUTRIENT_N] > 0)
            share = fmin(share, supplied[NUTRIENT_SLOW_N] / supplied[NUTRIENT_N]);
    }
    return share;
}

/* NAN where the limit has nothing to say of what the zone receives. */
static double limit_value(const struct season *season, const struct ledger *ledger, const struct limit *limit,
                          day_number day)
{
    const struct application *application = NULL; /* of this day */
    for (size_t i = 0; i < ledger->applications.count && !application; i++)
        if (ledger->applications.items[i].day == day)
            application = &ledger->applications.items[i];
    int year = date_of_day(day).year;
    struct day_span days = limit->kind == LIMIT_PER_WINDOW
                               ? limit_window_on(limit, day)
                               : (struct day_span){day_of_date((struct civil_date){year, 1, 1}),
                                                   day_of_date((struct civil_date){year, 12, 31})};
    double content = NAN;
    switch (limit->kind) {
    case LIMIT_PER_APPLICATION:
        return application && limit_in_force(season, limit, day) ? limit_dose(limit, application) : NAN;
    case LIMIT_PER_YEAR:
        return supplied_between(ledger, limit->nutrient, days.first, days.last);
    case LIMIT_PER_WINDOW:
        return limit_window_holds(limit, day)
                   ? supplied_between(ledger, limit->nutrient, days.first, days.last)
                   : NAN;
    case LIMIT_PER_PERIOD:
        return most_in_period(ledger, limit, day);
    case LIMIT_SLOW_SHARE:
        return slow_share(limit, application);
    case LIMIT_CONTENT: /* the most that a product has which the limit binds */
        for (size_t i = 0; application && i < application->amounts.count; i++) {
            const struct product *product = application->amounts.items[i]->product;
            if (limit_binds_product(limit, product))
                content = fmax(content, product_share(product, limit->nutrient));
        }
        return content;
    case LIMIT_WATER:
        return application && limit_concerns(limit, application->supplied) && isfinite(ledger->zone->water_m)
                   ? ledger->zone->water_m
                   : NAN;
    case LIMIT_WAIT:
    case LIMIT_WAIT_BETWEEN:
    case LIMIT_FOLLOW:
    case LIMIT_ORDER:
    case LIMIT_CLOSED:
    case LIMIT_CLOSED_DAYS:
    case LIMIT_WEEKDAYS: /* told with the day */
    case LIMIT_NEED:
    case LIMIT_HEAT: /* told below */
    case LIMIT_WEATHER:
    case LIMIT_DORMANT:
        return NAN;
    }
    return NAN;
}

/* A slow share and a distance are to be at least the limit's figure. */
static bool limit_is_least(const struct limit *limit)
{
    return limit->kind == LIMIT_SLOW_SHARE || limit->kind == LIMIT_WATER;
}

/* ---- in words ---- */

static const char *limit_text(struct explanation *explanation, const struct limit *limit)
{
    const char *mark = limit->set->source ? footnote_mark(&explanation->notes, limit->set->source) : "";
    return text_format(explanation->arena, "%s%s", explain_statement(explanation, limit->place), mark);
}

/* "0.25 lb N per 1000 sqft, 0.65 lb per 1000 sqft left", each in the limit's own kind of figure. */
static const char *figure_text(struct explanation *explanation, const struct limit *limit,
                               const struct zone *zone, double value)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    bool least = limit_is_least(limit), share = limit->kind == LIMIT_SLOW_SHARE,
         content = limit->kind == LIMIT_CONTENT, water = limit->kind == LIMIT_WATER;
    double bound = content ? limit->content : limit->most;
    double left = fmax(least ? value - bound : bound - value, 0);
    const char *shown = share || content
                            ? display_share_pair(arena, value, bound).value
                            : display_pair(arena, model, water ? QUANTITY_LENGTH : QUANTITY_MASS_RATE, value,
                                           bound, water ? NULL : limit->nutrient->name)
                                  .value;
    struct buffer text = {.arena = arena};
    buffer_format(&text, "%s on %s, ", shown, name_string(zone->symbol.name));
    if (least ? exceeds(bound, value) : exceeds(value, bound))
        buffer_add_string(&text, "over the limit");
    else if (content)
        buffer_format(&text, "%s left", display_share(arena, left));
    else if (share)
        buffer_format(&text, "%s above the minimum", display_share(arena, left));
    else if (water)
        buffer_format(&text, "%s beyond the strip", display_length(arena, model, left));
    else
        buffer_format(&text, "%s left", display_rate(arena, model, left));
    return text.string;
}

/* The limit's figure on the zone where it comes nearest to it. Of limits that hold without being followed
 * only those that are more than half used. */
static void explain_figure(struct explanation *explanation, const struct occurrence *occurrence,
                           const struct limit *limit)
{
    const struct zone *nearest = NULL;
    double figure = NAN;
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct zone *zone = occurrence->amounts.items[i].zone;
        if (!limit_binds(limit, zone))
            continue;
        double value = limit_value(explanation->season, &explanation->season->ledgers[zone->index], limit,
                                   occurrence->day);
        bool nearer = limit_is_least(limit) ? value < figure : value > figure;
        if (isnan(value) || (nearest && !nearer))
            continue;
        nearest = zone;
        figure = value;
    }
    if (nearest && (!limit->set->always || exceeds(figure * 2, limit->most)))
        explain_line(explanation, 3, "%s: %s", limit_text(explanation, limit),
                     figure_text(explanation, limit, nearest, figure));
}

/* What the soil test in force says of the nutrient on the zone, unless the limit excepts the zone on that
 * day. */
static const char *need_found(struct explanation *explanation, const struct limit *limit,
                              const struct zone *zone, enum nutrient nutrient, day_number day)
{
    struct soil_reading reading;
    if (limit_spares_new(explanation->season, limit, zone, day))
        return "exempt as new turf";
    if (!soil_reading_on(explanation->season, zone, nutrient, day, &reading))
        return "no soil test by then";
    const char *level = reading.level ? explain_statement(explanation, reading.level->place) : NULL;
    const char *need = reading.shown == NEED_LOW       ? "a need shown"
                       : reading.shown == NEED_UNKNOWN ? "a soil test without a scale"
                                                       : "no need shown";
    if (!reading.recommended && (reading.by_rating || reading.shown != reading.need))
        return text_format(explanation->arena, "%s, as the laboratory rates it %s", need, reading.rated_text);
    if (reading.recommended && (reading.laboratory || reading.shown != reading.need))
        return text_format(explanation->arena, "%s, as the laboratory recommends (%s)", need,
                           explain_place(explanation, reading.recommended->place));
    return level ? text_format(explanation->arena, "%s by %s", need, level) : need;
}

/* A line for each run of zones of which the same is found. */
static void explain_need(struct explanation *explanation, const struct occurrence *occurrence,
                         const struct limit *limit, enum nutrient nutrient)
{
    struct buffer zones = {.arena = explanation->arena};
    const char *found = NULL;
    for (size_t i = 0; i <= occurrence->amounts.count; i++) {
        const struct amount *amount = i < occurrence->amounts.count ? &occurrence->amounts.items[i] : NULL;
        if (amount && (!limit_binds(limit, amount->zone) || !(amount->supplied[nutrient] > 0)))
            continue;
        const char *next =
            amount ? need_found(explanation, limit, amount->zone, nutrient, occurrence->day) : NULL;
        if (found && (!next || strcmp(found, next) != 0)) {
            explain_line(explanation, 3, "%s: on %s, %s", limit_text(explanation, limit), zones.string,
                         found);
            zones = (struct buffer){.arena = explanation->arena};
        }
        if (amount) {
            buffer_separate(&zones, ", ");
            buffer_add_string(&zones, name_string(amount->zone->symbol.name));
        }
        found = next;
    }
}

/* Those of practice and law that bind. What is only advised, and what closes days, is said elsewhere. */
void explain_limits(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct model *model = explanation->model;
    explain_line(explanation, 2, "Limits and label, on the zone that comes closest to each:");
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (!limit->set->bound || limit->set->basis == BASIS_ADVICE)
            continue;
        if (limit->kind == LIMIT_HEAT) {
            /* The day's high, where some amount is one that the limit concerns. */
            struct reading high = season_reading(explanation->season, WEATHER_HIGH, occurrence->day);
            struct weather_condition condition = {.quantity = WEATHER_HIGH};
            struct weather_look look = {
                .value = high.value, .origin = high.origin, .estimated = high.estimated};
            const char *text = high.origin == READING_NONE
                                   ? "no weather data for this day"
                                   : weather_text(explanation->arena, explanation->model, &condition, &look);
            bool concerned = false;
            for (size_t j = 0; j < occurrence->amounts.count; j++) {
                const struct amount *amount = &occurrence->amounts.items[j];
                concerned = concerned ||
                            (limit_binds(limit, amount->zone) && limit_concerns(limit, amount->supplied) &&
                             limit_concerns_product(limit, amount->product));
            }
            if (concerned)
                explain_line(explanation, 3, "%s: %s", limit_text(explanation, limit), text);
        } else
            explain_figure(explanation, occurrence, limit);
        for (size_t j = 0; limit->kind == LIMIT_NEED && j < limit->nutrients.count; j++)
            explain_need(explanation, occurrence, limit, limit->nutrients.items[j]->nutrient);
    }
    /* A line for each product and rate: zones beside each other mostly have one. */
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        const struct product_label *label = &amount->product->label;
        double rate = label->volume ? amount->rate : amount->mass_rate;
        bool same = i > 0 && amount[-1].product == amount->product && !differs(amount->rate, amount[-1].rate);
        if (same || isnan(label->high) || (label->volume && !amount->volume) || isnan(rate))
            continue;
        explain_line(explanation, 3, "label %s: %s of %s on %s",
                     explain_statement(explanation, label->rate_place),
                     display_product_rate(explanation->arena, explanation->model, rate, label->volume),
                     name_string(amount->product->symbol.name), name_string(amount->zone->symbol.name));
    }
}
