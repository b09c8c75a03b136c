/* A page as text for a terminal or a sheet of paper: lines of at most PARAGRAPH_CELLS cells. */
#ifndef PRILL_FORM_PAGE_TEXT_H
#define PRILL_FORM_PAGE_TEXT_H

#include "compiler/form/page.h"

void page_text_print(struct buffer *out, const struct page *page);

#endif
