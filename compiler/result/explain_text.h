/* How a result came about, for a person: formula, operands, and the statements and sources they came from. */
#ifndef PRILL_RESULT_EXPLAIN_TEXT_H
#define PRILL_RESULT_EXPLAIN_TEXT_H

#include "compiler/season/season.h"

/* Explains whatever the plan or the library calls `name`: a treatment, a zone, a lawn, a product, a nutrient;
 * where several things share a name, each. False, and nothing is appended, where nothing is called so. */
bool explain_text_print(struct buffer *out, const struct season *season, const char *name);

#endif
