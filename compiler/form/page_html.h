/* Pages as one HTML 5 document that needs nothing from outside: no script, no network, made for a phone, a
 * desk and paper, light and dark. Whatever a plan wrote is text there and nothing else. */
#ifndef PRILL_FORM_PAGE_HTML_H
#define PRILL_FORM_PAGE_HTML_H

#include "compiler/form/page.h"

void page_html_print(struct buffer *out, const struct page *page);

#endif
