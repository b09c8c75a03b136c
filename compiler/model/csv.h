/* Tables in CSV files: RFC 4180, read row by row from a source in memory, so that a report can point at a
 * cell.
 *
 * Beyond the RFC: a byte order mark and blanks around a cell are left out, lines may end in LF alone, lines
 * without anything on them are passed over. Cells are parted by commas. */
#ifndef PRILL_MODEL_CSV_H
#define PRILL_MODEL_CSV_H

#include "lexer/source.h"

enum {
    CSV_COLUMN_LIMIT = 1000,   /* weather services write some fifty */
    CSV_CELL_LIMIT = 64 * 1024 /* bytes; a quote that is not closed is noticed here at the latest */
};

struct csv_cell {
    struct text text;   /* without its quotes and the blanks around it */
    struct place place; /* of the same bytes as the file has them, quotes included */
};

struct csv_row {
    const struct csv_cell *cells; /* valid until the next row is read */
    size_t count;                 /* at least 1 */
    struct place place;
};

/* Reading begins with the first two; the source must outlive it. */
struct csv {
    struct arena *arena;
    const struct source *source;
    uint32_t at;
    VECTOR(struct csv_cell) cells;
    const char *problem; /* of a CSV_BAD row: a sentence */
    struct place problem_place;
};

enum csv_status { CSV_ROW, CSV_END, CSV_BAD };

/* The next row. After CSV_BAD reading goes on with the line after it; after a quote that is not closed there
 * is none. */
enum csv_status csv_next(struct csv *csv, struct csv_row *row);

/* A number such as -7.1, +3 or .5: at most 15 digits, no exponent, no comma. False for anything else. */
bool csv_number(struct text text, double *number);

#endif
