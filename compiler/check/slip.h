/* How far each day may slip with nothing broken: found by trying days, each dated and checked as a whole. */
#ifndef PRILL_CHECK_SLIP_H
#define PRILL_CHECK_SLIP_H

#include "compiler/season/season.h"

/* Fills in the slips of what is dated and still to come, the nearest days first, once a season; for a season
 * without errors. The effort is bounded: where a plan has so much to try that it would take long, what is
 * left is SLIP_UNKNOWN, and so is all of a season whose days were made without some of its products.
 *
 * Rates that were chosen stay as they are. A day is tried as `--late` supposes it: what has to move moves,
 * by the dates, and then every check that can find an error is run on what came of it. */
void slips_find(struct season *season);

/* A slip ends before so many closed days on end: nobody reads "latest in November" as "not all summer".
 * Weekdays alone close 6 at most. */
enum { SLIP_GAP = 7 };

#endif
