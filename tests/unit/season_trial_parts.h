/* Between the files of the trial; nobody else needs it. */
#ifndef PRILL_TESTS_SEASON_TRIAL_PARTS_H
#define PRILL_TESTS_SEASON_TRIAL_PARTS_H

#include "tests/unit/season_trial.h"

const struct occurrence *trial_occurrence(const struct trial *trial, int index);
const struct treatment *trial_treatment(const struct trial *trial, int index);

/* Day `to` is to come at least so much later than day `from`. */
void trial_constrain(struct trial *trial, int from, int to, int least);

/* ---- what is put where (season_trial_where.c) ---- */

/* Whether it puts the product on the zone; a NULL product: work without any is done there. */
bool trial_brings(const struct trial *trial, int index, const struct product *product,
                  const struct zone *zone);
bool trial_in_zone(const struct trial *trial, int index, const struct zone *zone);
bool trial_has_nutrient(const struct trial *trial, int index, const struct zone *zone,
                        enum nutrient nutrient);
bool trial_in_class(const struct trial *trial, int index, const struct zone *zone,
                    const struct treatment_class *class);
bool trial_limit_speaks_of(const struct trial *trial, const struct limit *limit, int index);

/* ---- waits (season_trial_waits.c) ---- */

/* After a first trial without them: the constraints of all waits, in the order that it gave. */
void trial_waits(struct trial *trial);

#endif
