/* Cells of a table for spreadsheets (RFC 4180): lines end with CR LF, words are quoted where they need it.
 *
 * A table is flat where data (data.h) is nested: which of a result's lists makes the rows, and what stands
 * again in each of them, is the result's own. So its CSV is printed beside its data, from what was worked out
 * for both. */
#ifndef PRILL_FORM_CSV_CELL_H
#define PRILL_FORM_CSV_CELL_H

#include "lexer/text.h"

/* Words (may be NULL): cleaned, and guarded where a spreadsheet would take them for a formula. */
void csv_text(struct buffer *out, const char *text);

/* What the program itself wrote: a number, a date. */
void csv_plain(struct buffer *out, const char *cell);

/* So many cells with nothing in them. */
void csv_blank(struct buffer *out, size_t count);

/* After the last cell of a row. */
void csv_end(struct buffer *out);

#endif
