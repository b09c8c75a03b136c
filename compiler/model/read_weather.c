/* The weather a plan counts on: monthly means, and files of days that went by or are forecast. */
#include "compiler/model/include.h"
#include "compiler/model/read.h"
#include "compiler/model/weather_file.h"

#include <math.h>

static void finish_weather(const struct stated *stated)
{
    struct model *model = stated->model;
    struct symbol *symbol = stated->subject;
    bool history = weather_series_finish(model, &model->weather.history);
    bool forecast = weather_series_finish(model, &model->weather.forecast);
    symbol->broken = symbol->broken || !history || !forecast;
    model->weather.broken = symbol->broken;
}

void read_weather(const struct stated *stated)
{
    stated->model->weather.stated = true;
    stated->model->weather.place = stated->clause->place;
    body_later(stated, object_new(stated, NULL, sizeof(struct symbol)), PHASE_PRODUCT, finish_weather);
}

/* Every row is read, for its own mistakes: a month that is there twice would silently replace the first. Of a
 * month the rain is in m, temperatures in K: nowhere on earth does a month rain 10 m, or stay below -100 C or
 * above 70 C. */
void read_weather_normals(const struct stated *stated)
{
    static const struct column_form columns[] = {
        {.name = "high", .kind = WEATHER_HIGH, .needs_unit = true, .dimension = {.temperature = 1}},
        {.name = "low", .kind = WEATHER_LOW, .needs_unit = true, .dimension = {.temperature = 1}},
        {.name = "soil", .kind = WEATHER_SOIL, .needs_unit = true, .dimension = {.temperature = 1}},
        {.name = "rain", .kind = WEATHER_RAIN, .needs_unit = true, .dimension = {.length = 1}},
        {0},
    };
    struct model *model = stated->model;
    struct weather *weather = &model->weather;
    double *normals[WEATHER_QUANTITY_COUNT] = {[WEATHER_HIGH] = weather->high,
                                               [WEATHER_LOW] = weather->low,
                                               [WEATHER_RAIN] = weather->rain,
                                               [WEATHER_SOIL] = weather->soil};
    const struct clause *clause = stated->clause;
    struct table table;
    bool whole = table_read(model, clause->tree, clause->statement->block, "month", columns, -1, &table);
    bool sound = whole;
    for (size_t r = 0; whole && r < table.row_count; r++) {
        const struct table_row *row = &table.rows[r];
        int month = month_of_text(row->name->text);
        if (!month || weather->month_place[month].source) {
            struct report *report = report_add(model->reports, &model_rules[RULE_TABLE], row->place,
                                               month ? "%s is here twice" : "`%s` is not a month",
                                               month ? month_name(month) : name_string(row->name));
            if (month)
                report_label(model->reports, report, weather->month_place[month], "first stated here");
            sound = false;
            continue;
        }
        weather->month_place[month] = row->place;
        for (size_t i = 0; i < table.column_count; i++) {
            enum weather_quantity quantity = (enum weather_quantity)table.columns[i].kind;
            double number = row->cells[i].number;
            bool rain = quantity == WEATHER_RAIN;
            if (!isnan(number) && !(rain ? number < 10 : number > 173.15 && number < 343.15)) {
                report_add(model->reports, &model_rules[RULE_VALUE], row->cells[i].place,
                           "a month cannot have this %s", rain ? "rain" : "temperature");
                sound = false;
            }
            normals[quantity][month] = number;
        }
    }
    if (!sound)
        ((struct symbol *)stated->subject)->broken = true;
}

/* ---- files ---- */

/* `from` adds days gone by, `forecast from` days ahead. */
void read_weather_series(const struct stated *stated)
{
    struct model *model = stated->model;
    const struct clause *clause = stated->clause;
    struct weather_series *series =
        form_says(clause->form, "forecast") ? &model->weather.forecast : &model->weather.history;
    struct weather_file file = {.data = data_file_of(stated)};
    if (!series->place.source)
        series->place = clause->place;
    bool sound = block_read(model, clause->tree, clause->statement->block, BLOCK_SERIES, &file);

    /* A file needs a column of dates and one of weather; both are named in the plan. */
    bool described = sound, stated_any = false;
    for (size_t i = 0; i < WEATHER_QUANTITY_COUNT && described; i++) {
        const struct weather_column *column = &file.columns[i];
        stated_any = stated_any || column->named.stated;
        if (column->named.stated && column->factor <= 0) {
            report_add(model->reports, &model_rules[RULE_VALUE], column->named.place,
                       "a unit cannot be zero");
            sound = false;
        }
    }
    if (described && !(file.date.stated && stated_any)) {
        struct report *report =
            report_add(model->reports, &model_rules[RULE_MISSING], file.data.place,
                       "this file has no column of %s", file.date.stated ? "weather" : "dates");
        report_help(model->reports, report, "write, for example: %s",
                    file.date.stated ? "high \"warmest\" in C" : "date \"day\"");
        sound = false;
    }
    const struct source *source = sources_read(model->sources, model->reports, clause->tree->source,
                                               file.data.path, file.data.path_place);
    if (!sound || !source || !weather_file_read(&file, source, series))
        ((struct symbol *)stated->subject)->broken = true;
}

void read_series_date(const struct stated *stated)
{
    struct weather_file *file = stated->subject;
    const struct value *order = slot_value(stated, "order");
    file->date = column_named(slot_value(stated, "column"));
    file->order = order ? (enum date_order)(int)order->number : DATE_YEAR_MONTH_DAY;
}

/* A column of the quantity that the form is for. */
void read_series_column(const struct stated *stated)
{
    struct weather_file *file = stated->subject;
    const struct value *scale = slot_value(stated, "scale"), *unit = slot_value(stated, "unit");
    const struct value *depth = slot_value(stated, "depth");
    file->columns[stated->clause->form->which] =
        (struct weather_column){.named = column_named(slot_value(stated, "column")),
                                .factor = unit->number * (scale ? scale->number : 1),
                                .offset = unit->high * unit->number};
    if (depth)
        file->soil_depth_m = depth->number;
}
