/* Scales against soil tests and lawns: methods, depths, regions, grasses, textures. */
#include "tests/unit/check_trials.h"

#define BASE HEAD GREEN FEED
#define SOURCE "source sheet { title \"A sheet\" }\n"
#define SCALE(more) SOURCE "scale levels {\nmethod mehlich-3\n" more "\nminimum P 20 ppm from sheet\n}\n"
#define LAWN(more) "lawn green {\n" more "\nzone a area 1000 sqft\n}\n"
#define TEST(more)                                                                                           \
    "soil-test 2027-02-01 {\nof a\nmethod mehlich-3\nscale levels\n" more "\nresults {\nspot P ppm\none "    \
    "10\n}\n}\n"
#define SUM "bulk-density 1.5 kg per L from sheet\nneeds minimum less test from sheet"
#define BRAY "soil-test 2027-02-01 {\nof a\nmethod mehlich-3\nscale sufficiency-bray-1\n"
#define ROWS "results {\nspot P ppm\none 10\n}\n}\n"

const struct check_trial SCALE_TRIALS[] = {
    /* 10 cm and 4 in are the same core, and so is half an inch more or less */
    {"soil-depth-mismatch", BASE SCALE("depth 4 in") TEST("depth 10 cm"), NULL, NULL},
    {"soil-depth-mismatch", BASE SCALE("depth 4 in") TEST("depth 3.5 in"), NULL, NULL},
    {"soil-depth-mismatch", BASE SCALE("depth 4 in") TEST("depth 4.6 in"),
     "the cores went 4.6 in deep; levels is made for 4 in", NULL},

    {"soil-depth-missing", BASE SCALE(SUM) TEST(""),
     "the soil test of Mon 2027-02-01 gives no depth; levels needs it to work out amounts",
     "ask who took the cores how deep they went, and state it as `depth LENGTH`"},
    {"soil-depth-missing", BASE SCALE(SUM) TEST("depth 4 in"), NULL, NULL},
    {"soil-depth-missing", BASE SCALE("") TEST(""), NULL, NULL},

    {"soil-method-mismatch", BASE BRAY ROWS,
     "this test was made by mehlich-3; sufficiency-bray-1 reads bray-1",
     "mehlich-3 is read by minimum-levels, sufficiency-sand, sufficiency-other and sufficiency-full"},
    {"soil-method-mismatch", BASE BRAY "convert bray-1-from-mehlich-3\n" ROWS, NULL, NULL},
    {"soil-method-mismatch",
     BASE SOURCE
     "conversion back {\nfrom bray-1 to mehlich-3\nequation P 10, 1.2 ppm of ppm from sheet\n}\n" BRAY
     "convert back\n" ROWS,
     "this test was made by mehlich-3; sufficiency-bray-1 reads bray-1", NULL},

    {"soil-scale-unfit", HEAD LAWN("region delta") SCALE("region piedmont") TEST(""),
     "levels is made for piedmont; green lies in delta", NULL},
    {"soil-scale-unfit", HEAD LAWN("region piedmont") SCALE("region piedmont") TEST(""), NULL, NULL},
    {"soil-scale-unfit", HEAD LAWN("") SCALE("region piedmont") TEST(""), NULL, NULL},
    {"soil-scale-unfit", HEAD LAWN("grass bahiagrass") SCALE("grass tall-fescue, zoysiagrass") TEST(""),
     "levels is made for other grasses than bahiagrass of green", NULL},
    {"soil-scale-unfit", HEAD LAWN("grass zoysiagrass") SCALE("grass tall-fescue, zoysiagrass") TEST(""),
     NULL, NULL},
    {"soil-scale-unfit", HEAD LAWN("soil loam") SCALE("soil sand") TEST(""),
     "levels is made for sand; the soil of green is loam", NULL},
    {"soil-scale-unfit", HEAD LAWN("soil sand") SCALE("soil sand, loamy-sand") TEST(""), NULL, NULL},
    {"soil-scale-unfit", HEAD LAWN("region delta") SCALE("") TEST("lime penn-state-lawn-lime"),
     "penn-state-lawn-lime is made for pennsylvania; green lies in delta", NULL},

    {"soil-scale-region", HEAD LAWN("") SCALE("region piedmont") TEST(""),
     "levels is made for piedmont; green states no region",
     "if that is where it lies, write in the lawn: region piedmont"},
    {"soil-scale-region", HEAD LAWN("region delta") SCALE("region piedmont") TEST(""), NULL, NULL},
    {"soil-scale-region", HEAD LAWN("") SCALE("") TEST(""), NULL, NULL},

    /* an index has no ppm: 10, 10 and 25 around 15 */
    {"soil-spots-disagree",
     HEAD GREEN SOURCE
     "scale levels {\nmethod mehlich-3\nspread 50%\nminimum P 20 index from sheet\n}\nsoil-test 2027-02-01 "
     "{\nof a\n"
     "method mehlich-3\nscale levels\nresults {\nspot P index\none 10\ntwo 10\nthree 25\n}\n}\n",
     "P lies between 10 and 25 index around a mean of 15; levels allows 50% either way", NULL},
    {NULL, NULL, NULL, NULL},
};
