/* Records beside what was planned. */
#include "tests/unit/check_trials.h"

#define BASE HEAD TWO_ZONES FEED "product other { grade 10-0-0 granular }\n"
#define PLANNED APPLY("x", "Apr 10", "4 lb")
#define TWICE "apply x {\nto a\nwhen every 30 days from Apr 10, 2 times\nrate 4 lb per 1000 sqft of feed\n}\n"
#define BOTH "apply x {\nto a, b\nwhen between Apr 10 and Apr 30\nrate 4 lb per 1000 sqft of feed\n}\n"
#define TASK(name, when) "task " name " { when " when " }\n"

const struct check_trial RECORD_TRIALS[] = {
    /* 1 lb N per 1000 sqft binds every plan: 5.2 lb of feed are more, 5 lb are not */
    {"admit-unused", BASE PLANNED DONE("x", "2027-04-10", "5 lb of feed on a\nadmit \"a gust\""),
     "nothing to admit: this record of x is not reported to exceed a limit or a label",
     "check the amounts, or delete the `admit`, so that it hides nothing later"},
    {"admit-unused", BASE PLANNED DONE("x", "2027-04-10", "5.2 lb of feed on a\nadmit \"a gust\""), NULL,
     NULL},
    {"admit-unused", BASE PLANNED DONE("x", "2027-04-10", "5 lb of feed on a"), NULL, NULL},
    /* 4.5 against 4 on 1000 sqft */
    {"record-deviates", BASE PLANNED DONE("x", "2027-04-10", "4.5 lb of feed on a"),
     "4.5 lb of feed went on a, 12.5% more than the planned 4 lb of feed", NULL},
    {"record-deviates", BASE PLANNED DONE("x", "2027-04-10", "3.5 lb of feed on a"),
     "3.5 lb of feed went on a, 12.5% less than the planned 4 lb of feed", NULL},
    {"record-deviates", BASE PLANNED DONE("x", "2027-04-10", "4.4 lb of feed on a"), NULL, NULL},
    /* in two goes */
    {"record-deviates", BASE PLANNED DONE("x", "2027-04-10", "2 lb of feed on a, 2 lb on a"), NULL, NULL},
    {"record-unforeseen", BASE PLANNED DONE("x", "2027-04-10", "4 lb of other on a"),
     "this puts down other, which x does not plan", NULL},
    {"record-unforeseen", BASE PLANNED DONE("x", "2027-04-10", "4 lb of feed on a, 2 lb on b"),
     "this treats b, which x does not plan", NULL},
    {"record-unforeseen", BASE PLANNED DONE("x", "2027-04-10", "4 lb of feed on a"), NULL, NULL},
    {"record-partial",
     BASE "apply x {\nto a, b\nwhen on Apr 10\nrate 4 lb per 1000 sqft of feed\n}\n" DONE(
         "x", "2027-04-10", "4 lb of feed on a"),
     "this record leaves out feed on b", NULL},
    {"record-partial", BASE PLANNED DONE("x", "2027-04-10", "4 lb of feed on a"), NULL, NULL},
    {"record-without-amounts", BASE PLANNED DID("x", "2027-04-10"),
     "the record of x has no amounts, so the planned ones are counted", NULL},
    {"record-without-amounts", BASE TASK("x", "on Apr 10") DID("x", "2027-04-10"), NULL, NULL},
    {"record-many", BASE PLANNED DID("x", "2027-04-10") DID("x", "2027-05-10"),
     "x has 1 planned time, and this record is one more", NULL},
    {"record-many", BASE TWICE "done x 2027-04-10 { time 1 }\ndone x 2027-05-12 { time 1 }\n",
     "time 1 of x is recorded twice", NULL},
    {"record-many", BASE TWICE DID("x", "2027-04-10") DID("x", "2027-05-10"), NULL, NULL},
    {"record-many", BASE PLANNED "skipped x\nskipped x\n",
     "x has 1 planned time, and this record is one more", "nothing is left to skip; delete it"},
    /* two parts make one time, and what follows is one too many */
    {"record-many", BASE BOTH "done x 2027-04-10 { part on a }\ndone x 2027-04-12 { part on b }\n", NULL,
     NULL},
    {"record-many",
     BASE BOTH "done x 2027-04-10 { part on a }\ndone x 2027-04-12 { part on b }\n" DID("x", "2027-04-14"),
     "x has 1 planned time, and this record is one more", NULL},
    {"record-partial", BASE BOTH "done x 2027-04-10 {\npart\nused 4 lb of feed on a\n}\n", NULL, NULL},
    /* the last of the parts leaves nothing out that is not done */
    {"record-partial",
     BASE BOTH
     "done x 2027-04-10 {\npart\nused 4 lb of feed on a\n}\n" DONE("x", "2027-04-12", "2 lb of feed on b"),
     NULL, NULL},
    {"record-unforeseen",
     BASE BOTH "done x 2027-04-10 {\npart\nused 4 lb of feed on a\n}\n" DONE("x", "2027-04-12",
                                                                             "2 lb of feed on a, 2 lb on b"),
     "this treats a, which a part of x has done before", NULL},
    {"record-deviates", BASE BOTH "done x 2027-04-10 {\npart\nused 5 lb of feed on a\n}\n",
     "5 lb of feed went on a, 25% more than the planned 4 lb of feed", NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "at least 7 days after x") DID("x", "2027-04-10")
         DID("y", "2027-04-15"),
     "y was done 5 days after x; the plan says at least 7 days after", NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "at least 7 days after x") DID("x", "2027-04-10")
         DID("y", "2027-04-17"),
     NULL, NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "before x") DID("x", "2027-04-10") DID("y", "2027-04-10"),
     "y was done on the same day as x; the plan says at least 1 day before", NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "within 3 days after x") DID("x", "2027-04-10")
         DID("y", "2027-04-09"),
     "y was done 1 day before x; the plan says within 3 days after", NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "same day after x") DID("x", "2027-04-10") DID("y", "2027-04-11"),
     "y was done 1 day after x; the plan says on the same day", NULL},
    {"record-order", BASE TWICE "done x 2027-05-10 { time 1 }\ndone x 2027-04-20 { time 2 }\n",
     "time 2 of x is recorded before time 1", NULL},
    {"record-off-window", BASE PLANNED DID("x", "2027-04-11"),
     "x was done on Sun 2027-04-11; the plan said `when on Apr 10`", NULL},
    {"record-off-window", BASE PLANNED DID("x", "2027-04-10"), NULL, NULL},
    {"record-off-window", BASE TASK("x", "between Apr 10 and Apr 30") DID("x", "2027-05-01"),
     "x was done on Sat 2027-05-01; the plan said `when between Apr 10 and Apr 30`", NULL},
    {"record-off-window", BASE TASK("x", "between Apr 10 and Apr 30") DID("x", "2027-04-30"), NULL, NULL},
    {"record-off-window", BASE TASK("x", "by Apr 30") DID("x", "2027-05-01"),
     "x was done on Sat 2027-05-01; the plan said `when by Apr 30`", NULL},
    {"record-off-window", BASE TASK("x", "by Apr 30") DID("x", "2027-04-30"), NULL, NULL},
    {"record-off-window", BASE TASK("x", "from Apr 10") DID("x", "2027-04-09"),
     "x was done on Fri 2027-04-09; the plan said `when from Apr 10`", NULL},
    {"record-off-window", BASE TASK("x", "from Apr 10") DID("x", "2027-04-10"), NULL, NULL},
    {"record-off-window", BASE TWICE DID("x", "2027-07-10"), NULL, NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "5 days before x") DID("x", "2027-04-10") DID("y", "2027-04-04"),
     "y was done 6 days before x; the plan says 5 days before", NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "5 days after x") DID("x", "2027-04-10") DID("y", "2027-04-15"),
     NULL, NULL},
    {"record-order",
     BASE TASK("x", "on Apr 10") TASK("y", "within 3 days after x") DID("x", "2027-04-10")
         DID("y", "2027-04-13"),
     NULL, NULL},
    /* the second time of y belongs to the second of x */
    {"record-order",
     BASE "task x { when every 10 days from Apr 10, 2 times }\ntask y { when same day after x }\n" DID(
         "x", "2027-04-10") DID("y", "2027-04-10") DID("x", "2027-04-20") DID("y", "2027-04-20"),
     NULL, NULL},
    {"record-order",
     BASE "task x { when every 10 days from Apr 10, 2 times }\ntask y { when same day after x }\n" DID(
         "x", "2027-04-10") DID("y", "2027-04-10") DID("x", "2027-04-20") DID("y", "2027-04-21"),
     "y was done 1 day after x; the plan says on the same day", NULL},
    /* `after` means the last time of two */
    {"record-order",
     BASE "task x { when every 10 days from Apr 10, 2 times }\n" TASK("y", "after x") DID("x", "2027-04-10")
         DID("x", "2027-04-20") DID("y", "2027-04-15"),
     "y was done 5 days before x; the plan says at least 1 day after", NULL},
    {"record-order", BASE TWICE "done x 2027-04-20 { time 1 }\ndone x 2027-04-20 { time 2 }\n", NULL, NULL},
    /* two products, each against its own plan */
    {"record-deviates",
     BASE "apply x {\nto a\nwhen on Apr 10\nrate 2 lb per 1000 sqft of feed\nrate 3 lb per 1000 sqft of "
          "other\n}\n" DONE("x", "2027-04-10", "2 lb of feed on a\nused 2 lb of other on a"),
     "2 lb of other went on a, 33.33% less than the planned 3 lb of other", NULL},
    {"record-partial",
     BASE "apply x {\nto a\nwhen on Apr 10\nrate 2 lb per 1000 sqft of feed\nrate 3 lb per 1000 sqft of "
          "other\n}\n" DONE("x", "2027-04-10", "2 lb of feed on a"),
     "this record leaves out other on a", NULL},
    /* planned by supply: 0.8 lb N is 4 lb of feed */
    {"record-deviates", BASE SUPPLY("x", "Apr 10", "0.8 lb N") DONE("x", "2027-04-10", "5 lb of feed on a"),
     "5 lb of feed went on a, 25% more than the planned 4 lb of feed", NULL},
    /* a gallon of leaf weighs 10 lb, so 12.8 fl oz are 1 lb */
    {"record-deviates",
     BASE "product leaf { grade 10-0-0 liquid, 10 lb per gal }\n" APPLY_OF("x", "Apr 10", "1 lb", "leaf")
         DONE("x", "2027-04-10", "12.8 fl oz of leaf on a"),
     NULL, NULL},
    {"record-deviates",
     BASE "product leaf { grade 10-0-0 liquid, 10 lb per gal }\n" APPLY_OF("x", "Apr 10", "1 lb", "leaf")
         DONE("x", "2027-04-10", "16 fl oz of leaf on a"),
     "16 fl oz of leaf went on a, 25% more than the planned 12.8 fl oz of leaf", NULL},
    /* the shed: 4 lb on 1000 sqft are used of what was counted or bought before */
    {"record-over-stock",
     BASE PLANNED DONE("x", "2027-04-10", "4 lb of feed on a") "have 3 lb of feed on 2027-04-01\n",
     "x used 4 lb of feed; the shed had 3 lb",
     "check both figures; state what was bought since with `bought`"},
    {"record-over-stock",
     BASE PLANNED DONE(
         "x", "2027-04-10",
         "4 lb of feed on a") "have 3 lb of feed on 2027-04-01\nbought 1 lb of feed on 2027-04-10\n",
     NULL, NULL},
    {"record-over-stock", BASE PLANNED DID("x", "2027-04-10") "have no feed on 2027-04-01\n",
     "x used 4 lb of feed; the shed had none", NULL},
    /* counted as the day ends: what was used on it is not missed */
    {"record-over-stock",
     BASE PLANNED DONE("x", "2027-04-10", "4 lb of feed on a") "have 3 lb of feed on 2027-04-10\n", NULL,
     NULL},
    /* 10 less 4 are 6, and a bag may be 2% short: 5.88 */
    {"stock-differs",
     BASE PLANNED DONE(
         "x", "2027-04-10",
         "4 lb of feed on a") "have 10 lb of feed on 2027-04-01\nhave 5.8 lb of feed on 2027-05-01\n",
     "feed counted 5.8 lb on Sat 2027-05-01; the records leave 6 lb",
     "the count is used from here on; check whether a record is missing"},
    {"stock-differs",
     BASE PLANNED DONE(
         "x", "2027-04-10",
         "4 lb of feed on a") "have 10 lb of feed on 2027-04-01\nhave 5.9 lb of feed on 2027-05-01\n",
     NULL, NULL},
    {"stock-differs", BASE PLANNED "have 10 lb of feed on 2027-04-01\nhave 50 lb of feed on 2027-05-01\n",
     "feed counted 50 lb on Sat 2027-05-01; the records leave 10 lb",
     "the count is used from here on; state what was bought with `bought`"},
    /* two counts of one day add up, whatever the order of the text */
    {"stock-differs",
     BASE PLANNED "have 20 lb of feed on 2027-05-01\nhave 50 lb of feed on 2027-04-01\nhave 30 lb of feed on "
                  "2027-05-01\n",
     NULL, NULL},
    {"stock-measure", BASE PLANNED "have 1 gal of feed on 2027-04-01\n",
     "feed is measured by mass and by volume, and states no density", NULL},
    {"stock-measure", BASE PLANNED "have 1 kg of feed on 2027-04-01\n", NULL, NULL},
    {"stock-unused", BASE PLANNED "have 10 lb of other on 2027-04-01\n",
     "nothing in this plan uses other; the shed has 10 lb", NULL},
    {"stock-unused", BASE PLANNED "have no other on 2027-04-01\n", NULL, NULL},
    {"unused-product", BASE PLANNED "have 10 lb of other on 2027-04-01\n", NULL, NULL},
    {"stock-unused", BASE PLANNED "have 10 lb of feed on 2027-04-01\n", NULL, NULL},
    {"stock-after-season", BASE PLANNED "have 10 lb of feed on 2027-12-01\n",
     "Wed 2027-12-01 is after the season, which ends on Tue 2027-11-30", NULL},
    {"stock-after-season", BASE PLANNED "have 10 lb of feed on 2027-11-30\n", NULL, NULL},
    {0},
};
