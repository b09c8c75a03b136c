/* Any bytes as a file of daily weather: each day that is kept stands once, in order, with values that can be,
 * and every report points into the file; then the weather of the days is known as the rows say. */
#include "compiler/model/weather_file.h"
#include "compiler/season/watch.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define DEMAND(condition)                                                                                    \
    do {                                                                                                     \
        if (!(condition))                                                                                    \
            abort();                                                                                         \
    } while (0)

enum { DAYS_LOOKED_AT = 2000 };

static struct named_column named(const char *name)
{
    return (struct named_column){.name = text_of(name), .stated = true};
}

static struct weather_column column(const char *name, double factor, double offset)
{
    return (struct weather_column){.named = named(name), .factor = factor, .offset = offset};
}

/* The columns that most inputs are given; one in two brings a header of its own. */
static const char HEADER[] = "d,h,l,r,s\n";

static void demand_possible(double value, double least, double most)
{
    DEMAND(isnan(value) || (value >= least && value <= most));
}

static void demand_rows(const struct weather_series *series, const struct source *source)
{
    for (size_t i = 0; i < series->rows.count; i++) {
        const struct weather_row *row = &series->rows.items[i];
        DEMAND(i == 0 || series->rows.items[i - 1].day < row->day);
        DEMAND(row->place.source == source && row->place.start <= row->place.end &&
               row->place.end <= source->length);
        demand_possible(row->high, 173, 344);
        demand_possible(row->low, 173, 344);
        demand_possible(row->soil, 173, 344);
        demand_possible(row->rain, 0, 2);
        DEMAND(!(row->high < row->low - 1e-6));
    }
}

static void demand_places(const struct reports *reports, const struct source *source)
{
    for (size_t i = 0; i < reports->all.count; i++) {
        struct place place = reports->all.items[i]->place;
        DEMAND(!place.source ||
               (place.source == source && place.start <= place.end && place.end <= source->length));
    }
}

static void demand_weather(struct arena *arena, const struct weather *weather)
{
    const struct weather_series *history = &weather->history;
    day_number first = history->rows.items[0].day, last = history->rows.items[history->rows.count - 1].day;
    if (last - first > DAYS_LOOKED_AT)
        return;
    const struct climate *climate = climate_make(arena, weather, first, last);
    struct weather_condition condition = {
        .quantity = WEATHER_SOIL, .side = SIDE_ABOVE, .limit = 286, .from = -2, .years = 1, .of = 2};
    const struct watch *watch = watch_make(arena, climate, &condition);
    for (size_t i = 0; i < history->rows.count; i++) {
        const struct weather_row *row = &history->rows.items[i];
        struct reading high = climate_reading(climate, WEATHER_HIGH, row->day);
        DEMAND(isnan(row->high) ||
               (high.origin == READING_MEASURED && !(high.value < row->high) && !(high.value > row->high)));
        struct weather_odds odds = watch_day(watch, row->day).odds;
        DEMAND(odds.kept <= odds.known);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena arena;
    struct names names;
    struct reports reports;
    struct source source;
    arena_init(&arena, NULL);
    names_init(&names, &arena);
    reports_init(&reports, &arena);
    struct buffer bytes = {.arena = &arena};
    buffer_add_string(&bytes, size && data[0] % 2 ? "" : HEADER);
    buffer_add(&bytes, (struct text){(const char *)data, size});
    source_init(&source, &arena, "days.csv", (const unsigned char *)buffer_string(&bytes),
                (uint32_t)bytes.length);
    struct model model = {.arena = &arena, .names = &names, .reports = &reports};
    struct weather_file file = {
        .data = {.model = &model, .path = text_of("days.csv")}, .date = named("d"), .soil_depth_m = 0.1};
    file.columns[WEATHER_HIGH] = column("h", 1, 273.15);
    file.columns[WEATHER_LOW] = column("l", 1, 273.15);
    file.columns[WEATHER_RAIN] = column("r", 0.001, 0);
    file.columns[WEATHER_SOIL] = column("s", 5. / 9, 459.67 * 5 / 9);
    struct weather weather = {.stated = true};
    weather.history.soil_depth_m = NAN;
    for (int month = 0; month <= 12; month++)
        weather.high[month] = weather.low[month] = weather.rain[month] = weather.soil[month] = NAN;
    bool sound = weather_file_read(&file, &source, &weather.history);
    bool once = weather_series_finish(&model, &weather.history);
    DEMAND((sound && once) == (reports.errors == 0));
    demand_places(&reports, &source);
    if (once)
        demand_rows(&weather.history, &source);
    if (sound && once)
        demand_weather(&arena, &weather);
    arena_free(&arena);
    return 0;
}
