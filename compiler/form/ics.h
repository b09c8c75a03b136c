/* iCalendar files, an event at a time: all-day events and their alarms (RFC 5545, RFC 7986). What is given is
 * written: texts must be plain_text already, and days valid. */
#ifndef PRILL_FORM_ICS_H
#define PRILL_FORM_ICS_H

#include "compiler/model/date.h"

struct ics_event {
    const char *uid, *summary, *description;
    const char *categories; /* with commas between them and none within */
    day_number day;
    int sequence;
    int64_t stamp; /* seconds since 1970-01-01 UTC, not below 0 */
    bool cancelled;
    bool alarm;
    int alarm_seconds; /* after the day's start; below 0 before it */
};

/* What stands before the events, the events in any number, what stands after them: `empty` says that there
 * were none. An empty name or description is left out. When memory is refused they leave through the arena
 * of `out`. */
void ics_begin(struct buffer *out, const char *name, const char *description);
void ics_add(struct buffer *out, const struct ics_event *event);
void ics_end(struct buffer *out, bool empty);

#endif
