#include "compiler/season/weather_text.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"

const char *verdict_text(enum verdict verdict)
{
    static const char *const texts[] = {
        [VERDICT_UNKNOWN] = "unknown", [VERDICT_BROKEN] = "broken", [VERDICT_KEPT] = "kept"};
    return texts[verdict];
}

const char *origin_text(enum reading_origin origin)
{
    static const char *const texts[] = {[READING_NONE] = "is not known",
                                        [READING_EXPECTED] = "is usual",
                                        [READING_FORECAST] = "is forecast",
                                        [READING_MEASURED] = "was measured"};
    return texts[origin];
}

const char *years_text(struct arena *arena, int years, int of)
{
    const char *all = of == 1 ? "year" : "years";
    return years ? text_format(arena, "in %d of %d %s", years, of, all)
                 : text_format(arena, "in none of %d %s", of, all);
}

/* "a low of 38 F within 3 days was measured", "0.4 in of rain is forecast", "a sum of 120 degree days above
 * 50 F is usual" */
const char *weather_text(struct arena *arena, const struct model *model,
                         const struct weather_condition *condition, const struct weather_look *look)
{
    double value = look->value;
    if (look->by_years && look->odds.known)
        return text_format(arena, "this held %s", years_text(arena, look->odds.kept, look->odds.known));
    if (isnan(value))
        return "the weather is not known";
    const char *estimated = look->estimated ? ", estimated from the air," : "";
    const char *origin = origin_text(look->origin);
    const struct unit *degree = unit_named(model->metric ? "C" : "F");
    if (condition->quantity == WEATHER_DEGREE_DAYS)
        return text_format(arena, "a sum of %s degree days above %s%s %s",
                           number_short(arena, unit_difference_from_si(degree, value)),
                           display_of(arena, model, QUANTITY_TEMPERATURE, condition->base, NULL), estimated,
                           origin);
    if (condition->quantity != WEATHER_RAIN && look->origin == READING_EXPECTED) {
        /* What is usual is a mean of many days: a whole degree says enough, unless it would be at the bound
         * or beyond it. */
        double whole = unit_to_si(degree, number_nearest(unit_from_si(degree, value), 0));
        bool above = exceeds(value, condition->limit), whole_above = exceeds(whole, condition->limit);
        bool below = exceeds(condition->limit, value), whole_below = exceeds(condition->limit, whole);
        value = above == whole_above && below == whole_below ? whole : value;
    }
    int days = condition->to - condition->from + 1;
    const char *span =
        condition->frost == FROST_LAST ? " from then to midsummer"
        : condition->frost             ? " since midsummer"
        : days == 1                    ? ""
                    : text_format(arena, " %s %d days", condition->way == WAY_MEAN ? "over" : "within", days);
    static const char *const quantities[][2] = {
        [WEATHER_HIGH] = {"a high of", "a mean high of"},
        [WEATHER_LOW] = {"a low of", "a mean low of"},
        [WEATHER_MEAN] = {"a mean of", "a mean of"},
        [WEATHER_SOIL] = {"a soil temperature of", "a mean soil temperature of"}};
    struct buffer text = {.arena = arena};
    if (condition->quantity == WEATHER_RAIN)
        buffer_format(&text, "%s of rain%s", display_depth(arena, model, value),
                      condition->way == WAY_EACH && *span ? " in a day" : "");
    else
        buffer_format(&text, "%s %s", quantities[condition->quantity][condition->way == WAY_MEAN],
                      display_of(arena, model, QUANTITY_TEMPERATURE, value, NULL));
    buffer_format(&text, "%s%s %s", span, estimated, origin);
    return buffer_string(&text);
}

const char *weather_text_on(struct arena *arena, const struct model *model,
                            const struct weather_condition *condition, const struct weather_look *look,
                            day_number day)
{
    return text_format(arena, "%s %s %s", weather_text(arena, model, condition, look),
                       condition->quantity == WEATHER_DEGREE_DAYS ? "by" : "on", display_date(arena, day));
}

/* Where the figure itself was read, so that a report can point at it. */
struct place weather_place(const struct weather *weather, const struct weather_look *look, day_number day)
{
    struct place normals = weather->month_place[date_of_day(day).month];
    if (look->by_years || (look->origin == READING_EXPECTED && !normals.source))
        return weather->history.place;
    if (look->origin == READING_EXPECTED)
        return normals;
    if (look->origin == READING_NONE)
        return weather->place;

    /* The day's row of the file, by halves. */
    const struct weather_series *series =
        look->origin == READING_MEASURED ? &weather->history : &weather->forecast;
    size_t low = 0, high = series->rows.count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (series->rows.items[middle].day < day)
            low = middle + 1;
        else
            high = middle;
    }
    bool found = low < series->rows.count && series->rows.items[low].day == day;
    return found ? series->rows.items[low].place : series->place;
}
