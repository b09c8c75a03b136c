/* Reports on statements that fit no form. */
#ifndef PRILL_MODEL_STATEMENT_REPORTS_H
#define PRILL_MODEL_STATEMENT_REPORTS_H

#include "compiler/model/form_match.h"

/* The word that a statement begins with; empty where it begins with something else. */
struct text statement_head(const struct matcher *matcher, uint32_t at);

/* The first word at `at` begins no statement of the block. Returns the word that was probably meant, empty
 * without one: reading then goes on as if it stood there. A word that is a statement elsewhere was not
 * misspelt but misplaced. */
struct text complain_of_head(struct matcher *matcher, uint32_t at);

/* The clause at `at` fits no form: said at the furthest place that any of them reached, with the form that
 * did. */
void complain_of_clause(struct matcher *matcher, uint32_t at, struct text continued);

#endif
