/* The shopping list for a person. */
#ifndef PRILL_RESULT_SHOPPING_TEXT_H
#define PRILL_RESULT_SHOPPING_TEXT_H

#include "compiler/season/season.h"

/* Of a season without errors. No amount to put down reads less than it is, and none left over more. */
void shopping_text_print(struct buffer *out, const struct season *season);

#endif
