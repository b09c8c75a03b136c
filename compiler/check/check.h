/* The checks: what a season is measured against once its days and amounts are known, and every rule by name.
 *
 * A check reads the season and reports; it changes nothing, concludes nothing from what is marked broken or
 * from an occurrence without a day, and shares no code with what chose the days. */
#ifndef PRILL_CHECK_CHECK_H
#define PRILL_CHECK_CHECK_H

#include "compiler/season/season.h"

/* Runs every check, and applies the plan's `allow` statements to the warnings and notes it made. Reports go
 * to season->model->reports. Effort grows with the applications times the limits. */
void checks_run(struct season *season);

/* The rules of every room, from reading bytes to the checks: by index (below the count), by name (NULL when
 * there is none). */
size_t rule_count(void);
const struct rule *rule_at(size_t index);
const struct rule *rule_find(struct text name);
/* The rule whose name is nearest to a misspelt one; NULL when none is near. */
const struct rule *rule_nearest(struct text name);

void checks_markdown(struct buffer *buffer); /* docs/checks.md */
void checks_list(struct buffer *buffer);     /* `prill checks`: a line for each rule */

#endif
