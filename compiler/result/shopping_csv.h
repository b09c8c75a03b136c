/* The shopping list for spreadsheets. */
#ifndef PRILL_RESULT_SHOPPING_CSV_H
#define PRILL_RESULT_SHOPPING_CSV_H

#include "compiler/season/season.h"

/* A row for each size of pack to buy, or one for a product without. What is told of a product as a whole
 * stands in its first row only, so that a column adds up. Amounts to put down are rounded up. */
void shopping_csv_print(struct buffer *out, const struct season *season);

#endif
