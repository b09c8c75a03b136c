/* Limits of some grasses, of some days, on lime, on fertilizer but not on lime, and on the age of a soil
 * test. */
#include "tests/unit/check_trials.h"

#define FESCUE "lawn green {\ngrass tall-fescue\nzone a area 1000 sqft\n}\n"
#define BASE HEAD GREEN FEED
#define ROCK "product rock {\nneutralizing 80%\n}\n"
#define PHOS "product phos {\ngrade 10-10-0 granular\n}\n"
#define WINTER LIMIT("at most 0.5 lb N per 1000 sqft per application from Nov 16 to Apr 14")
#define SCALE                                                                                                \
    "source sheet { title \"A sheet\" }\nscale levels {\nmethod mehlich-3\nminimum P 20 ppm from sheet\n}\n"
#define TEST(day)                                                                                            \
    "soil-test " day " {\nof a\nmethod mehlich-3\nscale levels\nresults {\nspot P ppm\none 10\n}\n}\n"

const struct check_trial LIMIT_TRIALS[] = {
    /* 3 lb x 20% = 0.6 lb of N; the last day is Apr 14 */
    {"limit-per-application", BASE WINTER APPLY("x", "Apr 14", "3 lb"),
     "N too high on a, Wed 2027-04-14: 0.6 lb N per 1000 sqft from x; limit 0.5 lb N per 1000 sqft per "
     "application",
     NULL},
    {"limit-per-application", BASE WINTER APPLY("x", "Apr 15", "3 lb"), NULL, NULL},
    {"limit-per-application", BASE WINTER APPLY("x", "Nov 15", "3 lb"), NULL, NULL},
    {"limit-per-application", BASE WINTER APPLY("x", "Nov 16", "3 lb"),
     "N too high on a, Tue 2027-11-16: 0.6 lb N per 1000 sqft from x; limit 0.5 lb N per 1000 sqft per "
     "application",
     NULL},
    {"limit-per-application", BASE WINTER APPLY("x", "Nov 16", "2.5 lb"), NULL, NULL},

    {"limit-per-application",
     HEAD FESCUE FEED LIMIT(
         "at most 0.5 lb N per 1000 sqft per application for grass bahiagrass, tall-fescue")
         APPLY("x", "Apr 15", "3 lb"),
     "N too high on a, Thu 2027-04-15: 0.6 lb N per 1000 sqft from x; limit 0.5 lb N per 1000 sqft per "
     "application",
     NULL},
    {"limit-per-application",
     HEAD FESCUE FEED LIMIT("at most 0.5 lb N per 1000 sqft per application for grass bahiagrass")
         APPLY("x", "Apr 15", "3 lb"),
     NULL, NULL},
    {"limit-per-application",
     BASE LIMIT("at most 0.5 lb N per 1000 sqft per application for grass bahiagrass")
         APPLY("x", "Apr 15", "3 lb"),
     NULL, NULL},
    {"limit-per-year",
     HEAD FESCUE FEED LIMIT("at most 1 lb N per 1000 sqft per year for grass tall-fescue")
         APPLY("x", "Apr 15", "3 lb") APPLY("y", "Jun 15", "3 lb"),
     "N too high on a in 2027: 1.2 lb N per 1000 sqft; limit 1 lb N per 1000 sqft in a calendar year", NULL},

    /* 100 lb of 80% are 80 lb of lime */
    {"limit-per-application",
     HEAD GREEN ROCK LIMIT("at most 50 lb lime per 1000 sqft per application")
         APPLY_OF("x", "Apr 15", "100 lb", "rock"),
     "lime too high on a, Thu 2027-04-15: 80 lb lime per 1000 sqft from x; limit 50 lb lime per 1000 sqft "
     "per application",
     "use 62.5 lb of rock per 1000 sqft or less (50 lb lime per 1000 sqft)"},
    {"limit-per-application",
     HEAD GREEN ROCK LIMIT("at most 50 lb lime per 1000 sqft per application")
         APPLY_OF("x", "Apr 15", "62.5 lb", "rock"),
     NULL, NULL},
    /* what neutralizes is lime to a wait, without saying its kind */
    {"no-day",
     BASE ROCK LIMIT("at least 14 days between lime and N") APPLY_OF("x", "Apr 15", "10 lb", "rock")
         APPLY("y", "Apr 20", "3 lb"),
     "y has no possible day: it must be on or after Thu 2027-04-29, and on or before Tue 2027-04-20", NULL},
    {"no-day",
     BASE ROCK LIMIT("at least 14 days between lime and N") APPLY_OF("x", "Apr 15", "10 lb", "rock")
         APPLY("y", "Apr 29", "3 lb"),
     NULL, NULL},

    {"no-day", BASE LIMIT("no fertilizer from Apr 1 to Apr 30") APPLY("x", "Apr 15", "3 lb"),
     "x has no possible day: it must be on or after Sat 2027-05-01, and on or before Thu 2027-04-15", NULL},
    {"no-day", BASE ROCK LIMIT("no fertilizer from Apr 1 to Apr 30") APPLY_OF("x", "Apr 15", "10 lb", "rock"),
     NULL, NULL},
    {"record-closed-day",
     BASE LIMIT("no fertilizer from Apr 1 to Apr 30") APPLY("x", "May 15", "3 lb") DID("x", "2027-04-15"),
     "x was done on Thu 2027-04-15; a limit closes the day to fertilizer", NULL},
    {"record-closed-day",
     BASE ROCK LIMIT("no fertilizer from Apr 1 to Apr 30") APPLY_OF("x", "May 15", "10 lb", "rock")
         DID("x", "2027-04-15"),
     NULL, NULL},

    {"soil-test-old",
     BASE PHOS LIMIT("no P2O5 without soil-test need within 18 months") SCALE TEST("2025-10-09")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; its soil test of Thu 2025-10-09 is more "
     "than 18 months older",
     "test the soil again"},
    {"soil-test-old",
     BASE PHOS LIMIT("no P2O5 without soil-test need within 18 months") SCALE TEST("2025-10-10")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     NULL, NULL},
    {"soil-test-old",
     BASE PHOS LIMIT("no P2O5 without soil-test need within 60 days") SCALE TEST("2027-02-08")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; its soil test of Mon 2027-02-08 is more "
     "than 60 days older",
     NULL},
    {"soil-test-old",
     BASE PHOS LIMIT("no P2O5 without soil-test need within 60 days") SCALE TEST("2027-02-09")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     NULL, NULL},
    /* to a law a test too old, or of a later day, is none */
    {"no-need",
     BASE PHOS LIMIT("basis law\nno P2O5 without soil-test need within 18 months") SCALE TEST("2025-10-09")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; its soil test of Thu 2025-10-09 is more "
     "than 18 months older",
     "test the soil again"},
    {"no-need",
     BASE PHOS LIMIT("basis law\nno P2O5 without soil-test need within 18 months") SCALE TEST("2025-10-10")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     NULL, NULL},

    /* phos holds 10% */
    {"no-need",
     BASE PHOS LIMIT("no product with more than 9.99% P2O5 without soil-test need")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the limit needs a soil test, and a has "
     "none",
     NULL},
    {"no-need",
     BASE PHOS LIMIT("no product with more than 10% P2O5 without soil-test need")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     NULL, NULL},
    {"product-content",
     BASE PHOS LIMIT("no product with more than 9.99% P2O5") APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "phos has 10% P2O5, and x uses it on a; limit 9.99%", "use a product with at most 9.99% P2O5"},
    {"product-content",
     BASE PHOS LIMIT("no product with more than 10% P2O5") APPLY_OF("x", "Apr 10", "5 lb", "phos"), NULL,
     NULL},
    {"product-content",
     BASE PHOS LIMIT("no product with more than 4.37% P") APPLY_OF("x", "Apr 10", "5 lb", "phos"), NULL,
     NULL},
    {"product-content",
     BASE PHOS LIMIT("no product with more than 4.36% P") APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "phos has 4.364% P, and x uses it on a; limit 4.36%", NULL},
    {"product-content",
     BASE "product phos {\ngrade 10-10-0 granular\nkind starter\n}\n" LIMIT(
         "no product with more than 0% P2O5 except of kind organic, starter")
         APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     NULL, NULL},
    {"product-content",
     BASE "product phos {\ngrade 10-10-0 granular\nkind starter\n}\n" LIMIT(
         "no product with more than 0% P2O5 except of kind organic") APPLY_OF("x", "Apr 10", "5 lb", "phos"),
     "phos has 10% P2O5, and x uses it on a; limit 0%",
     "use a product with at most 0% P2O5, or one of a kind that the limit excepts, if its label says so"},
    {"record-product-content",
     BASE PHOS LIMIT("no product with more than 1% P2O5") APPLY_OF("x", "Apr 10", "5 lb", "phos")
         DONE("x", "2027-04-10", "5 lb of phos on a"),
     "phos has 10% P2O5, and x used it on a; limit 1%", ""},

    /* 5 lb are 1 lb of N, 30% of it slow */
    {"slow-share-low",
     BASE LIMIT("at least 40% of N slow above 1 lb N per 1000 sqft") APPLY("x", "Apr 10", "5 lb"), NULL,
     NULL},
    {"slow-share-low",
     BASE LIMIT("at least 40% of N slow above 1 lb N per 1000 sqft") APPLY("x", "Apr 10", "5.01 lb"),
     "too little slow-release N on a, Sat 2027-04-10: 30% of the N from x; the limit requires 40%", NULL},
    {"slow-share-low",
     BASE LIMIT("at least 30% of N slow above 0.5 lb N per 1000 sqft") APPLY("x", "Apr 10", "5 lb"), NULL,
     NULL},
    /* a third of it all is slow, but phos has none */
    {"slow-share-low",
     BASE PHOS LIMIT("at least 15% of N slow") APPLY("x", "Apr 10", "5 lb")
         APPLY_OF("y", "Apr 10", "5 lb", "phos"),
     NULL, NULL},
    {"slow-share-low",
     BASE PHOS LIMIT("at least 15% of N slow in each product") APPLY("x", "Apr 10", "5 lb")
         APPLY_OF("y", "Apr 10", "5 lb", "phos"),
     "too little slow-release N on a, Sat 2027-04-10: 0% of the N from phos in y; the limit requires 15%",
     NULL},

    /* 2.5 lb are 0.5 lb of N; the days are counted together, and anew each year */
    {"limit-per-period",
     BASE LIMIT("at most 1 lb N per 1000 sqft from Apr 10 to Apr 20") APPLY("x", "Apr 10", "2.5 lb")
         APPLY("y", "Apr 20", "2.5 lb"),
     NULL, NULL},
    {"limit-per-period",
     BASE LIMIT("at most 1 lb N per 1000 sqft from Apr 10 to Apr 20") APPLY("x", "Apr 10", "2.5 lb")
         APPLY("y", "Apr 20", "3 lb"),
     "N too high on a in the days from Apr 10, 2027 to Apr 20: 1.1 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in these days",
     "apply 0.1 lb N per 1000 sqft less, for example 2.5 lb of feed per 1000 sqft on Tue 2027-04-20"},
    {"limit-per-period",
     BASE LIMIT("at most 1 lb N per 1000 sqft from Apr 10 to Apr 20") APPLY("x", "Apr 9", "2.5 lb")
         APPLY("y", "Apr 20", "5 lb") APPLY("z", "Apr 21", "2.5 lb"),
     NULL, NULL},
    /* over New Year, the days from Nov 20 on belong together */
    {"limit-per-period",
     "edition 1 on 2027-01-10\nseason 2027-03-01 to 2029-02-27\n" GREEN FEED LIMIT(
         "at most 1 lb N per 1000 sqft from Nov 20 to Jan 10") APPLY("x", "2027-12-31", "3 lb")
         APPLY("y", "2028-01-10", "3 lb"),
     "N too high on a in the days from Nov 20, 2027 to Jan 10: 1.2 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in these days",
     NULL},
    {"limit-per-period",
     "edition 1 on 2027-01-10\nseason 2027-03-01 to 2029-02-27\n" GREEN FEED LIMIT(
         "at most 1 lb N per 1000 sqft from Nov 20 to Jan 10") APPLY("x", "2028-01-10", "3 lb")
         APPLY("y", "2028-11-20", "3 lb"),
     NULL, NULL},
    {"record-over-limit",
     BASE LIMIT("at most 1 lb N per 1000 sqft from Apr 10 to Apr 20") APPLY("x", "Apr 10", "3 lb")
         APPLY("y", "Apr 20", "3 lb") DONE("x", "2027-04-10", "3 lb of feed on a")
             DONE("y", "2027-04-20", "3 lb of feed on a"),
     "N too high on a in the days from Apr 10, 2027 to Apr 20: 1.2 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in these days",
     NULL},
    {NULL, NULL, NULL, NULL},
};
