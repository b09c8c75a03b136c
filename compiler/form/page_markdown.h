/* A page as Markdown (CommonMark 0.30, https://spec.commonmark.org/0.30/; tables as GitHub's,
 * https://github.github.com/gfm/): for a pull request, a wiki, a note. Nothing that a plan wrote is read as
 * Markdown or HTML. */
#ifndef PRILL_FORM_PAGE_MARKDOWN_H
#define PRILL_FORM_PAGE_MARKDOWN_H

#include "compiler/form/page.h"

/* Its words are those of page_text_print, in the same order. A first heading is the document's title. */
void page_markdown_print(struct buffer *out, const struct page *page);

#endif
