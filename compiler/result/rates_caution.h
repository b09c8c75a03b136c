/* What to take care of with the products that a solution chose rates of. */
#ifndef PRILL_RESULT_RATES_CAUTION_H
#define PRILL_RESULT_RATES_CAUTION_H

#include "compiler/result/caution.h"
#include "compiler/season/season.h"

/* All but what is for storing alone. None where nothing was chosen. */
struct caution_list rates_cautions(const struct season *season);

#endif
