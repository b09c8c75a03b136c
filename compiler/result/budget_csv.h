/* The budget of nutrients for spreadsheets. */
#ifndef PRILL_RESULT_BUDGET_CSV_H
#define PRILL_RESULT_BUDGET_CSV_H

#include "compiler/season/season.h"

/* A row for each zone, month and nutrient, then for each measure that the zone is held against. */
void budget_csv_print(struct buffer *out, const struct season *season);

#endif
