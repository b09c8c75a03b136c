/* The shed: what was counted (`have`) or bought of each product, less what records used after that.
 *
 * A day's order is: bought, used, counted. So a count takes the place of all before it, and what is used on
 * its day is in it. Counts of one product on one day add up. What is planned and not done takes nothing yet.
 * Where records use more than there was, the shed is empty after them. What lies there costs what was stated
 * of it, the mean of what lies together; nothing where no price was stated. */
#ifndef PRILL_SEASON_SHED_H
#define PRILL_SEASON_SHED_H

#include "compiler/season/season.h"

struct shelf_count {           /* a count beside what the records before it leave */
    const struct stock *stock; /* the first of its day */
    double counted, expected;
};

struct shelf_lack { /* a record that used more than there was */
    const struct occurrence *occurrence;
    const struct stock *stock; /* the last stated before */
    double used, held;
};

/* Of one product; kg, or m3 where `volume`, as the first statement about it measures it. */
struct shelf {
    const struct product *product;
    bool volume;
    const struct stock *first; /* of all that is stated of it */
    const struct stock *last; /* `have`; NULL where it was only bought: nothing is known of what was before */
    double counted;           /* by the last `have` */
    double bought, used;      /* since then */
    double left;              /* now */
    double worth;             /* what that cost; 0 where no price was stated */
    VECTOR(struct shelf_count) counts; /* of every day but the first, by day */
    VECTOR(struct shelf_lack) lacks;   /* by day */
    const struct stock *unmeasured;    /* that cannot be counted like the first, for want of a density; where
                                          it is the first itself, what the plan uses cannot. NULL mostly */
};

struct shed {
    VECTOR(struct shelf)
    shelves;          /* of the products that a `have` or `bought` names, in the order of the text */
    size_t *shelf_of; /* by product index: from 1; 0: nothing is stated of the product */
};

/* In the season's arena; n log n in statements and records. */
struct shed shed_of(const struct season *season);

/* NULL where nothing is stated of the product. */
const struct shelf *shed_find(const struct shed *shed, const struct product *product);

#endif
