#include "compiler/form/report_document.h"

#include "compiler/form/report_json.h"
#include "compiler/form/report_text.h"

#include <string.h>

static const char *const names[] = {
    [REPORTS_AS_TEXT] = "text", [REPORTS_AS_JSON] = "json", [REPORTS_AS_SARIF] = "sarif"};

bool report_document_begin(struct report_document *document, struct arena *arena, const char *form,
                           bool colour, const char *version)
{
    *document =
        (struct report_document){.arena = arena, .colour = colour, .version = version, .text.arena = arena};
    document->log = (struct sarif_log){.arena = arena, .results.arena = arena};
    for (size_t i = 0; form && i < sizeof names / sizeof *names; i++)
        if (strcmp(form, names[i]) == 0) {
            document->form = (enum report_form)i;
            return true;
        }
    return false;
}

/* What one plan takes on the way is given back before the next. */
void report_document_add(struct report_document *document, const struct reports *reports)
{
    struct arena *scratch = arena_scratch(document->arena);
    struct arena_mark mark = arena_mark(scratch);
    struct buffer out = {.arena = scratch};
    switch (document->form) {
    case REPORTS_AS_TEXT:
        reports_text_list(&out, reports, document->colour);
        break;
    case REPORTS_AS_JSON:
        for (size_t i = 0; i < reports->all.count; i++)
            report_json_print(&out, reports->all.items[i]);
        break;
    case REPORTS_AS_SARIF:
        sarif_log_add(&document->log, scratch, reports);
        break;
    }
    buffer_add(&document->text, (struct text){buffer_string(&out), out.length});
    arena_rewind(scratch, mark);
    struct reports *counts = &document->counts;
    counts->errors += reports->errors;
    counts->warnings += reports->warnings;
    counts->notes += reports->notes;
    counts->allowed += reports->allowed;
    counts->flooded = counts->flooded || reports->flooded;
}

void report_document_end(struct report_document *document)
{
    if (document->form == REPORTS_AS_TEXT)
        reports_text_end(&document->text, &document->counts);
    if (document->form == REPORTS_AS_SARIF)
        sarif_log_print(&document->text, &document->log, document->version);
}
