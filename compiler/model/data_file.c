#include "compiler/model/data_file.h"

#include <string.h>

struct named_column column_named(const struct value *name)
{
    return (struct named_column){.name = name->text, .place = name->place, .stated = true};
}

struct data_file data_file_of(const struct stated *stated)
{
    const struct value *path = slot_value(stated, "file");
    return (struct data_file){.model = stated->model,
                              .place = stated->clause->place,
                              .path = path->text,
                              .path_place = path->place};
}

bool data_file_complain(struct data_file *file, enum model_rule rule, struct place place,
                        const char *sentence, const char *help)
{
    if (file->bad_rows++ < BAD_ROWS_TOLD)
        report_add(file->model->reports, &model_rules[rule], place, "%s", sentence)->help = help;
    return false;
}

bool data_file_complain_of_cell(struct data_file *file, enum model_rule rule, const struct csv_cell *cell,
                                const char *what, const char *help)
{
    enum { SHOWN = 40 };
    struct text text = cell->text;
    return data_file_complain(file, rule, cell->place,
                              text_format(file->model->arena, "`%.*s` %s",
                                          (int)(text.length < SHOWN ? text.length : SHOWN), text.start, what),
                              help);
}

/* A file with no commas is told from one with a single column. */
bool data_file_header(struct data_file *file, const struct source *source)
{
    file->csv = (struct csv){.arena = file->model->arena, .source = source};
    enum csv_status status = csv_next(&file->csv, &file->row);
    if (status == CSV_END)
        return data_file_complain(file, RULE_CSV, file->path_place, "this file has no rows", NULL);
    if (status == CSV_BAD)
        return data_file_complain(file, RULE_CSV, file->csv.problem_place, file->csv.problem, NULL);
    /* Other programs put semicolons or tabs between cells, and call it CSV all the same. */
    struct text only = file->row.cells[0].text;
    if (file->row.count == 1 &&
        (memchr(only.start, ';', only.length) || memchr(only.start, '\t', only.length)))
        return data_file_complain(file, RULE_CSV, file->row.place,
                                  "this file does not use commas between cells",
                                  "save it as CSV with commas");
    file->width = file->row.count;
    return true;
}

/* A name that is there twice is as bad as none: which of them was meant is not known. */
bool data_file_column(struct data_file *file, struct named_column *column)
{
    enum { LISTED = 40 };
    struct arena *arena = file->model->arena;
    size_t found = 0;
    for (size_t i = 0; i < file->row.count; i++)
        if (text_equal(file->row.cells[i].text, column->name)) {
            column->at = i;
            found++;
        }
    if (found == 1)
        return true;
    struct report *report =
        report_add(file->model->reports, &model_rules[RULE_CSV], column->place, "\"%s\" has %s \"%.*s\"",
                   text_string(arena, file->path), found ? "several columns" : "no column",
                   (int)column->name.length, column->name.start);
    struct buffer list = {.arena = arena};
    for (size_t i = 0; i < file->row.count && i < LISTED; i++) {
        buffer_separate(&list, ", ");
        buffer_add(&list, file->row.cells[i].text);
    }
    report_help(file->model->reports, report, "its first row has the columns %s%s", buffer_string(&list),
                file->row.count > LISTED ? ", ..." : "");
    report_label(file->model->reports, report, file->row.place, "its first row");
    return false;
}

/* Rows with a mistake are reported and passed over; at the end, how many mistakes were not shown. */
bool data_file_row(struct data_file *file)
{
    enum csv_status status;
    while ((status = csv_next(&file->csv, &file->row)) != CSV_END) {
        if (status == CSV_BAD)
            data_file_complain(file, RULE_CSV, file->csv.problem_place, file->csv.problem, NULL);
        else if (file->row.count == file->width)
            return true;
        else
            data_file_complain(file, RULE_CSV, file->row.place,
                               text_format(file->model->arena,
                                           "this row has %zu cells; the first row has %zu", file->row.count,
                                           file->width),
                               NULL);
    }
    if (file->bad_rows > BAD_ROWS_TOLD)
        report_add(file->model->reports, &model_rules[RULE_CSV], file->path_place,
                   "%zu errors in this file; only the first %d are shown", file->bad_rows, BAD_ROWS_TOLD);
    return false;
}

bool data_file_missing(const struct data_file *file, struct text cell)
{
    for (size_t i = 0; i < file->missing.count; i++)
        if (text_equal(file->missing.items[i], cell))
            return true;
    return cell.length == 0;
}
