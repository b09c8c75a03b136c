/* The season's calendar as one JSON document, for other programs; docs/calendar.schema.json describes it.
 *
 * Exact amounts are SI numbers; beside them stand the texts that the other outputs show, rounded for
 * weighing. */
#ifndef PRILL_OUTPUT_CALENDAR_JSON_H
#define PRILL_OUTPUT_CALENDAR_JSON_H

#include "compiler/season/season.h"

/* Of a season without errors. */
void calendar_json_print(struct buffer *out, const struct season *season, const struct reports *reports);

#endif
