/* Doses: how much of one thing each application put on a zone, and which applications count together.
 *
 * Limits and labels cap a nutrient or a product at a time, in a calendar year, in any run of days, or in the
 * same days of every year. The checks, the rate they propose and the day from which more is allowed
 * (next_allowed.h) all count by what is here. The solver counts in its own way, and so do the dates: what
 * they choose is looked at again by other means. */
#ifndef PRILL_SEASON_DOSE_H
#define PRILL_SEASON_DOSE_H

#include "compiler/season/season.h"

/* What is counted, and how. */
struct yardstick {
    const struct nutrient_form *form; /* kg/m2 of what it names; NULL: of `product` */
    const struct product *product;
    enum dose_measure {
        DOSE_BY_MASS,   /* kg/m2 */
        DOSE_BY_VOLUME, /* m3/m2 */
        DOSE_BY_TIMES   /* 1 for each day on which the zone got it */
    } measure;          /* of a product */
};

/* What of an amount the yardstick counts, 0 of another product; 1 of its own in DOSE_BY_TIMES. */
double amount_measured(const struct amount *amount, const struct yardstick *yardstick);

/* Whose amount it is; the application holds it (asserted). */
const struct occurrence *application_owner(const struct application *application,
                                           const struct amount *amount);
/* Whether it has happened: a record without amounts means that all went as planned. */
bool amount_done(const struct application *application, const struct amount *amount);
/* Whether all of `form` in it (NULL: everything) has happened. */
bool application_done(const struct application *application, const struct nutrient_form *form);

struct dose {
    const struct application *application;
    double value;
    day_number day;
    bool done; /* all of it has happened; otherwise some can still be changed */
};

/* By day, one an application; those of nothing are left out. */
struct doses {
    struct dose *items;
    size_t count, capacity;
};
/* `done_only`: the parts of them that have happened. */
struct doses doses_of(struct arena *arena, const struct ledger *ledger, const struct yardstick *yardstick,
                      bool done_only);

/* Which days count together with a first one. */
struct dose_span {
    enum span_kind { SPAN_DAYS, SPAN_YEAR, SPAN_WINDOW } kind;
    struct duration time;      /* SPAN_DAYS: 1 day is each application alone */
    const struct limit *limit; /* SPAN_WINDOW: whose days of the year */
};
/* Of a limit on amounts per application, year, period or days of the year. */
struct dose_span limit_span(const struct limit *limit);

/* Whether the day lies in the limit's days, both ends included; without years they come back every year, over
 * New Year too. Not the function that dates and solver ask: what they choose is looked at by another one. */
bool dose_window_holds(const struct limit *limit, day_number day);
/* The year in which the limit's days begin that hold this day. */
int dose_window_year(const struct limit *limit, day_number day);

/* The doses [first, end) of one list that count together. Begins as all 0. */
struct dose_run {
    size_t first, end;
    double total;
    size_t planned;   /* how many of them are not done */
    day_number until; /* the first day that no longer counts with the first one */
};
/* Takes one dose more, and drops from the front what no longer counts with it; what counts in no run, as it
 * lies outside a window, is passed over. False behind the last. */
bool dose_run_next(struct dose_run *run, const struct doses *doses, const struct dose_span *span);
/* Whether the next dose, if any, does not count with all of these. */
bool dose_run_complete(const struct dose_run *run, const struct doses *doses);

/* The first day after `after` on which an application of its own would find something left of `most` in every
 * run of these doses that it would belong to. */
day_number doses_leave_room(const struct doses *doses, const struct dose_span *span, double most,
                            day_number after);

#endif
