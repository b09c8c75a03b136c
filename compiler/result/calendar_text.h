/* The season's calendar for a person: day by day what to weigh, mix and walk, narrow enough to print. */
#ifndef PRILL_RESULT_CALENDAR_TEXT_H
#define PRILL_RESULT_CALENDAR_TEXT_H

#include "compiler/result/agenda.h"

/* Of a season without errors. Plain text without colour, so that it prints and reads aloud as it stands.
 * `look`: the day to tell of what is due, NULL without. */
void calendar_text_print(struct buffer *out, const struct season *season, const struct reports *reports,
                         const struct look *look);

#endif
