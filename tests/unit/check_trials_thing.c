/* Products, machines, names and allow statements. */
#include "tests/unit/check_trials.h"

#define BASE HEAD GREEN FEED
#define USED BASE APPLY("x", "Apr 10", "1 lb")
#define PRODUCT(text) HEAD GREEN "product p {\n" text "\n}\n"
#define SPREADER "spreader s { width 3 ft }\n"
#define SPRAYER "sprayer t { tank 4 gal }\n"
#define LIQUID "product water {\ngrade 10-0-0 liquid, 10 lb per gal\nkind foliar\n}\n"
#define IRON                                                                                                 \
    "product iron {\ncontains Fe 2%\ngrade 0-0-0 liquid, 10 lb per gal\nkind iron\n}\n"                      \
    "source hearsay { title \"what the neighbour says\" }\n"
#define BOTH WITH("4 fl oz per 1000 sqft of water\nrate 4 fl oz per 1000 sqft of iron", "t")
#define WITH(rate, machine) "apply x {\nto a\nwhen on Apr 10\nrate " rate "\nwith " machine "\n}\n"

const struct check_trial THING_TRIALS[] = {
    {"grade-over-100", PRODUCT("grade 50-30-21 granular"), "the grade of p adds up to 101%; the most is 100%",
     "check the label"},
    {"grade-over-100", PRODUCT("grade 46-0-0 granular\ncontains S 55%"),
     "the nutrients of p add up to 101%; the most is 100%", NULL},
    /* potassium chloride: 62% K2O is 51.5% K, and with 47% Cl all but 1.5% of it */
    {"grade-over-100", PRODUCT("grade 0-0-62 granular\ncontains Cl 47%"), NULL, NULL},
    {"slow-over-total", PRODUCT("grade 14-0-0 granular\nslow 20% of product"),
     "20% of the product is slowly available N, but its total N is 14%", NULL},
    {"slow-over-total", PRODUCT("grade 14-0-0 granular\nslow 14% of product"), NULL, NULL},
    {"slow-over-total", PRODUCT("grade 0-0-10 granular\nslow 20% of N"),
     "p has slowly available N, but holds no N", NULL},
    {"grade-and-contains", PRODUCT("grade 14-5-0 granular\ncontains P2O5 2%"),
     "P2O5 is stated by the grade and again by `contains`; they add up to 7%", NULL},
    {"grade-and-contains", PRODUCT("contains P2O5 2%\ngrade 14-5-0 granular"),
     "P2O5 is stated by the grade and again by `contains`; they add up to 7%", NULL},
    {"grade-and-contains", PRODUCT("grade 14-5-0 granular\ncontains S 2%"), NULL, NULL},
    {"form-missing", HEAD GREEN "product plain { grade 20-0-10 }\n" APPLY_OF("x", "Apr 10", "1 lb", "plain"),
     "plain does not say whether it is granular or liquid, so no cautions for either are printed",
     "write it after the grade, as the label has it: granular, liquid or soluble"},
    {"form-missing", PRODUCT("grade 20-0-10"), NULL, NULL}, /* which nobody puts down */
    {"form-missing",
     HEAD GREEN "product plain { grade 20-0-10\nkind manure }\n" APPLY_OF("x", "Apr 10", "1 lb", "plain"),
     NULL, NULL},
    {"supply-without", BASE SUPPLY("x", "Apr 10", "1 lb P2O5"), "feed holds no P2O5 to supply",
     "no product of the plan holds P2O5"},
    {"supply-without", BASE "product bone { grade 0-10-0 granular }\n" SUPPLY("x", "Apr 10", "1 lb P2O5"),
     "feed holds no P2O5 to supply", "P2O5 would: bone"},
    {"no-density",
     HEAD GREEN "product water { grade 10-0-0 liquid }\n" APPLY_OF("x", "Apr 10", "4 fl oz", "water"),
     "water states no density, and its nutrients cannot be worked out from a volume", NULL},
    {"no-density",
     HEAD GREEN "product water {\ngrade 10-0-0 liquid\nlabel up to 4 fl oz per 1000 sqft\n}\n" APPLY_OF(
         "x", "Apr 10", "0.1 lb", "water"),
     "water states no density, and a rate by mass cannot be compared with a label by volume, or the other "
     "way round",
     NULL},
    {"no-density", HEAD GREEN LIQUID APPLY_OF("x", "Apr 10", "4 fl oz", "water"), NULL, NULL},
    {"volume-of-granular", HEAD GREEN FEED APPLY("x", "Apr 10", "4 fl oz"),
     "feed is granular, and its rate is stated by volume", NULL},
    {"machine-mismatch", BASE SPRAYER WITH("1 lb per 1000 sqft of feed", "t"),
     "t is a sprayer, and feed is granular", "name a spreader after `with`"},
    {"machine-mismatch", BASE LIQUID SPREADER WITH("1 lb per 1000 sqft of water", "s"),
     "s is a spreader, and water is liquid", "name a sprayer after `with`"},
    {"machine-mismatch", BASE SPREADER WITH("1 lb per 1000 sqft of feed", "s"), NULL, NULL},
    {"rate-below-machine",
     BASE "spreader s {\nleast rate 1.5 lb per 1000 sqft\n}\n" WITH("1.4 lb per 1000 sqft of feed", "s"),
     "x applies 1.4 lb per 1000 sqft of feed; s cannot apply less than 1.5 lb per 1000 sqft", NULL},
    {"rate-below-machine",
     BASE "spreader s {\nleast rate 1.5 lb per 1000 sqft\n}\n" WITH("1.5 lb per 1000 sqft of feed", "s"),
     NULL, NULL},
    /* 2 x 0.6 = 1.2 */
    {"rate-below-machine",
     BASE
     "spreader s {\npasses 2\nleast rate 0.6 lb per 1000 sqft\n}\n" WITH("1.1 lb per 1000 sqft of feed", "s"),
     "x applies 1.1 lb per 1000 sqft of feed; s cannot apply less than 1.2 lb per 1000 sqft in 2 passes",
     NULL},
    /* 10 lb per gal: 12 fl oz are 0.94 lb */
    {"rate-below-machine",
     BASE LIQUID
     "sprayer t {\nleast rate 13 fl oz per 1000 sqft\n}\n" WITH("15 oz per 1000 sqft of water", "t"),
     "x applies 0.9375 lb per 1000 sqft of water; t cannot apply less than 13 fl oz per 1000 sqft", NULL},
    {"tank-apart", BASE LIQUID IRON SPRAYER "mix iron with foliar never from hearsay\n" BOTH,
     "water and iron must not be mixed, but both go into the tank of t",
     "spray iron in a treatment of its own, and rinse the tank first"},
    {"tank-apart", BASE LIQUID IRON SPRAYER "mix iron with foliar at-once from hearsay\n" BOTH, NULL, NULL},
    {"tank-apart",
     BASE LIQUID IRON SPREADER "mix iron with foliar never from hearsay\n" WITH(
         "4 fl oz per 1000 sqft of water\nrate 4 fl oz per 1000 sqft of iron", "s"),
     NULL, NULL},
    {"machine-mismatch",
     BASE "product mix { grade 20-0-0 soluble }\n" SPREADER WITH("1 lb per 1000 sqft of mix", "s"), NULL,
     NULL},
    {"machine-missing", USED, "x names no machine, so hopper loads and passes are not worked out",
     "declare a spreader and name it: with broadcast"},
    {"machine-missing", BASE SPREADER WITH("1 lb per 1000 sqft of feed", "s"), NULL, NULL},
    {"nothing-applied", BASE "apply x {\nto a\nwhen on Apr 10\n}\n", "x does not say what goes down", NULL},
    {"nothing-applied", BASE "task x {\nto a\nwhen on Apr 10\n}\n", NULL, NULL},
    {"no-zone", BASE "apply x {\nwhen on Apr 10\nrate 1 lb per 1000 sqft of feed\n}\n",
     "x does not say where it goes", NULL},

    {"unused-zone", HEAD TWO_ZONES FEED APPLY("x", "Apr 10", "1 lb"), "nothing is done on b, 500 sqft", NULL},
    {"unused-zone",
     HEAD TWO_ZONES FEED "apply x {\nto green\nwhen on Apr 10\nrate 1 lb per 1000 sqft of feed\n}\n", NULL,
     NULL},
    {"unused-lawn", USED "lawn other {\nzone c area 10 sqft\nzone d area 10 sqft\n}\n",
     "nothing is done on other", NULL},
    {"unused-product", USED "product spare { grade 1-0-0 granular }\n", "the product spare is not used",
     NULL},
    {"unused-product", USED, NULL, NULL},
    {"unused-machine", USED SPREADER, "the spreader s is not used", NULL},
    {"unused-limits", USED "limits law { only on Sat }\n",
     "limits law has no effect: the plan does not follow it", "write: follow law"},
    {"unused-limits", USED "limits law { only on Sat }\nfollow law\n", NULL, NULL},
    {"kind-unknown", USED "product preventer { grade 0-0-0 granular\nkind Pre-Emergent }\n",
     "no limit names the kind Pre-Emergent", "did you mean the kind pre-emergent?"},
    {"kind-unknown", USED "product potash { grade 0-0-50 granular\nkind potassium-sulfate, feed }\n", NULL,
     NULL},
    {"kind-unknown", USED "task mark { kind line\nwhen on May 1 }\n", NULL, NULL},
    {"kind-unknown", USED "task sow { kind seeds\nwhen on May 1 }\n", "no limit names the kind seeds",
     "did you mean the kind seed?"},
    {"kind-unknown",
     USED "limits { at least 9 days between gipsum and N }\ntask dress { kind gypsum\nwhen on May 1 }\n",
     "nothing is of the kind gipsum, so this limit has no effect", "did you mean the kind gypsum?"},
    {"kind-unknown", USED "limits { at least 9 days from sow to N }\ntask sow { kind seed\nwhen on May 1 }\n",
     "nothing is of the kind sow, so this limit has no effect", "state it there: kind sow"},
    {"kind-unknown", USED "limits { at least 9 days from verticut to N }\n", NULL, NULL},
    {"unused-entry", USED "source sheet { title \"A sheet\" }\n", "the source sheet is not used", NULL},
    {"edition-missing", "season 2027-03-01 to 2027-11-30\n", "the plan states no edition", NULL},
    {"edition-missing", USED, NULL, NULL},

    {"allow-error", USED "allow limit-per-year \"x\"\n",
     "limit-per-year is an error, and errors cannot be allowed", NULL},
    {"allow-error", USED "allow unit \"x\"\n", "unit is an error, and errors cannot be allowed", NULL},
    {"allow-unknown", USED "allow unused-zones \"x\"\n", "there is no check named unused-zones",
     "did you mean unused-zone?"},
    {"allow-unknown", USED "allow nonsense \"x\"\n", "there is no check named nonsense",
     "`prill checks` lists them all"},
    {"allow-unused", USED "allow unused-zone \"x\"\n", "nothing to allow: no unused-zone is reported here",
     NULL},
    {"allow-unused", USED "allow machine-missing for a \"x\"\n",
     "nothing to allow: no machine-missing is reported for a", NULL},
    {"allow-unused", USED "allow machine-missing for x \"by hand\"\n", NULL, NULL},
    {"allow-unused", USED "allow machine-missing \"by hand\"\n", NULL, NULL},
    /* named, though what was done went elsewhere */
    {"unused-zone", HEAD TWO_ZONES FEED "task x {\nto a, b\nwhen on Apr 10\n}\n", NULL, NULL},
    {"no-density",
     BASE "product agent { label up to 4 fl oz per 1000 sqft }\n" APPLY_OF("x", "Apr 10", "4 fl oz", "agent"),
     NULL, NULL},
    {"no-density", BASE "product agent { kind wetting }\n" APPLY_OF("x", "Apr 10", "0.1 lb", "agent"), NULL,
     NULL},
    {"no-density",
     BASE "product water { grade 10-0-0 liquid }\n" APPLY_OF("x", "Apr 10", "0.1 lb", "water")
         DONE("x", "2027-04-10", "4 fl oz of water on a"),
     "water states no density, and its nutrients cannot be worked out from a volume", NULL},
    {"supply-without", BASE SUPPLY("x", "Apr 10", "1 lb N"), NULL, NULL},
    {"machine-mismatch", BASE LIQUID SPRAYER WITH("1 lb per 1000 sqft of water", "t"), NULL, NULL},
    /* a layer of a task is in no ledger */
    {"layer-supplies",
     HEAD GREEN FEED APPLY("x", "Apr 10",
                           "4 lb") "product compost { contains N 1% }\ntask t {\nto a\nwhen on Apr "
                                   "12\nlay 0.25 in of compost\n}\n",
     "compost supplies N, which a task does not count",
     "write `apply t` in place of `task t`, so that limits count it"},
    {"layer-supplies",
     HEAD GREEN FEED APPLY("x", "Apr 10",
                           "4 lb") "product sand { kind topdressing }\ntask t {\nto a\nwhen on Apr "
                                   "12\nlay 0.25 in of sand\n}\n",
     NULL, NULL},
    {"no-zone",
     HEAD GREEN FEED APPLY("x", "Apr 10", "4 lb") "task t {\nwhen on Apr 12\nlay 0.25 in of sand\n}\n",
     "t does not say where this layer goes", NULL},
    {0},
};
