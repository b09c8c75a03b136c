/* The season's calendar for calendar programs: iCalendar (RFC 5545, RFC 7986), one all-day event for each
 * lawn and treatment date. Lines end in CR LF. */
#ifndef PRILL_RESULT_CALENDAR_ICS_H
#define PRILL_RESULT_CALENDAR_ICS_H

#include "compiler/result/earlier_edition.h"

/* The last second of the last year that a plan may name (LAST_YEAR). */
#define CALENDAR_ICS_STAMP_LIMIT INT64_C(7258118399)

/* Of a season without errors. `stamp` (seconds since 1970-01-01 UTC, 0 to the limit) says when the plan was
 * last revised; NULL takes the start of the edition's day, or of the season's first where no edition is
 * stated. `earlier`: an edition before, of which what is gone is issued as cancelled; NULL without. */
void calendar_ics_print(struct buffer *out, const struct season *season, const int64_t *stamp,
                        const struct earlier *earlier);

#endif
