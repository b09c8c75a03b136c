/* The weather that the season counts on, for other programs. Schema: docs/weather.schema.json. */
#include "compiler/result/result.h"

#include "compiler/model/display.h"
#include "compiler/form/csv_cell.h"
#include "compiler/form/data.h"
#include "compiler/season/risk.h"
#include "compiler/season/weather_text.h"

/* ---- what the season counts on ---- */

static void put_series(struct data *parent, const char *key, const struct weather_series *series)
{
    size_t count = series->rows.count;
    if (count == 0) {
        data_null(parent, key);
        return;
    }
    struct data *object = data_object(parent, key);
    data_integer(object, "days", (long long)count);
    data_day(object, "first", series->rows.items[0].day);
    data_day(object, "last", series->rows.items[count - 1].day);
}

/* ---- a condition ---- */

static const char *const QUANTITIES[] = {
    [WEATHER_HIGH] = "high", [WEATHER_LOW] = "low",   [WEATHER_MEAN] = "mean",
    [WEATHER_SOIL] = "soil", [WEATHER_RAIN] = "rain", [WEATHER_DEGREE_DAYS] = "degree days"};
/* Of a difference from 0 K, of rain, of a sum over days. */
static const char *const UNITS[] = {
    [WEATHER_HIGH] = "K", [WEATHER_LOW] = "K",  [WEATHER_MEAN] = "K",
    [WEATHER_SOIL] = "K", [WEATHER_RAIN] = "m", [WEATHER_DEGREE_DAYS] = "K d"};
static const char *const SIDES[] = {
    [SIDE_BELOW] = "below", [SIDE_ABOVE] = "above", [SIDE_AT_MOST] = "at most", [SIDE_AT_LEAST] = "at least"};
static const char *const ORIGINS[] = {[READING_NONE] = NULL,
                                      [READING_EXPECTED] = "usual",
                                      [READING_FORECAST] = "forecast",
                                      [READING_MEASURED] = "measured"};

static void put_years(struct data *parent, const char *key, const char *member, int years, int known)
{
    if (known == 0) {
        data_null(parent, key);
        return;
    }
    struct data *object = data_object(parent, key);
    data_integer(object, member, years);
    data_integer(object, "of", known);
}

/* A limit or a value of the weather, in the plan's units; null where it is not known. */
static void put_value(struct data *object, const char *key, const struct model *model,
                      enum weather_quantity quantity, double si)
{
    const char *text = NULL;
    if (isfinite(si))
        switch (quantity) {
        case WEATHER_HIGH:
        case WEATHER_LOW:
        case WEATHER_MEAN:
        case WEATHER_SOIL:
            text = display_of(object->arena, model, QUANTITY_TEMPERATURE, si, NULL);
            break;
        case WEATHER_RAIN:
            text = display_depth(object->arena, model, si);
            break;
        case WEATHER_DEGREE_DAYS:
            text =
                text_format(object->arena, "%s degree days",
                            number_short(object->arena,
                                         unit_difference_from_si(unit_named(model->metric ? "C" : "F"), si)));
            break;
        }
    data_quantity(object, key, si, UNITS[quantity], text);
}

/* ---- a day ---- */

/* Each condition that binds the day, and the day of least risk among those it may still slip to. */
static void put_occurrence(struct data *days, const struct season *season,
                           const struct occurrence *occurrence)
{
    const struct bound *bound;
    uint32_t at = 0;
    struct data *object = data_object(days, NULL);
    data_day(object, "date", occurrence->day);
    data_string(object, "weekday", weekday_name(weekday_of_day(occurrence->day)));
    data_name(object, "treatment", occurrence->treatment->symbol.name);
    data_integer(object, "time", occurrence->time);
    data_integer(object, "times", occurrence->times);
    struct data *list = data_list(object, "conditions");
    while ((bound = season_weather_bound(season, occurrence, &at)) != NULL) {
        /* What a statement requires of the day's weather, and what is known of that. */
        const struct model *model = season->model;
        day_number day = occurrence->day;
        const struct weather_condition *condition = watch_condition(bound->watch);
        struct weather_look look = watch_day(bound->watch, day);
        struct weather_odds odds = watch_odds(bound->watch, day);
        struct data *item = data_object(list, NULL);
        data_string(item, "statement", place_words(list->arena, bound->place));
        data_place(item, "place", bound->place);
        data_string(item, "quantity", QUANTITIES[condition->quantity]);
        data_string(item, "side", SIDES[condition->side]);
        put_value(item, "limit", model, condition->quantity, condition->limit);
        int from, to;
        watch_span(bound->watch, day, &from, &to);
        data_integer(item, "days_from", from);
        data_integer(item, "days_to", to);
        data_string(item, "verdict", verdict_text(look.verdict));
        put_value(item, "value", model, condition->quantity, look.value);
        data_string(item, "origin", isnan(look.value) ? NULL : ORIGINS[look.origin]);
        data_boolean(item, "told_from_the_air", look.estimated);
        put_years(item, "kept", "years", odds.kept, odds.known);
        data_string(item, "sentence", weather_text(list->arena, model, condition, &look));
    }
    struct risk risk = season_risk(season, occurrence, occurrence->day), least;
    day_number day;
    put_years(object, "not_so", "years", risk.broken, risk.known);
    if (!season_least_risk(season, occurrence, &day, &least)) {
        data_null(object, "least_risk");
        return;
    }
    struct data *best = data_object(object, "least_risk");
    data_day(best, "date", day);
    data_integer(best, "years", least.broken);
    data_integer(best, "of", least.known);
}

/* What the weather is known from comes first: how sure a day is rests on it. */
void weather_data(struct data *root, const struct result_input *input)
{
    const struct season *season = input->season;
    struct data *object = data_object(root, "counts_on");
    int months = 0;
    for (int month = 1; month <= 12; month++)
        months += season->model->weather.month_place[month].source != NULL;
    data_integer(object, "normals_months", months);
    put_series(object, "history", &season->model->weather.history);
    put_series(object, "forecast", &season->model->weather.forecast);
    struct data *days = data_list(root, "days");
    for (size_t i = 0; i < season->calendar_count; i++)
        if (season_asks_weather(season, season->calendar[i]))
            put_occurrence(days, season, season->calendar[i]);
}

/* ---- for a spreadsheet ---- */

static void years_cells(struct buffer *out, int years, int known)
{
    if (known == 0) {
        csv_blank(out, 2);
        return;
    }
    csv_plain(out, text_format(out->arena, "%d", years));
    csv_plain(out, text_format(out->arena, "%d", known));
}

/* A row for each condition of each occurrence. */
void weather_csv_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    buffer_add_string(out,
                      "date,weekday,treatment,time,of,statement,file,line,verdict,weather,kept years,kept of,"
                      "not so years,not so of,least risk on,least risk years,least risk of\r\n");
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        const struct bound *bound;
        for (uint32_t at = 0; (bound = season_weather_bound(season, occurrence, &at)) != NULL;) {
            /* The risk is of the whole day, and is in each of its rows. */
            struct weather_look look = watch_day(bound->watch, occurrence->day);
            struct weather_odds odds = watch_odds(bound->watch, occurrence->day);
            uint32_t line = source_line_number(bound->place.source, bound->place.start);
            struct risk risk = season_risk(season, occurrence, occurrence->day), least = {0, 0};
            day_number day;
            bool known = season_least_risk(season, occurrence, &day, &least);
            csv_plain(out, day_text(out->arena, occurrence->day));
            csv_plain(out, weekday_name(weekday_of_day(occurrence->day)));
            csv_text(out, name_string(occurrence->treatment->symbol.name));
            csv_plain(out, text_format(out->arena, "%d", occurrence->time));
            csv_plain(out, text_format(out->arena, "%d", occurrence->times));
            csv_text(out, place_words(out->arena, bound->place));
            csv_text(out, bound->place.source->path);
            csv_plain(out, text_format(out->arena, "%u", (unsigned)line));
            csv_plain(out, verdict_text(look.verdict));
            csv_text(out, weather_text(out->arena, season->model, watch_condition(bound->watch), &look));
            years_cells(out, odds.kept, odds.known);
            years_cells(out, risk.broken, risk.known);
            csv_plain(out, known ? day_text(out->arena, day) : "");
            years_cells(out, least.broken, known ? least.known : 0);
            csv_end(out);
        }
    }
}
