/* How far a day may slip, in words. */
#ifndef PRILL_RESULT_SLIP_WORDS_H
#define PRILL_RESULT_SLIP_WORDS_H

#include "compiler/season/season.h"

/* "Latest Sat 2027-04-10, or Mon 2027-05-10 if later work moves too; later breaks `at most ...`."; NULL where
 * slips were not asked for (slip.end is SLIP_NOT_ASKED). Of something still to come. */
const char *slip_sentence(struct arena *arena, const struct occurrence *occurrence);

#endif
