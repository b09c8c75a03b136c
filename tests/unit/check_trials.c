#include "tests/unit/check_trials.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

void checks_of(struct season_text *read, const char *plan)
{
    season_text_read_faulty(read, plan);
    checks_run(read->season);
}

const struct report *report_of(const struct season_text *read, const char *check)
{
    for (size_t i = 0; i < read->reports.all.count; i++)
        if (strcmp(read->reports.all.items[i]->rule->name, check) == 0)
            return read->reports.all.items[i];
    return NULL;
}

size_t count_of(const struct season_text *read, const char *check)
{
    size_t count = 0;
    for (size_t i = 0; i < read->reports.all.count; i++)
        count += strcmp(read->reports.all.items[i]->rule->name, check) == 0 &&
                 !read->reports.all.items[i]->allowed_because;
    return count;
}

void assert_says(const struct season_text *read, const char *check, const char *sentence)
{
    const struct report *report = report_of(read, check);
    assert_non_null(report);
    assert_string_equal(report->sentence, sentence);
}

const char *parts_of(struct season_text *read, const char *check)
{
    const struct report *report = report_of(read, check);
    struct buffer text = {.arena = &read->arena};
    assert_non_null(report);
    buffer_format(&text, "%.*s\n", (int)place_text(report->place).length, place_text(report->place).start);
    for (size_t i = 0; i < report->labels.count; i++) {
        struct text place = place_text(report->labels.items[i].place);
        buffer_format(&text, "%.*s: %s\n", (int)place.length, place.start, report->labels.items[i].text);
    }
    for (size_t i = 0; i < report->notes.count; i++)
        buffer_format(&text, "note: %s\n", report->notes.items[i]);
    return buffer_string(&text);
}
