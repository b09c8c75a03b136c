/* What a limit would have to know, what replaces the library's, and names that look alike. */
#include "tests/unit/check_trials.h"

#define BASE HEAD GREEN FEED
#define FED APPLY("x", "Apr 10", "1 lb")
#define STRIP LIMIT("nothing within 10 ft of water")
#define MEADOW(text) "grass meadow {\nseason cool\n" text "}\n"
#define GRASSY "lawn green {\ngrass meadow\nzone a area 1000 sqft\n}\n"
#define SOURCE "source sheet { title \"a sheet\" }\n"
/* A Cyrillic o, a Hangul filler; an e with its accent as one character and as two. */
#define O "\xd0\xbe"
#define FILLER "\xe3\x85\xa4"
#define E_ONE "\xc3\xa9"
#define E_TWO "e\xcc\x81"

/* Below 20 ppm of P 2 lb of P2O5 are asked for. */
#define RATED                                                                                                \
    SOURCE "scale rows { method mehlich-3\ndepth 4 in\nclass low P below 20 ppm needs 2 lb P2O5 per 1000 "   \
           "sqft from sheet\nclass enough P above 20 ppm needs nothing from sheet }\n"
#define TESTED(nutrient, ppm)                                                                                \
    "soil-test 2027-02-01 { of a\nmethod mehlich-3\ndepth 4 in\nscale rows\nresults { spot " nutrient        \
    " ppm\nm " ppm " } }\n"
#define NITROGEN "product urea { grade 46-0-0 granular }\n"
#define LIQUID(label)                                                                                        \
    "product iron { grade 0-0-0 liquid, contains Fe 5%, density 1.2 kg per L, label " label                  \
    " per 1000 sqft }\n"
#define BARN "lawn green { zone a area 1000000 sqft }\n"
#define FILLED(rate) "apply x { to a\nwith s\nwhen on Apr 10\nrate " rate " per 1000 sqft of feed }\n"

const struct check_trial ASSUMED_TRIALS[] = {
    {"water-unknown", BASE STRIP FED,
     "a does not state its distance from water, so the 10 ft that the limits of this plan keep untreated "
     "have no effect there",
     "add the distance to the nearest pond, stream or drain, such as `, 60 ft from water`; or write: allow "
     "water-unknown \"no water near\""},
    {"water-unknown", HEAD "lawn green { zone a area 1000 sqft, 400 ft from water }\n" FEED STRIP FED, NULL,
     NULL},
    {"water-unknown",
     BASE "limits { nothing within 10 ft of water\nfor b }\nlawn far { zone b area 9 sqft }\n" FED, NULL,
     NULL},
    {"water-unknown", BASE STRIP, NULL, NULL}, /* nothing is put down */
    {"water-unknown", BASE "limits later { nothing within 10 ft of water }\n" FED, NULL, NULL},

    {"grass-unknown", BASE LIMIT("at most 2 lb N per 1000 sqft per year for grass tall-fescue") FED,
     "green does not state its grass, so a limit that depends on its grass has no effect there",
     "state it in the lawn: grass tall-fescue"},
    {"grass-unknown", BASE LIMIT("nothing while dormant") FED,
     "green does not state its grass, so a limit that depends on when it is dormant has no effect there",
     NULL},
    {"grass-unknown", HEAD MEADOW("") GRASSY FEED LIMIT("no N while dormant") FED,
     "no statement gives the months in which meadow grows on green, so a limit on dormant grass has no "
     "effect there",
     NULL},
    {"grass-unknown",
     HEAD SOURCE MEADOW("grows Mar to Nov from sheet\n") GRASSY FEED LIMIT("no N while dormant") FED, NULL,
     NULL},
    {"grass-unknown",
     HEAD MEADOW("") GRASSY FEED LIMIT("at most 2 lb N per 1000 sqft per year for grass tall-fescue") FED,
     NULL, NULL}, /* another grass, and known */
    {"grass-unknown", BASE LIMIT("at most 2 lb P2O5 per 1000 sqft per year for grass tall-fescue") FED, NULL,
     NULL}, /* of which there is none */

    {"replaces-library",
     BASE FED "limits virginia { at most 5 lb N per 1000 sqft per application }\nfollow virginia\n",
     "limits virginia is the plan's own; the library's entry of that name does not count",
     "give the plan's own another name, or delete it so that the library's counts"},
    {"replaces-library", BASE FED "limits virginia { at most 5 lb N per 1000 sqft per application }\n", NULL,
     NULL},
    {"replaces-library", BASE FED "follow virginia\n", NULL, NULL},
    {"replaces-library",
     HEAD GREEN FEED SOURCE
     "usual granular { rate 1 to 900 lb per 1000 sqft from sheet }\n" APPLY("x", "Apr 10", "200 lb"),
     "usual granular is the plan's own; what it states counts in place of the library's", NULL},
    {"rate-unlikely",
     HEAD GREEN FEED SOURCE
     "usual granular { rate 1 to 900 lb per 1000 sqft from sheet }\n" APPLY("x", "Apr 10", "200 lb"),
     NULL, NULL},

    {"title-missing", BASE FED, "the plan has no title",
     "without one its calendar events can overwrite those of another untitled plan; write, for example: plan "
     "\"Wrenfield, 2027\""},
    {"title-missing", "plan \"Wrenfield green\"\n" BASE FED, NULL, NULL},
    {"title-missing", BASE, NULL, NULL}, /* no event */

    {"label-missing", BASE FED,
     "the label rate of feed is not stated; its rate is checked against limits only",
     "copy it from the label into the product: label 2 to 4 lb per 1000 sqft"},
    {"label-missing",
     BASE
     "product iron { grade 0-0-0 granular, contains Fe 5% }\n" FED APPLY_OF("y", "May 8", "1 lb", "iron"),
     "the label rates of feed and iron are not stated; their rates are checked against limits only", NULL},
    {"label-missing", "units metric\n" BASE FED,
     "the label rate of feed is not stated; its rate is checked against limits only",
     "copy it from the label into the product: label 10 to 20 g per m2"},
    {"label-missing", "units us, rates lb per acre\n" BASE FED,
     "the label rate of feed is not stated; its rate is checked against limits only",
     "copy it from the label into the product: label 90 to 180 lb per acre"},
    {"label-missing", "units metric, rates kg per ha\n" BASE FED,
     "the label rate of feed is not stated; its rate is checked against limits only",
     "copy it from the label into the product: label 100 to 200 kg per ha"},
    {"label-missing", BASE, NULL, NULL}, /* put down by nothing */
    {"label-missing",
     HEAD GREEN "product bag { grade 20-0-0 granular, label up to 4 lb per 1000 sqft }\n" APPLY_OF(
         "x", "Apr 10", "1 lb", "bag"),
     NULL, NULL},
    {"label-missing",
     HEAD GREEN "product chalk { grade 0-0-0 granular, neutralizing 90%, kind lime }\n" APPLY_OF(
         "x", "Apr 10", "40 lb", "chalk"),
     NULL, NULL},

    {"need-unmet", HEAD RATED GREEN TESTED("P", "10") NITROGEN APPLY_OF("x", "Apr 10", "1 lb", "urea"),
     "a needs 2 lb P2O5 per 1000 sqft by the soil test of Mon 2027-02-01; no application there supplies it",
     "plan a product that holds P2O5, or say why not: allow need-unmet for a \"...\""},
    {"need-unmet", HEAD RATED GREEN TESTED("P", "40") NITROGEN APPLY_OF("x", "Apr 10", "1 lb", "urea"), NULL,
     NULL},
    {"need-unmet", HEAD RATED GREEN TESTED("P", "10") NITROGEN, NULL, NULL}, /* nothing planned yet */
    {"need-unmet",
     HEAD RATED GREEN TESTED("P", "10") "product phosphate { grade 0-46-0 granular }\n" APPLY_OF(
         "x", "Apr 10", "1 lb", "phosphate"),
     NULL, NULL},

    {"ounces-of-liquid", HEAD GREEN LIQUID("2 to 8 fl oz") APPLY_OF("x", "Apr 10", "3 oz", "iron"),
     "iron is a liquid, and its ounces are read as a weight",
     "if the label means fluid ounces, write `fl oz`; if it is weighed: allow ounces-of-liquid for iron "
     "\"weighed\""},
    {"ounces-of-liquid", HEAD GREEN LIQUID("2 to 8 oz") APPLY_OF("x", "Apr 10", "3 fl oz", "iron"),
     "iron is a liquid, and its ounces are read as a weight", NULL},
    {"ounces-of-liquid", HEAD GREEN LIQUID("2 to 8 fl oz") APPLY_OF("x", "Apr 10", "3 fl oz", "iron"), NULL,
     NULL},
    {"ounces-of-liquid", HEAD GREEN LIQUID("2 to 8 fl oz") APPLY_OF("x", "Apr 10", "0.2 lb", "iron"), NULL,
     NULL},
    {"ounces-of-liquid", BASE APPLY("x", "Apr 10", "3 oz"), NULL, NULL}, /* granules are weighed */

    /* 2000 lb in a hopper of 2 lb; then one of 4 lb. */
    {"loads-unlikely", HEAD BARN FEED "spreader s { hopper 2 lb }\n" FILLED("2 lb"),
     "s would be filled 1000 times for a; at most 500 times is usual",
     "check the area, the rate and what the machine holds"},
    {"loads-unlikely", HEAD BARN FEED "spreader s { hopper 4 lb }\n" FILLED("2 lb"), NULL, NULL},
    {"loads-unlikely",
     HEAD BARN "product wash { grade 1-0-0 liquid, density 1.2 kg per L }\nsprayer s { output 2 gal per 1000 "
               "sqft, tank 2 gal }\n"
               "apply x { to a\nwith s\nwhen on Apr 10\nrate 1 fl oz per 1000 sqft of wash }\n",
     "s would be filled 1000 times for a; at most 500 times is usual", NULL},
    {"loads-unlikely", HEAD BARN FEED "spreader s { width 8 ft }\n" FILLED("2 lb"), NULL,
     NULL}, /* its hopper is not stated */

    {"name-character", BASE "lawn far { zone p" O "nd area 9 sqft }\n" FED,
     "this name has a U+043E CYRILLIC SMALL LETTER O, a letter of another script than those before it", NULL},
    {"name-character", BASE "lawn far { zone p" FILLER "nd area 9 sqft }\n" FED,
     "this name has a U+3164 HANGUL FILLER, which Unicode does not allow in identifiers", NULL},
    {"name-character", BASE "lawn far { zone \"p" FILLER "nd\" area 9 sqft }\n" FED,
     "this quoted name has a U+3164 HANGUL FILLER, which is invisible", "delete the character"},
    {"name-character", BASE "lawn far { zone \"by the p" O "nd\" area 9 sqft }\n" FED,
     "this quoted name has a U+043E CYRILLIC SMALL LETTER O, a letter of another script than those before it",
     NULL},
    /* one script a word; Japanese writes three together */
    {"name-character",
     BASE "lawn far { zone \"\xd0\xb4\xd0\xb2" O "\xd1\x80 north #2 \xe2\x80\x93 old\" area 9 sqft }\n" FED,
     NULL, NULL},
    {"name-character",
     BASE "lawn far { zone Stra\xc3\x9f"
          "e area 9 sqft\nzone \xd0\xb4\xd0\xb2" O "\xd1\x80 area 9 sqft\n"
          "zone \xe5\x8d\x97\xe3\x81\xae\xe3\x82\xb5\xe3\x82\xa4\xe3\x83\x89 area 9 sqft }\n" FED,
     NULL, NULL},

    {"names-alike",
     BASE "lawn far { zone s"
          "cope area 9 sqft\nzone \xd1\x95\xd1\x81" O "\xd1\x80\xd0\xb5 area 9 sqft }\n" FED,
     "\xd1\x95\xd1\x81" O "\xd1\x80\xd0\xb5 and scope are two names that look alike",
     "write both the same where one thing is meant, or give one of them another name"},
    {"names-alike", BASE "lawn far { zone " E_ONE "t area 9 sqft\nzone " E_TWO "t area 9 sqft }\n" FED,
     E_TWO "t and " E_ONE "t are two names that look alike", NULL},
    {"names-alike", BASE "lawn far { zone " E_ONE "t area 9 sqft\nzone et area 9 sqft }\n" FED, NULL, NULL},
    {"names-easily-confused", BASE "lawn far { zone a1 area 9 sqft\nzone al area 9 sqft }\n" FED,
     "al and a1 are two names that look alike", NULL},
    {"names-easily-confused", BASE "lawn far { zone barn area 9 sqft\nzone bam area 9 sqft }\n" FED,
     "bam and barn are two names that look alike", NULL},
    {"names-easily-confused",
     BASE "lawn far { zone a1 area 9 sqft\nzone a2 area 9 sqft\nzone A1 area 9 sqft }\n" FED, NULL, NULL},
    /* 50 lb per sqft is 1000 times 50 lb per 1000 sqft */
    {"rate-unlikely", BASE "apply x {\nto a\nwhen on Apr 10\nrate 50 lb per sqft of feed\n}\n",
     "this is 50000 lb per 1000 sqft of feed; such products are applied at 0.1 to 100 lb per 1000 sqft",
     "did you mean 50 lb per 1000 sqft?"},
    {"rate-unlikely", BASE APPLY("x", "Apr 10", "100 lb"), NULL, NULL},
    /* 20% N: 21 lb N take 105 lb */
    {"rate-unlikely", BASE SUPPLY("x", "Apr 10", "21 lb N"),
     "this is 105 lb per 1000 sqft of feed; such products are applied at 0.1 to 100 lb per 1000 sqft", NULL},
    {"rate-unlikely", HEAD GREEN "product p {\ngrade 20-0-0 granular\nlabel 2 to 6 lb per sqft\n}\n",
     "this is 6000 lb per 1000 sqft of p; such products are applied at 0.1 to 100 lb per 1000 sqft",
     "did you mean 2 to 6 lb per 1000 sqft?"},
    {"rate-unlikely",
     HEAD GREEN "product p { grade 0-0-0 granular\nkind lime }\n" APPLY_OF("x", "Apr 10", "250 lb", "p"),
     NULL, NULL},
    {"density-unlikely", HEAD GREEN "product p { grade 12-0-0 liquid, 1.27 lb per gal }\n",
     "p has a density of 1.27 lb per gal; such products have 6.676 to 16.69 lb per gal",
     "did you mean 1.27 kg per L?"},
    {"density-unlikely", HEAD GREEN "product p { grade 12-0-0 liquid, 1.27 kg per L }\n", NULL, NULL},
    {"grade-unlikely", HEAD GREEN "product p { grade 64-0-0 granular }\n",
     "p has 64% N; such products have at most 46.7%", NULL},
    {"grade-unlikely",
     HEAD GREEN "product p { grade 46-0-0 granular }\nproduct q { grade 0-0-63 granular }\n", NULL, NULL},
    {"pack-unlikely", HEAD GREEN "product p { grade 20-0-0 granular\npack 40000 lb }\n",
     "a pack of p holds 40000 lb; such products are sold in packs of 0.0625 lb to 2500 lb", NULL},
    {"pack-unlikely", HEAD GREEN "product p { grade 20-0-0 granular\npack 2000 lb }\n", NULL, NULL},
    {"price-unlikely",
     HEAD GREEN "product p { grade 20-0-0 granular\npack 40 lb at 40 }\n"
                "product q { grade 30-0-0 granular\npack 40 lb at 0.1 }\n",
     "by mass, p costs 400 times as much as q; such products differ by less than 200 times", NULL},
    {"price-unlikely",
     HEAD GREEN "product p { grade 20-0-0 granular\npack 40 lb at 40 }\n"
                "product q { grade 30-0-0 granular\npack 1 lb at 20 }\n",
     NULL, NULL},
    {NULL, NULL, NULL, NULL},
};
