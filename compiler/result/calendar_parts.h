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

#endif
