/* A CSV file whose columns a block of the plan names: its header, its rows, and what is wrong in them.
 * Daily weather and a laboratory's results are read by it. */
#ifndef PRILL_MODEL_DATA_FILE_H
#define PRILL_MODEL_DATA_FILE_H

#include "compiler/model/csv.h"
#include "compiler/model/model.h"

enum { BAD_ROWS_TOLD = 10 }; /* of one file; the rest are counted */

struct named_column { /* by its name in the file's first row */
    struct text name;
    struct place place;
    bool stated;
    size_t at; /* among the cells of a row */
};

struct data_file {
    struct model *model;
    struct place place; /* of the statement */
    struct text path;
    struct place path_place;
    VECTOR(struct text) missing; /* marks of a cell without a value */
    struct csv csv;
    struct csv_row row; /* the one being read */
    size_t width;       /* cells of the first row */
    size_t bad_rows;
};

struct named_column column_named(const struct value *name);

/* Of the clause that names the file in its slot `file`. */
struct data_file data_file_of(const struct stated *stated);

/* The first row; false after a report. The source outlives the reading. */
bool data_file_header(struct data_file *file, const struct source *source);

/* Finds the column in the first row; false after a report. */
bool data_file_column(struct data_file *file, struct named_column *column);

/* The next row that is as wide as the first. Others are reported, and passed over. False at the end, where it
 * is said how many mistakes were not shown. */
bool data_file_row(struct data_file *file);

/* A report on a row or cell; returns false. */
bool data_file_complain(struct data_file *file, enum model_rule rule, struct place place,
                        const char *sentence, const char *help);

/* "`x` WHAT": the cell is quoted as far as a line holds it. Returns false. */
bool data_file_complain_of_cell(struct data_file *file, enum model_rule rule, const struct csv_cell *cell,
                                const char *what, const char *help);

/* Whether the cell is empty or holds one of the marks of a missing value. */
bool data_file_missing(const struct data_file *file, struct text cell);

#endif
