/* Two seasons beside each other, for other programs; docs/compare.schema.json describes it. */
#ifndef PRILL_OUTPUT_COMPARE_JSON_H
#define PRILL_OUTPUT_COMPARE_JSON_H

#include "compiler/season/season.h"

/* Of two seasons without errors. */
void compare_json_print(struct buffer *out, const struct season *old, const struct season *new);

#endif
