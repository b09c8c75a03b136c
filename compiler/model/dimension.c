/* What quantities measure: exponents, and the trade's words for them. */
#include "compiler/model/unit.h"

bool dimension_equal(struct dimension a, struct dimension b)
{
    return a.mass == b.mass && a.length == b.length && a.time == b.time && a.month == b.month &&
           a.temperature == b.temperature && a.charge == b.charge;
}
