/* Heat and cold by the plan's normals: the mean of a month says what half its days are like, no more. What
 * was done was done in the weather of its day, which the plan does not know. */
#include "compiler/check/checking.h"

#include <math.h>

/* "Mar, Apr, May": the months of the season whose mean passes. */
static const char *passing_months(struct checking *checking, const double *normals, double bound, bool below)
{
    const struct model *model = checking->model;
    const char *names[12];
    size_t count = 0;
    bool listed[13] = {false};
    for (day_number day = model->season_first; day <= model->season_last; day++) {
        int month = date_of_day(day).month;
        bool passes = below ? exceeds(bound, normals[month]) : exceeds(normals[month], bound);
        if (passes && !listed[month])
            names[count++] = month_name(month);
        listed[month] = true;
    }
    return list_text(checking->arena, names, count);
}

/* What asks for a temperature: a product, or a limit. */
struct demand {
    double bound; /* K */
    bool below;   /* the day is to stay below it; otherwise above */
    struct place place;
    const struct limit *limit; /* NULL of a product */
};

static void report_weather(struct checking *checking, const struct demand *demand,
                           const struct occurrence *occurrence, const struct amount *amount)
{
    const struct weather *weather = &checking->model->weather;
    int month = date_of_day(occurrence->day).month;
    const double *normals = demand->below ? weather->high : weather->low;
    struct display_pair pair = display_pair(checking->arena, checking->model, QUANTITY_TEMPERATURE,
                                            normals[month], demand->bound, NULL);
    struct report *report =
        finding_add(checking, demand->below ? CHECK_HEAT : CHECK_COLD,
                    ABOUT(&occurrence->treatment->thing, &amount->product->thing, &amount->zone->thing),
                    amount->place, "%s falls on %s, when the mean %s is %s; %s asks for days that stay %s %s",
                    thing_text(checking, &occurrence->treatment->thing),
                    display_date(checking->arena, occurrence->day), demand->below ? "high" : "low",
                    pair.value, demand->limit ? "a limit" : thing_text(checking, &amount->product->thing),
                    demand->below ? "below" : "above", pair.bound);
    report_label(checking->model->reports, report, weather->month_place[month], "the normals of %s",
                 month_name(month));
    if (demand->limit)
        limit_label(checking, report, demand->limit);
    else
        report_label(checking->model->reports, report, demand->place, "the label of %s",
                     thing_text(checking, &amount->product->thing));
    const char *months = passing_months(checking, normals, demand->bound, demand->below);
    if (*months)
        report_help(checking->model->reports, report,
                    "a day in %s would pass by the normals; look at the forecast", months);
}

static void report_no_normals(struct checking *checking, const struct demand *demand,
                              const struct occurrence *occurrence, const struct amount *amount)
{
    const struct weather *weather = &checking->model->weather;
    int month = date_of_day(occurrence->day).month;
    struct text statement = place_text(demand->place);
    if (!finding_once(checking, CHECK_NO_NORMALS, demand->place, 0))
        return;
    struct report *report = finding_add(
        checking, CHECK_NO_NORMALS, ABOUT(&amount->product->thing, &occurrence->treatment->thing),
        demand->place, "the plan states no mean %s of %s to hold `%.*s` against for %s on %s",
        demand->below ? "high" : "low", month_name(month), (int)statement.length, statement.start,
        thing_text(checking, &occurrence->treatment->thing), display_date(checking->arena, occurrence->day));
    if (weather->stated)
        report_label(checking->model->reports, report, weather->place, "the weather the plan states");
    report_help(checking->model->reports, report,
                "state `normals` in a `weather` block: month, high and low");
}

static void check_demand(struct checking *checking, const struct demand *demand,
                         const struct occurrence *occurrence, const struct amount *amount)
{
    const struct weather *weather = &checking->model->weather;
    int month = date_of_day(occurrence->day).month;
    double normal = demand->below ? weather->high[month] : weather->low[month];
    enum check_id id = demand->below ? CHECK_HEAT : CHECK_COLD;
    uint64_t key = (uint64_t)demand->place.start << 32 | (uint32_t)occurrence->day;
    bool passes = demand->below ? exceeds(demand->bound, normal) : exceeds(normal, demand->bound);
    if (isnan(normal))
        report_no_normals(checking, demand, occurrence, amount);
    else if (!passes && finding_once(checking, id, amount->place, key))
        report_weather(checking, demand, occurrence, amount);
}

/* Calls `check` for what is planned and has a day. */
static void walk_planned(struct checking *checking,
                         void (*check)(struct checking *, const struct occurrence *, const struct amount *))
{
    const struct season *season = checking->season;
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        bool counts = !occurrence->done && !occurrence->skipped && !occurrence->treatment->thing.broken;
        for (size_t j = 0; counts && j < occurrence->amounts.count; j++)
            check(checking, occurrence, &occurrence->amounts.items[j]);
    }
}

static void check_product_heat(struct checking *checking, const struct occurrence *occurrence,
                               const struct amount *amount)
{
    const struct product *product = amount->product;
    struct demand demand = {product->heat_below, true, product->heat_place, NULL};
    if (!isnan(product->heat_below))
        check_demand(checking, &demand, occurrence, amount);
}

static void check_product_cold(struct checking *checking, const struct occurrence *occurrence,
                               const struct amount *amount)
{
    const struct product *product = amount->product;
    struct demand demand = {product->cold_above, false, product->cold_place, NULL};
    if (!isnan(product->cold_above))
        check_demand(checking, &demand, occurrence, amount);
}

static void check_limit_heat(struct checking *checking, const struct occurrence *occurrence,
                             const struct amount *amount)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, LIMIT_HEAT, &at)) != NULL;) {
        struct demand demand = {limit->most, true, limit->place, limit};
        if (limit_binds(limit, amount->zone) && limit_concerns(limit, amount->supplied))
            check_demand(checking, &demand, occurrence, amount);
    }
}

void check_heat(struct checking *checking)
{
    walk_planned(checking, check_product_heat);
    walk_planned(checking, check_limit_heat);
}

void check_cold(struct checking *checking)
{
    walk_planned(checking, check_product_cold);
}
