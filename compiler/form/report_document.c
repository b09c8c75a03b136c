#include "compiler/form/report_document.h"

#include "compiler/form/report_json.h"
#include "compiler/form/report_text.h"

#include <string.h>

struct report_form {
    const char *name;
    void (*add)(struct report_document *document, struct arena *scratch, const struct reports *reports);
    void (*end)(struct report_document *document); /* NULL: nothing */
};

static void add_text(struct report_document *document, struct arena *scratch, const struct reports *reports)
{
    struct buffer out = {.arena = scratch};
    reports_text_list(&out, reports, document->colour);
    buffer_add(&document->text, (struct text){buffer_string(&out), out.length});
}

static void end_text(struct report_document *document)
{
    reports_text_end(&document->text, &document->counts);
}

static void add_json(struct report_document *document, struct arena *scratch, const struct reports *reports)
{
    struct buffer out = {.arena = scratch};
    reports_json_print(&out, reports);
    buffer_add(&document->text, (struct text){buffer_string(&out), out.length});
}

static void add_sarif(struct report_document *document, struct arena *scratch, const struct reports *reports)
{
    sarif_log_add(&document->log, scratch, reports);
}

static void end_sarif(struct report_document *document)
{
    sarif_log_print(&document->text, &document->log, document->version);
}

static const struct report_form report_forms[] = {
    {"text", add_text, end_text},
    {"json", add_json, NULL},
    {"sarif", add_sarif, end_sarif},
};

bool report_document_begin(struct report_document *document, struct arena *arena, const char *form,
                           bool colour, const char *version)
{
    *document =
        (struct report_document){.arena = arena, .colour = colour, .version = version, .text.arena = arena};
    sarif_log_init(&document->log, arena);
    for (size_t i = 0; form && i < sizeof report_forms / sizeof *report_forms; i++)
        if (strcmp(form, report_forms[i].name) == 0)
            document->form = &report_forms[i];
    return document->form;
}

void report_document_add(struct report_document *document, const struct reports *reports)
{
    struct arena *scratch = arena_scratch(document->arena);
    struct arena_mark mark = arena_mark(scratch);
    document->form->add(document, scratch, reports);
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
    if (document->form->end)
        document->form->end(document);
}
