#include "compiler/model/weather_file.h"

#include "compiler/model/tolerance.h"

#include <stdlib.h>

/* ---- cells ---- */

/* Parts between marks, or eight digits in a row where the year comes first. A year has four digits, so that
 * 04-05-06 is not a date in any order. */
static bool read_date(struct weather_file *file, day_number *day)
{
    static const int places[][3] = {[DATE_YEAR_MONTH_DAY] = {0, 1, 2},
                                    [DATE_MONTH_DAY_YEAR] = {2, 0, 1},
                                    [DATE_DAY_MONTH_YEAR] = {2, 1, 0}};
    const int *place = places[file->order];
    const struct csv_cell *cell = &file->data.row.cells[file->date.at];
    struct civil_date date = {0};
    /* Whole numbers with marks between; anything from a `T` or blank on is a time of day. */
    int parts[3] = {0};
    size_t digits[3] = {0}, count = 0, length = 0;
    bool inside = false, sound = true;
    while (length < cell->text.length && cell->text.start[length] != 'T' && cell->text.start[length] != ' ')
        length++;
    for (size_t i = 0; i < length && sound; i++) {
        char byte = cell->text.start[i];
        bool digit = byte >= '0' && byte <= '9';
        count += digit && !inside;
        sound = digit ? count <= 3 && ++digits[count - 1] <= 8
                      : inside && (byte == '-' || byte == '/' || byte == '.');
        if (digit && sound)
            parts[count - 1] = parts[count - 1] * 10 + (byte - '0');
        inside = digit;
    }
    sound = sound && inside;
    if (sound && count == 3 && digits[place[0]] == 4 && digits[place[1]] <= 2 && digits[place[2]] <= 2)
        date = (struct civil_date){parts[place[0]], parts[place[1]], parts[place[2]]};
    else if (sound && count == 1 && digits[0] == 8 && file->order == DATE_YEAR_MONTH_DAY)
        date = (struct civil_date){parts[0] / 10000, parts[0] / 100 % 100, parts[0] % 100};
    if (!date_valid(date))
        return data_file_complain_of_cell(&file->data, RULE_WEATHER, cell, "is not a date",
                                          "dates are read as 2027-04-17; for another order, write, for "
                                          "example: date \"day\" as month-day-year");
    *day = day_of_date(date);
    return true;
}

/* NAN where the file has no such column, or the cell no value. */
static bool read_value(struct weather_file *file, enum weather_quantity quantity, double *value)
{
    static const char *const names[WEATHER_QUANTITY_COUNT] = {[WEATHER_HIGH] = "high",
                                                              [WEATHER_LOW] = "low",
                                                              [WEATHER_SOIL] = "soil temperature",
                                                              [WEATHER_RAIN] = "day's rain"};
    const struct weather_column *column = &file->columns[quantity];
    *value = NAN;
    if (!column->named.stated)
        return true;
    const struct csv_cell *cell = &file->data.row.cells[column->named.at];
    double number;
    if (data_file_missing(&file->data, cell->text))
        return true;
    if (!csv_number(cell->text, &number))
        return data_file_complain_of_cell(&file->data, RULE_WEATHER, cell, "is not a number",
                                          "if it marks a missing value, add, for example: missing \"NA\"");
    *value = number * column->factor + column->offset;
    /* The coldest and hottest air ever measured are -89.2 and 56.7 C, the most rain of a day 1.825 m (World
     * Meteorological Organization's archive of extremes, from memory); soil in the sun is hotter than air. */
    if (quantity == WEATHER_RAIN ? *value >= 0 && *value < 2 : *value > 173.15 && *value < 343.15)
        return true;
    return data_file_complain_of_cell(
        &file->data, RULE_WEATHER, cell,
        text_format(file->data.model->arena, "is not a %s ever recorded on earth", names[quantity]),
        "check the unit of its column; if it marks a missing value, add, for example: missing \"-9999\"");
}

/* ---- rows ---- */

/* Days of the file behind those of the files before it; rows with a mistake are reported and left out. */
bool weather_file_read(struct weather_file *file, const struct source *source, struct weather_series *series)
{
    struct data_file *data = &file->data;
    /* Temperatures of two depths are two things: all files of a series measure the soil at one. */
    const struct weather_column *soil = &file->columns[WEATHER_SOIL];
    if (soil->named.stated) {
        if (!isnan(series->soil_depth_m) && fabs(series->soil_depth_m - file->soil_depth_m) > 1e-9) {
            report_add(data->model->reports, &model_rules[RULE_VALUE], soil->named.place,
                       "another file measured the soil at another depth");
            return false;
        }
        series->soil_depth_m = file->soil_depth_m;
    }
    if (!data_file_header(data, source))
        return false;
    bool found = data_file_column(data, &file->date);
    for (size_t i = 0; i < WEATHER_QUANTITY_COUNT; i++)
        if (file->columns[i].named.stated)
            found = data_file_column(data, &file->columns[i].named) && found;
    if (!found)
        return false;
    size_t before = series->rows.count;
    while (data_file_row(data)) {
        struct weather_row day = {.place = data->row.place};
        if (!read_date(file, &day.day) || !read_value(file, WEATHER_HIGH, &day.high) ||
            !read_value(file, WEATHER_LOW, &day.low) || !read_value(file, WEATHER_RAIN, &day.rain) ||
            !read_value(file, WEATHER_SOIL, &day.soil))
            continue;
        if (exceeds(day.low, day.high))
            data_file_complain(data, RULE_WEATHER, day.place, "the high of this day is below its low",
                               "check which column is which");
        else
            VECTOR_PUSH(data->model->arena, &series->rows, day);
    }
    if (series->rows.count == before && data->bad_rows == 0)
        report_add(data->model->reports, &model_rules[RULE_CSV], data->path_place,
                   "this file has no day below its first row");
    return data->bad_rows == 0 && series->rows.count > before;
}

/* ---- the whole series ---- */

static int by_day(const void *a, const void *b)
{
    const struct weather_row *first = a, *second = b;
    int day = ascending(first->day, second->day);
    int file = ascending(first->place.source->index, second->place.source->index);
    return day ? day : file ? file : ascending(first->place.start, second->place.start);
}

/* Files that overlap would count a day twice. */
bool weather_series_finish(struct model *model, struct weather_series *series)
{
    struct weather_row *rows = series->rows.items;
    size_t twice = 0;
    if (series->rows.count)
        qsort(rows, series->rows.count, sizeof *rows, by_day);
    for (size_t i = 1; i < series->rows.count; i++) {
        if (rows[i].day != rows[i - 1].day || twice++ >= BAD_ROWS_TOLD)
            continue;
        struct report *report = report_add(model->reports, &model_rules[RULE_WEATHER], rows[i].place,
                                           "%s is here twice", day_text(model->arena, rows[i].day));
        report_label(model->reports, report, rows[i - 1].place, "first stated here");
    }
    return twice == 0;
}
