/* Every check: what it watches over, why, how to mend it, and where the rule comes from.
 *
 * The order is the order of running and of the documentation. A name keeps its meaning for ever. A source is
 * a published one where the check itself carries knowledge of the trade; it is NULL where the plan, a label
 * in it or an entry of the library is the authority, which the report then points at. */
#include "compiler/check/checking.h"

#define PRACTICE "common practice, no source"
#define LAWS_ON_TESTS "the laws behind the limit sets of plans/library/limits-*.prill, each cited there"

#define OVER_NEED                                                                                            \
    "10 lb per acre: North Carolina Department of Agriculture, circular no. 1; a tenth: common practice, "   \
    "no source"
#define USUAL_ENTRIES "the entries `usual` of plans/library/usual.prill, each with its source"

#define LIMITS "Limits"
#define LABELS "Labels"
#define DAYS "Days"
#define GROUND "Ground and soil"
#define GRASS "Grass"
#define PRODUCTS "Products and machines"
#define NAMES "What is declared"
#define RECORDS "Records"
#define ALLOWING "What is allowed"

const struct check CHECKS[CHECK_COUNT] = {
#include "compiler/check/check.def"
};
