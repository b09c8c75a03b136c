/* What a compilation is told beside its plan: a moment, a day, the calendar of an edition before. */
#include "compiler/compilation.h"

#include "compiler/model/file.h"
#include "compiler/output/calendar_ics.h"

#include <errno.h>
#include <unistd.h>

static void copy_stamp(struct prill_compilation *compilation, void *task)
{
    int64_t *stamp = ARENA_NEW(&compilation->arena, int64_t);
    *stamp = *(const long long *)task;
    compilation->stamp = stamp;
}

bool prill_set_stamp(struct prill_compilation *compilation, long long seconds)
{
    return seconds >= 0 && seconds <= CALENDAR_ICS_STAMP_LIMIT &&
           compilation_attempt(compilation, copy_stamp, &seconds);
}

static void look_from(struct prill_compilation *compilation, void *task)
{
    const char *text = task;
    struct civil_date date;
    struct look *look = ARENA_NEW(&compilation->arena, struct look);
    if (!date_of_text(text_of(text), &date)) {
        compilation_refuse(
            compilation, PRILL_BAD_CALL,
            text_format(&compilation->arena, "\"%s\" is no day; write it as 2027-04-17", text));
        return;
    }
    look->day = day_of_date(date);
    if (compilation->season)
        look->from = season_days_from(compilation->season, look->day);
    compilation->look = look;
}

bool prill_set_day(struct prill_compilation *compilation, const char *date)
{
    return compilation_attempt(compilation, look_from, (void *)date) && compilation->status != PRILL_BAD_CALL;
}

static bool file_text(struct prill_compilation *compilation, const char *path, struct text *text)
{
    struct stat status;
    const unsigned char *bytes = NULL;
    uint32_t length = 0;
    int descriptor = file_open(path, &status);
    const char *reason = descriptor < 0
                             ? file_reason(errno)
                             : file_read(&compilation->arena, descriptor, true, &status, &bytes, &length);
    if (descriptor >= 0)
        close(descriptor);
    if (reason) {
        compilation_refuse(compilation, PRILL_SYSTEM_FAILED, reason);
        return false;
    }
    *text = (struct text){(const char *)bytes, length};
    return true;
}

static void take_earlier(struct prill_compilation *compilation, void *task)
{
    const char *why = NULL;
    struct text json = {0};
    const struct model *model = compilation->season ? compilation->season->model : NULL;
    if (!file_text(compilation, task, &json))
        return;
    struct earlier *earlier = earlier_read(&compilation->arena, json, &why);
    if (!earlier)
        compilation_refuse(compilation, PRILL_BAD_CALL, why);
    else if (model && earlier->edition >= model->edition)
        compilation_refuse(
            compilation, PRILL_BAD_CALL,
            text_format(
                &compilation->arena,
                "it is of edition %d, and the plan states %s; calendar programs take the change from a "
                "higher edition only",
                earlier->edition,
                model->edition ? text_format(&compilation->arena, "edition %d", model->edition) : "none"));
    else
        compilation->earlier = earlier;
}

enum prill_status prill_set_earlier(struct prill_compilation *compilation, const char *path)
{
    if (!compilation_attempt(compilation, take_earlier, (void *)path))
        return PRILL_SYSTEM_FAILED;
    return compilation->status == PRILL_PLAN_HAS_ERRORS ? PRILL_FINE : compilation->status;
}
