/* The weather that the season counts on, for a spreadsheet: a row for each condition on each planned day. */
#include "compiler/result/result.h"

#include "compiler/form/csv_cell.h"
#include "compiler/result/work.h"
#include "compiler/season/risk.h"
#include "compiler/season/weather_text.h"

static void years_cells(struct buffer *out, int years, int known)
{
    if (known == 0) {
        csv_blank(out, 2);
        return;
    }
    csv_plain(out, text_format(out->arena, "%d", years));
    csv_plain(out, text_format(out->arena, "%d", known));
}

static void print_start(struct buffer *out, const struct occurrence *occurrence)
{
    csv_plain(out, day_text(out->arena, occurrence->day));
    csv_plain(out, weekday_name(weekday_of_day(occurrence->day)));
    csv_text(out, name_string(occurrence->treatment->symbol.name));
    csv_plain(out, text_format(out->arena, "%d", occurrence->time));
    csv_plain(out, text_format(out->arena, "%d", occurrence->times));
}

static void print_risk(struct buffer *out, const struct season *season, const struct occurrence *occurrence)
{
    struct risk risk = season_risk(season, occurrence, occurrence->day), least = {0, 0};
    day_number day;
    bool known = season_least_risk(season, occurrence, &day, &least);
    years_cells(out, risk.broken, risk.known);
    csv_plain(out, known ? day_text(out->arena, day) : "");
    years_cells(out, least.broken, known ? least.known : 0);
}

/* The risk is of the whole day, and stands in each of its rows. */
static void print_condition(struct buffer *out, const struct season *season,
                            const struct occurrence *occurrence, const struct bound *bound)
{
    struct weather_look look = watch_day(bound->watch, occurrence->day);
    struct weather_odds odds = watch_odds(bound->watch, occurrence->day);
    uint32_t line = source_line_number(bound->place.source, bound->place.start);
    print_start(out, occurrence);
    csv_text(out, place_words(out->arena, bound->place));
    csv_text(out, bound->place.source->path);
    csv_plain(out, text_format(out->arena, "%u", (unsigned)line));
    csv_plain(out, verdict_text(look.verdict));
    csv_text(out, weather_text(out->arena, season->model, watch_condition(bound->watch), &look));
    years_cells(out, odds.kept, odds.known);
    print_risk(out, season, occurrence);
    csv_end(out);
}

void weather_csv_print(struct buffer *out, const struct result_input *input)
{
    const struct season *season = input->season;
    buffer_add_string(out,
                      "date,weekday,treatment,time,of,statement,file,line,verdict,weather,kept years,kept of,"
                      "not so years,not so of,least risk on,least risk years,least risk of\r\n");
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        const struct bound *bound;
        for (uint32_t at = 0; (bound = season_weather_bound(season, occurrence, &at)) != NULL;)
            print_condition(out, season, occurrence, bound);
    }
}
