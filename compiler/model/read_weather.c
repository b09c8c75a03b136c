/* The weather a plan counts on: monthly means, and files of days that went by or are forecast. */
#include "compiler/model/weather_file.h"

#include "compiler/model/include.h"
#include "compiler/model/read.h"

#include <math.h>

static void finish_weather(struct model *model, const struct clause *clause, struct symbol *subject)
{
    (void)clause;
    bool history = weather_series_finish(model, &model->weather.history);
    bool forecast = weather_series_finish(model, &model->weather.forecast);
    if (!history || !forecast)
        subject->broken = true;
    model->weather.broken = subject->broken;
}

void read_weather(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct symbol *symbol = symbol_new(model, clause, NULL, sizeof *symbol);
    model->weather.stated = true;
    model->weather.place = clause->place;
    body_later(model, clause, symbol, PHASE_PRODUCT, finish_weather);
}

enum normals_column { COLUMN_HIGH, COLUMN_LOW, COLUMN_RAIN, COLUMN_SOIL };

static bool check_normal(struct model *model, int column, const struct table_cell *cell)
{
    bool possible =
        column == COLUMN_RAIN ? cell->number < 10 : cell->number > 173.15 && cell->number < 343.15;
    if (isnan(cell->number) || possible)
        return true;
    report_add(model->reports, &model_rules[RULE_VALUE], cell->place, "no month on earth has this %s",
               column == COLUMN_RAIN ? "rain" : "temperature");
    return false;
}

static bool read_month(struct model *model, const struct table *table, const struct table_row *row)
{
    struct weather *weather = &model->weather;
    int month = month_of_text(row->name->text);
    if (!month) {
        report_add(model->reports, &model_rules[RULE_TABLE], row->place, "`%s` is no month",
                   name_string(row->name));
        return false;
    }
    if (weather->month_place[month].source) {
        struct report *report = report_add(model->reports, &model_rules[RULE_TABLE], row->place,
                                           "%s stands twice", month_name(month));
        report_label(model->reports, report, weather->month_place[month], "it stands here already");
        return false;
    }
    weather->month_place[month] = row->place;
    bool sound = true;
    for (size_t i = 0; i < table->column_count; i++) {
        int column = table->columns[i].kind;
        double *normals[] = {weather->high, weather->low, weather->rain, weather->soil};
        bool fine = check_normal(model, column, &row->cells[i]);
        sound = sound && fine;
        normals[column][month] = row->cells[i].number;
    }
    return sound;
}

void read_weather_normals(struct model *model, const struct clause *clause, void *subject)
{
    static const struct column_form columns[] = {
        {.name = "high", .kind = COLUMN_HIGH, .needs_unit = true, .dimension = {.temperature = 1}},
        {.name = "low", .kind = COLUMN_LOW, .needs_unit = true, .dimension = {.temperature = 1}},
        {.name = "soil", .kind = COLUMN_SOIL, .needs_unit = true, .dimension = {.temperature = 1}},
        {.name = "rain", .kind = COLUMN_RAIN, .needs_unit = true, .dimension = {.length = 1}},
        {0},
    };
    struct table table;
    bool whole = table_read(model, clause->tree, clause->statement->block, "month", columns, -1, &table);
    bool sound = whole;
    for (size_t i = 0; whole && i < table.row_count; i++) {
        bool fine = read_month(model, &table, &table.rows[i]);
        sound = sound && fine;
    }
    if (!sound)
        ((struct symbol *)subject)->broken = true;
}

/* ---- files ---- */

static void read_series(struct model *model, const struct clause *clause, void *subject,
                        struct weather_series *series)
{
    const struct value *path = clause_value(clause, "file");
    struct weather_file file = {.place = clause->place, .path = path->text, .path_place = path->place};
    if (!series->place.source)
        series->place = clause->place;
    bool sound = block_read(model, clause->tree, clause->statement->block, BLOCK_SERIES, &file) &&
                 weather_file_complete(model, &file);
    const struct source *source =
        sources_read(model->sources, model->reports, clause->tree->source, path->text, path->place);
    if (!sound || !source || !weather_file_read(model, &file, source, series))
        ((struct symbol *)subject)->broken = true;
}

void read_weather_history(struct model *model, const struct clause *clause, void *subject)
{
    read_series(model, clause, subject, &model->weather.history);
}

void read_weather_forecast(struct model *model, const struct clause *clause, void *subject)
{
    read_series(model, clause, subject, &model->weather.forecast);
}

void read_series_date(struct model *model, const struct clause *clause, void *subject)
{
    struct weather_file *file = subject;
    const struct value *column = clause_value(clause, "column"), *order = clause_value(clause, "order");
    (void)model;
    file->date = (struct file_column){.name = column->text, .place = column->place, .stated = true};
    file->order = order ? (enum date_order)(int)order->number : DATE_YEAR_MONTH_DAY;
}

static void read_column(const struct clause *clause, void *subject, enum weather_quantity quantity)
{
    const struct value *column = clause_value(clause, "column"), *scale = clause_value(clause, "scale");
    const struct value *unit = clause_value(clause, "unit");
    ((struct weather_file *)subject)->columns[quantity] =
        (struct file_column){.name = column->text,
                             .place = column->place,
                             .stated = true,
                             .factor = unit->number * (scale ? scale->number : 1),
                             .offset = unit->high * unit->number};
}

void read_series_high(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    read_column(clause, subject, WEATHER_HIGH);
}

void read_series_low(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    read_column(clause, subject, WEATHER_LOW);
}

void read_series_rain(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    read_column(clause, subject, WEATHER_RAIN);
}

void read_series_soil(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    read_column(clause, subject, WEATHER_SOIL);
    ((struct weather_file *)subject)->soil_depth_m = clause_value(clause, "depth")->number;
}

void read_series_missing(struct model *model, const struct clause *clause, void *subject)
{
    struct weather_file *file = subject;
    VECTOR_PUSH(model->arena, &file->missing, clause_value(clause, "mark")->text);
}
