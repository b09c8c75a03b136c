/* Limits on amounts and waits. */
#include "tests/unit/check_trials.h"

#define BASE HEAD GREEN FEED
#define PER_APPLICATION LIMIT("at most 0.9 lb N per 1000 sqft per application")
#define PER_YEAR LIMIT("at most 2 lb N per 1000 sqft per year")
#define PER_PERIOD LIMIT("at most 1 lb N per 1000 sqft in any 30 days")
#define SLOW_SHARE LIMIT("at least 20% of N slow")
#define QUICK "product quick {\ngrade 20-0-0 granular\n}\n"
#define WAIT LIMIT("at least 28 days between N applications")
#define BETWEEN LIMIT("at least 14 days between lime and N")
#define FROM_LIME LIMIT("at least 14 days from lime to N")
#define SOON_LIMED LIMIT("within 5 days from lime to N")
#define LIME "product lime {\ngrade 0-0-0 granular\nkind lime\n}\n"

const struct check_trial APPLIED_TRIALS[] = {
    /* 4.6 lb x 20% = 0.92; 0.9 / 20% = 4.5 */
    {"limit-per-application", BASE PER_APPLICATION APPLY("x", "Apr 10", "4.6 lb"),
     "N too high on a, Sat 2027-04-10: 0.92 lb N per 1000 sqft from x; limit 0.9 lb N per 1000 sqft per "
     "application",
     "use 4.5 lb of feed per 1000 sqft or less (0.9 lb N per 1000 sqft)"},
    {"limit-per-application", BASE PER_APPLICATION APPLY("x", "Apr 10", "4.5 lb"), NULL, NULL},
    {"limit-per-application", BASE PER_APPLICATION SUPPLY("x", "Apr 10", "0.9 lb N"), NULL, NULL},
    /* as many digits as tell it from the limit */
    {"limit-per-application", BASE PER_APPLICATION SUPPLY("x", "Apr 10", "0.90004 lb N"),
     "N too high on a, Sat 2027-04-10: 0.90004 lb N per 1000 sqft from x; limit 0.9 lb N per 1000 sqft per "
     "application",
     "use 4.5 lb of feed per 1000 sqft or less (0.9 lb N per 1000 sqft)"},
    /* two treatments, one application; 0.9 - 0.4 = 0.5 is left beside y for x, 0.5 / 20% = 2.5 */
    {"limit-per-application",
     BASE PER_APPLICATION APPLY(
         "x", "Apr 10",
         "3 lb") "apply y {\nto a\nwhen same day after x\nrate 2 lb per 1000 sqft of feed\n}\n",
     "N too high on a, Sat 2027-04-10: 1 lb N per 1000 sqft from x and y; limit 0.9 lb N per 1000 sqft per "
     "application",
     "use 2.5 lb of feed per 1000 sqft or less (0.5 lb N per 1000 sqft)"},
    {"limit-per-application", BASE PER_APPLICATION APPLY("x", "Apr 10", "4 lb") APPLY("y", "Apr 11", "4 lb"),
     NULL, NULL},
    /* 5 lb on 1000 sqft */
    {"record-over-limit",
     BASE PER_APPLICATION APPLY("x", "Apr 10", "4 lb") DONE("x", "2027-04-12", "5 lb of feed on a"),
     "N too high on a, Mon 2027-04-12: 1 lb N per 1000 sqft from x; limit 0.9 lb N per 1000 sqft per "
     "application",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Tue 2027-04-13"},
    /* P2O5 is counted as such, not as P: 4 lb x 10% = 0.4 of K2O */
    {"limit-per-application",
     BASE LIMIT("at most 0.39 lb K2O per 1000 sqft per application") APPLY("x", "Apr 10", "4 lb"),
     "K2O too high on a, Sat 2027-04-10: 0.4 lb K2O per 1000 sqft from x; limit 0.39 lb K2O per 1000 sqft "
     "per application",
     "use 3.9 lb of feed per 1000 sqft or less (0.39 lb K2O per 1000 sqft)"},
    /* 70% of 1 lb is soluble */
    {"limit-per-application",
     BASE LIMIT("at most 0.69 lb soluble N per 1000 sqft per application") APPLY("x", "Apr 10", "5 lb"),
     "soluble N too high on a, Sat 2027-04-10: 0.7 lb soluble N per 1000 sqft from x; limit 0.69 lb soluble "
     "N per 1000 sqft per application",
     NULL},
    /* 45.36 g per m2 of 20% = 9.072 g, in a metric plan */
    {"limit-per-application",
     BASE "units metric\n" LIMIT("at most 5 g N per m2 per application") "apply x {\nto a\nwhen on Apr "
                                                                         "10\nrate 26 g per m2 of feed\n}\n",
     "N too high on a, Sat 2027-04-10: 5.2 g N per m2 from x; limit 5 g N per m2 per application",
     "use 25 g of feed per m2 or less (5 g N per m2)"},
    /* a set that nobody follows does not bind, nor one for another zone */
    {"limit-per-application",
     HEAD TWO_ZONES FEED
     "limits {\nfor b\nat most 0.1 lb N per 1000 sqft per application\n}\n" APPLY("x", "Apr 10", "4 lb"),
     NULL, NULL},
    {"limit-per-application",
     BASE "limits law {\nat most 0.1 lb N per 1000 sqft per application\n}\n" APPLY("x", "Apr 10", "4 lb"),
     NULL, NULL},
    {"limit-per-application",
     BASE "limits law {\nat most 0.1 lb N per 1000 sqft per application\n}\nfollow law\n" APPLY("x", "Apr 10",
                                                                                                "4 lb"),
     "N too high on a, Sat 2027-04-10: 0.8 lb N per 1000 sqft from x; limit 0.1 lb N per 1000 sqft per "
     "application",
     "use 0.5 lb of feed per 1000 sqft or less (0.1 lb N per 1000 sqft)"},

    /* 0.8 + 0.8 + 0.6 = 2.2; 0.2 less is 1 lb of feed less */
    {"limit-per-year",
     BASE PER_YEAR APPLY("x", "Apr 10", "4 lb") APPLY("y", "Jun 10", "4 lb") APPLY("z", "Sep 10", "3 lb"),
     "N too high on a in 2027: 2.2 lb N per 1000 sqft; limit 2 lb N per 1000 sqft in a calendar year",
     "apply 0.2 lb N per 1000 sqft less, for example 2 lb of feed per 1000 sqft on Fri 2027-09-10"},
    {"limit-per-year",
     BASE PER_YEAR APPLY("x", "Apr 10", "4 lb") APPLY("y", "Jun 10", "4 lb") APPLY("z", "Sep 10", "2 lb"),
     NULL, NULL},
    /* New Year parts them */
    {"limit-per-year",
     "edition 1 on 2027-01-10\nseason 2027-10-01 to 2028-03-31\n" GREEN FEED PER_YEAR APPLY(
         "x", "2027-12-31", "9 lb") APPLY("y", "2028-01-01", "9 lb"),
     NULL, NULL},
    {"record-over-limit",
     BASE PER_YEAR APPLY("x", "Apr 10", "4 lb") APPLY("y", "May 20", "4 lb") APPLY("z", "Sep 1", "3 lb")
         DONE("x", "2027-04-10", "4 lb of feed on a") DONE("y", "2027-05-20", "4 lb of feed on a")
             DONE("z", "2027-09-01", "3 lb of feed on a"),
     "N too high on a in 2027: 2.2 lb N per 1000 sqft; limit 2 lb N per 1000 sqft in a calendar year",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Sat 2028-01-01"},

    /* 0.8 and 0.6 come to 1.4 until Apr 10 is 30 days back */
    {"record-over-limit",
     BASE PER_PERIOD APPLY("x", "Apr 10", "4 lb") APPLY("y", "Apr 20", "3 lb") DID("x", "2027-04-10")
         DID("y", "2027-04-20"),
     "N too high on a from Sat 2027-04-10 to Tue 2027-04-20: 1.4 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in any 30 days",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Mon 2027-05-10"},
    /* and is no leave to add to it */
    {"limit-per-period",
     BASE PER_PERIOD APPLY("x", "Apr 10", "4 lb") APPLY("y", "Apr 20", "3 lb") APPLY("z", "May 9", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-20"),
     "N too high on a from Sat 2027-04-10 to Sun 2027-05-09: 1.6 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in any 30 days",
     NULL},
    {"limit-per-period",
     BASE PER_PERIOD APPLY("x", "Apr 10", "4 lb") APPLY("y", "Apr 20", "3 lb") APPLY("z", "May 10", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-20"),
     NULL, NULL},
    /* with every other limit kept too: 28 days after Apr 20 */
    {"record-over-limit",
     BASE PER_PERIOD WAIT APPLY("x", "Apr 10", "4 lb") APPLY("y", "Jun 20", "3 lb") DID("x", "2027-04-10")
         DID("y", "2027-04-20"),
     "N too high on a from Sat 2027-04-10 to Tue 2027-04-20: 1.4 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in any 30 days",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Tue 2027-05-18"},
    /* beyond what was planned: 2 times 4 lb x 20% */
    {"record-over-limit",
     BASE PER_PERIOD APPLY("x", "Apr 10", "4 lb") DID("x", "2027-04-10") DID("x", "2027-04-20"),
     "N too high on a from Sat 2027-04-10 to Tue 2027-04-20: 1.6 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in any 30 days",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Mon 2027-05-10"},
    {"record-slow-share-low",
     BASE SLOW_SHARE QUICK APPLY_OF("x", "Apr 10", "1 lb", "quick") DID("x", "2027-04-10"),
     "too little slow-release N on a, Sat 2027-04-10: 0% of the N from x; the limit requires 20%", ""},
    {"slow-share-low", BASE SLOW_SHARE QUICK APPLY_OF("x", "Apr 10", "1 lb", "quick") DID("x", "2027-04-10"),
     NULL, NULL},

    /* Apr 10 and May 9 lie within 30 days, Apr 10 and May 10 do not */
    {"limit-per-period", BASE PER_PERIOD APPLY("x", "Apr 10", "3 lb") APPLY("y", "May 9", "3 lb"),
     "N too high on a from Sat 2027-04-10 to Sun 2027-05-09: 1.2 lb N per 1000 sqft; limit 1 lb N per 1000 "
     "sqft in any 30 days",
     "apply 0.2 lb N per 1000 sqft less, for example 2 lb of feed per 1000 sqft on Sun 2027-05-09; or wait "
     "until Mon 2027-05-10"},
    {"limit-per-period", BASE PER_PERIOD APPLY("x", "Apr 10", "3 lb") APPLY("y", "May 10", "3 lb"), NULL,
     NULL},
    {"limit-per-period", BASE PER_PERIOD APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 9", "3 lb"), NULL,
     NULL},

    {"slow-share-low", BASE QUICK SLOW_SHARE APPLY_OF("x", "Apr 10", "4 lb", "quick"),
     "too little slow-release N on a, Sat 2027-04-10: 0% of the N from x; the limit requires 20%", NULL},
    {"slow-share-low", BASE SLOW_SHARE APPLY("x", "Apr 10", "4 lb"), NULL, NULL},
    /* 30% of one part and none of another as large: 15% */
    {"slow-share-low",
     BASE QUICK SLOW_SHARE APPLY(
         "x", "Apr 10",
         "2 lb") "apply y {\nto a\nwhen same day after x\nrate 2 lb per 1000 sqft of quick\n}\n",
     "too little slow-release N on a, Sat 2027-04-10: 15% of the N from x and y; the limit requires 20%",
     NULL},

    {"record-wait-short",
     BASE WAIT APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 10", "1 lb")
         DONE("x", "2027-04-10", "1 lb of feed on a") DONE("y", "2027-05-07", "1 lb of feed on a"),
     "y on Fri 2027-05-07 came 27 days after x on a; the limit requires at least 28 days between N "
     "applications",
     ""},
    {"record-wait-short",
     BASE WAIT APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 10", "1 lb")
         DONE("x", "2027-04-10", "1 lb of feed on a") DONE("y", "2027-05-08", "1 lb of feed on a"),
     NULL, NULL},
    {"record-wait-short",
     BASE LIME BETWEEN APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "May 10", "1 lb")
         DONE("x", "2027-04-10", "9 lb of lime on a") DONE("y", "2027-04-20", "1 lb of feed on a"),
     "y on Tue 2027-04-20 came 10 days after x on a; the limit requires at least 14 days between lime and N",
     ""},
    {"record-wait-short",
     BASE LIME BETWEEN APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "May 10", "1 lb")
         DONE("x", "2027-04-20", "9 lb of lime on a") DONE("y", "2027-04-10", "1 lb of feed on a"),
     "x on Tue 2027-04-20 came 10 days after y on a; the limit requires at least 14 days between lime and N",
     ""},
    {"wait-too-short", BASE WAIT APPLY("x", "Apr 10", "1 lb") APPLY("y", "May 8", "1 lb"), NULL, NULL},
    /* one way only */
    {"record-wait-short",
     BASE FROM_LIME LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "May 10", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-20"),
     "y on Tue 2027-04-20 came 10 days after x on a; the limit requires at least 14 days from lime to N",
     NULL},
    {"record-wait-short",
     BASE FROM_LIME LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "May 10", "1 lb")
         DID("x", "2027-04-20") DID("y", "2027-04-10") "limits lime-beside-nitrogen { for a }\n",
     NULL, NULL},
    {"record-wait-long",
     BASE SOON_LIMED LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "Apr 12", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-16"),
     "y on Fri 2027-04-16 came 6 days after x on a; the limit allows at most 5 days from lime to N", NULL},
    {"record-wait-long",
     BASE SOON_LIMED LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "Apr 12", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-15"),
     NULL, NULL},
    /* of two on one day the later one counts, wherever it stands */
    {"record-wait-long",
     BASE SOON_LIMED LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "Apr 12", "1 lb") APPLY_OF(
         "z", "Apr 16", "9 lb", "lime") DID("x", "2027-04-10") DID("y", "2027-04-16") DID("z", "2027-04-16"),
     NULL, NULL},
    {"record-out-of-order",
     BASE LIMIT("order lime, N") LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "Apr 12", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-09"),
     "y was done on Fri 2027-04-09, before x on Sat 2027-04-10; the limit requires the other order on a",
     NULL},
    {"record-out-of-order",
     BASE LIMIT("order lime, N") LIME APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "Apr 12", "1 lb")
         DID("x", "2027-04-10") DID("y", "2027-04-10"),
     NULL, NULL},
    /* on one day the statements put them the other way round */
    {"kinds-out-of-order",
     BASE LIMIT("order lime, N")
         LIME APPLY("y", "Apr 10",
                    "1 lb") "apply x {\nto a\nwhen same day after y\nrate 9 lb per 1000 sqft of lime\n}\n",
     "y falls on Sat 2027-04-10, before x on Sat 2027-04-10; the limit requires the other order on a", NULL},
    {"kinds-out-of-order",
     BASE LIMIT("order lime, N") LIME APPLY("y", "Apr 10", "1 lb") APPLY_OF("x", "Apr 10", "9 lb", "lime"),
     NULL, NULL},
    /* what was done cannot be lowered: x's record leaves 0.9 - 0.5 = 0.4 for y */
    {"limit-per-application",
     BASE PER_APPLICATION APPLY("x", "Apr 10",
                                "3 lb") "apply y {\nto a\nwhen same day after x\nrate 2.4 lb per 1000 sqft "
                                        "of feed\n}\n" DONE("x", "2027-04-10", "2.5 lb of feed on a"),
     "N too high on a, Sat 2027-04-10: 0.98 lb N per 1000 sqft from x and y; limit 0.9 lb N per 1000 sqft "
     "per application",
     "use 2 lb of feed per 1000 sqft or less (0.4 lb N per 1000 sqft)"},
    /* a record without amounts went as planned */
    {"record-over-limit",
     BASE PER_APPLICATION APPLY("x", "Apr 10", "5 lb") "done x 2027-04-10 { note \"done\" }\n",
     "N too high on a, Sat 2027-04-10: 1 lb N per 1000 sqft from x; limit 0.9 lb N per 1000 sqft per "
     "application",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Sun 2027-04-11"},
    {"limit-per-application",
     BASE LIMIT("at most 0.4 lb N per 1000 sqft per application")
         APPLY("x", "Apr 10", "3 lb") "apply y {\nto a\nwhen same day after x\nrate 2.4 lb per 1000 sqft of "
                                      "feed\n}\n" DONE("x", "2027-04-10", "2.5 lb of feed on a"),
     "N too high on a, Sat 2027-04-10: 0.98 lb N per 1000 sqft from x and y; limit 0.4 lb N per 1000 sqft "
     "per application",
     "put feed on another day: the rest of this day already reaches the limit"},
    /* work that names no zone concerns every zone */
    {"record-wait-short",
     BASE LIMIT("at least 14 days between sow and N") "task x { when on Apr 10, kind sow }\n" APPLY(
         "y", "May 10", "1 lb") "done x 2027-04-10 { note \"done\" }\n" DONE("y", "2027-04-20",
                                                                             "1 lb of feed on a"),
     "y on Tue 2027-04-20 came 10 days after x on a; the limit requires at least 14 days between sow and N",
     ""},
    {"record-wait-short",
     HEAD TWO_ZONES FEED
         LIMIT("at least 14 days between sow and N") "task x { to b, when on Apr 10, kind sow }\n" APPLY(
             "y", "May 10", "1 lb") "done x 2027-04-10 { note \"done\" }\n" DONE("y", "2027-04-20",
                                                                                 "1 lb of feed on a"),
     NULL, NULL},
    /* two kinds that must lie apart do not share a day */
    {"record-wait-short",
     BASE LIME BETWEEN APPLY_OF("x", "Apr 10", "9 lb", "lime") APPLY("y", "May 10", "1 lb")
         DONE("x", "2027-04-10", "9 lb of lime on a") DONE("y", "2027-04-10", "1 lb of feed on a"),
     "x and y shared a day on a, Sat 2027-04-10; the limit requires at least 14 days between lime and N",
     NULL},
    /* potash alone is no N application */
    {"record-wait-short",
     BASE "product potash { grade 0-0-50 granular }\n" WAIT APPLY("x", "Apr 10", "1 lb")
         APPLY_OF("y", "May 10", "1 lb", "potash") DONE("x", "2027-04-10", "1 lb of feed on a")
             DONE("y", "2027-04-12", "1 lb of potash on a"),
     NULL, NULL},
    {"record-wait-short",
     BASE LIME BETWEEN "product potash { grade 0-0-50 granular }\n" APPLY_OF("x", "Apr 10", "9 lb", "lime")
         APPLY_OF("y", "May 10", "1 lb", "potash") DONE("x", "2027-04-10", "9 lb of lime on a")
             DONE("y", "2027-04-20", "1 lb of potash on a"),
     NULL, NULL},
    {0},
};
