/* Two seasons beside each other, for other programs; docs/compare.schema.json describes it. */
#ifndef PRILL_RESULT_SEASON_DIFF_JSON_H
#define PRILL_RESULT_SEASON_DIFF_JSON_H

#include "compiler/model/replacement.h"
#include "compiler/season/season.h"

/* Of two seasons without errors; `replacement`: the file by which the new one is another, NULL without. */
void compare_json_print(struct buffer *out, const struct season *old, const struct season *new,
                        const struct replacement *replacement);

#endif
