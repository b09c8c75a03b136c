/* The budget of nutrients for a person. */
#ifndef PRILL_RESULT_BUDGET_TEXT_H
#define PRILL_RESULT_BUDGET_TEXT_H

#include "compiler/season/season.h"

/* Of a season without errors: a table by month and the measures with their bars, zone by zone. */
void budget_text_print(struct buffer *out, const struct season *season);

#endif
