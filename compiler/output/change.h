/* What a fix makes of the lines it touches: each line as it is after `-`, as it would be after `+`. */
#ifndef PRILL_OUTPUT_CHANGE_H
#define PRILL_OUTPUT_CHANGE_H

#include "compiler/output/excerpt.h"

#include "lexer/report.h"

/* Prints the lines that the fix changes; lines that stay the same are left out. Edits may be in any order. */
void changes_print(const struct excerpt *excerpt, const struct fix *fix);

#endif
