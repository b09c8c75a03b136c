/* libical holds the events and writes them; it is given DATE and TEXT values only, both made valid here,
 * since it writes whatever it is given. Its objects live outside the arena: all texts are made before the
 * first of them, so that nothing is lost when the arena's memory ends. */
#include "compiler/output/calendar_ics.h"

#include "compiler/output/closing.h"
#include "compiler/output/plain_text.h"
#include "compiler/output/work.h"

#include <libical/ical.h>

#include <assert.h>
#include <stdlib.h>

/* ---- the texts of an event ---- */

struct event {
    const char *uid, *summary, *description, *categories;
    day_number day;
    bool alarm, cancelled;
};

static void portions_add(struct buffer *text, const struct model *model, const struct material *material,
                         int passes)
{
    buffer_add_string(text, name_string(material->product->thing.name));
    if (material->recorded)
        buffer_add_string(text, ", used");
    else if (!isnan(material->rate))
        buffer_format(text, ", %s",
                      display_product_rate(text->arena, model, material->rate, material->volume));
    buffer_add_string(text, ":\n");
    for (size_t i = 0; i < material->portions.count; i++) {
        const struct portion *portion = &material->portions.items[i];
        buffer_format(text, "- %s %s", name_string(portion->amount->zone->thing.name), portion->text);
        if (portion->each)
            buffer_format(text, ", %s %s", portion->each, passes == 2 ? "each way" : "each pass");
        buffer_add_string(text, "\n");
    }
    if (material->portions.count > 1)
        buffer_format(text, "- in all %s\n", material->sum_text);
}

static void cautions_add(struct buffer *text, const struct work *work)
{
    if (work->cautions.count)
        buffer_add_string(text, "\nTake care:\n");
    for (size_t i = 0; i < work->cautions.count; i++)
        if (work->cautions.items[i]->text)
            buffer_format(text, "- %s\n", work->cautions.items[i]->text);
}

static const char *event_description(const struct model *model, const struct work *work)
{
    struct buffer text = {.arena = model->arena};
    const struct machine *machine = work->occurrence->treatment->machine;
    for (size_t i = 0; i < work->materials.count; i++)
        portions_add(&text, model, &work->materials.items[i], machine ? machine->passes : 1);
    for (size_t i = 0; i < work->sentences.count; i++)
        buffer_format(&text, "%s\n", work->sentences.items[i]);
    cautions_add(&text, work);
    struct closing closing = closing_of(model);
    for (size_t i = 0; i < closing.count; i++)
        buffer_format(&text, "\n%s", closing.lines[i]);
    return plain_text(model->arena, text.string, true);
}

/* libical writes the commas and semicolons of categories as it finds them, so a name may not bring its own.
 */
static void category_add(struct buffer *text, const char *name)
{
    if (text->length)
        buffer_add_string(text, ",");
    for (const char *at = plain_text(text->arena, name, false); *at; at++)
        buffer_add(text, *at == ',' || *at == ';' ? TEXT(" ") : (struct text){at, 1});
}

static const char *event_categories(const struct model *model, const struct work *work)
{
    struct buffer text = {.arena = model->arena};
    const struct treatment *treatment = work->occurrence->treatment;
    category_add(&text, treatment->task ? "task" : "application");
    for (size_t i = 0; i < treatment->kinds.count; i++)
        category_add(&text, name_string(treatment->kinds.items[i]));
    return text.string;
}

static struct event event_of(const struct model *model, const struct work *work)
{
    return (struct event){.uid = work->uid,
                          .summary = plain_text(model->arena, work->headline, false),
                          .description = event_description(model, work),
                          .categories = event_categories(model, work),
                          .day = work->occurrence->day,
                          .alarm = model->has_reminder && !work->occurrence->done};
}

/* An edition before may have put it into somebody's calendar; this takes it off again. */
static struct event cancelled_event_of(const struct model *model, const struct work *work)
{
    const struct record *record = work->occurrence->record;
    const char *why = record && record->why ? record->why : "";
    return (struct event){.uid = work->uid,
                          .summary = plain_text(model->arena, work->headline, false),
                          .description = plain_text(model->arena, why, true),
                          .categories = event_categories(model, work),
                          .day = work->occurrence->planned,
                          .cancelled = true};
}

/* ---- the same in libical's objects ---- */

struct calendar {
    const char *name;
    int sequence;
    int64_t stamp;
    int alarm_seconds; /* after the day's start; below 0 before it */
    size_t event_count;
    struct event *events;
    bool refused; /* the system gave no memory */
};

static void put(struct calendar *calendar, icalcomponent *to, icalproperty *property)
{
    if (property)
        icalcomponent_add_property(to, property);
    else
        calendar->refused = true;
}

static icalcomponent *component_put(struct calendar *calendar, icalcomponent *to, icalcomponent_kind kind)
{
    icalcomponent *component = icalcomponent_new(kind);
    if (component)
        icalcomponent_add_component(to, component);
    else
        calendar->refused = true;
    return component;
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

enum { SECONDS_A_DAY = 86400 };

static struct icaltimetype ical_stamp(int64_t seconds)
{
    struct icaltimetype time = ical_date((day_number)(seconds / SECONDS_A_DAY));
    int rest = (int)(seconds % SECONDS_A_DAY);
    time.is_date = 0;
    time.hour = rest / 3600;
    time.minute = rest / 60 % 60;
    time.second = rest % 60;
    time.zone = icaltimezone_get_utc_timezone();
    return time;
}

/* The alarm stands last: a reader was seen to lose events that have it before their own properties. */
static void alarm_put(struct calendar *calendar, icalcomponent *event, const char *summary)
{
    icalcomponent *alarm = component_put(calendar, event, ICAL_VALARM_COMPONENT);
    if (!alarm)
        return;
    struct icaltriggertype trigger = {.time = icaltime_null_time(),
                                      .duration = icaldurationtype_from_int(calendar->alarm_seconds)};
    put(calendar, alarm, icalproperty_new_action(ICAL_ACTION_DISPLAY));
    put(calendar, alarm, icalproperty_new_trigger(trigger));
    put(calendar, alarm, icalproperty_new_description(summary));
}

static void event_put(struct calendar *calendar, icalcomponent *root, const struct event *event)
{
    icalcomponent *component = component_put(calendar, root, ICAL_VEVENT_COMPONENT);
    if (!component)
        return;
    put(calendar, component, icalproperty_new_uid(event->uid));
    put(calendar, component, icalproperty_new_dtstamp(ical_stamp(calendar->stamp)));
    put(calendar, component, icalproperty_new_dtstart(ical_date(event->day)));
    put(calendar, component, icalproperty_new_dtend(ical_date(event->day + 1))); /* the end is not included */
    put(calendar, component, icalproperty_new_sequence(calendar->sequence));
    put(calendar, component, icalproperty_new_summary(event->summary));
    put(calendar, component, icalproperty_new_description(event->description));
    put(calendar, component, icalproperty_new_categories(event->categories));
    put(calendar, component, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
    put(calendar, component,
        icalproperty_new_status(event->cancelled ? ICAL_STATUS_CANCELLED : ICAL_STATUS_CONFIRMED));
    if (event->alarm)
        alarm_put(calendar, component, event->summary);
}

/* The older X-WR-CALNAME is what most readers look for; libical leaves its commas bare, as its readers
 * expect. */
static void calendar_put(struct calendar *calendar, icalcomponent *root)
{
    put(calendar, root, icalproperty_new_version("2.0"));
    put(calendar, root, icalproperty_new_prodid("-//prill//season calendar//EN"));
    put(calendar, root, icalproperty_new_calscale("GREGORIAN"));
    put(calendar, root, icalproperty_new_name(calendar->name));
    icalproperty *x_name = icalproperty_new_x(calendar->name);
    if (x_name)
        icalproperty_set_x_name(x_name, "X-WR-CALNAME");
    put(calendar, root, x_name);
    for (size_t i = 0; i < calendar->event_count; i++)
        event_put(calendar, root, &calendar->events[i]);
}

/* The calendar's text, to be freed; NULL when the system gave no memory. */
static char *calendar_string(struct calendar *calendar)
{
    icalerror_clear_errno();
    icalcomponent *root = icalcomponent_new(ICAL_VCALENDAR_COMPONENT);
    if (!root)
        return NULL;
    calendar_put(calendar, root);
    char *string = icalcomponent_as_ical_string_r(root);
    icalcomponent_free(root);
    assert(icalerrno == ICAL_NO_ERROR || icalerrno == ICAL_NEWFAILED_ERROR);
    if (!calendar->refused && icalerrno == ICAL_NO_ERROR)
        return string;
    free(string);
    return NULL;
}

/* False when the arena has no room for it. Apart from its caller because of what setjmp does to locals. */
static bool string_copied(struct buffer *out, const char *string)
{
    jmp_buf refused;
    if (setjmp(refused))
        return false;
    out->arena->exhausted = &refused;
    buffer_add_string(out, string);
    return true;
}

/* ---- from the season ---- */

static int64_t season_stamp(const struct model *model)
{
    day_number day = model->edition > 0 ? model->edition_day : model->has_season ? model->season_first : 0;
    return day < 0 ? 0 : (int64_t)day * SECONDS_A_DAY;
}

static void events_make(struct calendar *calendar, const struct season *season)
{
    struct work_list list = work_list_of(season), skipped = work_list_skipped(season);
    calendar->events = ARENA_ARRAY(season->arena, list.count + skipped.count, struct event);
    for (size_t i = 0; i < list.count; i++)
        calendar->events[calendar->event_count++] = event_of(season->model, &list.items[i]);
    for (size_t i = 0; i < skipped.count; i++)
        if (skipped.items[i].occurrence->planned != skipped.items[i].occurrence->day)
            calendar->events[calendar->event_count++] = cancelled_event_of(season->model, &skipped.items[i]);
}

static struct calendar calendar_of(const struct season *season)
{
    const struct model *model = season->model;
    struct calendar calendar = {.name = plain_text(season->arena, model->title ? model->title : "", false),
                                .sequence = model->edition > 0 ? model->edition - 1 : 0,
                                .alarm_seconds =
                                    model->reminder_minutes * 60 - model->reminder_days * SECONDS_A_DAY};
    events_make(&calendar, season);
    return calendar;
}

void calendar_ics_print(struct buffer *out, const struct season *season, const int64_t *stamp)
{
    struct calendar calendar = calendar_of(season);
    calendar.stamp = stamp ? *stamp : season_stamp(season->model);
    assert(calendar.stamp >= 0 && calendar.stamp <= CALENDAR_ICS_STAMP_LIMIT);
    char *string = calendar_string(&calendar);
    if (!string)
        arena_exhausted(out->arena);
    jmp_buf *exhausted = out->arena->exhausted;
    bool copied = string_copied(out, string);
    out->arena->exhausted = exhausted;
    free(string);
    if (!copied)
        arena_exhausted(out->arena);
}
