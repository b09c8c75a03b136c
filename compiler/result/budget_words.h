/* A budget's measures as sentences and bars. */
#ifndef PRILL_RESULT_BUDGET_WORDS_H
#define PRILL_RESULT_BUDGET_WORDS_H

#include "compiler/result/budget.h"
#include "compiler/result/need_text.h"

/* What the bars mean. */
extern const char budget_bar_legend[];

/* "#######+++++........]...": reads without colour. NULL where nothing is asked or allowed that is above 0.
 */
const char *budget_bar(struct arena *arena, const struct budget_measure *measure);

/* "At most 3.2 lb N per 1000 sqft in 2027: 1.31 lb N per 1000 sqft is free (plan.prill:78)." */
const char *budget_sentence(const struct need_words *words, const struct budget_measure *measure);

/* "need", "range", "stated", "limit" */
const char *budget_kind_name(enum budget_kind kind);

/* "2027-04" */
const char *budget_month_text(struct arena *arena, const struct budget_month *month);

#endif
