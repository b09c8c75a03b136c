/* What the soil tests say, for a person: each figure with its spread, where a scale places it, and what it
 * asks. */
#ifndef PRILL_RESULT_NEEDS_TEXT_H
#define PRILL_RESULT_NEEDS_TEXT_H

#include "compiler/season/season.h"

/* Of a season without errors. Every statement of a level carries the number of its source in the list below
 * it. */
void needs_text_print(struct buffer *out, const struct season *season);

#endif
