/* The weather that the season counts on, for a person: day by day what is asked of it, what it is known or
 * expected to be, and in how many years of the history it was not so. */
#ifndef PRILL_RESULT_WEATHER_RISK_TEXT_H
#define PRILL_RESULT_WEATHER_RISK_TEXT_H

#include "compiler/season/season.h"

/* Of a season without errors. */
void risk_text_print(struct buffer *out, const struct season *season);

#endif
