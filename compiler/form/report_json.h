/* Reports for programs: one JSON object on a line for each, allowed ones too. */
#ifndef PRILL_FORM_REPORT_JSON_H
#define PRILL_FORM_REPORT_JSON_H

#include "lexer/report.h"

/* Members: format, check, severity ("note", "warning", "error"), sentence, places, notes, help (or null), fix
 * (or null), allowed (or null), as_text (what report_text_print gives without colour). All of them, always,
 * in this order; docs/reports.schema.json says what each holds, and a reader must expect more to come.
 *
 * The report's own place comes first and is the main one; a report about no text has no places. */
void report_json_print(struct buffer *out, const struct report *report);

#endif
