/* How many packs of which sizes to buy, so that an amount is covered. */
#ifndef PRILL_RESULT_PACKS_H
#define PRILL_RESULT_PACKS_H

#include <stdbool.h>
#include <stddef.h>

enum {
    PACK_SIZE_LIMIT = 32,       /* sizes that one product's choice looks at */
    PACK_COUNT_LIMIT = 1000000, /* of one size; nobody carries more home */
    PACK_STEP_LIMIT = 1 << 20,  /* a choice among many tiny packs ends here with the best one found */
};

struct pack_size {
    double amount; /* above 0, in the unit of the amount to cover */
    double price;  /* of one, not below 0; NAN without */
};

struct pack_choice {
    size_t counts[PACK_SIZE_LIMIT]; /* by size */
    size_t packs;                   /* of all sizes; 0 for an amount above 0: it takes more than the limit */
    double bought;                  /* what they hold together */
    double cost;                    /* NAN where a size that is bought has no price */
    bool priced;                    /* chosen by cost: every size has a price; otherwise by number of packs */
    bool proven; /* nothing better exists; false after PACK_STEP_LIMIT steps, or without an answer */
};

/* Covers `amount` (finite, not below 0) with packs of `count` (1 to PACK_SIZE_LIMIT) sizes: at the least
 * cost, then with the fewest packs, then with the least left over; of equals the one with most of the sizes
 * that are cheap by amount. Where a size has no price, with the fewest packs, then the least left over. A
 * pack that is short by less than a billionth of the amount still covers it: that is arithmetic's doing. */
struct pack_choice packs_choose(const struct pack_size *sizes, size_t count, double amount);

#endif
