/* The reports of a compilation as a client sees them: one document, or a struct each. */
#include "compiler/compilation.h"

#include "compiler/form/report_document.h"

size_t prill_count(const struct prill_compilation *compilation, enum prill_severity severity)
{
    if (!compilation)
        return 0;
    switch (severity) {
    case PRILL_NOTE:
        return compilation->reports.notes;
    case PRILL_WARNING:
        return compilation->reports.warnings;
    case PRILL_ERROR:
        return compilation->reports.errors;
    }
    return 0;
}

/* ---- one document ---- */

struct gathering {
    struct prill_compilation *const *compilations;
    size_t count;
    struct request request;
};

/* Whatever a compilation has: one that could not be read has none. A form that is not there is the caller's
 * error and not the plan's. */
static void gather(struct prill_compilation *compilation, void *task)
{
    struct gathering *gathering = task;
    struct request *request = &gathering->request;
    struct report_document document;
    if (!report_document_begin(&document, &compilation->arena, request->form, request->colour,
                               PRILL_VERSION)) {
        compilation_refuse(compilation, PRILL_BAD_CALL, NULL, "reports have the forms text, json and sarif");
        return;
    }
    for (size_t i = 0; i < gathering->count; i++)
        if (gathering->compilations[i])
            report_document_add(&document, &gathering->compilations[i]->reports);
    report_document_end(&document);
    request->out = document.text;
    request->done = true;
}

const char *prill_reports(struct prill_compilation *const *compilations, size_t count, const char *form,
                          bool colour, size_t *length)
{
    struct gathering gathering = {
        .compilations = compilations, .count = count, .request = {.form = form, .colour = colour}};
    if (compilations && count)
        compilation_attempt(compilations[0], gather, &gathering);
    return request_answer(&gathering.request, length);
}

/* ---- a struct each ---- */

static struct prill_position position_shown(const struct source *source, uint32_t offset)
{
    struct position position = source_position(source, offset);
    return (struct prill_position){offset, position.line, position.column, position.utf16_column};
}

static struct prill_place place_shown(struct place place)
{
    if (!place.source)
        return (struct prill_place){0};
    return (struct prill_place){place.source->path, position_shown(place.source, place.start),
                                position_shown(place.source, place.end)};
}

/* The structs point into the reports, but for places: those are worked out now, line and column. */
static void list_reports(struct prill_compilation *compilation, void *task)
{
    static const enum prill_severity severities[] = {
        [SEVERITY_NOTE] = PRILL_NOTE, [SEVERITY_WARNING] = PRILL_WARNING, [SEVERITY_ERROR] = PRILL_ERROR};
    (void)task;
    struct arena *arena = &compilation->arena;
    const struct reports *reports = &compilation->reports;
    struct prill_report *listed = ARENA_ARRAY(arena, reports->all.count + 1, struct prill_report);
    for (size_t at = 0; at < reports->all.count; at++) {
        const struct report *report = reports->all.items[at];
        struct prill_label *labels = ARENA_ARRAY(arena, report->labels.count + 1, struct prill_label);
        for (size_t i = 0; i < report->labels.count; i++)
            labels[i] = (struct prill_label){place_shown(report->labels.items[i].place),
                                             report->labels.items[i].text};
        size_t edit_count = report->fix ? report->fix->edit_count : 0;
        struct prill_edit *edits = ARENA_ARRAY(arena, edit_count + 1, struct prill_edit);
        for (size_t i = 0; i < edit_count; i++)
            edits[i] = (struct prill_edit){place_shown(report->fix->edits[i].place),
                                           report->fix->edits[i].replacement};
        listed[at] = (struct prill_report){
            .severity = severities[report->severity],
            .check = report->rule->name,
            .sentence = report->sentence,
            .place = place_shown(report->place),
            .place_words = report->place_label,
            .labels = labels,
            .label_count = report->labels.count,
            .notes = report->notes.items,
            .note_count = report->notes.count,
            .help = report->help,
            .fix = report->fix ? report->fix->sentence : NULL,
            .fix_safe = report->fix && report->fix->safe,
            .edits = edits,
            .edit_count = edit_count,
            .allowed_because = report->allowed_because,
        };
    }
    compilation->listed = listed;
}

const struct prill_report *prill_report_after(struct prill_compilation *compilation,
                                              const struct prill_report *report)
{
    if (!compilation || (!compilation->listed && !compilation_attempt(compilation, list_reports, NULL)))
        return NULL;
    const struct prill_report *next = report ? report + 1 : compilation->listed;
    return next < compilation->listed + compilation->reports.all.count ? next : NULL;
}
