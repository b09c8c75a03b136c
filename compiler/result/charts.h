/* The pictures of a season's report: worked out as charts (compiler/form/chart.h), each with a table of the
 * same numbers beside it. Each appends to the page, and nothing where there is nothing to show. */
#ifndef PRILL_RESULT_CHARTS_H
#define PRILL_RESULT_CHARTS_H

#include "compiler/form/page.h"
#include "compiler/result/work.h"

/* What is done when, and how far it may slip. */
void season_chart_describe(struct page *page, const struct season *season, const struct work_list *list);

/* By lawn and nutrient: what was applied and is planned, day by day, against what is needed and allowed; and
 * for each limit on a run of days, what such a run holds. */
void nutrient_charts_describe(struct page *page, const struct season *season);

/* Each soil test, against what is enough and against the test before it. */
void soil_charts_describe(struct page *page, const struct season *season);

/* The zones that have a shape, from above and to one scale. */
void ground_chart_describe(struct page *page, const struct model *model);

#endif
