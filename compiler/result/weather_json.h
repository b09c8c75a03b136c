/* The weather that the season counts on, for other programs. Schema: docs/weather.schema.json. */
#ifndef PRILL_RESULT_WEATHER_JSON_H
#define PRILL_RESULT_WEATHER_JSON_H

#include "compiler/season/season.h"

/* Of a season without errors. */
void risk_json_print(struct buffer *out, const struct season *season);

#endif
