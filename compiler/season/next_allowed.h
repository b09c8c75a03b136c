/* When more may follow: the first day on which a limit or a label again allows any amount at all, however
 * small.
 *
 * Only what was done counts, since what is planned can be changed. Days are looked for after `after`, mostly
 * the day of a record, for an application of its own: waits count to whatever was done, on the day itself
 * too. */
#ifndef PRILL_SEASON_NEXT_ALLOWED_H
#define PRILL_SEASON_NEXT_ALLOWED_H

#include "compiler/season/season.h"

/* Whether the limit is one of those that what was done uses up: most for an application, a year, a run of
 * days, and days between applications of a nutrient. */
bool limit_recovers(const struct limit *limit);

/* For a limit that recovers, of its own nutrient. */
day_number limit_again(const struct season *season, const struct limit *limit, const struct zone *zone,
                       day_number after);

/* For days between two kinds or nutrients: until they have passed since what was done of the one, as far as
 * the product is of the other. after + 1 where the limit is of another kind, or has nothing to do with the
 * product. */
day_number between_again(const struct season *season, const struct limit *limit,
                         const struct product *product, const struct zone *zone, day_number after);

enum label_cap { LABEL_INTERVAL, LABEL_TIMES, LABEL_YEAR };

/* Where the product's label states it; no source where it does not. */
struct place label_cap_place(const struct product *product, enum label_cap cap);
day_number label_again(const struct season *season, const struct product *product, enum label_cap cap,
                       const struct zone *zone, day_number after);

#endif
