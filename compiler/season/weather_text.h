/* What the weather says of a day, in words: for reports and for outputs. */
#ifndef PRILL_SEASON_WEATHER_TEXT_H
#define PRILL_SEASON_WEATHER_TEXT_H

#include "compiler/model/model.h"
#include "compiler/season/watch.h"

/* "a high of 86.5 F is usual"; by years: "this held in 3 of 4 years". */
const char *weather_text(struct arena *arena, const struct model *model,
                         const struct weather_condition *condition, const struct weather_look *look);
/* The same with its day: "... on Sat 2027-07-10", or "by" it for a sum. */
const char *weather_text_on(struct arena *arena, const struct model *model,
                            const struct weather_condition *condition, const struct weather_look *look,
                            day_number day);

/* Where the plan or its files tell that weather: a row of a file, a month's normals, or the statement. */
struct place weather_place(const struct weather *weather, const struct weather_look *look, day_number day);

const char *verdict_text(enum verdict verdict); /* "unknown", "broken", "kept" */

const char *origin_text(enum reading_origin origin); /* "is usual", "is forecast", "was measured" */

/* "in 1 of 4 years", "in none of 4 years" */
const char *years_text(struct arena *arena, int years, int of);

#endif
