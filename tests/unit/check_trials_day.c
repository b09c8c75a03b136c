/* Days: contradictions, closed days, weather, the order of a day. */
#include "tests/unit/check_trials.h"

#define BASE HEAD GREEN FEED
#define WINTER LIMIT("no N from Nov 16 to Mar 1")
#define JUNE LIMIT("no N from 2027-06-01 to 2027-06-30") APPLY("x", "Apr 10", "1 lb")
#define TASK(name, when) "task " name " { when " when " }\n"
#define HOT "product hot {\ngrade 20-0-0 granular\nheat below 80 F\n}\n"
#define MILD "product mild {\ngrade 20-0-0 granular\ncold above 50 F\n}\n"
#define NORMALS(month, high, low)                                                                            \
    "weather {\nnormals {\nmonth high F low F\n" month " " high " " low "\n}\n}\n"
#define TAKEN(rule) "allow " rule " \"in the evening\"\n"
#define WATERED "product grain {\ngrade 20-0-0 granular\nwater-in 0.25 in\n}\n"
#define LEAF "product leaf {\ngrade 10-0-0 liquid, 10 lb per gal\ndry 4 h\n}\n"
#define GRAIN(when) "apply g {\nto a\nwhen " when "\nrate 2 lb per 1000 sqft of grain\n}\n"
#define SPRAY(when) "apply s {\nto a\nwhen " when "\nrate 2 fl oz per 1000 sqft of leaf\n}\n"

const struct check_trial DAY_TRIALS[] = {
    {"no-day", BASE TASK("x", "on May 10") TASK("y", "at least 7 days after x, by May 14"),
     "y has no possible day: it must be on or after Mon 2027-05-17, and on or before Fri 2027-05-14",
     "extend the window of y by 3 days, to Mon 2027-05-17"},
    {"no-day", BASE TASK("x", "on May 10") TASK("y", "at least 7 days after x, by May 17"), NULL, NULL},
    {"no-day", BASE WINTER "apply x {\nto a\nwhen from Nov 20\nrate 1 lb per 1000 sqft of feed\n}\n",
     "x has no possible day: it must be on or after Thu 2028-03-02, and on or before Tue 2027-11-30", NULL},
    {"no-day", BASE TASK("x", "at least 3 days after y") TASK("y", "at least 2 days after x"),
     "x has no possible day: the order rules make it wait 5 days for itself", NULL},

    {"no-when", BASE "task x { to a }\n", "x has no `when`; its first open day is Mon 2027-03-01",
     "add `when on DAY`, or `when between DAY and DAY`"},
    {"no-when", BASE TASK("x", "on May 10"), NULL, NULL},
    {"when-moot", BASE TASK("x", "on May 10") TASK("y", "7 days after x") "skipped x \"rain\"\n",
     "x was skipped, so this does not date y", "state a new `when`"},
    {"outside-season", BASE TASK("x", "on 2027-12-10"),
     "x falls on Fri 2027-12-10; the season ends on Tue 2027-11-30", NULL},
    {"outside-season", BASE APPLY("x", "Apr 10", "1 lb") DONE("x", "2026-04-10", "1 lb of feed on a"),
     "x was done on Fri 2026-04-10; the season begins on Mon 2027-03-01", NULL},
    {"outside-season", BASE TASK("x", "on 2027-11-30"), NULL, NULL},

    {"record-closed-day",
     BASE WINTER APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-03-01", "1 lb of feed on a"),
     "x was done on Mon 2027-03-01; a limit closes the day to N", NULL},
    {"record-closed-day",
     BASE WINTER APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-03-02", "1 lb of feed on a"), NULL, NULL},
    {"record-closed-day",
     BASE WINTER APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-11-15", "1 lb of feed on a"), NULL, NULL},
    {"record-closed-day",
     BASE WINTER APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-11-16", "1 lb of feed on a"),
     "x was done on Tue 2027-11-16; a limit closes the day to N", NULL},
    {"record-closed-day",
     BASE LIMIT("nothing from 2027-06-01 to 2027-06-30") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-06-30", "1 lb of feed on a"),
     "x was done on Wed 2027-06-30; a limit closes the day to all applications", NULL},
    {"record-closed-day",
     BASE LIMIT("nothing on Jul 4") APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-07-04", "1 lb of feed on a"),
     "x was done on Sun 2027-07-04; a limit closes the day to all applications", NULL},
    {"record-closed-day",
     BASE LIMIT("no P2O5 from Nov 16 to Mar 1") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-03-01", "1 lb of feed on a"),
     NULL, NULL},
    {"record-closed-weekday",
     BASE LIMIT("only on Sat, Sun") APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-04-12", "1 lb of feed on a"),
     "x was done on Mon 2027-04-12; a limit allows applications only on Saturday and Sunday", NULL},
    {"record-closed-weekday",
     BASE LIMIT("only on Sat, Sun") APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-04-11", "1 lb of feed on a"),
     NULL, NULL},

    /* a product's own bound is its label: no `allow` lifts it */
    {"no-day", HEAD GREEN HOT NORMALS("Jul", "86", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot") TAKEN("heat"),
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"no-day", HEAD GREEN HOT NORMALS("Jul", "80", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot") TAKEN("heat"),
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"no-day",
     HEAD GREEN HOT NORMALS("Jul", "86", "66")
         APPLY_OF("x", "Jul 10", "2 lb", "hot") "allow heat for hot \"a\"\n",
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"no-day",
     HEAD GREEN HOT NORMALS("Jul", "86", "66") "apply x {\nto a\nwhen on Jul 10\nrate 2 lb per 1000 sqft of "
                                               "hot\nallow heat \"a\"\n}\n",
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"allow-unused",
     HEAD GREEN HOT NORMALS("Jul", "79.9", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot") TAKEN("heat"),
     "nothing to allow: no heat is reported here", NULL},
    {"allow-error",
     HEAD GREEN MILD NORMALS("Apr", "64", "43") APPLY_OF("x", "Apr 10", "2 lb", "mild") TAKEN("cold"),
     "cold is an error, and errors cannot be allowed", NULL},
    {"no-day",
     BASE LIMIT("no N above 85 F\nbasis law") NORMALS("Jul", "86", "66") APPLY("x", "Jul 10", "2 lb")
         TAKEN("heat"),
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"no-day",
     BASE LIMIT("no N above 85 F\nbasis label") NORMALS("Jul", "86", "66") APPLY("x", "Jul 10", "2 lb")
         TAKEN("heat"),
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"heat",
     BASE LIMIT("no N above 85 F\nbasis practice") NORMALS("Jul", "86", "66")
         APPLY("x", "Jul 10", "2 lb") "allow heat for feed \"in the evening\"\n",
     "x falls on Sat 2027-07-10, when a high of 86 F is usual; a limit allows no more than 85 F", NULL},
    {"heat", HEAD GREEN HOT NORMALS("Jul", "79.9", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot"), NULL, NULL},
    {"heat",
     BASE LIMIT("no N above 85 F") NORMALS("Jul", "86", "66") APPLY("x", "Jul 10", "2 lb") TAKEN("heat"),
     "x falls on Sat 2027-07-10, when a high of 86 F is usual; a limit allows no more than 85 F", NULL},
    {"heat", BASE LIMIT("no N above 86 F") NORMALS("Jul", "86", "66") APPLY("x", "Jul 10", "2 lb"), NULL,
     NULL},
    {"heat", BASE LIMIT("no P2O5 above 85 F") NORMALS("Jul", "86", "66") APPLY("x", "Jul 10", "2 lb"), NULL,
     NULL},
    {"heat",
     BASE LIMIT("no products of kind sulfur above 75 F") NORMALS("Jul", "86", "66")
         APPLY("x", "Jul 10", "2 lb"),
     NULL, NULL},
    {"heat",
     BASE LIMIT("no N above 80 F") NORMALS("Jun", "70", "50\nJul 86 66") APPLY("x", "Jul 10", "2 lb")
         TAKEN("heat"),
     "x falls on Sat 2027-07-10, when a high of 82.55 F is usual; a limit allows no more than 80 F",
     "the nearest suitable day is Sun 2027-07-04"},
    {"cold", HEAD GREEN MILD NORMALS("Apr", "64", "51") APPLY_OF("x", "Apr 10", "2 lb", "mild"), NULL, NULL},
    {"no-day", HEAD GREEN HOT NORMALS("Jul", "86", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot"),
     "x has no possible day: it must be on or after Sun 2027-08-01, and on or before Sat 2027-07-10", NULL},
    {"no-day", HEAD GREEN MILD NORMALS("Apr", "64", "43") APPLY_OF("x", "Apr 10", "2 lb", "mild"),
     "x has no possible day: it must be on or after Sat 2027-05-01, and on or before Sat 2027-04-10", NULL},
    {"no-normals", HEAD GREEN HOT NORMALS("Jul", "86", "66") APPLY_OF("x", "Apr 10", "2 lb", "hot"),
     "no high temperature data to check `heat below 80 F` for x on Sat 2027-04-10", NULL},
    {"heat-near", HEAD GREEN HOT NORMALS("Apr", "76", "40") APPLY_OF("x", "Apr 10", "2 lb", "hot"),
     "x falls on Sat 2027-04-10, when the mean high is 76 F; the label of hot requires a high below 80 F; "
     "single days are hotter than their mean",
     "check the forecast before you go out, and wait for a cooler day"},
    {"heat-near", HEAD GREEN HOT NORMALS("Apr", "74", "40") APPLY_OF("x", "Apr 10", "2 lb", "hot"), NULL,
     NULL},
    {"no-normals", HEAD GREEN HOT NORMALS("Apr", "60", "40") APPLY_OF("x", "Apr 10", "2 lb", "hot"), NULL,
     NULL},
    {"no-normals", BASE LIMIT("nothing on frozen ground") APPLY("x", "Apr 10", "2 lb"),
     "no weather data to check `nothing on frozen ground` for x on Sat 2027-04-10",
     "state `normals` in a `weather` block, with high and low, or soil temperature as measured"},
    {"no-normals", BASE TASK("x", "dry for 2 days, from May 1"),
     "no weather data to check `when dry for 2 days` for x on Sat 2027-05-01",
     "name a forecast with a column of rain, or say in how many years it must hold, for example: when dry "
     "for 2 "
     "days, 7 years in 10"},
    {"degree-days-of-normals",
     BASE NORMALS("Mar", "60", "50\nApr 70 50") TASK("x", "degree days base 50 F reach 200 from Mar 1"),
     "x is dated by degree days of the normals; most years reach them before Tue 2027-04-06", NULL},
    {"degree-days-of-normals", BASE NORMALS("Mar", "60", "50") TASK("x", "soil above 40 F"), NULL, NULL},
    {"frost-of-normals",
     BASE NORMALS("Mar", "44", "24\nApr 60 40\nMay 73 52\nJun 81 61\nJul 86 66")
         TASK("x", "on May 20, when after last frost"),
     "x on Thu 2027-05-20 is based on monthly mean lows; single nights can still freeze",
     "name a history of several years in the `weather` block: `from \"FILE.csv\"`"},
    {"frost-of-normals", BASE NORMALS("Mar", "60", "50") TASK("x", "above 40 F"), NULL, NULL},

    {"same-day-order", BASE APPLY("x", "Apr 10", "1 lb") APPLY("y", "Apr 10", "1 lb"),
     "x and y share Sat 2027-04-10, and nothing says which goes first",
     "where the order matters, write `when same day after x` in y"},
    {"same-day-order",
     BASE APPLY("x", "Apr 10",
                "1 lb") "apply y {\nto a\nwhen same day after x\nrate 1 lb per 1000 sqft of feed\n}\n",
     NULL, NULL},
    {"same-day-order", BASE APPLY("x", "Apr 10", "1 lb") APPLY("y", "Apr 11", "1 lb"), NULL, NULL},
    {"water-and-dry", HEAD GREEN WATERED LEAF SPRAY("on Apr 10") GRAIN("same day after s"),
     "grain must be watered in on Sat 2027-04-10, but leaf, sprayed before it, must stay dry for 4 h",
     "spread and water in first, and spray once the leaves are dry: `when same day after g` in s"},
    {"water-and-dry", HEAD GREEN WATERED LEAF GRAIN("on Apr 10") SPRAY("same day after g"), NULL, NULL},
    /* closed days with years: both ends included */
    {"record-closed-day", BASE JUNE DONE("x", "2027-06-01", "1 lb of feed on a"),
     "x was done on Tue 2027-06-01; a limit closes the day to N", NULL},
    {"record-closed-day", BASE JUNE DONE("x", "2027-05-31", "1 lb of feed on a"), NULL, NULL},
    {"record-closed-day", BASE JUNE DONE("x", "2027-07-01", "1 lb of feed on a"), NULL, NULL},
    {"record-closed-day", BASE JUNE DONE("x", "2028-06-15", "1 lb of feed on a"), NULL, NULL},
    /* without, they come back every year */
    {"record-closed-day",
     BASE LIMIT("no N from Jun 1 to Jun 30") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2028-06-01", "1 lb of feed on a"),
     "x was done on Thu 2028-06-01; a limit closes the day to N", NULL},
    {"record-closed-day",
     BASE LIMIT("no N, P2O5 from Jun 1 to Jun 30") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-06-30", "1 lb of feed on a"),
     "x was done on Wed 2027-06-30; a limit closes the day to N and P2O5", NULL},
    {"outside-season", BASE APPLY("x", "Apr 10", "1 lb") "skipped x \"rain\"\n", NULL, NULL},
    {"outside-season", BASE APPLY("x", "Apr 10", "1 lb") DONE("x", "2027-03-01", "1 lb of feed on a"), NULL,
     NULL},
    /* done already: nothing is to be ordered any more */
    {"same-day-order",
     BASE APPLY("x", "Apr 10", "1 lb") APPLY("y", "Apr 10", "1 lb")
         DONE("x", "2027-04-10", "1 lb of feed on a") DONE("y", "2027-04-10", "1 lb of feed on a"),
     NULL, NULL},
    {"water-and-dry",
     HEAD GREEN WATERED LEAF SPRAY("on Apr 10") GRAIN("same day after s")
         DONE("s", "2027-04-10", "2 fl oz of leaf on a"),
     NULL, NULL},
    {"when-moot", BASE TASK("x", "on May 10") TASK("y", "7 days after x"), NULL, NULL},
    {"no-when", BASE "task x { to a }\ndone x 2027-04-01 { note \"done\" }\n", NULL, NULL},
    {"record-closed-day",
     BASE LIMIT("no N from Jun 1 to Jun 30") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-05-31", "1 lb of feed on a"),
     NULL, NULL},
    {"record-closed-day",
     BASE LIMIT("no N from Jun 1 to Jun 30") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-07-01", "1 lb of feed on a"),
     NULL, NULL},
    {"record-closed-day",
     BASE LIMIT("no N from Jun 1 to Jun 1") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-06-02", "1 lb of feed on a"),
     NULL, NULL},
    {"record-closed-day",
     BASE LIMIT("no N from Jun 1 to Jun 1") APPLY("x", "Apr 10", "1 lb")
         DONE("x", "2027-06-01", "1 lb of feed on a"),
     "x was done on Tue 2027-06-01; a limit closes the day to N", NULL},
    {"heat",
     HEAD GREEN HOT NORMALS("Jul", "86", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot")
         DONE("x", "2027-07-10", "2 lb of hot on a"),
     NULL, NULL},
    {"heat",
     HEAD GREEN HOT NORMALS("Jul", "86", "66") APPLY_OF("x", "Jul 10", "2 lb", "hot") "skipped x \"hot\"\n",
     NULL, NULL},
    /* five on one day: three are named */
    {"no-day",
     BASE TASK("p", "on May 10") TASK("q", "same day after p") TASK("r", "same day after p")
         TASK("s", "same day after p") TASK("t", "same day after p, on May 11"),
     "p, q, r and 2 more have no possible day: they must be on or after Tue 2027-05-11, and on or before Mon "
     "2027-05-10",
     NULL},
    {0},
};
