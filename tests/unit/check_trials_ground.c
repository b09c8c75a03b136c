/* Water, soil and grass. */
#include "tests/unit/check_trials.h"

#define BASE HEAD GREEN FEED
#define PHOS "product phos {\ngrade 10-10-0 granular\n}\n"
#define SOURCE "source sheet { title \"A sheet\" }\n"
#define SCALE                                                                                                \
    SOURCE "scale levels {\nmethod mehlich-3\ndepth 4 in\nspots 3\nspread 50%\nminimum P 20 ppm from "       \
           "sheet\n}\n"
#define STRICTER "scale stricter {\nmethod mehlich-3\nminimum P 30 ppm from sheet\n}\n"
#define CARD                                                                                                 \
    SOURCE "scale card {\nmethod mehlich-3\nclass low P below 20 ppm needs 0.4 lb P2O5 per 1000 sqft from "  \
           "sheet\nclass enough P above 20 ppm needs nothing from sheet\n}\n"
#define TEST(day, more, results)                                                                             \
    "soil-test " day " {\nof a\nmethod mehlich-3\n" more "\nresults {\n" results "\n}\n}\n"
#define NEED LIMIT("no P2O5 without soil-test need")
#define FED APPLY_OF("x", "Apr 10", "5 lb", "phos")
#define LOW "spot P ppm\none 10\ntwo 12\nthree 11"
#define BROOK "lawn green {\nzone a area 1000 sqft, 8 ft from water\n}\n"
#define GRASS(statement)                                                                                     \
    SOURCE "grass meadow {\nseason cool\n" statement                                                         \
           " from sheet\n}\nlawn green {\ngrass meadow\nzone a area 1000 sqft\n}\n"

#define SOUR(ph) HEAD GRASS("pH 6.0 to 7.0") TEST("2027-02-01", "", "spot pH P ppm\none " ph " 20")
#define AMMONIUM "product sulfate {\ngrade 21-0-0 granular\nkind ammonium-sulfate\n}\n"
#define LIMESTONE "product limestone {\ngrade 0-0-0 granular\nneutralizing 90%\n}\n"
#define GYPSUM "product gypsum {\ngrade 0-0-0 granular\ncontains S 20%\n}\n"
#define SULFUR_CARD                                                                                          \
    SOURCE "scale card {\nmethod mehlich-3\nclass enough S above 10 ppm needs nothing from sheet\n}\n"

#define REGION(name, grass)                                                                                  \
    SOURCE "grass meadow {\nseason cool\nyearly 1 to 2 lb N per 1000 sqft in boathouse from sheet\n}\n"      \
           "lawn green {\ngrass " grass "\nregion " name "\nzone a area 1000 sqft\n}\n"

const struct check_trial GROUND_TRIALS[] = {
    {"region-unknown", HEAD REGION("marylnd", "tall-fescue"),
     "nothing has figures for the region marylnd of green", "did you mean `maryland`?"},
    {"region-unknown", HEAD REGION("atlantis", "tall-fescue"),
     "nothing has figures for the region atlantis of green", NULL},
    {"region-unknown", HEAD REGION("maryland", "tall-fescue"), NULL, NULL},
    {"region-unknown", HEAD REGION("washington-west", "tall-fescue"), NULL, NULL}, /* of a scale */
    {"region-unknown", HEAD REGION("boathouse", "meadow"), NULL, NULL},            /* of the plan's own */
    {"near-water", HEAD BROOK FEED LIMIT("nothing within 10 ft of water") APPLY("x", "Apr 10", "1 lb"),
     "a lies 8 ft from water and is treated on Sat 2027-04-10; nothing may go within 10 ft of water",
     "measure the zone so that it ends 10 ft from water, or leave it out of x"},
    {"near-water", HEAD BROOK FEED LIMIT("nothing within 8 ft of water") APPLY("x", "Apr 10", "1 lb"), NULL,
     NULL},
    {"near-water", HEAD BROOK FEED LIMIT("no N, P2O5 within 10 ft of water") APPLY("x", "Apr 10", "1 lb"),
     "a lies 8 ft from water and is treated on Sat 2027-04-10; N and P2O5 may not go within 10 ft of water",
     NULL},
    {"near-water", HEAD BROOK FEED LIMIT("no N, P2O5 within 8 ft of water") APPLY("x", "Apr 10", "1 lb"),
     NULL, NULL},
    /* a strip for phosphate alone leaves the library's for everything in force */
    {"near-water", HEAD BROOK FEED LIMIT("no P2O5 within 10 ft of water") APPLY("x", "Apr 10", "1 lb"),
     "a lies 8 ft from water and is treated on Sat 2027-04-10; nothing may go within 10 ft of water", NULL},
    {"near-water", HEAD BROOK FEED LIMIT("no fertilizer within 10 ft of water") APPLY("x", "Apr 10", "1 lb"),
     "a lies 8 ft from water and is treated on Sat 2027-04-10; fertilizer may not go within 10 ft of water",
     NULL},
    {"near-water",
     HEAD BROOK "product rock {\nneutralizing 80%\n}\n" LIMIT("no fertilizer within 10 ft of water")
         APPLY_OF("x", "Apr 10", "10 lb", "rock"),
     NULL, NULL},
    {"near-water", BASE LIMIT("nothing within 10 ft of water") APPLY("x", "Apr 10", "1 lb"), NULL, NULL},
    {"record-near-water",
     HEAD BROOK FEED LIMIT("nothing within 10 ft of water") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-04-10", "1 lb of feed on a"),
     "a lies 8 ft from water and was treated on Sat 2027-04-10; nothing may go within 10 ft of water", ""},

    /* 5 lb x 10% */
    {"no-need", BASE PHOS NEED FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the limit needs a soil test, and a has "
     "none",
     "test the soil of a first, or use a product without P2O5"},
    {"no-need", BASE PHOS NEED SCALE TEST("2027-02-01", "scale levels", "spot K ppm\none 40") FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; its soil test of Mon 2027-02-01 has no "
     "figure for P2O5",
     NULL},
    /* the mean of 19 and 22 */
    {"no-need", BASE PHOS NEED SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 19\ntwo 22") FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the soil test of Mon 2027-02-01 finds "
     "enough: 20.5 ppm P",
     "use a product without P2O5"},
    {"no-need", BASE PHOS NEED TEST("2027-02-01", "", "spot P ppm\none 10") FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; no scale says whether 10 ppm P in the soil "
     "test of Mon 2027-02-01 is a need",
     "name a scale that reads P by mehlich-3, or use a product without it"},
    {"no-need", BASE PHOS NEED SCALE TEST("2027-02-01", "scale levels", LOW) FED, NULL, NULL},
    {"no-need", BASE NEED APPLY("x", "Apr 10", "1 lb"), NULL, NULL},
    {"record-no-need", BASE PHOS NEED FED DONE("x", "2027-04-10", "5 lb of phos on a"),
     "x applied 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the limit needs a soil test, and a has "
     "none",
     ""},
    {"soil-test-old", BASE PHOS NEED SCALE TEST("2024-04-09", "scale levels", LOW) FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; its soil test of Tue 2024-04-09 is more "
     "than 3 years older",
     "test the soil again"},
    {"soil-test-old", BASE PHOS NEED SCALE TEST("2024-04-10", "scale levels", LOW) FED, NULL, NULL},
    {"record-soil-test-old",
     BASE PHOS NEED SCALE TEST("2024-04-09", "scale levels", LOW)
         FED DONE("x", "2027-04-10", "5 lb of phos on a"),
     "x applied 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; its soil test of Tue 2024-04-09 is more "
     "than 3 years older",
     NULL},
    {"record-soil-test-old",
     BASE PHOS NEED SCALE TEST("2024-04-10", "scale levels", LOW)
         FED DONE("x", "2027-04-10", "5 lb of phos on a"),
     NULL, NULL},
    {"record-before-soil-test",
     BASE PHOS NEED SCALE TEST("2027-04-11", "scale levels", LOW)
         FED DONE("x", "2027-04-10", "5 lb of phos on a"),
     "x applied 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the soil test that finds the need is "
     "later, of Sun 2027-04-11",
     NULL},
    {"record-before-soil-test",
     BASE PHOS NEED SCALE TEST("2027-04-10", "scale levels", LOW)
         FED DONE("x", "2027-04-10", "5 lb of phos on a"),
     NULL, NULL},
    {"soil-test-after-use", BASE PHOS NEED SCALE TEST("2027-04-11", "scale levels", LOW) FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the soil test that finds the need is "
     "later, of Sun 2027-04-11",
     NULL},
    {"soil-test-after-use", BASE PHOS NEED SCALE TEST("2027-04-10", "scale levels", LOW) FED, NULL, NULL},

    /* the older test is in force on the day, and shows the need */
    {"soil-test-after-use",
     BASE PHOS NEED SCALE TEST("2027-04-11", "scale levels", LOW) TEST("2027-02-01", "scale levels", LOW) FED,
     NULL, NULL},
    {"no-need",
     BASE PHOS NEED SCALE TEST("2027-04-11", "scale levels", "spot P ppm\none 30")
         TEST("2027-02-01", "scale levels", LOW) FED,
     NULL, NULL},
    /* 5 lb x 10% against 0.4 lb; 4.4 lb are a tenth more, and pass */
    {"over-need", BASE PHOS NEED CARD TEST("2027-02-01", "scale card", LOW) FED,
     "P2O5 over the need of a, Sat 2027-04-10: 0.5 lb P2O5 per 1000 sqft since the soil test of Mon "
     "2027-02-01; it shows a need of 0.4 lb P2O5 per 1000 sqft",
     "apply 0.4 lb P2O5 per 1000 sqft or less on this day, or use a product without P2O5"},
    {"over-need",
     BASE PHOS NEED CARD TEST("2027-02-01", "scale card", LOW) APPLY_OF("x", "Apr 10", "4.4 lb", "phos"),
     NULL, NULL},
    {"over-need",
     BASE PHOS NEED CARD TEST("2027-02-01", "scale card", LOW) TEST("2027-05-01", "scale card", LOW)
         APPLY_OF("x", "Apr 10", "4 lb", "phos") APPLY_OF("y", "May 1", "4 lb", "phos"),
     NULL, NULL},
    {"record-over-need",
     BASE PHOS NEED CARD TEST("2027-02-01", "scale card", LOW) APPLY_OF("x", "Apr 10", "4 lb", "phos")
         DONE("x", "2027-04-10", "5 lb of phos on a"),
     "P2O5 over the need of a, Sat 2027-04-10: 0.5 lb P2O5 per 1000 sqft since the soil test of Mon "
     "2027-02-01; it shows a need of 0.4 lb P2O5 per 1000 sqft",
     "apply no more P2O5 here until a new soil test shows a need"},
    /* with no limit 10 lb per acre pass too: 0.4 + 0.2296 */
    {"more-than-needed", BASE PHOS CARD TEST("2027-02-01", "scale card", LOW) FED, NULL, NULL},
    {"more-than-needed",
     BASE PHOS CARD TEST("2027-02-01", "scale card", LOW) APPLY_OF("x", "Apr 10", "6.29 lb", "phos"), NULL,
     NULL},
    {"more-than-needed",
     BASE PHOS CARD TEST("2027-02-01", "scale card", LOW) APPLY_OF("x", "Apr 10", "6.3 lb", "phos"),
     "P2O5 over the need of a, Sat 2027-04-10: 0.63 lb P2O5 per 1000 sqft since the soil test of Mon "
     "2027-02-01; it shows a need of 0.4 lb P2O5 per 1000 sqft",
     NULL},
    /* 16 lb x 20% = 3.2 lb of S, 14 lb x 20% = 2.8 lb: 3 lb a year pass */
    {"more-than-needed",
     BASE GYPSUM SULFUR_CARD TEST("2027-02-01", "scale card", "spot S ppm\none 30")
         APPLY_OF("x", "Apr 10", "16 lb", "gypsum"),
     "S over the need of a, Sat 2027-04-10: 3.2 lb S per 1000 sqft since the soil test of Mon 2027-02-01; it "
     "shows no need",
     "use a product without S here"},
    {"more-than-needed",
     BASE GYPSUM SULFUR_CARD TEST("2027-02-01", "scale card", "spot S ppm\none 30")
         APPLY_OF("x", "Apr 10", "14 lb", "gypsum"),
     NULL, NULL},
    /* 30 lb x 90% = 27 lb of lime; where it is too low and no table says how much, nothing is known */
    {"more-than-needed", SOUR("6.5") LIMESTONE APPLY_OF("x", "Apr 10", "30 lb", "limestone"),
     "lime over the need of a, Sat 2027-04-10: 27 lb lime per 1000 sqft since the soil test of Mon "
     "2027-02-01; it shows no need",
     "use a product without lime here"},
    {"more-than-needed", SOUR("5.2") LIMESTONE APPLY_OF("x", "Apr 10", "30 lb", "limestone"), NULL, NULL},
    {"more-than-needed", BASE PHOS CARD TEST("2027-02-01", "scale card", "spot P ppm\none 30") FED,
     "P2O5 over the need of a, Sat 2027-04-10: 0.5 lb P2O5 per 1000 sqft since the soil test of Mon "
     "2027-02-01; it shows no need",
     "use a product without P2O5 here"},

    /* April 10 and 8 weeks are June 5, and 4 months August 10 */
    {"soil-test-soon", BASE PHOS CARD FED TEST("2027-05-24", "scale card", LOW),
     "sampled 44 days after phos went onto a, Sat 2027-04-10: too soon to show what it did; wait 8 weeks",
     "read this result with care; sample again on Sat 2027-06-05 or later"},
    {"soil-test-soon", BASE PHOS CARD FED TEST("2027-06-05", "scale card", LOW), NULL, NULL},
    {"soil-test-soon", BASE PHOS CARD FED TEST("2027-04-10", "scale card", LOW), NULL, NULL},
    {"soil-test-soon", BASE PHOS FED TEST("2027-05-24", "", "spot pH K ppm\none 6.5 30"), NULL, NULL},
    {"soil-test-soon", BASE PHOS NEED SCALE FED TEST("2027-05-24", "scale levels", LOW), NULL, NULL},
    {"soil-test-soon",
     BASE PHOS CARD FED
     "sample at least 3 weeks after P2O5 from sheet\n" TEST("2027-05-24", "scale card", LOW),
     NULL, NULL},
    {"soil-test-soon",
     HEAD GRASS("pH 6.0 to 7.0") LIMESTONE APPLY_OF("x", "Apr 10", "30 lb", "limestone")
         TEST("2027-08-09", "", "spot pH\none 6.5"),
     "sampled 121 days after limestone went onto a, Sat 2027-04-10: too soon to show what it did; wait 4 "
     "months",
     NULL},
    {"soil-test-soon",
     HEAD GRASS("pH 6.0 to 7.0") LIMESTONE APPLY_OF("x", "Apr 10", "30 lb", "limestone")
         TEST("2027-08-10", "", "spot pH\none 6.5"),
     NULL, NULL},
    {"untested-zone", BASE PHOS FED, "a gets P2O5, but has no soil test", NULL},
    {"untested-zone", BASE PHOS NEED FED, NULL, NULL},
    {"untested-zone", BASE PHOS SCALE TEST("2027-02-01", "scale levels", LOW) FED, NULL, NULL},
    {"soil-spots-few", BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 10\ntwo 12"),
     "the soil test of Mon 2027-02-01 has 2 spots; levels calls for at least 3",
     "if each spot's sample was mixed from several cores, say so: cores 12"},
    {"soil-spots-few", BASE SCALE TEST("2027-02-01", "scale levels\ncores 2", "spot P ppm\none 10\ntwo 12"),
     NULL, NULL},
    {"soil-spots-few", BASE SCALE TEST("2027-02-01", "scale levels", LOW), NULL, NULL},
    /* 10, 10, 25: the mean is 15, and 25 is 67% more */
    {"soil-spots-disagree",
     BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 10\ntwo 10\nthree 25"),
     "P lies between 10 and 25 ppm around a mean of 15; levels allows 50% either way", NULL},
    /* 10, 14, 18: the mean is 14, and 18 is 29% more */
    {"soil-spots-disagree",
     BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 10\ntwo 14\nthree 18"), NULL, NULL},
    {"soil-method-mismatch",
     BASE SCALE
     "soil-test 2027-02-01 {\nof a\nmethod olsen-x\nscale levels\nresults {\nspot P ppm\none 10\n}\n}\n",
     "this test was made by olsen-x; levels reads mehlich-3",
     "no scale here reads olsen-x; add one from the laboratory's own sheet, with its source"},
    {"soil-method-mismatch", BASE SCALE TEST("2027-02-01", "scale levels", LOW), NULL, NULL},
    {"soil-depth-mismatch", BASE SCALE TEST("2027-02-01", "scale levels\ndepth 6 in", LOW),
     "the cores went 6 in deep; levels is made for 4 in",
     "read these results with care, and sample 4 in deep next time"},
    {"soil-depth-mismatch", BASE SCALE TEST("2027-02-01", "scale levels\ndepth 4 in", LOW), NULL, NULL},
    {"soil-depth-mismatch", BASE SCALE TEST("2027-02-01", "scale levels", LOW), NULL, NULL},
    {"soil-scale-missing", BASE TEST("2027-02-01", "", LOW),
     "the soil test of Mon 2027-02-01 names no scale, so it shows no needs", NULL},
    {"soil-scale-nutrient", BASE SCALE TEST("2027-02-01", "scale levels for P, Zn", LOW),
     "levels has no figure for Zn", "levels reads P"},
    {"soil-scale-nutrient", BASE SCALE TEST("2027-02-01", "scale levels for P", LOW), NULL, NULL},
    /* levels has enough from 20 ppm on, stricter from 30 */
    {"soil-scales-disagree",
     BASE SCALE STRICTER TEST("2027-02-01", "scale levels, stricter for P", "spot P ppm\none 24"),
     "P 24 ppm is low by stricter, which counts, and enough by levels",
     "check which of the two is made for this laboratory; to read P by levels, take it off the list after "
     "`for`"},
    {"soil-scales-disagree", BASE SCALE STRICTER TEST("2027-02-01", "scale levels, stricter for P", LOW),
     NULL, NULL},
    {"soil-scales-disagree",
     BASE SCALE STRICTER TEST("2027-02-01", "scale stricter for P", "spot P ppm\none 24"), NULL, NULL},
    {"soil-oxide", BASE SCALE TEST("2027-02-01", "scale levels", "spot P2O5 ppm\none 10"),
     "these results are stated as P2O5; laboratories mostly report the element",
     "check the laboratory's sheet; if it says P, write P"},
    {"soil-oxide", BASE SCALE TEST("2027-02-01", "scale levels", LOW), NULL, NULL},

    /* enough from 20 ppm on */
    {"soil-rating-differs", BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 24 L"),
     "P is rated L by the laboratory; levels calls 24 ppm enough",
     "check that levels is made for this laboratory; to follow the laboratory, write in the soil test what "
     "it "
     "recommends (`recommends`), and `follow laboratory`"},
    {"soil-rating-differs", BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 24 M\ntwo 12 VH"),
     "P is rated VH by the laboratory; levels calls 12 ppm low", NULL},
    {"soil-rating-differs",
     BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 12 M\ntwo 24 medium"), NULL, NULL},
    {"soil-rating-differs",
     BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none 12 L\ntwo > 200 vh\nthree < 5 L"), NULL,
     NULL},
    {"soil-rating-differs", BASE SCALE TEST("2027-02-01", "scale levels", "spot P ppm\none > 12 optimum"),
     NULL, NULL}, /* more than 12 may be 20 and more */

    /* card needs 0.4 lb below 20 ppm; 0.4 + 0.2296 are not told apart, nor 10 lb per acre less */
    {"soil-recommendation-differs",
     BASE CARD TEST("2027-02-01", "scale card\nrecommends 0.7 lb P2O5 per 1000 sqft from sheet", LOW),
     "the laboratory recommends 0.7 lb P2O5 per 1000 sqft for a; card gives 0.4 lb P2O5 per 1000 sqft, which "
     "counts",
     "say in the soil test which of the two the plan follows: follow laboratory, or follow scale"},
    {"soil-recommendation-differs",
     BASE CARD TEST("2027-02-01", "scale card\nrecommends 0.62 lb P2O5 per 1000 sqft from sheet", LOW), NULL,
     NULL},
    {"soil-recommendation-differs",
     BASE CARD TEST("2027-02-01", "scale card\nrecommends no P2O5 from sheet", LOW),
     "the laboratory recommends no P2O5 for a; card gives 0.4 lb P2O5 per 1000 sqft, which counts", NULL},
    {"soil-recommendation-differs",
     BASE CARD TEST("2027-02-01", "scale card\nrecommends no P2O5 from sheet\nfollow scale", LOW), NULL,
     NULL},
    {"no-need",
     BASE CARD PHOS NEED TEST("2027-02-01", "scale card\nrecommends no P2O5 from sheet\nfollow scale", LOW)
         FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; in the soil test of Mon 2027-02-01 the "
     "laboratory recommends none",
     "use a product without P2O5"},

    /* 5 lb of ammonium sulfate take 5 x 110% = 5.5 lb of lime; 10 lb of a limestone of 90% are 9 lb */
    {"acidifying", SOUR("5.2") AMMONIUM APPLY_OF("x", "Apr 10", "5 lb", "sulfate"),
     "pH of a is 5.2, below 6, and its fertilizers make it more acid",
     "lime as the laboratory recommends, or use a nitrogen source that makes less acid"},
    {"acidifying", SOUR("6.2") AMMONIUM APPLY_OF("x", "Apr 10", "5 lb", "sulfate"), NULL, NULL},
    {"acidifying",
     SOUR("5.2") AMMONIUM LIMESTONE APPLY_OF("x", "Apr 10", "5 lb", "sulfate")
         APPLY_OF("y", "May 10", "10 lb", "limestone"),
     NULL, NULL},
    {"acidifying",
     SOUR("5.2") "product nitrate {\ngrade 15-0-0 granular\nbasicity 400 lb per ton\n}\n" APPLY_OF(
         "x", "Apr 10", "5 lb", "nitrate"),
     NULL, NULL},

    /* 5 lb x 20% = 1 lb of N */
    {"yearly-below", HEAD GRASS("yearly 2 to 4 lb N per 1000 sqft") FEED APPLY("x", "Apr 10", "5 lb"),
     "a gets 1 lb N per 1000 sqft this season; meadow usually needs at least 2 lb N per 1000 sqft a year",
     NULL},
    {"yearly-below", HEAD GRASS("yearly 1 to 4 lb N per 1000 sqft") FEED APPLY("x", "Apr 10", "5 lb"), NULL,
     NULL},
    {"yearly-below",
     "edition 1 on 2027-01-10\nseason 2027-03-01 to 2027-06-30\n" GRASS("yearly 2 to 4 lb N per 1000 sqft")
         FEED APPLY("x", "Apr 10", "5 lb"),
     NULL, NULL},
    {"yearly-above", HEAD GRASS("yearly 0.25 to 0.5 lb N per 1000 sqft") FEED APPLY("x", "Apr 10", "5 lb"),
     "a gets 1 lb N per 1000 sqft this season; meadow usually gets at most 0.5 lb N per 1000 sqft a year",
     NULL},
    {"yearly-above",
     HEAD GRASS("yearly 0.25 to 0.5 lb N per 1000 sqft in north from sheet\nyearly 1 to 2 lb N per 1000 sqft")
         FEED APPLY("x", "Apr 10", "5 lb"),
     NULL, NULL},
    {"growth-dormant", HEAD GRASS("grows Apr to Oct") FEED APPLY("x", "Nov 5", "1 lb"),
     "x applies N on Fri 2027-11-05; meadow grows from April to October", NULL},
    {"growth-dormant", HEAD GRASS("grows Apr to Oct") FEED APPLY("x", "Oct 31", "1 lb"), NULL, NULL},
    {"growth-dormant", HEAD GRASS("grows Oct to Apr") FEED APPLY("x", "Nov 5", "1 lb"), NULL, NULL},
    {"ph-outside", HEAD GRASS("pH 6.0 to 6.5") TEST("2027-02-01", "", "spot pH\none 5.5\ntwo 5.9"),
     "the mean pH of green is 5.7, lower than the 6 to 6.5 that meadow does well in", NULL},
    {"ph-outside", HEAD GRASS("pH 6.0 to 6.5") TEST("2027-02-01", "", "spot pH\none 5.9\ntwo 6.2"), NULL,
     NULL},
    {"ph-outside",
     HEAD GRASS("pH 6.0 to 6.5") TEST("2027-02-01", "", "spot pH\none 5.5")
         TEST("2027-02-02", "", "spot pH\none 6.5"),
     NULL, NULL},
    /* the newest test of the zone counts */
    {"no-need",
     BASE PHOS NEED SCALE TEST("2027-02-02", "scale levels", "spot P ppm\none 30")
         TEST("2027-02-01", "scale levels", LOW) FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the soil test of Tue 2027-02-02 finds "
     "enough: 30 ppm P",
     NULL},
    {"no-need",
     HEAD TWO_ZONES FEED PHOS NEED SCALE "soil-test 2027-02-01 {\nof b\nmethod mehlich-3\nscale levels\n"
                                         "results {\nspot P ppm\none 10\n}\n}\n" FED,
     "x applies 0.5 lb P2O5 per 1000 sqft on a on Sat 2027-04-10; the limit needs a soil test, and a has "
     "none",
     NULL},
    {"near-water",
     HEAD BROOK FEED LIMIT("nothing within 10 ft of water") APPLY("x", "Apr 10", "1 lb")
         APPLY("y", "May 10", "1 lb") DONE("x", "2027-04-10", "1 lb of feed on a"),
     "a lies 8 ft from water and is treated on Mon 2027-05-10; nothing may go within 10 ft of water", NULL},
    {"near-water", HEAD BROOK FEED LIMIT("nothing within 10 ft of water"), NULL, NULL},
    {"soil-depth-mismatch", BASE SCALE TEST("2027-02-01", "scale levels\ndepth 3 in", LOW),
     "the cores went 3 in deep; levels is made for 4 in", NULL},
    {"soil-spots-disagree",
     BASE SOURCE
     "scale levels {\nmethod mehlich-3\nspread 50%\nminimum P 20 ppm from sheet\nminimum K 40 ppm from "
     "sheet\n}\n" TEST("2027-02-01", "scale levels",
                       "spot P ppm K ppm\none 10 20\ntwo 10 20\nthree 11 "
                       "80"),
     "K lies between 20 and 80 ppm around a mean of 40; levels allows 50% either way", NULL},
    {"yearly-below",
     HEAD SOURCE
     "grass meadow {\nyearly 2 to 4 lb N per 1000 sqft in south from sheet\n"
     "yearly 0.5 to 1 lb N per 1000 sqft in north from sheet\n"
     "yearly 3 to 4 lb N per 1000 sqft from sheet\n}\nlawn green {\ngrass meadow\nregion south\nzone a area "
     "1000 sqft\n}\n" FEED APPLY("x", "Apr 10", "5 lb"),
     "a gets 1 lb N per 1000 sqft this season; meadow usually needs at least 2 lb N per 1000 sqft a year",
     ""},
    {"yearly-below",
     HEAD SOURCE "grass meadow {\nyearly 2 to 4 lb N per 1000 sqft in south from sheet\n"
                 "yearly 3 to 4 lb N per 1000 sqft from sheet\n}\nlawn green {\ngrass meadow\nzone a area "
                 "1000 sqft\n}\n" FEED APPLY("x", "Apr 10", "5 lb"),
     "a gets 1 lb N per 1000 sqft this season; meadow usually needs at least 3 lb N per 1000 sqft a year",
     "ranges differ by region; state the lawn's, such as: region south"},
    {"yearly-below",
     HEAD SOURCE
     "grass meadow {\nyearly 2 to 4 lb N per 1000 sqft in south from sheet\n}\nlawn green {\ngrass "
     "meadow\nregion north\nzone a area 1000 sqft\n}\n" FEED APPLY("x", "Apr 10", "5 lb"),
     NULL, NULL},
    /* two years from March: 2 lb in the first, 1 lb in the second */
    {"yearly-below",
     "edition 1 on 2027-01-10\nseason 2027-03-01 to 2029-02-28\n" GRASS("yearly 2 to 4 lb N per 1000 sqft")
         FEED APPLY("x", "2027-04-10", "5 lb") APPLY("y", "2028-02-29", "5 lb")
             APPLY("z", "2028-03-01", "5 lb"),
     "a gets 1 lb N per 1000 sqft from Wed 2028-03-01 to Wed 2029-02-28; meadow usually needs at least 2 lb "
     "N per 1000 sqft a year",
     NULL},
    {"yearly-below",
     "edition 1 on 2027-01-10\nseason 2027-03-01 to 2029-02-27\n" GRASS("yearly 2 to 4 lb N per 1000 sqft")
         FEED APPLY("x", "2027-04-10", "5 lb") APPLY("y", "2028-02-29", "5 lb")
             APPLY("z", "2028-03-01", "5 lb"),
     NULL, NULL},
    {"growth-dormant", HEAD GRASS("grows Oct to Apr") FEED APPLY("x", "Apr 30", "1 lb"), NULL, NULL},
    {"growth-dormant", HEAD GRASS("grows Oct to Apr") FEED APPLY("x", "May 1", "1 lb"),
     "x applies N on Sat 2027-05-01; meadow grows from October to April", NULL},
    {"growth-dormant",
     HEAD GRASS("grows Apr to Oct") "product potash { grade 0-0-50 granular }\n" APPLY_OF("x", "Nov 5",
                                                                                          "1 lb", "potash"),
     NULL, NULL},
    {0},
};
