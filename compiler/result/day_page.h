/* A day's work as a page to take along. */
#ifndef PRILL_RESULT_DAY_PAGE_H
#define PRILL_RESULT_DAY_PAGE_H

#include "compiler/form/page.h"
#include "compiler/result/work.h"

/* The works of one day, in their order, from `first` up to `end`: what to look at before the start, each
 * piece of work with its amounts and steps to tick off, the day's cautions once, and the records to copy back
 * into the plan, with a blank for each amount. Begins with the day as a heading of a sheet. */
void day_describe(struct page *page, const struct season *season, const struct work *first,
                  const struct work *end);

/* "Take care: ...": the cautions of a day in their few words, each once. In full they would be half of the
 * page. */
void day_care_describe(struct page *page, const struct work *first, const struct work *end);

#endif
