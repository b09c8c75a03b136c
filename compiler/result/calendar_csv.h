/* The season's calendar as a table for spreadsheets: RFC 4180, UTF-8, one row for each occurrence, zone and
 * product.
 *
 * A cell that a spreadsheet would take for a formula gets an apostrophe in front (CWE-1236). Amounts of what
 * is still to do are rounded as for weighing; rates and nutrients have four significant digits. */
#ifndef PRILL_RESULT_CALENDAR_CSV_H
#define PRILL_RESULT_CALENDAR_CSV_H

#include "compiler/season/season.h"

/* Of a season without errors. */
void calendar_csv_print(struct buffer *out, const struct season *season);

#endif
