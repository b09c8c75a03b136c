/* What prill knows by itself, for a person to look into: needs no plan. */
#ifndef PRILL_RESULT_LIBRARY_PAGE_H
#define PRILL_RESULT_LIBRARY_PAGE_H

#include "compiler/form/page.h"

/* All that the library has, by kind. */
void library_list_page(struct page *page);

/* The entries of that name with their own text and their sources; of a region or a kind of material every
 * line that speaks of it. False, with nothing on the page, where there is none. */
bool library_entry_page(struct page *page, const char *name);

/* The nearest of its names; NULL where none is near. In the arena. */
const char *library_name_nearest(struct arena *arena, const char *name);

#endif
