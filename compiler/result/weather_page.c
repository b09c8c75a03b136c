/* The weather that the season counts on, for a person: day by day what is asked of it, what it is known or
 * expected to be, and in how many years of the history it was not so. */
#include "compiler/result/result.h"

#include "compiler/result/explanation.h"
#include "compiler/season/risk.h"

static const char *series_text(struct arena *arena, const struct weather_series *series, const char *what)
{
    size_t count = series->rows.count;
    if (count == 0)
        return NULL;
    return text_format(arena, "%s of %s, %s to %s", what, display_days(arena, (int)count),
                       day_text(arena, series->rows.items[0].day),
                       day_text(arena, series->rows.items[count - 1].day));
}

/* Only days that some condition binds: of the others the weather is nobody's question. */
void weather_page(struct page *page, const struct result_input *input)
{
    const struct season *season = input->season;
    struct explanation explanation = {.page = page,
                                      .arena = page->arena,
                                      .season = season,
                                      .model = season->model,
                                      .notes = {.arena = page->arena}};
    size_t days = 0;
    /* What is known at all, before what it means for a day: with no history there is no risk. */
    const struct weather *weather = &explanation.model->weather;
    struct arena *arena = explanation.arena;
    int months = 0;
    for (int month = 1; month <= 12; month++)
        months += weather->month_place[month].source != NULL;
    const char *normals = text_format(arena, "normals of %d %s", months, months == 1 ? "month" : "months");
    const char *parts[] = {months ? normals : NULL, series_text(arena, &weather->history, "a history"),
                           series_text(arena, &weather->forecast, "a forecast")};
    struct buffer list = {.arena = arena};
    for (size_t j = 0; j < sizeof parts / sizeof *parts; j++)
        if (parts[j]) {
            buffer_separate(&list, "; ");
            buffer_add_string(&list, parts[j]);
        }
    if (list.length)
        explain_line(&explanation, 0, "Weather data: %s.", list.string);
    else
        explain_line(&explanation, 0,
                     "The plan has no weather data: state `normals`, or name a file, in a `weather` block.");
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        if (!season_asks_weather(season, occurrence))
            continue;
        page_gap(page);
        explain_heading(&explanation, 0, "%s: %s", display_date(page->arena, occurrence->day),
                        occurrence_title(page->arena, occurrence));
        explain_day_weather(&explanation, occurrence, 1);
        days++;
    }
    page_gap(page);
    if (days == 0)
        page_line(page, 0, "No planned work depends on the weather.");
}
