#include "compiler/form/ics.h"

#include <libical/ical.h>

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* ---- what libical is asked for ---- */

/* Taken for one component and its text, beside some copies of the longest text: far more than was ever
 * seen. */
enum { COMPONENT_BYTES = 96 * 1024, TEXT_COPIES = 16 };

static bool room_for(const char *longest)
{
    void *probe = malloc(COMPONENT_BYTES + TEXT_COPIES * strlen(longest));
    free(probe);
    return probe != NULL;
}

static void put(icalcomponent *to, icalproperty *property)
{
    if (property)
        icalcomponent_add_property(to, property);
}

static struct icaltimetype ical_date(day_number day)
{
    struct civil_date date = date_of_day(day);
    struct icaltimetype time = icaltime_null_date();
    time.year = date.year;
    time.month = date.month;
    time.day = date.day;
    return time;
}

/* The alarm stands last: a reader was seen to lose events that have it before their own properties. */
static void alarm_put(icalcomponent *component, const struct ics_event *event)
{
    icalcomponent *alarm = icalcomponent_new(ICAL_VALARM_COMPONENT);
    if (!alarm)
        return;
    struct icaltriggertype trigger = {.time = icaltime_null_time(),
                                      .duration = icaldurationtype_from_int(event->alarm_seconds)};
    put(alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY));
    put(alarm, icalproperty_new_trigger(trigger));
    put(alarm, icalproperty_new_description(event->summary));
    icalcomponent_add_component(component, alarm);
}

/* The day after the last is the end of an all-day event (RFC 5545, 3.6.1); transparent, since work on a lawn
 * keeps nobody from an appointment. */
static void event_put(icalcomponent *component, const struct ics_event *event)
{
    put(component, icalproperty_new_uid(event->uid));
    const int seconds_a_day = 86400;
    struct icaltimetype time = ical_date((day_number)(event->stamp / seconds_a_day));
    int rest = (int)(event->stamp % seconds_a_day);
    time.is_date = 0;
    time.hour = rest / 3600;
    time.minute = rest / 60 % 60;
    time.second = rest % 60;
    time.zone = icaltimezone_get_utc_timezone();
    put(component, icalproperty_new_dtstamp(time));
    put(component, icalproperty_new_dtstart(ical_date(event->day)));
    put(component, icalproperty_new_dtend(ical_date(event->day + 1))); /* the end is not included */
    put(component, icalproperty_new_sequence(event->sequence));
    put(component, icalproperty_new_summary(event->summary));
    if (*event->description)
        put(component, icalproperty_new_description(event->description));
    put(component, icalproperty_new_categories(event->categories));
    put(component, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
    put(component, icalproperty_new_status(event->cancelled ? ICAL_STATUS_CANCELLED : ICAL_STATUS_CONFIRMED));
    if (event->alarm)
        alarm_put(component, event);
}

/* A property of no standard, under its own name; libical leaves its commas bare, as its readers expect. */
static void put_x(icalcomponent *to, const char *name, const char *value)
{
    icalproperty *property = icalproperty_new_x(value);
    if (property)
        icalproperty_set_x_name(property, name);
    put(to, property);
}

/* The older X-WR-CALNAME and X-WR-CALDESC are what most readers look for. */
static void calendar_put(icalcomponent *root, const char *name, const char *description)
{
    put(root, icalproperty_new_version("2.0"));
    put(root, icalproperty_new_prodid("-//prill//season calendar//EN"));
    put(root, icalproperty_new_calscale("GREGORIAN"));
    if (*name) {
        put(root, icalproperty_new_name(name));
        put_x(root, "X-WR-CALNAME", name);
    }
    if (*description) {
        put(root, icalproperty_new_description(description));
        put_x(root, "X-WR-CALDESC", description);
    }
}

/* ---- what becomes of it ---- */

/* The component's text, to be freed, and the component is; NULL when the system gave no memory. */
static char *component_string(icalcomponent *component)
{
    char *string = icalcomponent_as_ical_string_r(component);
    icalcomponent_free(component);
    assert(icalerrno == ICAL_NO_ERROR || icalerrno == ICAL_NEWFAILED_ERROR);
    if (icalerrno == ICAL_NO_ERROR)
        return string;
    free(string);
    return NULL;
}

/* False when the arena has no room for it. Apart from its caller because of what setjmp does to locals. */
static bool string_copied(struct buffer *out, struct text string)
{
    jmp_buf refused;
    if (setjmp(refused))
        return false;
    out->arena->exhausted = &refused;
    buffer_add(out, string);
    return true;
}

/* Appends `string`, but for its last `cut` bytes, and frees it. */
static void string_add(struct buffer *out, char *string, size_t cut)
{
    if (!string)
        arena_exhausted(out->arena);
    assert(strlen(string) >= cut);
    jmp_buf *exhausted = out->arena->exhausted;
    bool copied = string_copied(out, (struct text){string, strlen(string) - cut});
    out->arena->exhausted = exhausted;
    free(string);
    if (!copied)
        arena_exhausted(out->arena);
}

/* A component to be filled. */
static icalcomponent *component_new(struct buffer *out, icalcomponent_kind kind, const char *longest)
{
    if (!room_for(longest))
        arena_exhausted(out->arena);
    icalerror_clear_errno();
    icalcomponent *component = icalcomponent_new(kind);
    if (!component)
        arena_exhausted(out->arena);
    return component;
}

static const char END[] = "END:VCALENDAR\r\n";

void ics_begin(struct buffer *out, const char *name, const char *description)
{
    bool longer = strlen(description) > strlen(name);
    icalcomponent *root = component_new(out, ICAL_VCALENDAR_COMPONENT, longer ? description : name);
    calendar_put(root, name, description);
    string_add(out, component_string(root), sizeof END - 1);
}

void ics_add(struct buffer *out, const struct ics_event *event)
{
    icalcomponent *component = component_new(out, ICAL_VEVENT_COMPONENT, event->description);
    event_put(component, event);
    string_add(out, component_string(component), 0);
}

/* A calendar holds at least one component (RFC 5545, section 3.6): this one nobody sees. */
void ics_add_nothing(struct buffer *out)
{
    buffer_add_string(out, "BEGIN:VTIMEZONE\r\nTZID:UTC\r\nBEGIN:STANDARD\r\nDTSTART:19700101T000000\r\n"
                           "TZOFFSETFROM:+0000\r\nTZOFFSETTO:+0000\r\nEND:STANDARD\r\nEND:VTIMEZONE\r\n");
}

void ics_end(struct buffer *out)
{
    buffer_add_string(out, END);
}
