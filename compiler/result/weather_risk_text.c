/* The weather that the season counts on, for a person: day by day what is asked of it, what it is known or
 * expected to be, and in how many years of the history it was not so. */
#include "compiler/result/result.h"

#include "compiler/result/closing_lines.h"
#include "compiler/result/explanation.h"
#include "compiler/form/paragraph.h"
#include "compiler/season/risk.h"

static const char *normals_text(struct arena *arena, const struct weather *weather)
{
    int months = 0;
    for (int month = 1; month <= 12; month++)
        months += weather->month_place[month].source != NULL;
    return months ? text_format(arena, "normals of %d %s", months, months == 1 ? "month" : "months") : NULL;
}

static const char *series_text(struct arena *arena, const struct weather_series *series, const char *what)
{
    size_t count = series->rows.count;
    if (count == 0)
        return NULL;
    return text_format(arena, "%s of %zu %s, %s to %s", what, count, count == 1 ? "day" : "days",
                       day_text(arena, series->rows.items[0].day),
                       day_text(arena, series->rows.items[count - 1].day));
}

static void print_basis(struct explanation *explanation)
{
    const struct weather *weather = &explanation->model->weather;
    const char *parts[] = {normals_text(explanation->arena, weather),
                           series_text(explanation->arena, &weather->history, "a history"),
                           series_text(explanation->arena, &weather->forecast, "a forecast")};
    struct buffer list = {.arena = explanation->arena};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (parts[i])
            buffer_format(&list, "%s%s", list.length ? "; " : "", parts[i]);
    explain_line(explanation, 0, "%s.",
                 list.length
                     ? text_format(explanation->arena, "Weather data: %s", list.string)
                     : "The plan has no weather data: state `normals`, or name a file, in a `weather` "
                       "block");
}

static void print_day(struct explanation *explanation, const struct occurrence *occurrence)
{
    buffer_add_string(explanation->out, "\n");
    explain_line(explanation, 0, "%s: %s", display_date(explanation->arena, occurrence->day),
                 occurrence_title(explanation->arena, occurrence));
    explain_day_weather(explanation, occurrence, 1);
}

void weather_text_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    struct explanation explanation = {.out = out,
                                      .arena = out->arena,
                                      .season = season,
                                      .model = season->model,
                                      .notes = {.arena = out->arena}};
    size_t days = 0;
    print_basis(&explanation);
    for (size_t i = 0; i < season->calendar_count; i++)
        if (season_asks_weather(season, season->calendar[i])) {
            print_day(&explanation, season->calendar[i]);
            days++;
        }
    if (days == 0)
        paragraph_add(out, "", "\nNo planned work depends on the weather.");
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
