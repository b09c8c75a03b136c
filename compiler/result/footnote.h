/* Sources by number: [1] in a line, the list of them below. */
#ifndef PRILL_RESULT_FOOTNOTE_H
#define PRILL_RESULT_FOOTNOTE_H

#include "compiler/form/page.h"

struct footnotes {
    struct arena *arena;
    VECTOR(const struct source_entry *) sources;
};

/* " [1]", the same number for the same source; " (no source stated)" for NULL. */
const char *footnote_mark(struct footnotes *notes, const struct source_entry *source);

/* "[1] title, by whom, year (library/sources.prill:67) https://...", one a line; nothing where no mark was
 * made. */
void page_sources(struct page *page, const struct footnotes *notes);

#endif
