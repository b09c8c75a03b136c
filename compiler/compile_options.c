/* What a plan is compiled with beside its text: taken from the client, and applied to the season. */
#include "compiler/compilation.h"

#include "compiler/model/file.h"
#include "compiler/result/result.h"

#include <assert.h>
#include <errno.h>
#include <string.h>
#include <unistd.h>

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
        compilation_refuse(compilation, PRILL_BAD_CALL, "size",
                           "this library does not know options of that size");
        return false;
    }
    memcpy(options, given, given->size < sizeof *options ? given->size : sizeof *options);
    options->text = NULL;
    options->late_day = options->late_day ? options->late_day : "";
    const char **strings[OPTION_STRINGS];
    options_strings(options, strings);
    for (size_t i = 0; i < OPTION_STRINGS; i++)
        if (*strings[i])
            *strings[i] = text_string(&compilation->arena, text_of(*strings[i]));
    return true;
}

void options_strings(struct prill_options *options, const char **strings[OPTION_STRINGS])
{
    const char **all[OPTION_STRINGS] = {&options->stdin_name, &options->use, &options->late,
                                        &options->late_day,   &options->day, &options->earlier};
    memcpy(strings, all, sizeof all);
}

/* The first that does not fit ends it. */
void options_apply(struct prill_compilation *compilation)
{
    struct arena *arena = &compilation->arena;
    const struct prill_options *options = &compilation->options;
    if (options->stamped && (options->stamp < 0 || options->stamp > STAMP_LIMIT))
        compilation_refuse(compilation, PRILL_BAD_CALL, "stamp",
                           text_format(arena, "%lld is not a moment from 1970 to 2199, in seconds since 1970",
                                       options->stamp));
    if (options->stamped) {
        int64_t *stamp = ARENA_NEW(arena, int64_t);
        *stamp = options->stamp;
        compilation->stamp = stamp;
    }
    /* What is due depends on the day, and on the days that what is overdue still leaves. */
    struct civil_date date = {0};
    if (options->day && !compilation->option && !date_of_text(text_of(options->day), &date)) {
        compilation_refuse(compilation, PRILL_BAD_CALL, "day",
                           text_format(arena, "\"%s\" is not a date; write it as 2027-04-17", options->day));
    } else if (options->day && !compilation->option) {
        struct look *look = ARENA_NEW(arena, struct look);
        look->day = day_of_date(date);
        if (compilation->season) {
            look->from = season_days_from(compilation->season, look->day);
            compilation->season->as_of = look->day;
        }
        compilation->look = look;
    }
    if (!options->earlier || compilation->option)
        return;

    /* The calendar of an earlier edition. Calendar programs take a change from a higher SEQUENCE only, and an
     * edition of 1 and none both begin it. Where nothing of the file is left in the plan, the plan may have
     * been renamed, or the file be that of another garden: that is said, not guessed. */
    struct stat status;
    const unsigned char *bytes = NULL;
    uint32_t length = 0;
    int descriptor = file_open(options->earlier, &status);
    const char *why =
        descriptor < 0 ? file_reason(errno) : file_read(arena, descriptor, true, &status, &bytes, &length);
    if (descriptor >= 0)
        close(descriptor);
    if (why) {
        compilation_refuse(compilation, PRILL_SYSTEM_FAILED, "earlier", why);
        return;
    }
    const struct model *model = compilation->season ? compilation->season->model : NULL;
    const struct earlier *earlier = earlier_read(arena, (struct text){(const char *)bytes, length}, &why);
    if (earlier && model && model->edition <= (earlier->edition > 1 ? earlier->edition : 1))
        why = text_format(
            arena, "it has %s, and the plan %s; calendar programs take a change only from a higher edition",
            earlier->edition ? text_format(arena, "edition %d", earlier->edition)
                             : "no edition (counts as 1)",
            model->edition ? text_format(arena, "edition %d", model->edition) : "none");
    if (why) {
        compilation_refuse(compilation, PRILL_BAD_CALL, "earlier", why);
        return;
    }
    assert(earlier); /* or there is a reason */
    compilation->earlier = earlier;
    if (model && compilation->reports.errors == 0 && earlier_all_gone(arena, earlier, compilation->season)) {
        size_t count = earlier->works.count;
        const char *title = earlier->title ? earlier->title : "a plan without a name";
        compilation->reason = text_format(
            arena, "it is the calendar of %s, and this plan has none of its events: %s %zu %s cancelled",
            title, count == 1 ? "the" : "all", count, count == 1 ? "is" : "are");
    }
}
