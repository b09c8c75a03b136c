/* The rates that the compiler chose, for a person: what goes where and when, what each zone gets and what is
 * missing, which statements hold it back and what those of practice would have to be; and the answers to the
 * plan's questions. */
#ifndef PRILL_RESULT_RATES_TEXT_H
#define PRILL_RESULT_RATES_TEXT_H

#include "compiler/result/footnote.h"
#include "compiler/solve/solution.h"

/* Parts of the page: one correction or match, and questions. */
void rates_choice_print(struct buffer *out, const struct season *season, const struct choice_made *choice);
void rates_match_print(struct buffer *out, const struct season *season, const struct match_made *made);
void rates_blend_print(struct buffer *out, const struct season *season, struct footnotes *notes,
                       const struct blend_made *made);

#endif
