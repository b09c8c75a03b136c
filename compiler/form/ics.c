#include "compiler/form/ics.h"

#include <stdlib.h>
#include <string.h>

/* ---- lines ---- */

/* What a line may hold (RFC 5545, 3.1, allows 75 bytes, the blank that begins a continued one counted), and
 * what is never cut. */
enum { LINE_BYTES = 74, WHOLE_BYTES = 72 };

/* "UID:...": what would end the value or the line is written as RFC 5545, 3.3.11, has it. A comma parts the
 * values of CATEGORIES, and of a property outside the standard readers expect commas and semicolons as they
 * are. A line is cut behind the last blank, colon or semicolon that it has room for, so that words stay
 * whole; else within a word, but not within a character. */
static void put(struct buffer *out, const char *name, const char *value)
{
    const char *special = name[0] == 'X' || strcmp(name, "CATEGORIES") == 0 ? "\n\\" : "\n\\,;";
    struct buffer whole = {.arena = out->arena};
    buffer_format(&whole, "%s:", name);
    for (size_t plain; *value; value += plain + (value[plain] != '\0')) {
        plain = strcspn(value, special);
        buffer_add(&whole, (struct text){value, plain});
        if (value[plain])
            buffer_format(&whole, "\\%c", value[plain] == '\n' ? 'n' : value[plain]);
    }
    struct text line = {whole.string, whole.length};
    for (size_t length; line.length; line.start += length, line.length -= length) {
        size_t most = line.length < LINE_BYTES ? line.length : LINE_BYTES, at = most;
        while (at > 1 && !strchr(" :;", line.start[at - 1]))
            at--;
        while (most < line.length && ((unsigned char)line.start[most] & 0xc0) == 0x80)
            most--;
        length = line.length > WHOLE_BYTES && at > 1 ? at : most;
        buffer_add(out, (struct text){line.start, length});
        buffer_add_string(out, length < line.length ? "\r\n " : "\r\n");
    }
}

static const char *date_text(struct arena *arena, day_number day)
{
    struct civil_date date = date_of_day(day);
    return text_format(arena, "%04d%02d%02d", date.year, date.month, date.day);
}

/* ---- events ---- */

/* The day after the last is the end of an all-day event (RFC 5545, 3.6.1); transparent, since work on a lawn
 * keeps nobody from an appointment. The alarm comes last: a reader was seen to lose events that have it
 * before their own properties. */
void ics_add(struct buffer *out, const struct ics_event *event)
{
    static const struct {
        int seconds;
        char letter;
    } units[] = {{86400, 'D'}, {3600, 'H'}, {60, 'M'}, {1, 'S'}};
    const int seconds_a_day = 86400, week = 7 * seconds_a_day;
    int rest = (int)(event->stamp % seconds_a_day);
    put(out, "BEGIN", "VEVENT");
    put(out, "UID", event->uid);
    put(out, "DTSTAMP",
        text_format(out->arena, "%sT%02d%02d%02dZ",
                    date_text(out->arena, (day_number)(event->stamp / seconds_a_day)), rest / 3600,
                    rest / 60 % 60, rest % 60));
    put(out, "DTSTART;VALUE=DATE", date_text(out->arena, event->day));
    put(out, "DTEND;VALUE=DATE", date_text(out->arena, event->day + 1));
    put(out, "SEQUENCE", text_format(out->arena, "%d", event->sequence));
    put(out, "SUMMARY", event->summary);
    if (*event->description)
        put(out, "DESCRIPTION", event->description);
    put(out, "CATEGORIES", event->categories);
    put(out, "TRANSP", "TRANSPARENT");
    put(out, "STATUS", event->cancelled ? "CANCELLED" : "CONFIRMED");
    if (event->alarm) {
        /* "-P1DT6H": after the day's start, or with a minus before it; whole weeks as such, nothing as "PT0S"
         * (RFC 5545, 3.3.6). */
        struct buffer trigger = {.arena = out->arena};
        int left = abs(event->alarm_seconds);
        buffer_add_string(&trigger, event->alarm_seconds < 0 ? "-P" : "P");
        if (left == 0)
            buffer_add_string(&trigger, "T0S");
        if (left && left % week == 0) {
            buffer_format(&trigger, "%dW", left / week);
            left = 0;
        }
        for (size_t i = 0; left; left %= units[i++].seconds) {
            if (i == 1)
                buffer_add_string(&trigger, "T");
            if (left >= units[i].seconds)
                buffer_format(&trigger, "%d%c", left / units[i].seconds, units[i].letter);
        }
        put(out, "BEGIN", "VALARM");
        put(out, "ACTION", "DISPLAY");
        put(out, "TRIGGER", trigger.string);
        put(out, "DESCRIPTION", event->summary);
        put(out, "END", "VALARM");
    }
    put(out, "END", "VEVENT");
}

/* ---- the calendar ---- */

/* The older X-WR-CALNAME and X-WR-CALDESC are what most readers look for. */
void ics_begin(struct buffer *out, const char *name, const char *description)
{
    put(out, "BEGIN", "VCALENDAR");
    put(out, "VERSION", "2.0");
    put(out, "PRODID", "-//prill//season calendar//EN");
    put(out, "CALSCALE", "GREGORIAN");
    if (*name) {
        put(out, "NAME", name);
        put(out, "X-WR-CALNAME", name);
    }
    if (*description) {
        put(out, "DESCRIPTION", description);
        put(out, "X-WR-CALDESC", description);
    }
}

/* A calendar holds at least one component (RFC 5545, section 3.6): of an empty one it is one that nobody
 * sees. */
void ics_end(struct buffer *out, bool empty)
{
    if (empty)
        buffer_add_string(out, "BEGIN:VTIMEZONE\r\nTZID:UTC\r\nBEGIN:STANDARD\r\nDTSTART:19700101T000000\r\n"
                               "TZOFFSETFROM:+0000\r\nTZOFFSETTO:+0000\r\nEND:STANDARD\r\nEND:VTIMEZONE\r\n");
    put(out, "END", "VCALENDAR");
}
