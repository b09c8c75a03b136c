/* A set of days over a horizon: the days on which something may be done. Made once, then shared and never
 * changed; every operation gives a new set in the arena. */
#ifndef PRILL_SEASON_DAY_SET_H
#define PRILL_SEASON_DAY_SET_H

#include "compiler/model/date.h"

struct day_set;

/* More than the 300 years a plan can name (FIRST_YEAR..LAST_YEAR); a set of them takes 14 KB. */
enum { DAY_SET_SPAN = 110000 };

/* Every day from `first` to `last`, both included; first <= last, at most DAY_SET_SPAN days. */
const struct day_set *day_set_all(struct arena *arena, day_number first, day_number last);

/* Without the days from `from` to `to`, both included; what lies outside the horizon does not matter, and
 * from > to removes nothing. */
const struct day_set *day_set_remove_range(struct arena *arena, const struct day_set *set, day_number from,
                                           day_number to);

/* `weekdays` has bit 1 << MONDAY .. 1 << SUNDAY set for the days to keep. */
const struct day_set *day_set_keep_weekdays(struct arena *arena, const struct day_set *set,
                                            unsigned weekdays);

/* The days for which `keep` answers true, the same whenever it is asked: once at most for each day of the
 * set, when a day near it is first looked at, so that `context` must outlive the set. */
const struct day_set *day_set_keep_if(struct arena *arena, const struct day_set *set,
                                      bool (*keep)(day_number day, const void *context), const void *context);

bool day_set_contains(const struct day_set *set, day_number day); /* false outside the horizon */

/* The first allowed day on or after `day`, the last one on or before it; false, and nothing stored, when
 * there is none. `day` may lie outside the horizon. */
bool day_set_next(const struct day_set *set, day_number day, day_number *found);
bool day_set_previous(const struct day_set *set, day_number day, day_number *found);

#endif
