/* What the scales of a soil test do not say, and which scales of the library and the plan could say it. */
#ifndef PRILL_SEASON_SCALE_OFFER_H
#define PRILL_SEASON_SCALE_OFFER_H

#include "compiler/season/season.h"

struct scale_offer {
    const struct scale *scale;
    unsigned reads;   /* bit enum nutrient: of `unread`, these it has a figure for */
    unsigned amounts; /* of `unmeasured`, these it gives an amount of */
};

struct unread {
    unsigned unread;     /* bit enum nutrient: no scale of the test says whether these are low */
    unsigned unmeasured; /* these are low, and neither scale nor laboratory nor lawn says by how much */
    VECTOR(struct scale_offer)
    offers; /* by the test's method; made for its lawn, or where none is for other places or grasses; as
               listed */
};

/* For the test's zones. */
struct unread unread_of(struct arena *arena, const struct season *season, const struct soil_test *test);

/* "rutgers-levels (made for new-jersey) reads Fe, Zn; write: scale rutgers-levels for Fe, Zn"; "" where no
 * scale is offered. */
const char *unread_offers(struct arena *arena, const struct unread *unread);

/* "Fe, Zn, Cu" */
const char *nutrients_of_bits(struct arena *arena, unsigned nutrients);

#endif
