/* The plan's `allow` statements: which warnings and notes they accept. The solver and the checks ask here. */
#ifndef PRILL_MODEL_ALLOW_H
#define PRILL_MODEL_ALLOW_H

#include "compiler/model/model.h"

/* Files a statement that was read under the rule it names. */
void allowance_add(struct model *model, struct allowance *allowance);

/* `about`: the things that a report is about, ended by NULL. A statement inside a treatment accepts reports
 * about that treatment, one with `for` those about a thing of that name. */
bool allowance_accepts(const struct model *model, const struct rule *rule, const struct thing *const *about);

/* Silences a warning or note that a statement accepts, and counts the hit; an error stays an error. */
void report_accept(struct model *model, struct report *report, const struct thing *const *about);

#endif
