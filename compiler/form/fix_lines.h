/* What a fix makes of the lines it touches: each line as it is after `-`, as it would be after `+`. */
#ifndef PRILL_FORM_FIX_LINES_H
#define PRILL_FORM_FIX_LINES_H

#include "compiler/form/excerpt.h"

#include "lexer/report.h"

/* Prints the lines that the fix changes; lines that stay the same are left out. Edits may be in any order. */
void changes_print(const struct excerpt *excerpt, const struct fix *fix);

#endif
