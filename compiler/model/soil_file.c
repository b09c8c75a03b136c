#include "compiler/model/soil_file.h"

#include "compiler/model/csv.h"
#include "compiler/model/include.h"
#include "compiler/model/read.h"

#include <math.h>
#include <string.h>

struct named_column { /* by its name in the file's first row */
    struct text name;
    struct place place;
    bool stated;
    size_t at; /* among the cells of a row */
};

struct soil_file_column {
    struct named_column figure, rating;
    struct table_column column;
};

struct soil_file { /* as a block describes it */
    struct place place;
    struct text path;
    struct place path_place;
    struct named_column spot;
    VECTOR(struct soil_file_column) columns;
    VECTOR(struct text) missing, only;
};

/* ---- what the block says ---- */

static struct named_column named(const struct value *column)
{
    return (struct named_column){.name = column->text, .place = column->place, .stated = true};
}

/* One of soil_columns; its unit, if it has one, is `factor` in SI. */
static void add_analyte(struct model *model, const struct clause *clause, struct soil_file *file,
                        const struct table_column *column)
{
    struct soil_file_column added = {.figure = named(clause_value(clause, "column")), .column = *column};
    added.column.place = clause->place;
    VECTOR_PUSH(model->arena, &file->columns, added);
}

static const struct column_form *form_named(const char *name)
{
    const struct column_form *form = soil_columns;
    while (strcmp(form->name, name) != 0)
        form++;
    return form;
}

static void add_plain(struct model *model, const struct clause *clause, void *subject, const char *name)
{
    const struct column_form *form = form_named(name);
    struct table_column column = {.kind = form->kind, .form = form, .factor = 1, .unit_text = ""};
    add_analyte(model, clause, subject, &column);
}

static void add_charge(struct model *model, const struct clause *clause, void *subject, const char *name)
{
    const struct column_form *form = form_named(name);
    const struct value *unit = clause_value(clause, "unit");
    struct table_column column = {.kind = unit->volume && form->other_kind ? form->other_kind : form->kind,
                                  .form = form,
                                  .factor = unit->number,
                                  .unit_text = text_string(model->arena, unit->text)};
    if (unit->volume && !form->other_kind) {
        report_add(model->reports, &model_rules[RULE_DIMENSION], unit->place,
                   "`%s` counts by the volume of the soil and not by its mass", column.unit_text);
        return;
    }
    add_analyte(model, clause, subject, &column);
}

void read_file_spot(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct soil_file *)subject)->spot = named(clause_value(clause, "column"));
}

void read_file_only(struct model *model, const struct clause *clause, void *subject)
{
    VECTOR_PUSH(model->arena, &((struct soil_file *)subject)->only, clause_value(clause, "name")->text);
}

void read_file_missing(struct model *model, const struct clause *clause, void *subject)
{
    VECTOR_PUSH(model->arena, &((struct soil_file *)subject)->missing, clause_value(clause, "mark")->text);
}

void read_file_ph(struct model *model, const struct clause *clause, void *subject)
{
    add_plain(model, clause, subject, "pH");
}

void read_file_buffer_ph(struct model *model, const struct clause *clause, void *subject)
{
    add_plain(model, clause, subject, "buffer-pH");
}

void read_file_organic_matter(struct model *model, const struct clause *clause, void *subject)
{
    add_plain(model, clause, subject, "organic-matter");
}

void read_file_cec(struct model *model, const struct clause *clause, void *subject)
{
    add_charge(model, clause, subject, "CEC");
}

void read_file_acidity(struct model *model, const struct clause *clause, void *subject)
{
    add_charge(model, clause, subject, "acidity");
}

void read_file_level(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_file *file = subject;
    const struct value *nutrient = clause_value(clause, "nutrient"), *unit = clause_value(clause, "unit");
    const struct value *rating = clause_value(clause, "rating");
    struct soil_file_column added = {.figure = named(clause_value(clause, "column")),
                                     .column = {.kind = ANALYTE_NUTRIENT,
                                                .nutrient = nutrient->nutrient,
                                                .index = unit->index,
                                                .factor = unit->number,
                                                .unit_text = text_string(model->arena, unit->text),
                                                .place = clause->place}};
    if (rating)
        added.rating = named(rating);
    for (size_t i = 0; i < file->columns.count; i++) {
        const struct table_column *other = &file->columns.items[i].column;
        if (!other->nutrient || other->nutrient->nutrient != nutrient->nutrient->nutrient)
            continue;
        struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], nutrient->place,
                                           "%s already has a column", nutrient->nutrient->name);
        report_label(model->reports, report, other->place, "its column");
        return;
    }
    VECTOR_PUSH(model->arena, &file->columns, added);
}

static bool file_complete(struct model *model, const struct soil_file *file)
{
    if (file->spot.stated && file->columns.count)
        return true;
    struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], file->place,
                                       file->spot.stated ? "no column of results is named"
                                                         : "the column of the spots' names is not named");
    report_help(model->reports, report, "write, for example: %s",
                file->spot.stated ? "level P \"P ppm\" in ppm" : "spot \"Sample ID\"");
    return false;
}

/* ---- the header ---- */

struct spots_reading {
    struct model *model;
    const struct soil_file *file;
    struct csv csv;
    struct csv_row row;
    size_t width; /* cells of a row */
    size_t bad_rows;
};

static bool complain(struct spots_reading *reading, struct place place, const char *sentence,
                     const char *help)
{
    if (reading->bad_rows++ < BAD_SPOTS_TOLD)
        report_add(reading->model->reports, &model_rules[RULE_CSV], place, "%s", sentence)->help = help;
    return false;
}

static const char *columns_listed(const struct spots_reading *reading)
{
    enum { LISTED = 40 };
    struct buffer list = {.arena = reading->model->arena};
    for (size_t i = 0; i < reading->row.count && i < LISTED; i++) {
        buffer_add_string(&list, i ? ", " : "");
        buffer_add(&list, reading->row.cells[i].text);
    }
    buffer_add_string(&list, reading->row.count > LISTED ? ", ..." : "");
    return buffer_string(&list);
}

static bool find_column(struct spots_reading *reading, struct named_column *column)
{
    size_t found = 0;
    for (size_t i = 0; i < reading->row.count; i++)
        if (text_equal(reading->row.cells[i].text, column->name)) {
            column->at = i;
            found++;
        }
    if (found == 1)
        return true;
    struct report *report =
        report_add(reading->model->reports, &model_rules[RULE_CSV], column->place, "\"%s\" has %s \"%.*s\"",
                   text_string(reading->model->arena, reading->file->path),
                   found ? "several columns" : "no column", (int)column->name.length, column->name.start);
    report_help(reading->model->reports, report, "its first row has the columns %s", columns_listed(reading));
    report_label(reading->model->reports, report, reading->row.place, "its first row");
    return false;
}

static bool read_header(struct spots_reading *reading, struct soil_file *file)
{
    enum csv_status status = csv_next(&reading->csv, &reading->row);
    if (status != CSV_ROW)
        return complain(reading, status == CSV_END ? file->path_place : reading->csv.problem_place,
                        status == CSV_END ? "this file has no rows" : reading->csv.problem, NULL);
    struct text only = reading->row.cells[0].text;
    if (reading->row.count == 1 &&
        (memchr(only.start, ';', only.length) || memchr(only.start, '\t', only.length)))
        return complain(reading, reading->row.place, "this file does not use commas between cells",
                        "save it as CSV with commas");
    reading->width = reading->row.count;
    bool sound = find_column(reading, &file->spot);
    for (size_t i = 0; i < file->columns.count; i++) {
        sound = find_column(reading, &file->columns.items[i].figure) && sound;
        if (file->columns.items[i].rating.stated)
            sound = find_column(reading, &file->columns.items[i].rating) && sound;
    }
    return sound;
}

/* ---- rows ---- */

static bool listed(const struct text *texts, size_t count, struct text text)
{
    for (size_t i = 0; i < count; i++)
        if (text_equal(texts[i], text))
            return true;
    return false;
}

static struct text blanks_left_out(struct text text)
{
    while (text.length && *text.start == ' ') {
        text.start++;
        text.length--;
    }
    return text;
}

static bool read_rating(struct spots_reading *reading, struct text word, struct place place,
                        struct table_cell *cell)
{
    if (!word.length || listed(reading->file->missing.items, reading->file->missing.count, word))
        return true;
    cell->rating = rating_of(word);
    if (cell->rating == RATING_NONE)
        return complain(
            reading, place,
            text_format(reading->model->arena, "`%.*s` is not a rating",
                        (int)(word.length < 40 ? word.length : 40), word.start),
            text_format(reading->model->arena, "ratings are: %s", rating_words(reading->model->arena)));
    cell->rating_text = text_string(reading->model->arena, word);
    return true;
}

/* "11", "< 5", ">200", and with the laboratory's rating "11 L". */
static bool read_figure(struct spots_reading *reading, const struct soil_file_column *column,
                        struct table_cell *cell)
{
    const struct csv_cell *written = &reading->row.cells[column->figure.at];
    struct text text = written->text;
    double number;
    cell->place = written->place;
    cell->number = NAN;
    if (!text.length || listed(reading->file->missing.items, reading->file->missing.count, text))
        return true;
    cell->below = *text.start == '<';
    cell->above = *text.start == '>';
    if (cell->below || cell->above)
        text = blanks_left_out((struct text){text.start + 1, text.length - 1});
    const char *blank = memchr(text.start, ' ', text.length);
    size_t digits = blank ? (size_t)(blank - text.start) : text.length;
    if (!csv_number((struct text){text.start, digits}, &number))
        return complain(reading, written->place,
                        text_format(reading->model->arena, "`%.*s` is not a number",
                                    (int)(written->text.length < 40 ? written->text.length : 40),
                                    written->text.start),
                        "a mark for a missing value is named, for example: missing \"ND\"");
    cell->number = number * column->column.factor;
    struct text rest = blanks_left_out((struct text){text.start + digits, text.length - digits});
    if (rest.length && !column->column.nutrient)
        return complain(reading, written->place, "a rating goes beside the figure of a nutrient only", NULL);
    return table_value_possible(reading->model, &column->column, cell, number) &&
           read_rating(reading, rest, written->place, cell);
}

static bool read_row(struct spots_reading *reading, struct table_row *row)
{
    const struct soil_file *file = reading->file;
    struct model *model = reading->model;
    bool sound = true;
    row->place = reading->row.place;
    row->name = name_intern(model->names, reading->row.cells[file->spot.at].text);
    row->cells = ARENA_ARRAY(model->arena, file->columns.count, struct table_cell);
    for (size_t i = 0; i < file->columns.count; i++) {
        const struct soil_file_column *column = &file->columns.items[i];
        const struct csv_cell *rating = column->rating.stated ? &reading->row.cells[column->rating.at] : NULL;
        sound = read_figure(reading, column, &row->cells[i]) &&
                (!rating || read_rating(reading, rating->text, rating->place, &row->cells[i])) && sound;
    }
    return sound;
}

static bool row_wanted(const struct spots_reading *reading)
{
    const struct soil_file *file = reading->file;
    return !file->only.count ||
           listed(file->only.items, file->only.count, reading->row.cells[file->spot.at].text);
}

/* Every name of `only` must be in the file: a sample that is misspelt would be left out in silence. */
static bool only_found(struct spots_reading *reading, const struct table *table)
{
    bool sound = true;
    for (size_t i = 0; i < reading->file->only.count; i++) {
        struct text name = reading->file->only.items[i];
        bool found = false;
        for (size_t j = 0; j < table->row_count; j++)
            found = found || text_equal(table->rows[j].name->text, name);
        if (!found)
            sound = complain(reading, reading->file->place,
                             text_format(reading->model->arena, "\"%s\" has no spot \"%.*s\"",
                                         text_string(reading->model->arena, reading->file->path),
                                         (int)name.length, name.start),
                             NULL);
    }
    return sound;
}

static void read_rows(struct spots_reading *reading, struct table *table)
{
    VECTOR(struct table_row) rows = {0};
    for (;;) {
        enum csv_status status = csv_next(&reading->csv, &reading->row);
        struct table_row row = {0};
        if (status == CSV_END)
            break;
        if (status == CSV_BAD)
            complain(reading, reading->csv.problem_place, reading->csv.problem, NULL);
        else if (reading->row.count != reading->width)
            complain(reading, reading->row.place,
                     text_format(reading->model->arena, "this row has %zu cells; the first row has %zu",
                                 reading->row.count, reading->width),
                     NULL);
        else if (row_wanted(reading) && read_row(reading, &row))
            VECTOR_PUSH(reading->model->arena, &rows, row);
    }
    table->rows = rows.items;
    table->row_count = rows.count;
}

static bool file_read(struct model *model, struct soil_file *file, const struct source *source,
                      struct table *table)
{
    struct spots_reading reading = {.model = model, .file = file};
    csv_open(&reading.csv, model->arena, source);
    if (!read_header(&reading, file))
        return false;
    table->column_count = file->columns.count;
    table->columns = ARENA_ARRAY(model->arena, file->columns.count, struct table_column);
    for (size_t i = 0; i < file->columns.count; i++)
        table->columns[i] = file->columns.items[i].column;
    size_t errors = model->reports->errors;
    read_rows(&reading, table);
    if (reading.bad_rows > BAD_SPOTS_TOLD)
        report_add(model->reports, &model_rules[RULE_CSV], file->path_place,
                   "%zu faults in this file; the first %d are shown", reading.bad_rows, BAD_SPOTS_TOLD);
    bool sound = model->reports->errors == errors && only_found(&reading, table);
    if (sound && !table->row_count)
        report_add(model->reports, &model_rules[RULE_CSV], file->path_place,
                   "this file has no spot below its first row");
    return sound && table->row_count;
}

bool soil_file_results(struct model *model, const struct clause *clause, struct table *table)
{
    const struct value *path = clause_value(clause, "file");
    struct soil_file file = {.place = clause->place, .path = path->text, .path_place = path->place};
    bool sound = block_read(model, clause->tree, clause->statement->block, BLOCK_SOIL_FILE, &file) &&
                 file_complete(model, &file);
    const struct source *source =
        sources_read(model->sources, model->reports, clause->tree->source, path->text, path->place);
    return sound && source && file_read(model, &file, source, table);
}
