/* A nutrient that is low by an amount nobody states: a product that holds it, once, at its label's own rate.
 */
#ifndef PRILL_RESULT_NEED_ONCE_H
#define PRILL_RESULT_NEED_ONCE_H

#include "compiler/result/need_text.h"

struct need_once {
    bool advised;                  /* the need is low, and its amount is not known */
    const struct product *product; /* of the plan's, that brings least else; NULL: none holds the nutrient */
    VECTOR(const struct product *) others; /* of the plan's, that hold it too */
};

struct need_once need_once_of(const struct need_words *words, const struct zone_need *need);

/* "spray green-iron once at its label's rate, 2 to 4 fl oz per 1000 sqft, then test again"; "" where nothing
 * is advised. */
const char *need_once_text(const struct need_words *words, const struct zone_need *need);

#endif
