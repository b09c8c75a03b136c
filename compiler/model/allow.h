/* The plan's `allow` statements: which warnings and notes they accept. The solver and the checks ask here. */
#ifndef PRILL_MODEL_ALLOW_H
#define PRILL_MODEL_ALLOW_H

#include "compiler/model/model.h"

/* Whether the statement speaks of what is about these (ended by NULL). */
bool allowance_covers(const struct allowance *allowance, const struct symbol *const *about);

/* The first statement that accepts reports of the rule about these (ended by NULL), or the next one behind
 * `before`; NULL where there is none. One inside a treatment accepts what is about that treatment, one with
 * `for` what is about anything of that name. */
const struct allowance *allowance_of_rule(const struct model *model, const struct rule *rule,
                                          const struct symbol *const *about, const struct allowance *before);

/* Silences a warning or note that a statement accepts; an error stays an error. */
void report_accept(const struct model *model, struct report *report, const struct symbol *const *about);

#endif
