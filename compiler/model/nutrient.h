/* Nutrients, and the two ways of stating some of them: as an element and as an oxide. */
#ifndef PRILL_MODEL_NUTRIENT_H
#define PRILL_MODEL_NUTRIENT_H

#include "lexer/text.h"

/* What a treatment is counted in: masses of the element. Two parts of N are counted beside the whole, and
 * lime: the calcium carbonate that neutralizes as much. Liming material is what is weighed, or that calcium
 * carbonate where it is more: sources that cap one liming leave open which they mean. */
enum nutrient {
    NUTRIENT_N,
    NUTRIENT_P,
    NUTRIENT_K,
    NUTRIENT_CA,
    NUTRIENT_MG,
    NUTRIENT_S,
    NUTRIENT_FE,
    NUTRIENT_MN,
    NUTRIENT_ZN,
    NUTRIENT_CU,
    NUTRIENT_B,
    NUTRIENT_MO,
    NUTRIENT_CL,
    NUTRIENT_NA,
    NUTRIENT_SOLUBLE_N,
    NUTRIENT_SLOW_N,
    NUTRIENT_LIME,
    NUTRIENT_LIMING_MATERIAL,
    NUTRIENT_COUNT
};

/* A nutrient as a plan names it: `element_per_unit` kg of the element are in 1 kg of what is named. */
struct nutrient_form {
    const char *name; /* "P2O5" */
    enum nutrient nutrient;
    double element_per_unit; /* 0 to 1 */
};

/* Case counts: P2O5, K2O, Mg. NULL when there is none. */
const struct nutrient_form *nutrient_find(struct text name);
/* For "did you mean"; may be NULL. *certain: case and the digit 0 in place of an O are all that differs. */
const struct nutrient_form *nutrient_nearest(struct text name, bool *certain);

/* Whether the soil keeps it, so that the next year can make up for what is missing: P, K and lime. */
bool nutrient_carries_over(enum nutrient nutrient);

/* Counted by what a product neutralizes, so that no label and no soil test states a content of it. */
bool nutrient_is_lime(enum nutrient nutrient);

/* The soluble or the slowly available part of N; NULL for other nutrients, which have no parts here. */
const struct nutrient_form *nutrient_part(const struct nutrient_form *whole, bool slow);

/* How bags and limits state it: P as P2O5, K as K2O, the rest as the element. Never NULL. */
const struct nutrient_form *nutrient_trade_form(enum nutrient nutrient);

/* How soil tests state it: "P" of P2O5, "K" of K2O, and otherwise the trade's form. */
const char *nutrient_element(enum nutrient nutrient);

/* kg of the element that carry 1 mol of charge, as K+, Ca2+, Mg2+ or Na+ in exchange; NAN for the others. */
double nutrient_equivalent(enum nutrient nutrient);

/* By their order; NULL behind the last. */
const struct nutrient_form *nutrient_form_at(size_t index);

#endif
