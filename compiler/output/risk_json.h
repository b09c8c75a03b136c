/* The weather that the season counts on, for other programs. Schema: docs/weather.schema.json. */
#ifndef PRILL_OUTPUT_RISK_JSON_H
#define PRILL_OUTPUT_RISK_JSON_H

#include "compiler/season/season.h"

/* Of a season without errors. */
void risk_json_print(struct buffer *out, const struct season *season);

#endif
