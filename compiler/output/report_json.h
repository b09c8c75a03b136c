/* Reports for programs: one JSON object on a line for each, allowed ones too. */
#ifndef PRILL_OUTPUT_REPORT_JSON_H
#define PRILL_OUTPUT_REPORT_JSON_H

#include "lexer/report.h"

/* Members, always all of them and in this order; a reader must expect more to come:
 *   rule, severity ("note", "warning", "error"), sentence
 *   spans      [{PLACE, primary, label, used_from: [{PLACE}]}]: the report's own place first (none for a
 * report about no text), then its labels; used_from lists the statements that brought the file in, inner
 * first notes      strings help       a string or null fix        null or {sentence, safe, edits: [{PLACE,
 * replacement}]} allowed    null or {because, place: null or {PLACE}} rendered   what report_text_print gives
 * without colour PLACE stands for path, library, byte_start, byte_end, start, end. Byte offsets count from 0;
 * start and end are {line, byte_column, column, utf16_column}, all from 1; the end is the first byte behind
 * the place. */
void report_json_print(struct buffer *out, const struct report *report);

void reports_json_print(struct buffer *out, const struct reports *reports);

#endif
