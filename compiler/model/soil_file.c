#include "compiler/model/soil_file.h"

#include "compiler/model/data_file.h"
#include "compiler/model/include.h"
#include "compiler/model/read.h"

#include <math.h>
#include <string.h>

struct soil_file_column {
    struct named_column figure, rating;
    struct table_column column;
};

struct soil_file { /* as a block describes it */
    struct data_file data;
    struct named_column spot;
    VECTOR(struct soil_file_column) columns;
    VECTOR(struct text) only;
};

/* ---- what the block says ---- */

void read_file_spot(const struct stated *stated)
{
    ((struct soil_file *)stated->subject)->spot = column_named(slot_value(stated, "column"));
}

void read_file_only(const struct stated *stated)
{
    struct soil_file *file = stated->subject;
    VECTOR_PUSH(stated->model->arena, &file->only, slot_value(stated, "name")->text);
}

/* Of every block that describes a file. */
void read_file_missing(const struct stated *stated)
{
    struct data_file *file = stated->subject;
    VECTOR_PUSH(stated->model->arena, &file->missing, slot_value(stated, "mark")->text);
}

/* One of soil_columns, with a unit where it needs one. */
void read_file_column(const struct stated *stated)
{
    struct soil_file *file = stated->subject;
    const struct value *unit = slot_value(stated, "unit");
    const struct column_form *form = soil_columns;
    while (form->kind != stated->clause->form->which)
        form++;
    struct soil_file_column added = {
        .figure = column_named(slot_value(stated, "column")),
        .column = {
            .kind = form->kind, .form = form, .factor = 1, .unit_text = "", .place = stated->clause->place}};
    if (unit) {
        added.column.factor = unit->number;
        added.column.unit_text = slot_string(stated, "unit");
    }
    if (unit && unit->volume && !form->other_kind) {
        report_add(stated->model->reports, &model_rules[RULE_DIMENSION], unit->place,
                   "`%s` is per volume of soil, not per mass", added.column.unit_text);
        return;
    }
    if (unit && unit->volume)
        added.column.kind = form->other_kind;
    VECTOR_PUSH(stated->model->arena, &file->columns, added);
}

/* A nutrient may have one column, whatever form the columns state it in. */
void read_file_level(const struct stated *stated)
{
    struct model *model = stated->model;
    struct soil_file *file = stated->subject;
    const struct value *nutrient = slot_value(stated, "nutrient"), *unit = slot_value(stated, "unit");
    const struct value *rating = slot_value(stated, "rating");
    struct soil_file_column added = {.figure = column_named(slot_value(stated, "column")),
                                     .column = {.kind = ANALYTE_NUTRIENT,
                                                .nutrient = nutrient->nutrient,
                                                .index = unit->index,
                                                .factor = unit->number,
                                                .unit_text = slot_string(stated, "unit"),
                                                .place = stated->clause->place}};
    if (rating)
        added.rating = column_named(rating);
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

/* ---- rows ---- */

static struct text blanks_left_out(struct text text)
{
    while (text.length && *text.start == ' ') {
        text.start++;
        text.length--;
    }
    return text;
}

static bool read_rating(struct soil_file *file, struct text word, const struct csv_cell *written,
                        struct table_cell *cell)
{
    struct arena *arena = file->data.model->arena;
    if (data_file_missing(&file->data, word))
        return true;
    const char *known = rating_read(arena, word, &cell->rating);
    cell->rating_text = text_string(arena, word);
    if (!known)
        return true;
    const struct csv_cell shown = {word, written->place};
    return data_file_complain_of_cell(&file->data, RULE_CSV, &shown, "is not a rating", known);
}

/* "11", "< 5", ">200", and with the laboratory's rating "11 L". */
static bool read_figure(struct soil_file *file, const struct soil_file_column *column,
                        struct table_cell *cell)
{
    const struct csv_cell *written = &file->data.row.cells[column->figure.at];
    struct text text = written->text;
    double number;
    cell->place = written->place;
    cell->number = NAN;
    if (data_file_missing(&file->data, text))
        return true;
    cell->below = *text.start == '<';
    cell->above = *text.start == '>';
    if (cell->below || cell->above)
        text = blanks_left_out((struct text){text.start + 1, text.length - 1});
    const char *blank = memchr(text.start, ' ', text.length);
    size_t digits = blank ? (size_t)(blank - text.start) : text.length;
    if (!csv_number((struct text){text.start, digits}, &number))
        return data_file_complain_of_cell(&file->data, RULE_CSV, written, "is not a number",
                                          "if it marks a missing value, add, for example: missing \"ND\"");
    cell->number = number * column->column.factor;
    struct text rest = blanks_left_out((struct text){text.start + digits, text.length - digits});
    if (rest.length && !column->column.nutrient)
        return data_file_complain(&file->data, RULE_CSV, written->place,
                                  "only a nutrient's figure can have a rating beside it", NULL);
    return table_value_possible(file->data.model, &column->column, cell, number) &&
           read_rating(file, rest, written, cell);
}

/* The rows that `only` names, or all. False where anything in the file was reported. */
static bool read_rows(struct soil_file *file, struct table *table)
{
    struct data_file *data = &file->data;
    struct model *model = data->model;
    size_t errors = model->reports->errors;
    VECTOR(struct table_row) rows = {0};
    while (data_file_row(data)) {
        bool wanted = !file->only.count, sound = true;
        for (size_t i = 0; i < file->only.count && !wanted; i++)
            wanted = text_equal(file->only.items[i], data->row.cells[file->spot.at].text);
        if (!wanted)
            continue;
        struct table_row row = {.place = data->row.place,
                                .name = name_intern(model->names, data->row.cells[file->spot.at].text),
                                .cells = ARENA_ARRAY(model->arena, file->columns.count, struct table_cell)};
        for (size_t i = 0; i < file->columns.count; i++) { /* every cell, so that each mistake is reported */
            const struct soil_file_column *column = &file->columns.items[i];
            const struct csv_cell *rating =
                column->rating.stated ? &data->row.cells[column->rating.at] : NULL;
            sound = read_figure(file, column, &row.cells[i]) &&
                    (!rating || read_rating(file, rating->text, rating, &row.cells[i])) && sound;
        }
        if (sound)
            VECTOR_PUSH(model->arena, &rows, row);
    }
    table->rows = rows.items;
    table->row_count = rows.count;
    bool sound = model->reports->errors == errors;
    /* A sample that is misspelt in `only` would be left out in silence. */
    for (size_t i = 0, count = sound ? file->only.count : 0; i < count; i++) {
        struct text name = file->only.items[i], path = data->path;
        bool found = false;
        for (size_t j = 0; j < table->row_count; j++)
            found = found || text_equal(table->rows[j].name->text, name);
        if (!found)
            sound =
                data_file_complain(data, RULE_CSV, data->place,
                                   text_format(model->arena, "\"%.*s\" has no spot \"%.*s\"",
                                               (int)path.length, path.start, (int)name.length, name.start),
                                   NULL);
    }
    if (sound && !table->row_count)
        report_add(model->reports, &model_rules[RULE_CSV], data->path_place,
                   "this file has no spot below its first row");
    return sound && table->row_count;
}

/* Every column is looked for before any row is read, so that each one missing is reported. */
bool soil_file_results(const struct stated *stated, struct table *table)
{
    struct model *model = stated->model;
    const struct clause *clause = stated->clause;
    struct soil_file file = {.data = data_file_of(stated)};
    bool sound = block_read(model, clause->tree, clause->statement->block, BLOCK_SOIL_FILE, &file);
    if (sound && (!file.spot.stated || !file.columns.count)) {
        struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], clause->place, "%s",
                                           file.spot.stated ? "no column of results is named"
                                                            : "no column of spot names is named");
        report_help(model->reports, report, "write, for example: %s",
                    file.spot.stated ? "level P \"P ppm\" in ppm" : "spot \"Sample ID\"");
        sound = false;
    }
    const struct source *source = sources_read(model->sources, model->reports, clause->tree->source,
                                               file.data.path, file.data.path_place);
    if (!sound || !source || !data_file_header(&file.data, source))
        return false;
    bool found = data_file_column(&file.data, &file.spot);
    table->column_count = file.columns.count;
    table->columns = ARENA_ARRAY(model->arena, file.columns.count, struct table_column);
    for (size_t i = 0; i < file.columns.count; i++) {
        struct soil_file_column *column = &file.columns.items[i];
        found = data_file_column(&file.data, &column->figure) && found;
        if (column->rating.stated)
            found = data_file_column(&file.data, &column->rating) && found;
        table->columns[i] = column->column;
    }
    return found && read_rows(&file, table);
}
