#include "compiler/result/weather_json.h"

#include "compiler/model/display.h"
#include "compiler/result/closing_lines_json.h"
#include "compiler/form/json_values.h"
#include "compiler/season/risk.h"
#include "compiler/season/weather_text.h"

/* ---- what the season counts on ---- */

static void put_series(struct json_writer *writer, json_t *parent, const char *key,
                       const struct weather_series *series)
{
    size_t count = series->rows.count;
    if (count == 0) {
        json_put_null(writer, parent, key);
        return;
    }
    json_t *object = json_put_object(writer, parent, key);
    json_put_integer(writer, object, "days", (json_int_t)count);
    json_put_day(writer, object, "first", series->rows.items[0].day);
    json_put_day(writer, object, "last", series->rows.items[count - 1].day);
}

static void put_basis(struct json_writer *writer, json_t *root, const struct weather *weather)
{
    json_t *object = json_put_object(writer, root, "counts_on");
    int months = 0;
    for (int month = 1; month <= 12; month++)
        months += weather->month_place[month].source != NULL;
    json_put_integer(writer, object, "normals_months", months);
    put_series(writer, object, "history", &weather->history);
    put_series(writer, object, "forecast", &weather->forecast);
}

/* ---- a condition ---- */

static const char *const QUANTITIES[] = {
    [WEATHER_HIGH] = "high", [WEATHER_LOW] = "low",   [WEATHER_MEAN] = "mean",
    [WEATHER_SOIL] = "soil", [WEATHER_RAIN] = "rain", [WEATHER_DEGREE_DAYS] = "degree days"};
static const char *const UNITS[] = {
    [WEATHER_HIGH] = "K", [WEATHER_LOW] = "K",  [WEATHER_MEAN] = "K",
    [WEATHER_SOIL] = "K", [WEATHER_RAIN] = "m", [WEATHER_DEGREE_DAYS] = "K d"};
static const char *const SIDES[] = {
    [SIDE_BELOW] = "below", [SIDE_ABOVE] = "above", [SIDE_AT_MOST] = "at most", [SIDE_AT_LEAST] = "at least"};
static const char *const ORIGINS[] = {[READING_NONE] = NULL,
                                      [READING_EXPECTED] = "usual",
                                      [READING_FORECAST] = "forecast",
                                      [READING_MEASURED] = "measured"};

static void put_years(struct json_writer *writer, json_t *parent, const char *key, const char *member,
                      int years, int known)
{
    if (known == 0) {
        json_put_null(writer, parent, key);
        return;
    }
    json_t *object = json_put_object(writer, parent, key);
    json_put_integer(writer, object, member, years);
    json_put_integer(writer, object, "of", known);
}

static void put_condition(struct json_writer *writer, json_t *list, const struct model *model,
                          const struct bound *bound, day_number day)
{
    const struct weather_condition *condition = watch_condition(bound->watch);
    struct weather_look look = watch_day(bound->watch, day);
    struct weather_odds odds = watch_odds(bound->watch, day);
    json_t *object = json_put_object(writer, list, NULL);
    json_put_string(writer, object, "statement", place_words(writer->arena, bound->place));
    json_put_place(writer, object, "place", bound->place);
    json_put_string(writer, object, "quantity", QUANTITIES[condition->quantity]);
    json_put_string(writer, object, "unit", UNITS[condition->quantity]);
    json_put_string(writer, object, "side", SIDES[condition->side]);
    json_put_number(writer, object, "limit", condition->limit);
    int from, to;
    watch_span(bound->watch, day, &from, &to);
    json_put_integer(writer, object, "days_from", from);
    json_put_integer(writer, object, "days_to", to);
    json_put_string(writer, object, "verdict", verdict_text(look.verdict));
    json_put_figure(writer, object, "value", look.value);
    json_put_string(writer, object, "origin", isnan(look.value) ? NULL : ORIGINS[look.origin]);
    json_put_boolean(writer, object, "told_from_the_air", look.estimated);
    put_years(writer, object, "kept", "years", odds.kept, odds.known);
    json_put_string(writer, object, "sentence", weather_text(writer->arena, model, condition, &look));
}

/* ---- a day ---- */

static void put_risk(struct json_writer *writer, json_t *object, const struct season *season,
                     const struct occurrence *occurrence)
{
    struct risk risk = season_risk(season, occurrence, occurrence->day), least;
    day_number day;
    put_years(writer, object, "not_so", "years", risk.broken, risk.known);
    if (!season_least_risk(season, occurrence, &day, &least)) {
        json_put_null(writer, object, "least_risk");
        return;
    }
    json_t *best = json_put_object(writer, object, "least_risk");
    json_put_day(writer, best, "date", day);
    json_put_integer(writer, best, "years", least.broken);
    json_put_integer(writer, best, "of", least.known);
}

static void put_occurrence(struct json_writer *writer, json_t *days, const struct season *season,
                           const struct occurrence *occurrence)
{
    const struct bound *bound;
    uint32_t at = 0;
    json_t *object = json_put_object(writer, days, NULL);
    json_put_day(writer, object, "date", occurrence->day);
    json_put_string(writer, object, "weekday", weekday_name(weekday_of_day(occurrence->day)));
    json_put_name(writer, object, "treatment", occurrence->treatment->symbol.name);
    json_put_integer(writer, object, "time", occurrence->time);
    json_put_integer(writer, object, "times", occurrence->times);
    json_t *list = json_put_array(writer, object, "conditions");
    while ((bound = season_weather_bound(season, occurrence, &at)) != NULL)
        put_condition(writer, list, season->model, bound, occurrence->day);
    put_risk(writer, object, season, occurrence);
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct season *season = subject;
    json_put_string(writer, root, "format", "prill weather 2");
    json_put_plan(writer, root, "plan", season->model);
    put_basis(writer, root, &season->model->weather);
    json_t *days = json_put_array(writer, root, "days");
    for (size_t i = 0; i < season->calendar_count; i++)
        if (season_asks_weather(season, season->calendar[i]))
            put_occurrence(writer, days, season, season->calendar[i]);
    json_put_closing(writer, root, season->model);
}

void risk_json_print(struct buffer *out, const struct season *season)
{
    json_print(out, true, fill, season);
}
