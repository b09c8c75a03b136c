/* What a plan is compiled with beside its text: taken from the client, and applied to the season. */
#include "compiler/compilation.h"

#include "compiler/model/file.h"
#include "compiler/result/result.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

static const char *kept(struct prill_compilation *compilation, const char *string)
{
    return string ? text_string(&compilation->arena, text_of(string)) : NULL;
}

/* A client of another version has a struct of another size: what it does not know is as usual, and what it
 * knows beyond this library must be left as usual. */
bool options_fit(const struct prill_options *given)
{
    const char *bytes = (const char *)given;
    bool fits = given->size >= sizeof given->size;
    for (size_t i = sizeof *given; fits && i < given->size; i++)
        fits = bytes[i] == 0;
    return fits;
}

/* Strings are copied: their owner may free them. */
bool options_take(struct prill_compilation *compilation, const struct prill_options *given)
{
    struct prill_options *options = &compilation->options;
    if (!options_fit(given)) {
        compilation_refuse_option(compilation, PRILL_BAD_CALL, "size",
                                  "this library does not know options of that size");
        return false;
    }
    memcpy(options, given, given->size < sizeof *options ? given->size : sizeof *options);
    options->text = NULL;
    options->stdin_name = kept(compilation, options->stdin_name);
    options->use = kept(compilation, options->use);
    options->late = kept(compilation, options->late);
    options->late_day = kept(compilation, options->late_day ? options->late_day : "");
    options->day = kept(compilation, options->day);
    options->earlier = kept(compilation, options->earlier);
    return true;
}

static void take_stamp(struct prill_compilation *compilation)
{
    int64_t *stamp = ARENA_NEW(&compilation->arena, int64_t);
    *stamp = compilation->options.stamp;
    compilation->stamp = stamp;
    if (*stamp < 0 || *stamp > STAMP_LIMIT)
        compilation_refuse_option(compilation, PRILL_BAD_CALL, "stamp",
                                  text_format(&compilation->arena,
                                              "%lld is not a moment from 1970 to 2199, in seconds since 1970",
                                              (long long)*stamp));
}

/* What is due depends on the day, and on the days that what is overdue still leaves. */
static void take_day(struct prill_compilation *compilation)
{
    const char *text = compilation->options.day;
    struct civil_date date;
    struct look *look = ARENA_NEW(&compilation->arena, struct look);
    if (!date_of_text(text_of(text), &date)) {
        compilation_refuse_option(
            compilation, PRILL_BAD_CALL, "day",
            text_format(&compilation->arena, "\"%s\" is not a date; write it as 2027-04-17", text));
        return;
    }
    look->day = day_of_date(date);
    if (compilation->season) {
        look->from = season_days_from(compilation->season, look->day);
        compilation->season->as_of = look->day;
    }
    compilation->look = look;
}

/* ---- the calendar of an earlier edition ---- */

static const char *edition_text(struct arena *arena, int edition)
{
    return edition ? text_format(arena, "edition %d", edition) : "no edition (counts as 1)";
}

/* NULL, or why the file cannot be read. */
static const char *file_text(struct arena *arena, const char *path, struct text *text)
{
    struct stat status;
    const unsigned char *bytes = NULL;
    uint32_t length = 0;
    int descriptor = file_open(path, &status);
    if (descriptor < 0)
        return file_reason(errno);
    const char *reason = file_read(arena, descriptor, true, &status, &bytes, &length);
    close(descriptor);
    *text = (struct text){(const char *)bytes, length};
    return reason;
}

/* Calendar programs take a change from a higher SEQUENCE only, and an edition of 1 and none both begin it.
 * Where nothing of the file is left in the plan, the plan may have been renamed, or the file be that of
 * another garden: that is said, not guessed. */
static void take_earlier(struct prill_compilation *compilation)
{
    struct arena *arena = &compilation->arena;
    struct text json = {0};
    const char *why = file_text(arena, compilation->options.earlier, &json);
    if (why) {
        compilation_refuse_option(compilation, PRILL_SYSTEM_FAILED, "earlier", why);
        return;
    }
    const struct model *model = compilation->season ? compilation->season->model : NULL;
    const struct earlier *earlier = earlier_read(arena, json, &why);
    if (earlier && model && model->edition <= (earlier->edition > 1 ? earlier->edition : 1))
        why = text_format(arena,
                          "it has %s, and the plan %s; calendar programs take a change only from a "
                          "higher edition",
                          edition_text(arena, earlier->edition),
                          model->edition ? edition_text(arena, model->edition) : "none");
    if (why) {
        compilation_refuse_option(compilation, PRILL_BAD_CALL, "earlier", why);
        return;
    }
    compilation->earlier = earlier;
    if (model && compilation->reports.errors == 0 && earlier_all_gone(arena, earlier, compilation->season)) {
        size_t count = earlier->works.count;
        const char *title = earlier->title ? earlier->title : "a plan without a name";
        compilation->reason = text_format(
            arena, "it is the calendar of %s, and this plan has none of its events: %s %zu %s cancelled",
            title, count == 1 ? "the" : "all", count, count == 1 ? "is" : "are");
    }
}

void options_apply(struct prill_compilation *compilation)
{
    if (compilation->options.stamped)
        take_stamp(compilation);
    if (compilation->options.day && !compilation->option)
        take_day(compilation);
    if (compilation->options.earlier && !compilation->option)
        take_earlier(compilation);
}
