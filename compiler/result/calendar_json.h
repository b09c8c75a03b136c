/* The season's calendar as one JSON document, for other programs; docs/calendar.schema.json describes it.
 *
 * Exact amounts are SI numbers; beside them stand the texts that the other outputs show, rounded for
 * weighing. */
#ifndef PRILL_RESULT_CALENDAR_JSON_H
#define PRILL_RESULT_CALENDAR_JSON_H

#include "compiler/result/agenda.h"
#include "compiler/result/earlier_edition.h"

/* Of a season without errors. `look`: the day to tell of what is due; `earlier`: an edition before, to tell
 * what is gone since. NULL without. */
void calendar_json_print(struct buffer *out, const struct season *season, const struct reports *reports,
                         const struct look *look, const struct earlier *earlier);

#endif
