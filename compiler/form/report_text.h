/* Reports as a person reads them: what is wrong and where, the lines quoted, and what would mend it. */
#ifndef PRILL_FORM_REPORT_TEXT_H
#define PRILL_FORM_REPORT_TEXT_H

#include "lexer/report.h"

/* One report, on several lines. The first reads PATH:LINE:COLUMN: SEVERITY: SENTENCE [RULE], with the column
 * in terminal cells (GNU Coding Standards, "Formatting Error Messages"); no line begins with text of a plan.
 * Without colour no control character but the newline leaves, whatever the bytes of the source. */
void report_text_print(struct buffer *out, const struct report *report, bool colour);

/* All reports but the allowed ones, in the order they have, a blank line behind each. */
void reports_text_list(struct buffer *out, const struct reports *reports, bool colour);

/* How many there are, of one plan or of many: `counts` is read for its numbers alone. Nothing at all when
 * there are none. */
void reports_text_end(struct buffer *out, const struct reports *counts);

/* "fix", or "fix, yours to judge" for one that changes a dose, a date or a meaning. */
const char *fix_word(const struct fix *fix);

#endif
