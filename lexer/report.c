#include "lexer/report.h"

#include <assert.h>
#include <stdlib.h>

const char *severity_name(enum severity severity)
{
    switch (severity) {
    case SEVERITY_NOTE:
        return "note";
    case SEVERITY_WARNING:
        return "warning";
    case SEVERITY_ERROR:
        return "error";
    }
    abort();
}

void reports_init(struct reports *reports, struct arena *arena)
{
    *reports = (struct reports){.arena = arena, .scratch = ARENA_NEW(arena, struct report)};
}

static size_t *count_of_severity(struct reports *reports, enum severity severity)
{
    switch (severity) {
    case SEVERITY_NOTE:
        return &reports->notes;
    case SEVERITY_WARNING:
        return &reports->warnings;
    case SEVERITY_ERROR:
        return &reports->errors;
    }
    abort();
}

/* Beyond the most that are kept, a report is counted and written into a scratch that nobody reads. */
struct report *report_vadd(struct reports *reports, const struct rule *rule, struct place place,
                           const char *format, va_list arguments)
{
    bool keep = reports->kept[rule->severity] < REPORT_LIMIT;
    size_t made = reports->errors + reports->warnings + reports->notes + reports->allowed;
    struct report *report = keep ? ARENA_NEW(reports->arena, struct report) : reports->scratch;
    *report = (struct report){
        .rule = rule, .severity = rule->severity, .sentence = "", .place = place, .order = (uint32_t)made};
    ++*count_of_severity(reports, rule->severity);
    if (!keep) {
        reports->flooded = true;
        return report;
    }
    report->sentence = text_vformat(reports->arena, format, arguments);
    reports->kept[rule->severity]++;
    VECTOR_PUSH(reports->arena, &reports->all, report);
    return report;
}

struct report *report_add(struct reports *reports, const struct rule *rule, struct place place,
                          const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    struct report *report = report_vadd(reports, rule, place, format, arguments);
    va_end(arguments);
    return report;
}

/* What is said of a report that is not kept, which is the scratch, takes no memory. */
void report_label(struct reports *reports, struct report *report, struct place place, const char *format, ...)
{
    if (report == reports->scratch)
        return;
    va_list arguments;
    va_start(arguments, format);
    struct label label = {place, text_vformat(reports->arena, format, arguments)};
    va_end(arguments);
    VECTOR_PUSH(reports->arena, &report->labels, label);
}

void report_note(struct reports *reports, struct report *report, const char *format, ...)
{
    if (report == reports->scratch)
        return;
    va_list arguments;
    va_start(arguments, format);
    const char *note = text_vformat(reports->arena, format, arguments);
    va_end(arguments);
    VECTOR_PUSH(reports->arena, &report->notes, note);
}

void report_help(struct reports *reports, struct report *report, const char *format, ...)
{
    if (report == reports->scratch)
        return;
    va_list arguments;
    va_start(arguments, format);
    report->help = text_vformat(reports->arena, format, arguments);
    va_end(arguments);
}

/* A fix is as safe as the least safe of its edits. */
void report_fix(struct reports *reports, struct report *report, bool safe, struct place place,
                const char *replacement, const char *sentence)
{
    if (report == reports->scratch)
        return;
    if (!report->fix) {
        report->fix = ARENA_NEW(reports->arena, struct fix);
        report->fix->sentence = sentence;
        report->fix->safe = true;
    }
    struct fix *fix = report->fix;
    assert(fix->edit_count < sizeof fix->edits / sizeof *fix->edits);
    fix->safe = fix->safe && safe;
    fix->edits[fix->edit_count++] = (struct edit){place, replacement};
}

void report_soften(struct reports *reports, struct report *report)
{
    if (report->severity != SEVERITY_ERROR)
        return;
    report->severity = SEVERITY_WARNING;
    reports->errors--;
    reports->warnings++;
}

/* A note that an `allow` silenced stays: it is listed as allowed. */
void reports_drop_notes(struct reports *reports, size_t first)
{
    uint32_t left = (uint32_t)first;
    for (size_t i = first; i < reports->all.count; i++) {
        struct report *report = reports->all.items[i];
        if (report->severity == SEVERITY_NOTE && !report->allowed_because)
            reports->kept[SEVERITY_NOTE]--;
        else
            reports->all.items[left++] = report;
    }
    reports->all.count = left;
    reports->notes = 0;
    for (size_t i = 0; i < first; i++)
        reports->notes +=
            reports->all.items[i]->severity == SEVERITY_NOTE && !reports->all.items[i]->allowed_because;
    reports->flooded = reports->flooded && (reports->kept[SEVERITY_WARNING] == REPORT_LIMIT ||
                                            reports->kept[SEVERITY_ERROR] == REPORT_LIMIT);
}

void report_allow(struct reports *reports, struct report *report, const char *because, struct place at)
{
    assert(because);
    if (!reports_allowed_by(reports, at))
        VECTOR_PUSH(reports->arena, &reports->allowing, at);
    if (report->allowed_because)
        return;
    report->allowed_because = because;
    report->allowed_at = at;
    --*count_of_severity(reports, report->severity);
    reports->allowed++;
}

bool reports_allowed_by(const struct reports *reports, struct place at)
{
    for (size_t i = 0; i < reports->allowing.count; i++)
        if (reports->allowing.items[i].source == at.source && reports->allowing.items[i].start == at.start)
            return true;
    return false;
}

static int order_of(uint32_t a, uint32_t b)
{
    return (a > b) - (a < b);
}

static int report_compare(const void *left, const void *right)
{
    const struct report *a = *(struct report *const *)left, *b = *(struct report *const *)right;
    if (!a->place.source || !b->place.source) {
        int without = !a->place.source - !b->place.source;
        return without ? without : order_of(a->order, b->order);
    }
    int source = order_of(a->place.source->index, b->place.source->index);
    int start = order_of(a->place.start, b->place.start);
    return source ? source : start ? start : order_of(a->order, b->order);
}

void reports_sort(struct reports *reports)
{
    if (reports->all.count)
        qsort(reports->all.items, reports->all.count, sizeof *reports->all.items, report_compare);
}
