/* The budget of nutrients for other programs. */
#ifndef PRILL_RESULT_BUDGET_JSON_H
#define PRILL_RESULT_BUDGET_JSON_H

#include "compiler/season/season.h"

/* One document; amounts are kg/m2 of what the nutrient's name says. */
void budget_json_print(struct buffer *out, const struct season *season);

#endif
