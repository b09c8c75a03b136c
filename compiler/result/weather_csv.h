/* The weather that the season counts on, for a spreadsheet: a row for each condition on each planned day. */
#ifndef PRILL_RESULT_WEATHER_CSV_H
#define PRILL_RESULT_WEATHER_CSV_H

#include "compiler/season/season.h"

/* Of a season without errors. */
void risk_csv_print(struct buffer *out, const struct season *season);

#endif
