/* The reports of one plan or of many as one document. A plan's reports are taken in and printed at once, so
 * that no plan need live on until the last is read. */
#ifndef PRILL_FORM_REPORT_DOCUMENT_H
#define PRILL_FORM_REPORT_DOCUMENT_H

#include "compiler/form/report_sarif.h"

struct report_document {
    struct arena *arena;
    enum report_form { REPORTS_AS_TEXT, REPORTS_AS_JSON, REPORTS_AS_SARIF } form;
    bool colour;
    const char *version;   /* of the program */
    struct buffer text;    /* so far */
    struct sarif_log log;  /* so far, where the form is sarif */
    struct reports counts; /* of all reports so far; it holds none */
};

/* `form` is "text", "json" or "sarif"; false, and nothing begun, for another or NULL. Colour is for text. All
 * is taken from `arena`, with its scratch arena on the way. */
bool report_document_begin(struct report_document *document, struct arena *arena, const char *form,
                           bool colour, const char *version);
void report_document_add(struct report_document *document, const struct reports *reports);

/* What the form has after the last report. The document is then whole in `text`. */
void report_document_end(struct report_document *document);

#endif
