/* The weather that treatments wait for and limits ask for, looked at on the day; what was done on a day whose
 * weather was measured; and what such dates rest on. */
#include "compiler/check/checking.h"
#include "compiler/season/weather_text.h"

#include <math.h>

struct asked { /* a condition, and whose it is */
    const struct watch *watch;
    const struct weather_condition *condition;
    struct place place;
    const struct limit *limit;     /* NULL of a `when` or a product */
    const struct product *product; /* NULL of a `when`, and of a limit where it is all the same */
};

/* ---- a day on which it is broken ---- */

static const struct symbol *asked_about(const struct asked *asked, const struct occurrence *occurrence)
{
    return asked->product ? &asked->product->symbol : &occurrence->treatment->symbol;
}

static void report_broken(struct checking *checking, const struct occurrence *occurrence,
                          const struct asked *asked, const struct weather_look *look)
{
    enum check_id id = occurrence->done ? CHECK_RECORD_WEATHER : CHECK_WEATHER_DAY;
    uint64_t key = (uint64_t)asked->place.start << 32 | (uint32_t)occurrence->day;
    if (!finding_once(checking, id, occurrence_place(occurrence), key))
        return;
    struct report *report = limit_finding(
        checking, asked->limit, id, ABOUT(&occurrence->treatment->symbol, asked_about(asked, occurrence)),
        occurrence_place(occurrence), "%s %s on %s; %s", name_string(occurrence->treatment->symbol.name),
        occurrence->done ? "was done" : "is planned", display_date(checking->arena, occurrence->day),
        weather_text_on(checking->arena, checking->model, asked->condition, look, occurrence->day));
    if (asked->limit)
        limit_label(checking, report, asked->limit);
    else
        report_label(checking->model->reports, report, asked->place, "`%s` stands here",
                     place_words(checking->arena, asked->place));
    struct place place = weather_place(&checking->model->weather, look, occurrence->day);
    report_label(checking->model->reports, report, place, "the weather of that day");
}

/* ---- a day of which nothing is known, or little ---- */

static const char *settling(const struct asked *asked)
{
    switch (asked->condition->quantity) {
    case WEATHER_HIGH:
    case WEATHER_LOW:
    case WEATHER_MEAN:
    case WEATHER_DEGREE_DAYS:
        return "state `normals` in a `weather` block, with high and low of every month it goes through";
    case WEATHER_SOIL:
        return "state `normals` in a `weather` block, with high and low, or soil temperature as measured";
    case WEATHER_RAIN:
        return asked->limit || asked->condition->years
                   ? "name a forecast with a column of rain: `forecast from \"FILE.csv\"`"
                   : "name a forecast with a column of rain, or say in how many years it is to be so, for "
                     "example: when dry for 2 days, 7 years in 10";
    }
    return "";
}

/* Rain is known for a few days ahead only, so of a limit on rain that no file speaks of it is told once. */
static void report_unknown(struct checking *checking, const struct occurrence *occurrence,
                           const struct asked *asked)
{
    bool rain = asked->condition->quantity == WEATHER_RAIN;
    if (asked->limit && asked->limit->set->always)
        return; /* nobody asked for it: it speaks where something is known */
    if ((rain && asked->limit && checking->model->weather.forecast.rows.count) ||
        !finding_once(checking, CHECK_NO_NORMALS, asked->place, 0))
        return;
    struct report *report = finding_add(
        checking, CHECK_NO_NORMALS, ABOUT(&occurrence->treatment->symbol), asked->place,
        "the plan states no weather to hold `%s` against for %s on %s",
        place_words(checking->arena, asked->place), name_string(occurrence->treatment->symbol.name),
        display_date(checking->arena, occurrence->day));
    if (checking->model->weather.stated)
        report_label(checking->model->reports, report, checking->model->weather.place,
                     "the weather the plan states");
    report->help = settling(asked);
}

static void report_few_years(struct checking *checking, const struct occurrence *occurrence,
                             const struct asked *asked, const struct weather_look *look)
{
    const struct weather_condition *condition = asked->condition;
    if (!finding_once(checking, CHECK_FEW_YEARS, asked->place, 0))
        return;
    struct report *report = finding_add(
        checking, CHECK_FEW_YEARS, ABOUT(&occurrence->treatment->symbol), asked->place,
        "%d years in %d are asked for on %s, and the history has %d years of that day", condition->years,
        condition->of, display_date(checking->arena, occurrence->day), look->odds.known);
    report_label(checking->model->reports, report, checking->model->weather.history.place, "the history");
    report_note(checking->model->reports, report, "it held %s",
                years_text(checking->arena, look->odds.kept, look->odds.known));
}

static void report_degree_days(struct checking *checking, const struct occurrence *occurrence,
                               const struct asked *asked, const struct weather_look *look)
{
    if (!finding_once(checking, CHECK_DEGREE_DAYS_OF_NORMALS, asked->place, 0))
        return;
    struct report *report = finding_add(
        checking, CHECK_DEGREE_DAYS_OF_NORMALS, ABOUT(&occurrence->treatment->symbol), asked->place,
        "%s is dated by degree days of the normals; most years reach them before %s",
        name_string(occurrence->treatment->symbol.name), display_date(checking->arena, occurrence->day));
    report_label(checking->model->reports, report,
                 weather_place(&checking->model->weather, look, occurrence->day), "the normals");
    report_help(checking->model->reports, report,
                "name a history in the `weather` block: `from \"FILE.csv\"`");
}

static void report_frost(struct checking *checking, const struct occurrence *occurrence,
                         const struct asked *asked, const struct weather_look *look)
{
    if (!finding_once(checking, CHECK_FROST_OF_NORMALS, asked->place, 0))
        return;
    struct report *report = finding_add(
        checking, CHECK_FROST_OF_NORMALS, ABOUT(&occurrence->treatment->symbol), asked->place,
        "%s on %s goes by monthly mean lows; single nights freeze on warmer days than that",
        name_string(occurrence->treatment->symbol.name), display_date(checking->arena, occurrence->day));
    struct place place = weather_place(&checking->model->weather, look, occurrence->day);
    if (place.source)
        report_label(checking->model->reports, report, place, "the normals");
    report_help(checking->model->reports, report,
                "name a history of several years in the `weather` block: `from \"FILE.csv\"`");
}

/* ---- looking ---- */

static void look_at_record(struct checking *checking, const struct occurrence *occurrence,
                           const struct asked *asked)
{
    struct weather_look look = watch_day(asked->watch, occurrence->day);
    if (look.verdict == VERDICT_BROKEN && look.origin == READING_MEASURED && !look.by_years)
        report_broken(checking, occurrence, asked, &look);
}

static void look_at_plan(struct checking *checking, const struct occurrence *occurrence,
                         const struct asked *asked)
{
    struct weather_look look = watch_day(asked->watch, occurrence->day);
    bool expected = !look.by_years && look.origin == READING_EXPECTED;
    bool of_normals = asked->condition->quantity == WEATHER_DEGREE_DAYS && expected &&
                      !checking->model->weather.history.rows.count;
    if (look.verdict == VERDICT_BROKEN)
        report_broken(checking, occurrence, asked, &look);
    else if (look.verdict == VERDICT_UNKNOWN)
        report_unknown(checking, occurrence, asked);
    else if (look.by_years && look.odds.known < asked->condition->of)
        report_few_years(checking, occurrence, asked, &look);
    else if (asked->condition->frost && expected)
        report_frost(checking, occurrence, asked, &look);
    else if (of_normals)
        report_degree_days(checking, occurrence, asked, &look);
}

static void look(struct checking *checking, const struct occurrence *occurrence, const struct asked *asked)
{
    if (occurrence->done)
        look_at_record(checking, occurrence, asked);
    else
        look_at_plan(checking, occurrence, asked);
}

static void check_whens_of(struct checking *checking, const struct climate *climate,
                           const struct occurrence *occurrence)
{
    const struct treatment *treatment = occurrence->treatment;
    for (size_t i = 0; i < treatment->whens.count; i++) {
        const struct when *when = &treatment->whens.items[i];
        if (!when->weather)
            continue;
        const struct bound *bound = season_when_bound(checking->season, treatment, i);
        struct asked asked = {.condition = when->weather, .place = when->place};
        asked.watch =
            bound && bound->watch ? bound->watch : watch_make(checking->arena, climate, when->weather);
        look(checking, occurrence, &asked);
    }
}

/* The treatment's own day was looked at by heat.c, unless it is over. */
static void check_products_of(struct checking *checking, const struct climate *climate,
                              const struct occurrence *occurrence)
{
    for (size_t i = 0; i < occurrence->amounts.count && occurrence->done; i++) {
        const struct product *product = occurrence->amounts.items[i].product;
        struct weather_condition heat = {
            .quantity = WEATHER_HIGH, .side = SIDE_BELOW, .limit = product->heat_below};
        struct weather_condition cold = {
            .quantity = WEATHER_LOW, .side = SIDE_ABOVE, .limit = product->cold_above};
        struct asked asked[] = {{.condition = &heat, .place = product->heat_place, .product = product},
                                {.condition = &cold, .place = product->cold_place, .product = product}};
        for (int j = 0; j < 2; j++) {
            asked[j].watch = watch_make(checking->arena, climate, asked[j].condition);
            if (!isnan(asked[j].condition->limit))
                look(checking, occurrence, &asked[j]);
        }
    }
}

static bool concerns(const struct limit *limit, const struct occurrence *occurrence)
{
    for (size_t i = 0; i < occurrence->amounts.count; i++) {
        const struct amount *amount = &occurrence->amounts.items[i];
        if (limit_binds(limit, amount->zone) && limit_concerns(limit, amount->supplied) &&
            limit_concerns_product(limit, amount->product))
            return true;
    }
    return false;
}

/* Of a limit on heat heat.c has told what is planned. */
static void check_limit_of(struct checking *checking, const struct limit *limit, const struct watch *watch)
{
    const struct season *season = checking->season;
    struct asked asked = {.watch = watch, .condition = limit->weather, .place = limit->place, .limit = limit};
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        bool wanted = limit->kind == LIMIT_WEATHER || occurrence->done;
        if (wanted && !occurrence->treatment->symbol.broken && concerns(limit, occurrence))
            look(checking, occurrence, &asked);
    }
}

static void check_limits(struct checking *checking, enum limit_kind kind, const struct climate *climate)
{
    const struct limit *limit;
    for (size_t at = 0; (limit = limit_next(checking, kind, &at)) != NULL;)
        check_limit_of(checking, limit, watch_make(checking->arena, climate, limit->weather));
}

void check_weather(struct checking *checking)
{
    const struct season *season = checking->season;
    const struct climate *climate = season->climate;
    if (!checking->model->has_season || checking->model->weather.broken)
        return;
    if (!climate)
        climate = climate_make(checking->arena, &checking->model->weather, checking->model->season_first,
                               checking->model->season_first);
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        if (occurrence->treatment->symbol.broken)
            continue;
        check_whens_of(checking, climate, occurrence);
        check_products_of(checking, climate, occurrence);
    }
    check_limits(checking, LIMIT_WEATHER, climate);
    check_limits(checking, LIMIT_HEAT, climate);
}
