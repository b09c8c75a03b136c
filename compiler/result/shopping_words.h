/* Prices, packs and areas of a shopping list in words. */
#ifndef PRILL_RESULT_SHOPPING_WORDS_H
#define PRILL_RESULT_SHOPPING_WORDS_H

#include "compiler/result/shopping.h"

/* "31.00": two decimals, or as many as the number has, up to six. */
const char *money_number(struct arena *arena, double value);

/* "31.00 dollars": with the plan's currency, where it names one. */
const char *money_text(struct arena *arena, const struct model *model, double value);

/* "40 lb" */
const char *pack_text(struct arena *arena, const struct model *model, const struct pack *pack);

/* An area that a pack covers, rounded down, so that none runs out before. */
const char *covered_number(struct arena *arena, const struct model *model, double m2);

/* What is still to be applied, rounded up; what is left of the packs when that is gone, NULL where that is
 * nothing. */
const char *purchase_needed_text(struct arena *arena, const struct model *model,
                                 const struct purchase *purchase);
const char *purchase_left_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase);

/* Why no packs are told: a sentence, which for PURCHASE_PACKED is "". */
const char *purchase_reason(const struct purchase *purchase);

/* What is told of every list: which cost is left out, and what a plan does not know. */
const char *shopping_cost_sentence(struct arena *arena, const struct model *model,
                                   const struct shopping *shopping);
extern const char shopping_at_hand[];

#endif
