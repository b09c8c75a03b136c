/* The shopping list for other programs. */
#ifndef PRILL_RESULT_SHOPPING_JSON_H
#define PRILL_RESULT_SHOPPING_JSON_H

#include "compiler/season/season.h"

/* One document: kg, m3, m2, and prices as plain numbers. */
void shopping_json_print(struct buffer *out, const struct season *season);

#endif
