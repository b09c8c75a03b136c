/* Heat and cold of the day, as far as it is known or expected. The dates keep clear of both; what is found
 * here is what an `allow heat` let through of a limit of practice, or what the dates knew nothing of. */
#include "compiler/check/checking.h"
#include "compiler/season/weather_text.h"

#include <math.h>

/* What asks for a temperature: a product, or a limit. */
struct demand {
    double bound;    /* K */
    bool below;      /* the high is to stay below it; otherwise the low above */
    bool bound_fits; /* the bound itself is allowed */
    struct place place;
    const struct limit *limit; /* NULL of a product */
};

static struct reading reading_on(const struct checking *checking, const struct demand *demand, day_number day)
{
    return season_reading(checking->season, demand->below ? WEATHER_HIGH : WEATHER_LOW, day);
}

static bool passes(const struct demand *demand, double value)
{
    bool beyond = demand->below ? exceeds(value, demand->bound) : exceeds(demand->bound, value);
    bool within = demand->below ? exceeds(demand->bound, value) : exceeds(value, demand->bound);
    return within || (demand->bound_fits && !beyond);
}

/* "a limit allows no more than 85 F", "the label of feed requires a high below 85 F" */
static const char *demand_text(struct checking *checking, const struct demand *demand,
                               const struct amount *amount, const char *bound)
{
    if (demand->limit)
        return text_format(checking->arena, "a limit allows no more than %s", bound);
    return text_format(checking->arena, "the label of %s requires a %s %s",
                       name_string(amount->product->symbol.name), demand->below ? "high below" : "low above",
                       bound);
}

static void label_demand(struct checking *checking, struct report *report, const struct demand *demand,
                         const struct amount *amount)
{
    if (demand->limit)
        limit_label(checking, report, demand->limit);
    else
        report_label(checking->model->reports, report, demand->place, "the label of %s",
                     name_string(amount->product->symbol.name));
}

/* A few degrees: the highs of single days lie so far about their mean, and farther. Common practice, no
 * source. */
static const double NEAR_K = 3;
static const int DAYS_AROUND = 7;

/* Advice that binds every plan is spoken of only where the history can say more than that means are means. */
static void report_near(struct checking *checking, const struct demand *demand,
                        const struct occurrence *occurrence, const struct amount *amount,
                        struct reading reading)
{
    /* Of the days about this date in each year that was measured: how many there are, in how many years, and
     * how many did not pass. */
    const struct climate *climate = checking->season->climate;
    int known = 0, years = 0, beyond = 0, first, last;
    bool measured = climate && climate_years(climate, &first, &last);
    for (int year = measured ? first : 0; measured && year <= last; year++) {
        day_number there = day_add_months(occurrence->day, 12 * (year - date_of_day(occurrence->day).year));
        int before = known;
        for (int i = -DAYS_AROUND; i <= DAYS_AROUND; i++) {
            struct reading of_year = reading_on(checking, demand, there + i);
            known += of_year.origin == READING_MEASURED;
            beyond += of_year.origin == READING_MEASURED && !passes(demand, of_year.value);
        }
        years += known > before;
    }
    bool advice = demand->limit && demand->limit->set->basis == BASIS_ADVICE;
    if ((known ? !beyond : advice) ||
        !finding_once(checking, CHECK_HEAT_NEAR, occurrence->treatment->symbol.place, 0))
        return;
    struct display_pair pair = display_pair(checking->arena, checking->model, QUANTITY_TEMPERATURE,
                                            reading.value, demand->bound, NULL);
    const char *when = text_format(checking->arena, "%s falls on %s, when the mean high is %s",
                                   name_string(occurrence->treatment->symbol.name),
                                   display_date(checking->arena, occurrence->day), pair.value);
    const char *hotter = "single days are hotter than their mean";
    if (known)
        hotter = text_format(checking->arena, "%d of the %d days around this date %s hotter in %s of weather",
                             beyond, known, beyond == 1 ? "was" : "were",
                             text_format(checking->arena, "%d %s", years, years == 1 ? "year" : "years"));
    struct report *report = limit_finding(
        checking, demand->limit, CHECK_HEAT_NEAR,
        ABOUT(&occurrence->treatment->symbol, &amount->product->symbol, &amount->zone->symbol), amount->place,
        "%s; %s; %s", when, demand_text(checking, demand, amount, pair.bound), hotter);
    label_demand(checking, report, demand, amount);
    report_help(checking->model->reports, report,
                "check the forecast before you go out, and wait for a cooler day");
}

/* A reading that is only expected and comes near the bound is worth a note of its own. */
static void check_demand(struct checking *checking, const struct demand *demand,
                         const struct occurrence *occurrence, const struct amount *amount)
{
    struct reading reading = reading_on(checking, demand, occurrence->day);
    /* What practice asks may be allowed; a product's own bound is its label's. */
    enum check_id id = !demand->below                                    ? CHECK_COLD
                       : demand->limit && !limit_is_fixed(demand->limit) ? CHECK_HEAT
                                                                         : CHECK_TOO_HOT;
    uint64_t key = (uint64_t)demand->place.start << 32 | (uint32_t)occurrence->day;
    const struct allowance *allowed = zone_allowed(checking, id, demand->limit, amount->zone);
    const struct weather *weather = &checking->model->weather;
    if (reading.origin == READING_NONE) {
        /* Once for the statement that asks: nothing is known of such days. */
        bool unasked = demand->limit && demand->limit->set->always;
        if (weather->broken || unasked || !finding_once(checking, CHECK_NO_NORMALS, demand->place, 0))
            return;
        struct report *report = finding_add(
            checking, CHECK_NO_NORMALS, ABOUT(&amount->product->symbol, &occurrence->treatment->symbol),
            demand->place, "no %s data to check `%s` for %s on %s",
            demand->below ? "high temperature" : "low temperature",
            place_words(checking->arena, demand->place), name_string(occurrence->treatment->symbol.name),
            display_date(checking->arena, occurrence->day));
        if (weather->stated)
            report_label(checking->model->reports, report, weather->place, "the weather the plan states");
        report_help(checking->model->reports, report,
                    "state `normals` in a `weather` block: month, high and low");
    } else if (!passes(demand, reading.value) && finding_once_by(checking, id, amount->place, key, allowed)) {
        /* With the nearest day of the season, on either side, that passes. */
        const struct model *model = checking->model;
        struct weather_look look = {.value = reading.value, .origin = reading.origin};
        struct display_pair pair =
            display_pair(checking->arena, model, QUANTITY_TEMPERATURE, reading.value, demand->bound, NULL);
        const char *treatment = name_string(occurrence->treatment->symbol.name);
        const char *when = text_format(checking->arena, "%s falls on %s, when a %s of %s", treatment,
                                       display_date(checking->arena, occurrence->day),
                                       demand->below ? "high" : "low", pair.value);
        struct report *report = limit_finding(
            checking, demand->limit, id,
            ABOUT(&occurrence->treatment->symbol, &amount->product->symbol, &amount->zone->symbol),
            amount->place, "%s %s; %s", when, origin_text(reading.origin),
            demand_text(checking, demand, amount, pair.bound));
        report_label(model->reports, report, weather_place(weather, &look, occurrence->day),
                     "the weather of that day");
        label_demand(checking, report, demand, amount);
        day_number before = occurrence->day - 1, after = occurrence->day + 1, found = DAY_NONE;
        for (; found == DAY_NONE && (before >= model->season_first || after <= model->season_last);
             before--, after++)
            if (before >= model->season_first && passes(demand, reading_on(checking, demand, before).value))
                found = before;
            else if (after <= model->season_last && passes(demand, reading_on(checking, demand, after).value))
                found = after;
        if (found != DAY_NONE)
            report_help(model->reports, report, "the nearest suitable day is %s",
                        display_date(checking->arena, found));
    } else if (demand->below && passes(demand, reading.value) && reading.origin == READING_EXPECTED &&
               exceeds(reading.value, demand->bound - NEAR_K))
        report_near(checking, demand, occurrence, amount, reading);
}

/* Of what is planned and has a day: its product's own bound, and what limits say of heat. */
static void check_temperatures(struct checking *checking, bool below)
{
    const struct model *model = checking->model;
    bool asked = false;
    for (size_t i = 0; i < model->products.count; i++)
        asked = asked ||
                !isnan(below ? model->products.items[i]->heat_below : model->products.items[i]->cold_above);
    for (size_t i = 0; asked && i < checking->season->calendar_count; i++) {
        const struct occurrence *occurrence = checking->season->calendar[i];
        bool counts = !occurrence->done && !occurrence->skipped && !occurrence->treatment->symbol.broken;
        for (size_t j = 0; counts && j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            const struct product *product = amount->product;
            struct demand of_label = {.bound = below ? product->heat_below : product->cold_above,
                                      .below = below,
                                      .place = below ? product->heat_place : product->cold_place};
            if (!isnan(of_label.bound))
                check_demand(checking, &of_label, occurrence, amount);
        }
    }
}

/* Labels first, then what limits say. Those that bind every plan say nothing where no weather is known. */
void check_heat(struct checking *checking)
{
    bool asked = false;
    check_temperatures(checking, true);
    arena_work(checking->arena, checking->season->calendar_count * checking->limits[LIMIT_HEAT].count);
    for (size_t i = 0; i < checking->limits[LIMIT_HEAT].count; i++)
        asked = asked || checking->season->climate || !checking->limits[LIMIT_HEAT].items[i]->set->always;
    for (size_t i = 0; asked && i < checking->season->calendar_count; i++) {
        const struct occurrence *occurrence = checking->season->calendar[i];
        bool counts = !occurrence->done && !occurrence->skipped && !occurrence->treatment->symbol.broken;
        for (size_t j = 0; counts && j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            for (size_t k = 0; k < checking->limits[LIMIT_HEAT].count; k++) {
                const struct limit *limit = checking->limits[LIMIT_HEAT].items[k];
                struct demand demand = {limit->hottest_k, true, true, limit->place, limit};
                if (limit_binds(limit, amount->zone) && limit_concerns(limit, amount->supplied) &&
                    limit_concerns_product(limit, amount->product))
                    check_demand(checking, &demand, occurrence, amount);
            }
        }
    }
}

void check_cold(struct checking *checking)
{
    check_temperatures(checking, false);
}
