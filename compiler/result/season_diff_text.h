/* Two seasons beside each other, for a person: what moves, what changes, what comes and goes. */
#ifndef PRILL_RESULT_SEASON_DIFF_TEXT_H
#define PRILL_RESULT_SEASON_DIFF_TEXT_H

#include "compiler/model/replacement.h"
#include "compiler/season/season.h"

/* Of two seasons without errors; `replacement`: the file by which the new one is another, NULL without. */
void compare_text_print(struct buffer *out, const struct season *old, const struct season *new,
                        const struct replacement *replacement);

/* What moves where `late`, the same plan with a day supposed (season->supposed is not NULL), is beside the
 * plan as it is; and what the reports on it say that those on the plan do not. */
void late_text_print(struct buffer *out, const struct season *plan, const struct reports *reports,
                     const struct season *late, const struct reports *late_reports);

/* Why the day that was supposed cannot be: the errors that came of it. */
void late_refusal_print(struct buffer *out, const struct season *late, const struct reports *late_reports);

#endif
