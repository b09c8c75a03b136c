/* A plan's text with what may be written in several ways written in one. */
#ifndef PRILL_MODEL_RESPELL_H
#define PRILL_MODEL_RESPELL_H

#include "parser/tree.h"

struct sources;

/* The text of a plan that is sound, each clause that fits in the words of its form: `zone a 2000 sqft`
 * becomes `zone a area 2000 sqft`. NULL where it is so already. What the text means is the same: every clause
 * fits the same form with the same values, or the text is left as it is. The tree's source is one of
 * `sources`: where a grass has a short name, files that the plan uses are read from them for the grasses they
 * declare. */
const char *plan_respelled(struct arena *arena, struct sources *sources, const struct tree *tree);

#endif
