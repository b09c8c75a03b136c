/* Prints, for weather.check, what the library makes of weather:
 *
 *   weather PLAN                          a line for each day of the plan's history and of its season
 *   weather --normals LEAP MEAN...        the days of a year from twelve monthly means, `-` for none
 *
 * Temperatures in C, degree days in F, rain in mm; a reading that is not known is `nan`. */
#include "compiler/model/include.h"
#include "compiler/season/degree_sum.h"
#include "compiler/season/season.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static double fahrenheit(double value)
{
    return (value + 459.67) * 5 / 9;
}

static int print_normals(char **arguments)
{
    double monthly[13] = {NAN}, daily[YEAR_DAYS];
    bool leap = arguments[0][0] == '1';
    for (int month = 1; month <= 12; month++)
        monthly[month] = strcmp(arguments[month], "-") == 0 ? NAN : strtod(arguments[month], NULL);
    normals_daily(monthly, leap, daily);
    for (int day = 0; day < 365 + leap; day++)
        printf("%.17g\n", daily[day]);
    return 0;
}

enum { RULES = 4 };

struct asked {
    const struct climate *climate;
    struct degree_rule rules[RULES];
    const struct degree_sum *sums[RULES];
    const struct watch *mean, *hot, *dry;
};

static const struct asked *ask(struct arena *arena, const struct climate *climate, day_number new_year)
{
    static const struct weather_condition mean = {
        .quantity = WEATHER_MEAN, .side = SIDE_ABOVE, .way = WAY_MEAN, .from = -6};
    static const struct weather_condition dry = {
        .quantity = WEATHER_RAIN, .side = SIDE_BELOW, .limit = 0.001, .to = 1};
    static struct weather_condition hot = {.quantity = WEATHER_HIGH, .side = SIDE_BELOW};
    struct asked *asked = ARENA_NEW(arena, struct asked);
    hot.limit = fahrenheit(85);
    *asked = (struct asked){.climate = climate,
                            .rules = {{fahrenheit(50), INFINITY, false},
                                      {fahrenheit(50), INFINITY, true},
                                      {fahrenheit(32), INFINITY, false},
                                      {fahrenheit(50), fahrenheit(86), true}},
                            .mean = watch_make(arena, climate, &mean),
                            .hot = watch_make(arena, climate, &hot),
                            .dry = watch_make(arena, climate, &dry)};
    for (int i = 0; i < RULES; i++)
        asked->sums[i] = degree_sums_make(arena, climate, &asked->rules[i], new_year);
    return asked;
}

static void print_day(struct arena *arena, const struct asked *asked, day_number day)
{
    static const enum weather_quantity temperatures[] = {WEATHER_HIGH, WEATHER_LOW, WEATHER_MEAN,
                                                         WEATHER_SOIL};
    printf("%s", day_text(arena, day));
    for (int i = 0; i < 4; i++)
        printf(" %.17g", climate_reading(asked->climate, temperatures[i], day).value - 273.15);
    printf(" %.17g", climate_reading(asked->climate, WEATHER_RAIN, day).value * 1000);
    printf(" %.17g", watch_day(asked->mean, day).value - 273.15);
    for (int i = 0; i < RULES; i++) {
        struct reading high = climate_reading(asked->climate, WEATHER_HIGH, day);
        struct reading low = climate_reading(asked->climate, WEATHER_LOW, day);
        printf(" %.17g %.17g", degree_days(&asked->rules[i], high.value, low.value) * 9 / 5,
               asked->sums[i][day - asked->climate->first].sum * 9 / 5);
    }
    struct weather_odds hot = watch_odds(asked->hot, day), dry = watch_odds(asked->dry, day);
    printf(" %d %d %d %d\n", hot.kept, hot.known, dry.kept, dry.known);
}

static int print_days(const char *path)
{
    struct arena arena;
    struct names names;
    struct reports reports;
    struct source *plan;
    const char *reason;
    arena_init(&arena, NULL);
    names_init(&names, &arena);
    reports_init(&reports, &arena);
    struct sources *sources = sources_new(&arena, NULL, NULL);
    if (sources_open_plan(sources, path, NULL, &plan, &reason) != SOURCE_READ)
        return 1;
    struct season *season = season_build(model_build(&arena, &names, &reports, sources, plan), true);
    if (reports.errors || !season->climate)
        return 1;
    day_number new_year =
        day_of_date((struct civil_date){date_of_day(season->model->season_first).year, 1, 1});
    const struct asked *asked = ask(&arena, season->climate, new_year);
    const struct weather_series *history = &season->model->weather.history;
    for (size_t i = 0; i < history->rows.count; i++)
        print_day(&arena, asked, history->rows.items[i].day);
    for (day_number day = new_year; day <= season->model->season_last; day++)
        print_day(&arena, asked, day);
    arena_free(&arena);
    return 0;
}

int main(int count, char **arguments)
{
    if (count == 15 && strcmp(arguments[1], "--normals") == 0)
        return print_normals(arguments + 2);
    return count == 2 ? print_days(arguments[1]) : 2;
}
