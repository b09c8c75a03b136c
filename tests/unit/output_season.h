/* A season made by hand, for tests of outputs: the reading green of docs/language.md, without going through
 * plan text, dates or amounts. What the fields hold was worked out by hand from the statement named beside
 * each. */
#ifndef TESTS_UNIT_OUTPUT_SEASON_H
#define TESTS_UNIT_OUTPUT_SEASON_H

#include "compiler/season/season.h"

#define LB 0.45359237
#define SQFT 0.09290304
#define LB_PER_1000SQFT (LB / (1000 * SQFT))
#define GALLON 0.003785411784
#define FL_OZ_PER_1000SQFT (GALLON / 128 / (1000 * SQFT))
#define INCH 0.0254
#define FOOT 0.3048

struct output_season {
    struct arena arena;
    struct names names;
    struct reports reports;
    struct source source;
    struct model model;
    struct season season;
    struct lawn *lawn;
    struct zone *north, *south, *strip;
    struct product *starter, *seaweed;
    struct machine *broadcast, *backpack;
    struct treatment *spring_feed, *tonic, *fall_feed, *topdress;
};

/* spring-feed and tonic planned for Sat 2027-04-10, fall-feed for Sat 2027-09-04 and Sat 2027-10-16,
 * topdress on Sat 2027-05-29. */
void output_season_make(struct output_season *made);
void output_season_free(struct output_season *made);

const struct name *output_name(struct output_season *made, const char *text);
day_number output_day(int year, int month, int day);
/* Puts season.calendar in order again after a test has changed days. */
void output_season_order(struct output_season *made);

#endif
