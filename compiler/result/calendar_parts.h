/* What the calendar and the season's report both begin and end with. */
#ifndef PRILL_RESULT_CALENDAR_PARTS_H
#define PRILL_RESULT_CALENDAR_PARTS_H

#include "compiler/result/result.h"

/* The plan, its season and edition; what the day looked at from finds to do, and what is still in force. */
void calendar_opening_describe(struct page *page, const struct result_input *input,
                               const struct work_list *list);

/* What was skipped and accepted, and how many reports are open. */
void calendar_reports_describe(struct page *page, const struct result_input *input);

/* The ground, and the limits that bind the plan. */
void calendar_basis_describe(struct page *page, const struct model *model);

/* The works of one day, in their order, from `first` up to `end`: what to look at before the start, each
 * piece of work with its amounts and steps to tick off, the day's cautions once, and the records to copy back
 * into the plan, with a blank for each amount. Begins with the day as a heading of a sheet. */
void day_describe(struct page *page, const struct season *season, const struct work *first,
                  const struct work *end);

/* "Take care: ...": the cautions of a day in their few words, each once. In full they would be half of the
 * page. */
void day_care_describe(struct page *page, const struct work *first, const struct work *end);

#endif
