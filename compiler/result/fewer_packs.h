/* Where the last pack would be opened for little: lower rates that do without it. */
#ifndef PRILL_RESULT_FEWER_PACKS_H
#define PRILL_RESULT_FEWER_PACKS_H

#include "compiler/result/shopping.h"

struct lower_rate {
    const struct treatment *treatment;
    const struct dressing *dressing;
    const char *statement; /* in place of the dressing's: "rate 4.8 lb per 1000 sqft of starter" */
};

struct fewer_packs {
    size_t packs;                    /* to buy then */
    double saved;                    /* money; NAN where a pack has no price */
    VECTOR(struct lower_rate) rates; /* in the order of the calendar; none: there is nothing to propose */
};

/* Every rate of the product is lowered by one share, then to a step that its spreader or sprayer can be set
 * to, by a tenth at most; each stays at or above what its label allows at least, so nothing is proposed
 * without a label's range. Rates that the compiler chooses are left alone, and so is whatever a share of slow
 * nitrogen may depend on. A lower rate passes no limit. */
struct fewer_packs fewer_packs_of(const struct season *season, const struct purchase *purchase);

/* "`rate 4.8 lb per 1000 sqft of starter` in spring and fall would need 1 pack and save 31.00; the label
 * allows it"; NULL where there is nothing to propose. */
const char *fewer_packs_text(struct arena *arena, const struct model *model, const struct fewer_packs *fewer);

#endif
