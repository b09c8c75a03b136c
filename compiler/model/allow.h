/* The plan's `allow` statements: which warnings and notes they accept. The solver and the checks ask here. */
#ifndef PRILL_MODEL_ALLOW_H
#define PRILL_MODEL_ALLOW_H

#include "compiler/model/model.h"

/* Files a statement that was read under the rule it names. */
void allowance_add(struct model *model, struct allowance *allowance);

/* Whether the statement speaks of what is about these (ended by NULL). */
bool allowance_covers(const struct allowance *allowance, const struct symbol *const *about);

/* `about`: what a report is about, ended by NULL. A statement inside a treatment accepts reports
 * about that treatment, one with `for` those about what has that name. */
bool allowance_accepts(const struct model *model, const struct rule *rule, const struct symbol *const *about);

/* Silences a warning or note that a statement accepts; an error stays an error. */
void report_accept(const struct model *model, struct report *report, const struct symbol *const *about);

#endif
