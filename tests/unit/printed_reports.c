#include "tests/unit/printed_reports.h"

#include "compiler/form/report_text.h"

const char *printed(const struct report *report)
{
    struct buffer out = {.arena = &made_arena};
    report_text_print(&out, report, false);
    return buffer_string(&out);
}

const char *printed_on(const char *text, const char *words)
{
    struct source *source = made_source("p.prill", text);
    return printed(report_add(&made_reports, &made_error, made_place(source, words), "found"));
}
