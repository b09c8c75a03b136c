/* What products' labels allow. */
#include "tests/unit/check_trials.h"

#define LABELLED(label) HEAD GREEN "product feed {\ngrade 20-0-10 granular\nlabel " label "\n}\n"
#define SHARED(kind) SHARED_IN(HEAD, kind)
#define SHARED_IN(head, kind)                                                                                \
    HEAD GREEN                                                                                               \
        "product feed { grade 20-0-10 granular, kind " kind "\nlabel at most 8 lb per 1000 sqft a year }\n"  \
        "product bed { grade 0-0-7 granular, kind " kind "\nlabel at most 5 lb per 1000 sqft a year }\n"     \
        "product twice { grade 0-0-7 granular, kind " kind                                                   \
        "\nlabel up to 3 lb per 1000 sqft, at most 2 a year }\n"
#define SPRAY                                                                                                \
    "product spray {\ngrade 10-0-0 liquid, 10 lb per gal\nlabel 2 to 4 fl oz per 1000 sqft in 1 to 2 gal "   \
    "of water\n}\n"
#define SPRAYER(text) "sprayer p {\n" text "\n}\n"
#define SPRAYED "apply x {\nto a\nwhen on Apr 10\nrate 3 fl oz per 1000 sqft of spray\nwith p\n}\n"
#define DIALLED(text) HEAD GREEN "product feed { grade 20-0-10 granular }\nspreader s {\n" text "}\n"
#define TESTED                                                                                               \
    "caught 0.25 lb of feed on 100 sqft at setting 10\ncaught 0.4 lb of feed on 100 sqft at setting 14\n"
#define APPLY_WITH(rate) "apply x {\nto a\nwhen on Apr 10\nrate " rate " per 1000 sqft of feed\nwith s\n}\n"

const struct check_trial LABEL_TRIALS[] = {
    {"label-rate-high", LABELLED("2 to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "4.5 lb"),
     "x puts down 4.5 lb of feed per 1000 sqft; the label allows at most 4 lb of feed per 1000 sqft",
     "use 4 lb of feed per 1000 sqft or less"},
    {"label-rate-high", LABELLED("2 to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "4 lb"), NULL, NULL},
    {"label-rate-high", LABELLED("up to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "4 lb"), NULL, NULL},
    /* 0.9 lb N / 20% = 4.5 lb; 4 x 20% = 0.8 */
    {"label-rate-high", LABELLED("2 to 4 lb per 1000 sqft") SUPPLY("x", "Apr 10", "0.9 lb N"),
     "x puts down 4.5 lb of feed per 1000 sqft; the label allows at most 4 lb of feed per 1000 sqft",
     "use 4 lb of feed per 1000 sqft or less (0.8 lb N per 1000 sqft)"},
    {"label-rate-high",
     LABELLED("2 to 4 lb per 1000 sqft")
         APPLY("x", "Apr 10",
               "2 lb") "apply y {\nto a\nwhen same day after x\nrate 3 lb per 1000 sqft of feed\n}\n",
     "with x, a gets 5 lb of feed per 1000 sqft on Sat 2027-04-10; the label allows at most 4 lb of feed per "
     "1000 sqft",
     ""},
    {"record-over-label",
     LABELLED("2 to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "3 lb")
         DONE("x", "2027-04-10", "6 lb of feed on a"),
     "x put 6 lb of feed per 1000 sqft on a on Sat 2027-04-10; the label allows at most 4 lb of feed per "
     "1000 sqft",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Sun 2027-04-11"},
    /* a gallon weighs 10 lb, so 1 lb is 12.8 fl oz: 0.5 lb is 6.4 fl oz */
    {"label-rate-high",
     HEAD GREEN SPRAY "apply x {\nto a\nwhen on Apr 10\nrate 0.5 lb per 1000 sqft of spray\n}\n",
     "x puts down 6.4 fl oz of spray per 1000 sqft; the label allows at most 4 fl oz of spray per 1000 sqft",
     "use 0.3125 lb of spray per 1000 sqft or less"},
    {"label-rate-low", LABELLED("2 to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "1.5 lb"),
     "x puts down 1.5 lb of feed per 1000 sqft; the label requires at least 2 lb of feed per 1000 sqft",
     "use 2 lb of feed per 1000 sqft or more"},
    {"label-rate-low", LABELLED("2 to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "2 lb"), NULL, NULL},
    {"label-rate-low", LABELLED("up to 4 lb per 1000 sqft") APPLY("x", "Apr 10", "0.1 lb"), NULL, NULL},

    {"record-label-interval",
     LABELLED("at least 30 days apart") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb")
         DONE("x", "2027-04-10", "2 lb of feed on a") DONE("y", "2027-05-09", "2 lb of feed on a"),
     "y on Sun 2027-05-09 came 29 days after x on a; the label requires at least 30 days between treatments "
     "with feed",
     ""},
    {"record-label-interval",
     LABELLED("at least 30 days apart") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb")
         DONE("x", "2027-04-10", "2 lb of feed on a") DONE("y", "2027-05-10", "2 lb of feed on a"),
     NULL, NULL},
    {"label-interval",
     LABELLED("at least 30 days apart") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 10", "2 lb"), NULL,
     NULL},

    {"label-count",
     LABELLED("at most 2 a year") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb")
         APPLY("z", "Jun 20", "2 lb"),
     "z is treatment 3 with feed on a in 2027; the label allows 2 a year",
     "use it 2 times or fewer, or use another product"},
    {"label-count", LABELLED("at most 2 a year") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb"),
     NULL, NULL},
    {"record-over-label",
     LABELLED("at most 1 a year") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb")
         DONE("x", "2027-04-10", "2 lb of feed on a") DONE("y", "2027-05-20", "2 lb of feed on a"),
     "y was treatment 2 with feed on a in 2027; the label allows 1 a year",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Sat 2028-01-01"},
    /* one too many was done, so none may follow, nor come in between */
    {"label-count",
     LABELLED("at most 1 a year") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb")
         APPLY("z", "Jun 20", "2 lb") DID("x", "2027-04-10") DID("y", "2027-05-20"),
     "z is one of 3 treatments with feed on a in 2027; the label allows 1 a year",
     "use it once, or use another product"},
    {"label-count",
     LABELLED("at most 1 a year") APPLY("x", "Apr 10", "2 lb") APPLY("y", "May 20", "2 lb")
         DID("y", "2027-05-20"),
     "x is one of 2 treatments with feed on a in 2027; the label allows 1 a year", NULL},
    {"label-count",
     "edition 1 on 2027-01-10\nseason 2027-10-01 to 2028-03-31\n" GREEN
     "product feed {\ngrade 20-0-10 granular\nlabel at most 1 a year\n}\n" APPLY("x", "2027-12-31", "2 lb")
         APPLY("y", "2028-01-01", "2 lb"),
     NULL, NULL},

    /* 8 - 5 = 3 */
    {"label-year",
     LABELLED("at most 8 lb per 1000 sqft a year") APPLY("x", "Apr 10", "5 lb") APPLY("y", "May 20", "4 lb"),
     "a reaches 9 lb of feed per 1000 sqft on Thu 2027-05-20; the label allows 8 lb of feed per 1000 sqft in "
     "a calendar year",
     "use 3 lb of feed per 1000 sqft or less on that day"},
    {"label-year",
     LABELLED("at most 8 lb per 1000 sqft a year") APPLY("x", "Apr 10", "5 lb") APPLY("y", "May 20", "3 lb"),
     NULL, NULL},
    {"record-over-label",
     LABELLED("at most 8 lb per 1000 sqft a year") APPLY("x", "Apr 10", "5 lb")
         DONE("x", "2027-04-10", "9 lb of feed on a"),
     "a reached 9 lb of feed per 1000 sqft on Sat 2027-04-10; the label allows 8 lb of feed per 1000 sqft in "
     "a calendar year",
     "this cannot be undone; nothing in this plan or on the label forbids feed on a from Sat 2028-01-01"},
    {"label-year",
     LABELLED("at most 8 lb per 1000 sqft a year") APPLY("x", "Apr 10", "5 lb") APPLY("y", "May 20", "3 lb")
         DONE("x", "2027-04-10", "9 lb of feed on a"),
     "a reaches 12 lb of feed per 1000 sqft in 2027; the label allows 8 lb of feed per 1000 sqft in a "
     "calendar year",
     ""},

    /* 6 of 8 lb and 2 of 5: 75% and 40%; a year that the rate and the number of times make: 3 of 2 x 3 */
    {"label-shared", SHARED("prodiamine") APPLY("x", "Apr 10", "6 lb") APPLY_OF("y", "Sep 10", "2 lb", "bed"),
     "a gets more prodiamine in 2027 than one label allows: 75% of a year's limit from feed and 40% from bed",
     "use one of these products only, or less of each"},
    {"label-shared",
     SHARED("prodiamine") APPLY("x", "Apr 10", "6 lb") APPLY_OF("y", "Sep 10", "1.25 lb", "bed"), NULL, NULL},
    {"label-shared",
     SHARED("prodiamine") APPLY("x", "Apr 10", "6 lb") APPLY_OF("y", "Sep 10", "3 lb", "twice"),
     "a gets more prodiamine in 2027 than one label allows: 75% of a year's limit from feed and 50% from "
     "twice",
     "use one of these products only, or less of each"},
    {"label-shared", SHARED("bark") APPLY("x", "Apr 10", "6 lb") APPLY_OF("y", "Sep 10", "3 lb", "bed"), NULL,
     NULL},
    {"label-shared",
     SHARED("bark") "source s { title \"S\" }\nactive-ingredients bark, dust from s\n" APPLY("x", "Apr 10",
                                                                                             "6 lb")
         DONE("x", "2027-04-10", "6 lb of feed on a") APPLY_OF("y", "Sep 10", "3 lb", "bed"),
     "a gets more bark in 2027 than one label allows: 75% of a year's limit from feed and 60% from bed",
     "use one of these products only, or less of each"},
    {"label-shared",
     SHARED("prodiamine") APPLY("x", "Apr 10", "6 lb") DONE("x", "2027-04-10", "6 lb of feed on a")
         APPLY_OF("y", "Sep 10", "3 lb", "bed") DONE("y", "2027-09-10", "3 lb of bed on a"),
     "a got more prodiamine in 2027 than one label allows: 75% of a year's limit from feed and 60% from bed",
     ""},
    {"label-shared",
     SHARED_IN("edition 1 on 2027-01-10\nseason 2027-03-01 to 2028-11-20\n", "prodiamine")
         APPLY("x", "2027-09-10", "6 lb") APPLY_OF("y", "2028-09-10", "3 lb", "bed"),
     NULL, NULL},

    {"water-volume", HEAD GREEN SPRAY SPRAYER("output 0.75 gal per 1000 sqft") SPRAYED,
     "p puts out 0.75 gal of water per 1000 sqft; the label of spray requires at least 1 gal of water per "
     "1000 sqft",
     "set nozzle, pressure and speed for an output of 1 to 2 gal per 1000 sqft, and calibrate again"},
    {"water-volume", HEAD GREEN SPRAY SPRAYER("output 2.5 gal per 1000 sqft") SPRAYED,
     "p puts out 2.5 gal of water per 1000 sqft; the label of spray allows at most 2 gal of water per 1000 "
     "sqft",
     NULL},
    {"water-volume", HEAD GREEN SPRAY SPRAYER("output 1 gal per 1000 sqft") SPRAYED, NULL, NULL},
    {"water-volume", HEAD GREEN SPRAY SPRAYER("output 2 gal per 1000 sqft") SPRAYED, NULL, NULL},
    {"output-missing", HEAD GREEN SPRAY SPRAYER("tank 4 gal") SPRAYED,
     "p states no output, so the water for spray cannot be compared with its label",
     "state what calibration gave as `output OUTPUT`"},
    {"output-missing", HEAD GREEN SPRAY SPRAYER("output 1 gal per 1000 sqft") SPRAYED, NULL, NULL},
    /* a label without water asks for none */
    {"water-volume",
     HEAD GREEN "product spray { grade 10-0-0 liquid, 10 lb per gal }\n" SPRAYER("output 9 gal per 1000 sqft")
         SPRAYED,
     NULL, NULL},
    {"output-missing",
     HEAD GREEN "product spray { grade 10-0-0 liquid, 10 lb per gal }\n" SPRAYER("tank 4 gal") SPRAYED, NULL,
     NULL},
    /* what was done cannot be lowered, what is still planned can: the help is for y */
    {"label-rate-high",
     LABELLED("2 to 4 lb per 1000 sqft")
         APPLY("x", "Apr 10", "2 lb") "apply y {\nto a\nwhen same day after x\nrate 3 lb per 1000 sqft of "
                                      "feed\n}\n" DONE("x", "2027-04-10", "2 lb of feed on a"),
     "with y, a gets 5 lb of feed per 1000 sqft on Sat 2027-04-10; the label allows at most 4 lb of feed per "
     "1000 sqft",
     ""},
    /* another product on the same day is another dose */
    {"label-rate-high",
     LABELLED("2 to 4 lb per 1000 sqft") "product other { grade 10-0-0 granular }\n" APPLY(
         "x", "Apr 10",
         "3 lb") "apply y {\nto a\nwhen same day after x\nrate 3 lb per 1000 sqft of other\n}\n",
     NULL, NULL},

    /* 0.25 lb on 100 sqft are 2.5 lb per 1000 sqft at 10, 4 lb at 14: in two passes of 5 lb just the lowest
     */
    {"setting-untested", DIALLED("passes 2\n" TESTED) APPLY_WITH("5 lb"), NULL, NULL},
    {"setting-untested", DIALLED("passes 2\n" TESTED) APPLY_WITH("4.9 lb"),
     "no setting of s is known for 2.45 lb of feed per 1000 sqft in each of 2 passes; the lowest tested is "
     "for "
     "2.5 lb of feed per 1000 sqft",
     "test a lower setting, and add the test to s"},
    /* 5 % above the highest at most */
    {"setting-untested", DIALLED(TESTED) APPLY_WITH("4.2 lb"), NULL, NULL},
    {"setting-untested", DIALLED(TESTED) APPLY_WITH("4.21 lb"),
     "no setting of s is known for 4.21 lb of feed per 1000 sqft; the highest tested is for 4 lb of feed per "
     "1000 "
     "sqft",
     "test a higher setting, and add the test to s"},
    {"setting-untested",
     DIALLED(
         "caught 0.25 lb of feed on 100 sqft at setting G\ncaught 0.4 lb of feed on 100 sqft at setting H\n")
         APPLY_WITH("3 lb"),
     "no setting of s is known for 3 lb of feed per 1000 sqft; no number lies between its settings",
     "test a further setting, and add the test to s"},
    /* the label's rate is that of the whole, and has one mark only; without a test it is what there is */
    {"setting-untested",
     HEAD GREEN "product feed { grade 20-0-10 granular, setting 12 on s for 4 lb per 1000 sqft }\n"
                "spreader s { passes 2 }\n" APPLY_WITH("4 lb"),
     "no setting of s is known for 2 lb of feed per 1000 sqft in each of 2 passes; the lowest on the label "
     "is for "
     "4 lb of feed per 1000 sqft",
     "test a lower setting, and add the test to s"},
    {"setting-untested",
     HEAD GREEN "product feed { grade 20-0-10 granular, setting 12 on s for 4 lb per 1000 sqft }\n"
                "spreader s { passes 1 }\n" APPLY_WITH("4 lb"),
     NULL, NULL},
    {"setting-other-dial",
     HEAD GREEN "product feed { grade 20-0-10 granular, setting 12 on rotary-b for 4 lb per 1000 sqft }\n"
                "spreader s { passes 1 }\n" APPLY_WITH("4 lb"),
     "the label of feed gives no setting for s", "if that is the dial of s, say so there: dial rotary-b"},
    {"setting-other-dial",
     HEAD GREEN "product feed { grade 20-0-10 granular, setting 12 on rotary-b for 4 lb per 1000 sqft }\n"
                "spreader s { dial rotary-b }\n" APPLY_WITH("4 lb"),
     NULL, NULL},
    {0},
};
