/* The rates that the compiler chose, for other programs. */
#ifndef PRILL_RESULT_RATES_JSON_H
#define PRILL_RESULT_RATES_JSON_H

#include "compiler/season/season.h"

/* One document: kg/m2, kg, m2, shares; prices as plain numbers. */
void rates_json_print(struct buffer *out, const struct season *season);

#endif
