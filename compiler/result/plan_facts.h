/* What a plan states that a person on the lawn works by, besides its days and amounts: the ground, the limits
 * in force, the labels and contents of the products in use. */
#ifndef PRILL_RESULT_PLAN_FACTS_H
#define PRILL_RESULT_PLAN_FACTS_H

#include "compiler/result/fact_diff.h"
#include "compiler/result/work.h"

/* The zones' areas, m2: subject is the zone, the first key its lawn and it. */
struct facts facts_of_areas(const struct model *model);

/* The season's days; each lawn's grass and soil; each zone's distance from water. */
struct facts facts_of_ground(const struct model *model);

/* Each limit that is in force, in the plan's words; subject is its set's name, NULL of the plan's own. */
struct facts facts_of_limits(const struct model *model);

/* What contents and label of a product say, in the plan's words, added to others; and of each that is in use,
 * by index. */
void facts_of_product(struct arena *arena, struct facts *facts, const struct product *product);
struct facts facts_of_products(const struct model *model, const bool *used);

/* How the work is done, sentence by sentence, with what has to be kept afterwards. */
struct facts facts_of_work(struct arena *arena, const struct work *work);

/* By index, whether some work puts the product down. */
const bool *products_in_use(const struct model *model, const struct work_list *list);

#endif
