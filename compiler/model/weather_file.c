#include "compiler/model/weather_file.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/csv.h"

#include <stdlib.h>
#include <string.h>

/* ---- what the block says ---- */

static bool complain_of_column(struct model *model, const struct file_column *column, const char *sentence)
{
    report_add(model->reports, &model_rules[RULE_VALUE], column->place, "%s", sentence);
    return false;
}

bool weather_file_complete(struct model *model, const struct weather_file *file)
{
    size_t stated = 0;
    bool sound = true;
    for (size_t i = 0; i < WEATHER_QUANTITY_COUNT; i++) {
        stated += file->columns[i].stated;
        if (file->columns[i].stated && file->columns[i].factor <= 0)
            sound = complain_of_column(model, &file->columns[i], "nothing can be counted in zeros");
    }
    if (file->date.stated && stated)
        return sound;
    struct report *report =
        report_add(model->reports, &model_rules[RULE_MISSING], file->place, "this file has no column of %s",
                   file->date.stated ? "weather" : "dates");
    report_help(model->reports, report, "write, for example: %s",
                file->date.stated ? "high \"warmest\" in C" : "date \"day\"");
    return false;
}

/* ---- the header ---- */

struct reading_file {
    struct model *model;
    const struct weather_file *file;
    struct csv csv;
    struct csv_row row;
    size_t width; /* cells of a row */
    size_t date_at, column_at[WEATHER_QUANTITY_COUNT];
    size_t bad_rows;
};

static struct report *complain_of_csv(struct reading_file *reading, struct place place, const char *sentence)
{
    return report_add(reading->model->reports, &model_rules[RULE_CSV], place, "%s", sentence);
}

enum { COLUMNS_LISTED = 20 };

static const char *columns_listed(const struct reading_file *reading)
{
    struct buffer list = {.arena = reading->model->arena};
    for (size_t i = 0; i < reading->row.count && i < COLUMNS_LISTED; i++) {
        buffer_add_string(&list, i ? ", " : "");
        buffer_add(&list, reading->row.cells[i].text);
    }
    buffer_add_string(&list, reading->row.count > COLUMNS_LISTED ? ", ..." : "");
    return buffer_string(&list);
}

/* Other programs part cells by semicolons or tabs and call it CSV all the same. */
static bool parted_otherwise(const struct reading_file *reading)
{
    struct text only = reading->row.cells[0].text;
    return reading->row.count == 1 &&
           (memchr(only.start, ';', only.length) || memchr(only.start, '\t', only.length));
}

static bool find_column(struct reading_file *reading, const struct file_column *column, size_t *at)
{
    size_t found = 0;
    for (size_t i = 0; i < reading->row.count; i++)
        if (text_equal(reading->row.cells[i].text, column->name)) {
            *at = i;
            found++;
        }
    if (found == 1)
        return true;
    int length = (int)column->name.length;
    struct report *report = complain_of_csv(
        reading, column->place,
        text_format(reading->model->arena,
                    found ? "\"%s\" has several columns \"%.*s\"" : "\"%s\" has no column \"%.*s\"",
                    text_string(reading->model->arena, reading->file->path), length, column->name.start));
    report_help(reading->model->reports, report, "its first row has the columns %s", columns_listed(reading));
    report_label(reading->model->reports, report, reading->row.place, "its first row");
    return false;
}

static bool read_header(struct reading_file *reading)
{
    enum csv_status status = csv_next(&reading->csv, &reading->row);
    if (status != CSV_ROW) {
        complain_of_csv(reading, status == CSV_END ? reading->file->path_place : reading->csv.problem_place,
                        status == CSV_END ? "this file has no rows" : reading->csv.problem);
        return false;
    }
    if (parted_otherwise(reading)) {
        complain_of_csv(reading, reading->row.place, "the cells of this file are not parted by commas")
            ->help = "save it as CSV with commas";
        return false;
    }
    reading->width = reading->row.count;
    bool sound = find_column(reading, &reading->file->date, &reading->date_at);
    for (size_t i = 0; i < WEATHER_QUANTITY_COUNT; i++)
        if (reading->file->columns[i].stated)
            sound = find_column(reading, &reading->file->columns[i], &reading->column_at[i]) && sound;
    return sound;
}

/* ---- cells ---- */

static bool complain_of_row(struct reading_file *reading, enum model_rule rule, struct place place,
                            const char *sentence, const char *help)
{
    if (reading->bad_rows++ < BAD_ROWS_TOLD)
        report_add(reading->model->reports, &model_rules[rule], place, "%s", sentence)->help = help;
    return false;
}

static bool complain_of_cell(struct reading_file *reading, const struct csv_cell *cell, const char *what,
                             const char *help)
{
    struct text text = cell->text;
    enum { SHOWN = 40 };
    return complain_of_row(reading, RULE_WEATHER, cell->place,
                           text_format(reading->model->arena, "`%.*s` is no %s",
                                       (int)(text.length < SHOWN ? text.length : SHOWN), text.start, what),
                           help);
}

static bool parts_date(char mark)
{
    return mark == '-' || mark == '/' || mark == '.';
}

/* Whole numbers between other marks: "2012-01-31", "1/31/2012", or eight digits in a row. Anything from a `T`
 * or blank on is a time of day. */
static size_t parts_of_date(struct text text, int parts[3], size_t digits[3])
{
    size_t count = 0;
    bool inside = false;
    for (size_t i = 0; i < text.length && text.start[i] != 'T' && text.start[i] != ' '; i++) {
        bool digit = text.start[i] >= '0' && text.start[i] <= '9';
        if (!digit && (!inside || !parts_date(text.start[i])))
            return 0;
        if (digit && !inside) {
            if (count == 3)
                return 0;
            parts[count] = 0;
            digits[count++] = 0;
        }
        if (digit && ++digits[count - 1] > 8)
            return 0;
        if (digit)
            parts[count - 1] = parts[count - 1] * 10 + (text.start[i] - '0');
        inside = digit;
    }
    return inside ? count : 0;
}

static bool date_of_parts(enum date_order order, const int parts[3], const size_t digits[3],
                          struct civil_date *date)
{
    static const int places[][3] = {[DATE_YEAR_MONTH_DAY] = {0, 1, 2},
                                    [DATE_MONTH_DAY_YEAR] = {2, 0, 1},
                                    [DATE_DAY_MONTH_YEAR] = {2, 1, 0}};
    const int *place = places[order];
    *date = (struct civil_date){parts[place[0]], parts[place[1]], parts[place[2]]};
    return digits[place[0]] == 4 && digits[place[1]] <= 2 && digits[place[2]] <= 2 && date_valid(*date);
}

static bool read_date(struct reading_file *reading, day_number *day)
{
    const struct csv_cell *cell = &reading->row.cells[reading->date_at];
    struct civil_date date = {0};
    int parts[3];
    size_t digits[3];
    size_t count = parts_of_date(cell->text, parts, digits);
    bool sound = count == 3 && date_of_parts(reading->file->order, parts, digits, &date);
    if (count == 1 && digits[0] == 8 && reading->file->order == DATE_YEAR_MONTH_DAY) {
        date = (struct civil_date){parts[0] / 10000, parts[0] / 100 % 100, parts[0] % 100};
        sound = date_valid(date);
    }
    if (!sound)
        return complain_of_cell(
            reading, cell, "date",
            "dates are read as 2027-04-17; for another order of the parts say, for example, "
            "date \"day\" as month-day-year");
    *day = day_of_date(date);
    return true;
}

static bool is_missing(const struct reading_file *reading, struct text text)
{
    for (size_t i = 0; i < reading->file->missing.count; i++)
        if (text_equal(reading->file->missing.items[i], text))
            return true;
    return text.length == 0;
}

/* The coldest and hottest air ever measured are -89.2 and 56.7 C, the most rain of a day 1.825 m (World
 * Meteorological Organization's archive of extremes, from memory); soil in the sun is hotter than air. */
static bool possible(enum weather_quantity quantity, double value)
{
    return quantity == WEATHER_RAIN ? value >= 0 && value < 2 : value > 173.15 && value < 343.15;
}

static bool read_value(struct reading_file *reading, enum weather_quantity quantity, double *value)
{
    static const char *const names[WEATHER_QUANTITY_COUNT] = {[WEATHER_HIGH] = "high",
                                                              [WEATHER_LOW] = "low",
                                                              [WEATHER_SOIL] = "soil temperature",
                                                              [WEATHER_RAIN] = "rain of a day"};
    const struct file_column *column = &reading->file->columns[quantity];
    *value = NAN;
    if (!column->stated)
        return true;
    const struct csv_cell *cell = &reading->row.cells[reading->column_at[quantity]];
    double number;
    if (is_missing(reading, cell->text))
        return true;
    if (!csv_number(cell->text, &number))
        return complain_of_cell(reading, cell, "number",
                                "where it stands for a missing value, name it, for example: missing \"NA\"");
    *value = number * column->factor + column->offset;
    if (possible(quantity, *value))
        return true;
    return complain_of_cell(
        reading, cell, text_format(reading->model->arena, "%s that was ever seen on earth", names[quantity]),
        "look at the unit of its column; a number that stands for a missing value is named by, for example: "
        "missing \"-9999\"");
}

/* ---- rows ---- */

static bool read_day(struct reading_file *reading, struct weather_row *day)
{
    day->place = reading->row.place;
    if (reading->row.count != reading->width)
        return complain_of_row(reading, RULE_CSV, reading->row.place,
                               text_format(reading->model->arena,
                                           "this row has %zu cells; the first row has %zu",
                                           reading->row.count, reading->width),
                               NULL);
    if (!read_date(reading, &day->day) || !read_value(reading, WEATHER_HIGH, &day->high) ||
        !read_value(reading, WEATHER_LOW, &day->low) || !read_value(reading, WEATHER_RAIN, &day->rain) ||
        !read_value(reading, WEATHER_SOIL, &day->soil))
        return false;
    if (exceeds(day->low, day->high))
        return complain_of_row(reading, RULE_WEATHER, day->place, "the high of this day is below its low",
                               "look at which column is which");
    return true;
}

static void read_rows(struct reading_file *reading, struct weather_series *series)
{
    for (;;) {
        struct weather_row day;
        enum csv_status status = csv_next(&reading->csv, &reading->row);
        if (status == CSV_END)
            return;
        if (status == CSV_BAD)
            complain_of_row(reading, RULE_CSV, reading->csv.problem_place, reading->csv.problem, NULL);
        else if (read_day(reading, &day))
            VECTOR_PUSH(reading->model->arena, &series->rows, day);
    }
}

static bool take_depth(struct model *model, const struct weather_file *file, struct weather_series *series)
{
    const struct file_column *soil = &file->columns[WEATHER_SOIL];
    if (!soil->stated)
        return true;
    if (!isnan(series->soil_depth_m) && fabs(series->soil_depth_m - file->soil_depth_m) > 1e-9)
        return complain_of_column(model, soil, "another file measured the soil at another depth");
    series->soil_depth_m = file->soil_depth_m;
    return true;
}

bool weather_file_read(struct model *model, const struct weather_file *file, const struct source *source,
                       struct weather_series *series)
{
    struct reading_file reading = {.model = model, .file = file};
    csv_open(&reading.csv, model->arena, source);
    if (!take_depth(model, file, series) || !read_header(&reading))
        return false;
    size_t before = series->rows.count;
    read_rows(&reading, series);
    if (reading.bad_rows > BAD_ROWS_TOLD)
        report_add(model->reports, &model_rules[RULE_CSV], file->path_place,
                   "%zu rows of this file are in error; the first %d are told", reading.bad_rows,
                   BAD_ROWS_TOLD);
    else if (series->rows.count == before && reading.bad_rows == 0)
        report_add(model->reports, &model_rules[RULE_CSV], file->path_place,
                   "this file has no day below its first row");
    return reading.bad_rows == 0 && series->rows.count > before;
}

/* ---- the whole series ---- */

static int by_day(const void *a, const void *b)
{
    const struct weather_row *first = a, *second = b;
    if (first->day != second->day)
        return first->day < second->day ? -1 : 1;
    if (first->place.source != second->place.source)
        return first->place.source->index < second->place.source->index ? -1 : 1;
    return first->place.start < second->place.start ? -1 : first->place.start > second->place.start;
}

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
                                           "%s stands twice", day_text(model->arena, rows[i].day));
        report_label(model->reports, report, rows[i - 1].place, "it stands here already");
    }
    return twice == 0;
}
