/* What a compilation is told beside its plan: a moment, a day, the calendar of an edition before. */
#include "compiler/compilation.h"

#include "compiler/model/file.h"
#include "compiler/result/result.h"

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
    return seconds >= 0 && seconds <= STAMP_LIMIT && compilation_attempt(compilation, copy_stamp, &seconds);
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
    if (compilation->season) {
        look->from = season_days_from(compilation->season, look->day);
        compilation->season->as_of = look->day;
    }
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

/* Calendar programs go by the SEQUENCE, which an edition of 1 and none both begin. */
static bool edition_higher(const struct model *model, const struct earlier *earlier)
{
    return model->edition > (earlier->edition > 1 ? earlier->edition : 1);
}

static const char *edition_text(struct arena *arena, int edition)
{
    return edition ? text_format(arena, "edition %d", edition) : "no edition, which counts as the first";
}

/* The plan may have been renamed, or the file be that of another garden: it is told, not guessed. */
static const char *all_gone_text(struct prill_compilation *compilation, const struct earlier *earlier)
{
    const char *title = earlier->title ? earlier->title : "a plan without a name";
    size_t count = earlier->works.count;
    return text_format(&compilation->arena,
                       "it is the calendar of %s, and nothing of it is in this plan: %s %zu of its events "
                       "%s taken off calendars",
                       title, count == 1 ? "the" : "all", count, count == 1 ? "is" : "are");
}

static void take_earlier(struct prill_compilation *compilation, void *task)
{
    const char *why = NULL;
    struct text json = {0};
    const struct model *model = compilation->season ? compilation->season->model : NULL;
    if (!file_text(compilation, task, &json))
        return;
    struct earlier *earlier = earlier_read(&compilation->arena, json, &why);
    if (!earlier) {
        compilation_refuse(compilation, PRILL_BAD_CALL, why);
        return;
    }
    if (model && !edition_higher(model, earlier)) {
        compilation_refuse(
            compilation, PRILL_BAD_CALL,
            text_format(&compilation->arena,
                        "it states %s, and the plan %s; calendar programs take the change from a higher "
                        "edition only",
                        edition_text(&compilation->arena, earlier->edition),
                        model->edition ? edition_text(&compilation->arena, model->edition) : "none"));
        return;
    }
    compilation->earlier = earlier;
    if (model && compilation->reports.errors == 0 &&
        earlier_all_gone(&compilation->arena, earlier, compilation->season))
        compilation->reason = all_gone_text(compilation, earlier);
}

enum prill_status prill_set_earlier(struct prill_compilation *compilation, const char *path)
{
    if (!compilation_attempt(compilation, take_earlier, (void *)path))
        return PRILL_SYSTEM_FAILED;
    return compilation->status == PRILL_PLAN_HAS_ERRORS ? PRILL_FINE : compilation->status;
}
