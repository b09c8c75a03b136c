/* Every check: what it watches over, why, how to mend it, and where the rule comes from.
 *
 * The order is the order of running and of the documentation. A name keeps its meaning for ever. A source is
 * a published one where the check itself carries knowledge of the trade; it is NULL where the plan, a label
 * in it or an entry of the library is the authority, which the report then points at. */
#include "compiler/check/checking.h"

#define PRACTICE "common practice, no source"
#define LAWS_ON_TESTS "the laws behind the limit sets of plans/library/limits-*.prill, each cited there"

#define OVER_NEED                                                                                            \
    "10 lb per acre: North Carolina Department of Agriculture, circular no. 1; a tenth: common practice, "   \
    "no source"
#define USUAL_ENTRIES "the entries `usual` of plans/library/usual.prill, each with its source"

#define LIMITS "Limits"
#define LABELS "Labels"
#define DAYS "Days"
#define GROUND "Ground and soil"
#define GRASS "Grass"
#define PRODUCTS "Products and machines"
#define NAMES "What is declared"
#define RECORDS "Records"
#define ALLOWING "What is allowed"

/* clang-format off */
const struct check CHECKS[CHECK_COUNT] = {
    [CHECK_LIMIT_PER_APPLICATION] = {
        {"limit-per-application", SEVERITY_ERROR, "more of a nutrient on a zone in one day than a limit lets down",
         "All that reaches a zone on one day counts as one application, whatever treatment brings it. Lower the rate, "
         "split the treatment, or put what shares the day on another.",
         NULL}, LIMITS, check_per_application},
    [CHECK_LIMIT_PER_YEAR] = {
        {"limit-per-year", SEVERITY_ERROR, "more of a nutrient on a zone in a calendar year than a limit lets down",
         "Records and what is still planned are added up from January to December, zone by zone. Lower the rates, or "
         "leave a treatment out.",
         NULL}, LIMITS, check_per_year},
    [CHECK_LIMIT_PER_PERIOD] = {
        {"limit-per-period", SEVERITY_ERROR, "more of a nutrient within a run of days than a limit lets down",
         "Every run of that many days counts, wherever it begins: `in any 30 days` looks at the first and the thirtieth "
         "day together, and not at the first and the thirty-first. `from Nov 16 to Dec 1` adds up these days of each year. "
         "Lower a rate, or wait.",
         NULL}, LIMITS, check_per_period},
    [CHECK_RECORD_OVER_LIMIT] = {
        {"record-over-limit", SEVERITY_ERROR, "records of more of a nutrient than a limit lets down",
         "It has happened, and counts. Once the record says `admit` and why, it is a warning and the rest of the season "
         "is dated with it counted; what would add to it before the limit lets more down stays an error. The notes say from which day each limit allows anything again, counted from what "
         "was done. Where the limit is a law, its authority says what is to be done.",
         NULL}, LIMITS, NULL},
    [CHECK_SLOW_SHARE_LOW] = {
        {"slow-share-low", SEVERITY_ERROR, "nitrogen that is less slowly available than a limit asks for",
         "The share is that of all the nitrogen a zone gets on one day. With `in each product` it is "
         "that of each product with N; with `above`, only where the zone gets more N on that day. A product's share is what `slow` states, as its "
         "label guarantees it; without `slow` it counts as none. Laws differ in which nitrogen they count as slow: "
         "coated urea counts in some places and not in others.",
         NULL}, LIMITS, check_slow_share},
    [CHECK_RECORD_SLOW_SHARE_LOW] = {
        {"record-slow-share-low", SEVERITY_WARNING, "a record of nitrogen less slowly available than a limit asks for",
         "It has happened. Soluble nitrogen burns, and goes with the water: look after the grass, and water lightly.",
         PRACTICE}, LIMITS, NULL},
    [CHECK_WAIT_TOO_SHORT] = {
        {"wait-too-short", SEVERITY_ERROR, "fewer days between two treatments than a limit asks for",
         "Days are counted from one to the other: from the 1st to the 29th are 28. What falls on one day is one "
         "application of its nutrient, kind or product, and no wait of that one counts within it. Two kinds that must "
         "lie apart may not share a day.",
         NULL}, LIMITS, check_waits},
    [CHECK_RECORD_WAIT_SHORT] = {
        {"record-wait-short", SEVERITY_WARNING, "records that lie closer together than a limit asks for",
         "Both treatments were done, so nothing can be changed; what follows is dated from the later one.",
         NULL}, LIMITS, NULL},
    [CHECK_WAIT_TOO_LONG] = {
        {"wait-too-long", SEVERITY_ERROR, "more days from one kind of treatment to another than a limit allows",
         "`within 3 days from aerate to topdress` binds what comes after aerating, zone by zone, to the last aerating "
         "before it. The dates keep to it; this looks again, by other means.",
         NULL}, LIMITS, check_follows},
    [CHECK_RECORD_WAIT_LONG] = {
        {"record-wait-long", SEVERITY_WARNING, "a record further from what came before it than a limit allows",
         "It has happened, and nothing can be changed.",
         NULL}, LIMITS, NULL},
    [CHECK_KINDS_OUT_OF_ORDER] = {
        {"kinds-out-of-order", SEVERITY_ERROR, "kinds of treatment in another order than a limit states",
         "`order aerate, topdress, seed` holds on each zone; what shares a day is done in that order too. The dates "
         "keep to it; this looks again, by other means.",
         NULL}, LIMITS, check_orders},
    [CHECK_RECORD_OUT_OF_ORDER] = {
        {"record-out-of-order", SEVERITY_WARNING, "a record before what a limit puts before it",
         "It has happened. Look whether what is still to come makes sense after it.",
         NULL}, LIMITS, NULL},

    [CHECK_LABEL_RATE_HIGH] = {
        {"label-rate-high", SEVERITY_ERROR, "more of a product at a time than its label allows",
         "The label's highest rate is what the maker holds safe for grass and water, and for many products it is the law. "
         "Parts of one product that reach a zone on the same day are added up.",
         NULL}, LABELS, check_label_rates},
    [CHECK_RECORD_OVER_LABEL] = {
        {"record-over-label", SEVERITY_ERROR, "records of more of a product, or more often, than its label allows",
         "It has happened, at a time or in a year, and counts. Once the record says `admit` and why, it is a warning; what "
         "would add to it in the year stays an error. The notes say from which "
         "day the label and the limits allow any again, counted from what was done.",
         NULL}, LABELS, NULL},
    [CHECK_LABEL_RATE_LOW] = {
        {"label-rate-low", SEVERITY_WARNING, "less of a product at a time than its label's lowest rate",
         "Below the label's lowest rate a product may not do what it is for, and a spreader is hard to set evenly. Where "
         "half a rate is meant, say so with `allow`.",
         NULL}, LABELS, NULL},
    [CHECK_LABEL_INTERVAL] = {
        {"label-interval", SEVERITY_ERROR, "treatments with one product closer together than its label allows",
         "Days are counted from one to the other, zone by zone.",
         NULL}, LABELS, check_label_intervals},
    [CHECK_RECORD_LABEL_INTERVAL] = {
        {"record-label-interval", SEVERITY_WARNING, "records of one product closer together than its label allows",
         "Both treatments were done, so nothing can be changed; what follows is dated from the later one.",
         NULL}, LABELS, NULL},
    [CHECK_LABEL_COUNT] = {
        {"label-count", SEVERITY_ERROR, "more treatments with a product in a calendar year than its label allows",
         "Days on which a zone gets the product are counted, records with them. Leave one out or take another product.",
         NULL}, LABELS, check_label_counts},
    [CHECK_LABEL_YEAR] = {
        {"label-year", SEVERITY_ERROR, "more of a product in a calendar year than its label allows",
         "Many labels cap the product of a year beside the rate of one treatment. Amounts are added up zone by zone.",
         NULL}, LABELS, check_label_years},
    [CHECK_WATER_VOLUME] = {
        {"water-volume", SEVERITY_ERROR, "a sprayer set outside the label's water volume",
         "Too little water burns leaves, too much runs off them, and the label's water binds as its rate does. It is "
         "compared with the sprayer's output as the plan states it, which is what calibration gave.",
         PRACTICE}, LABELS, check_water_volumes},
    [CHECK_OUTPUT_MISSING] = {
        {"output-missing", SEVERITY_NOTE, "a sprayer whose output is not stated, for a label that asks for water",
         "Without an output the water of the tank mix cannot be compared with the label, nor the tanks be counted.",
         NULL}, LABELS, NULL},

    [CHECK_NO_DAY] = {
        {"no-day", SEVERITY_ERROR, "statements that leave a treatment no day",
         "The report tells the statements that cannot hold together, in the order of the argument, each with the dates "
         "it leaves. Any one of them eased enough would do; the nearest way out among the plan's own is named. Labels "
         "and limits are not proposed for easing.",
         NULL}, DAYS, check_contradictions},
    [CHECK_TOO_MANY_TIMES] = {
        {"too-many-times", SEVERITY_ERROR, "a treatment that comes more often than a plan has room for",
         "A daily treatment over a season makes a few hundred dates; so many more are a slip in `every` or `times`.",
         NULL}, DAYS, check_crowded},
    [CHECK_NO_WHEN] = {
        {"no-when", SEVERITY_NOTE, "a treatment of which nothing says when",
         "It is put on the first day of the season that is open to it, which is seldom what is meant.",
         NULL}, DAYS, check_whens},
    [CHECK_WHEN_MOOT] = {
        {"when-moot", SEVERITY_NOTE, "a `when` that counts from something that was skipped",
         "What was skipped has no day, so nothing can be counted from it. Say anew when the treatment is to be done.",
         NULL}, DAYS, NULL},
    [CHECK_OUTSIDE_SEASON] = {
        {"outside-season", SEVERITY_WARNING, "work or a record outside the season of the plan",
         "Often a year is mistyped. Make the season longer, or say with `allow` that it is meant.",
         NULL}, DAYS, check_outside_season},
    [CHECK_CLOSED_DAY] = {
        {"closed-day", SEVERITY_ERROR, "an application on a day that a limit closes",
         "Both ends of `from ... to ...` are closed themselves, and without years the days come back every year, over "
         "New Year too. The calendar keeps clear of them; this looks again, by other means.",
         NULL}, DAYS, check_closed_days},
    [CHECK_RECORD_CLOSED_DAY] = {
        {"record-closed-day", SEVERITY_WARNING, "a record of an application on a day that a limit closes",
         "It has happened. Where the limit is a law, its authority says what is to be done.",
         NULL}, DAYS, NULL},
    [CHECK_CLOSED_WEEKDAY] = {
        {"closed-weekday", SEVERITY_ERROR, "an application on a weekday that a limit leaves out",
         "`only on` binds applications and not tasks. The calendar keeps to it; this looks again, by other means.",
         NULL}, DAYS, check_weekdays},
    [CHECK_RECORD_CLOSED_WEEKDAY] = {
        {"record-closed-weekday", SEVERITY_WARNING, "a record of an application on a weekday that a limit leaves out",
         "It has happened. If the weekday did not matter then, say so with `allow`.",
         NULL}, DAYS, NULL},
    [CHECK_HEAT] = {
        {"heat", SEVERITY_WARNING, "an application on a day hotter than a limit of practice allows",
         "Salts and soluble nitrogen burn grass in heat. The dates keep clear of days whose high passes: as measured, as "
         "forecast, or else as is usual by the normals, which half of such days pass. `allow heat` takes such a day "
         "nevertheless: then choose a cool one by the forecast, or the evening. It never lifts a law, nor a label: a "
         "product's own `heat` is part of its label.",
         PRACTICE}, DAYS, check_heat},
    [CHECK_TOO_HOT] = {
        {"too-hot", SEVERITY_ERROR, "an application on a day hotter than a label or a law allows",
         "The calendar keeps clear of such days, as measured, as forecast, or else as is usual by the normals; this looks "
         "again, by other means. No `allow` lifts it.",
         NULL}, DAYS, NULL},
    [CHECK_COLD] = {
        {"cold", SEVERITY_ERROR, "an application on a day colder than a label allows",
         "The calendar keeps clear of days whose low passes: as measured, as forecast, or else as is usual by the normals; "
         "this looks again, by other means. No `allow` lifts it.",
         NULL}, DAYS, check_cold},
    [CHECK_NO_NORMALS] = {
        {"no-normals", SEVERITY_NOTE, "something that goes by the weather, and the plan has no weather for it",
         "What is not known closes no day: the label, the limit or the `when` has to be kept on the day itself, by the "
         "forecast and the thermometer.",
         NULL}, DAYS, NULL},
    [CHECK_WEATHER_DAY] = {
        {"weather-day", SEVERITY_ERROR, "an application on a day whose weather a `when` or a limit does not allow",
         "The calendar keeps to days on which the condition is known or expected to hold; this looks again, by other "
         "means.",
         NULL}, DAYS, check_weather},
    [CHECK_RECORD_WEATHER] = {
        {"record-weather", SEVERITY_WARNING, "a record of a day whose measured weather was not what was asked for",
         "It has happened. Look whether the grass was hurt before the next application.",
         NULL}, DAYS, NULL},
    [CHECK_HEAT_NEAR] = {
        {"heat-near", SEVERITY_NOTE, "an application on a day whose mean high comes close to a limit on heat",
         "A mean high is passed on about half of the days it is the mean of. With a history of the weather the report "
         "tells how many days were hotter; without one, look at the forecast before you go out.",
         PRACTICE}, DAYS, NULL},
    [CHECK_FEW_YEARS] = {
        {"few-years", SEVERITY_NOTE, "so many years in so many, of a history that is shorter",
         "The share is taken of the years that the history knows; few of them tell little of the rare day.",
         NULL}, DAYS, NULL},
    [CHECK_DEGREE_DAYS_OF_NORMALS] = {
        {"degree-days-of-normals", SEVERITY_NOTE, "degree days reckoned from monthly means",
         "Warm days bring degree days that cold ones do not take back, so the mean of a month brings fewer than its days "
         "do, and the sum is reached too late by some days. A history of several years settles it.",
         NULL}, DAYS, NULL},
    [CHECK_FROST_OF_NORMALS] = {
        {"frost-of-normals", SEVERITY_NOTE, "a frost date worked out from monthly means",
         "A mean low above 32 F does not keep single nights above it: the last frost mostly comes weeks later than the mean "
         "says, and the first one weeks earlier. A history of several years settles it.",
         "common practice, no source"}, DAYS, NULL},
    [CHECK_SAME_DAY_ORDER] = {
        {"same-day-order", SEVERITY_NOTE, "two treatments on one zone and day with no order stated",
         "The calendar prints them in the order of the text. Where one must come first, say so: `when same day after`.",
         NULL}, DAYS, check_same_day},
    [CHECK_WATER_AND_DRY] = {
        {"water-and-dry", SEVERITY_WARNING, "a spray that must stay dry, and then something to water in, on one day",
         "Water washes off what has not yet been taken up by the leaf; most of a foliar spray is taken up within 4 to 6 "
         "hours. Spread and water in first, then spray.",
         "Henning, Mulvaney, Branham 2013, Crop Science (uptake complete by 4 to 6 hours)"}, DAYS, NULL},

    [CHECK_NEAR_WATER] = {
        {"near-water", SEVERITY_ERROR, "an application nearer to water than a limit allows",
         "A zone states its distance from water; without one it counts as far away. Measure the zone so that the strip "
         "stays out of it. Some laws allow a narrower strip with a drop spreader or deflector: state the limit that "
         "holds for the machine used.",
         NULL}, GROUND, check_near_water},
    [CHECK_RECORD_NEAR_WATER] = {
        {"record-near-water", SEVERITY_WARNING, "a record of an application nearer to water than a limit allows",
         "It has happened. Where the limit is a law, its authority says what is to be done.",
         NULL}, GROUND, NULL},
    [CHECK_WATER_UNKNOWN] = {
        {"water-unknown", SEVERITY_NOTE, "a zone without its distance from water, under a limit that keeps one",
         "A zone that states no distance counts as far from water, so a limit such as `nothing within 10 ft of water` "
         "cannot bind it. Measure to the nearest pond, stream, ditch or storm drain.",
         NULL}, GROUND, check_water_known},
    [CHECK_NO_NEED] = {
        {"no-need", SEVERITY_ERROR, "a nutrient that needs a soil test's finding, without it",
         "The limit lets the nutrient down only where a soil test of the zone finds a need. The report says which of these "
         "it is: no test of the zone, a test without a figure for the nutrient, no scale that reads it, or a test that "
         "finds enough.",
         NULL}, GROUND, check_needs},
    [CHECK_RECORD_NO_NEED] = {
        {"record-no-need", SEVERITY_WARNING, "a record of a nutrient that no soil test finds a need of",
         "It has happened. A test now tells where the soil stands.",
         NULL}, GROUND, NULL},
    [CHECK_OVER_NEED] = {
        {"over-need", SEVERITY_ERROR, "more of a nutrient than the soil test shows a need of, under a limit that requires a need",
         "A need is an amount. What a zone gets since the day of sampling counts against the need of that test, until "
         "the next test; what was spread before that day is in the result. A tenth more passes, since no spreader is "
         "more exact.",
         OVER_NEED}, GROUND, check_surplus},
    [CHECK_MORE_THAN_NEEDED] = {
        {"more-than-needed", SEVERITY_WARNING, "more P2O5 or K2O than the soil test shows a need of",
         "It costs money, and phosphorus that the soil does not need ends in water. A tenth more than the need passes, "
         "and 10 lb per acre (0.23 lb per 1000 sqft), which soil tests cannot tell apart. Other nutrients are not "
         "looked at without a limit: they come along with salts, or are given to the leaf.",
         OVER_NEED}, GROUND, NULL},
    [CHECK_RECORD_OVER_NEED] = {
        {"record-over-need", SEVERITY_WARNING, "records of more of a nutrient than the soil test shows a need of",
         "It has happened, and counts. A new test shows where the soil is now.",
         OVER_NEED}, GROUND, NULL},
    [CHECK_SOIL_TEST_OLD] = {
        {"soil-test-old", SEVERITY_ERROR, "a need shown by a soil test older than the limit accepts",
         "Soils change, and most laws that require a test accept one of at most three years, which counts where a limit "
         "says nothing else; Vermont's is eighteen months. Test again.",
         LAWS_ON_TESTS}, GROUND, NULL},
    [CHECK_RECORD_TEST_OLD] = {
        {"record-soil-test-old", SEVERITY_WARNING, "a record whose need was shown by a soil test older than the limit accepts",
         "If there was a newer test, state it. If not, test before the next application.",
         LAWS_ON_TESTS}, GROUND, NULL},
    [CHECK_SOIL_TEST_AFTER_USE] = {
        {"soil-test-after-use", SEVERITY_ERROR, "a soil test dated after the application it is to justify",
         "Only a test of an earlier day can be the reason, and what was put down before a test is in its result. A "
         "re-test changes nothing for what was put down while an older test was in force.",
         PRACTICE}, GROUND, NULL},
    [CHECK_RECORD_BEFORE_TEST] = {
        {"record-before-soil-test", SEVERITY_WARNING, "a record older than the soil test that is to justify it",
         "If there was an earlier test, state it: only that one can be the reason.",
         PRACTICE}, GROUND, NULL},
    [CHECK_PRODUCT_CONTENT] = {
        {"product-content", SEVERITY_ERROR, "a product that holds more of a nutrient than a limit allows",
         "Some laws forbid products by what they hold, whatever the rate: `no product with more than 0% P2O5 except of "
         "kind starter`. The kinds are those of the product's `kind`; state one only where the label says so.",
         NULL}, GROUND, check_contents},
    [CHECK_RECORD_PRODUCT_CONTENT] = {
        {"record-product-content", SEVERITY_WARNING, "a record of a product that holds more of a nutrient than a limit allows",
         "The product is on the ground. Where the limit is a law, its authority says what must be done.",
         NULL}, GROUND, NULL},
    [CHECK_UNTESTED_ZONE] = {
        {"untested-zone", SEVERITY_NOTE, "phosphate or potash on a zone of which there is no soil test",
         "Whether soil needs phosphorus or potassium cannot be seen on the grass. Phosphorus that is not needed ends in "
         "water; a product of up to 0.67% P2O5 is none to the laws, and one of up to 0.67% K2O is not told either.",
         "of P2O5: " LAWS_ON_TESTS ", the share in New York ECL 17-2103; of K2O: common practice, no source"},
        GROUND, check_untested},
    [CHECK_NEED_UNMET] = {
        {"need-unmet", SEVERITY_NOTE, "a need that a soil test shows and nothing in the plan meets",
         "Something is applied to the zone, and none of it holds the nutrient. `prill needs` tells the amount; plan a "
         "product that holds it, or say with `allow` why it is left.",
         PRACTICE}, GROUND, check_needs_met},
    [CHECK_SOIL_SPOTS_FEW] = {
        {"soil-spots-few", SEVERITY_NOTE, "a soil test of fewer spots or cores than the scale asks for",
         "A few cores say little of a lawn: fertility varies from step to step. Universities ask for 8 to 15 cores to a "
         "sample. Where each spot's sample was mixed from several cores, state `cores`.",
         "University of Missouri G6954 (12 or more); Purdue AY-18 (10 to 15)"}, GROUND, check_spots_few},
    [CHECK_SOIL_SPOTS_DISAGREE] = {
        {"soil-spots-disagree", SEVERITY_WARNING, "spots that differ from their mean by more than the scale allows",
         "A mean of spots that disagree fits none of them. Make the spots that differ zones of their own, each with its "
         "test.",
         PRACTICE}, GROUND, check_spots_disagree},
    [CHECK_SOIL_METHOD_MISMATCH] = {
        {"soil-method-mismatch", SEVERITY_ERROR, "a soil test read by a scale for another method",
         "Extraction methods find different amounts in the same soil: a scale for one reads the results of another "
         "wrongly. Name a scale for the method, or a `conversion` between the two that has a source.",
         "Ohio State University, \"Understanding Soil Test Reports: Phosphorus Values\" (Bray P1 and Mehlich-3 differ)"},
        GROUND, check_soil_scales},
    [CHECK_SOIL_DEPTH_MISMATCH] = {
        {"soil-depth-mismatch", SEVERITY_WARNING, "cores of another depth than the scale is made for",
         "Nutrients lie mostly near the surface: shallow cores read high, deep ones low. Half an inch either way is the "
         "same core.",
         PRACTICE}, GROUND, NULL},
    [CHECK_SOIL_DEPTH_MISSING] = {
        {"soil-depth-missing", SEVERITY_NOTE, "a soil test without its depth, under a scale that counts by it",
         "A share of the soil, such as ppm, is no mass per area until it is known how deep the soil was sampled. Without "
         "it the scale tells what is low, but not how much is needed.",
         NULL}, GROUND, NULL},
    [CHECK_SOIL_SCALE_MISSING] = {
        {"soil-scale-missing", SEVERITY_WARNING, "a soil test that names no scale",
         "Results are numbers until a scale says what is low. Name one for the laboratory's method and the region.",
         NULL}, GROUND, NULL},
    [CHECK_SOIL_SCALE_NUTRIENT] = {
        {"soil-scale-nutrient", SEVERITY_ERROR, "a scale named for a nutrient it does not read",
         "`scale NAME for NUTRIENTS` takes these nutrients from the test's other scale. One that the named scale has no "
         "figure for would stay unread. Take it off the list, or name a scale that reads it.",
         NULL}, GROUND, NULL},
    [CHECK_SOIL_SCALES_DISAGREE] = {
        {"soil-scales-disagree", SEVERITY_WARNING, "two scales of one soil test that say the opposite of a nutrient",
         "The scale named for the nutrient counts. The test's other scale reads it too: one calls the result low, the "
         "other enough. Scales aim at different levels: some at the most that a crop answers to, minimum levels at what "
         "turf gets by on. Check which is made for this laboratory and place.",
         "common practice, no source"},
        GROUND, check_soil_scales_agree},
    [CHECK_SOIL_SCALE_UNFIT] = {
        {"soil-scale-unfit", SEVERITY_WARNING, "a scale or lime table made for another region, grass or soil",
         "The same result is medium on one state's scale and high on another's, since soils differ; some scales are for "
         "one grass, or for sand alone. Name one that is made for the lawn.",
         "University of Georgia crop sheets (50 lb of P per acre: medium on the coast, high in the Piedmont)"},
        GROUND, check_scales_fit},
    [CHECK_SOIL_SCALE_REGION] = {
        {"soil-scale-region", SEVERITY_NOTE, "a scale made for one region, on a lawn that states none",
         "State the lawn's region; then scales, grasses' ranges and lime tables are held against it.",
         NULL}, GROUND, NULL},
    [CHECK_SOIL_OXIDE] = {
        {"soil-oxide", SEVERITY_WARNING, "soil results stated as an oxide, such as P2O5",
         "Most laboratories report phosphorus and potassium as elements; a phosphorus figure taken for "
         "P2O5 comes out at less than half. The oxides belong to fertilizer.",
         "Ohio State University, \"Understanding Soil Test Reports: Phosphorus Values\""},
        GROUND, check_soil_oxides},
    [CHECK_SOIL_RATING_DIFFERS] = {
        {"soil-rating-differs", SEVERITY_WARNING, "the laboratory's rating of a result and the scale's differ",
         "The laboratory calls low what the scale calls enough, or the other way round. Laboratories aim at "
         "different levels: some at the most that a crop answers to, minimum levels at what turf gets by on. "
         "Check whether the scale is made for this laboratory's method and region, then decide which counts.",
         "common practice, no source"},
        GROUND, check_soil_ratings},

    [CHECK_GRASS_UNKNOWN] = {
        {"grass-unknown", SEVERITY_WARNING, "a limit that depends on the grass, on a lawn whose grass is not known",
         "Limits `for grass` bind lawns of that grass, and limits on dormant grass go by the months in which the lawn's "
         "grass grows. Without the grass, or without its months, they bind nothing.",
         NULL}, GRASS, check_grass_known},
    [CHECK_YEARLY_BELOW] = {
        {"yearly-below", SEVERITY_NOTE, "less nitrogen in the season than the grass is said to ask for",
         "The range is that of the grass's entry for the lawn's region, or for anywhere; the report names its source. "
         "Less is often meant: clippings left on the lawn can halve the need.",
         "Rutgers NJAES FS633 (clippings)"}, GRASS, check_yearly},
    [CHECK_YEARLY_ABOVE] = {
        {"yearly-above", SEVERITY_NOTE, "more nitrogen in the season than the grass is said to ask for",
         "The range is that of the grass's entry for the lawn's region, or for anywhere; the report names its source. "
         "More makes soft growth, thatch and disease, and ends in water.",
         PRACTICE}, GRASS, NULL},
    [CHECK_GROWTH_DORMANT] = {
        {"growth-dormant", SEVERITY_NOTE, "nitrogen in a month in which the grass does not grow",
         "Grass that does not grow takes up little, and the rest is lost. The months are those of the grass's entry.",
         PRACTICE}, GRASS, check_growth},
    [CHECK_PH_OUTSIDE] = {
        {"ph-outside", SEVERITY_NOTE, "a soil whose pH lies outside what the grass does well in",
         "Outside its range grass takes up nutrients badly, whatever is put down. Lime and sulfur act over months and "
         "have limits of their own at a time.",
         PRACTICE}, GRASS, check_ph},
    [CHECK_ACIDIFYING] = {
        {"acidifying", SEVERITY_WARNING, "fertilizer that makes a soil more acid whose pH is already too low",
         "Nitrogen from ammonium and urea makes acid: a pound of it from ammonium sulfate takes more than five pounds of "
         "lime. The figures are labels' potential acidity, or the library's for the kind of material; lime of the season is "
         "taken off.",
         "Alabama A&M and Auburn Universities, ANR-174, table of calcium carbonate equivalents"}, GRASS, check_acidifying},

    [CHECK_RATE_UNLIKELY] = {
        {"rate-unlikely", SEVERITY_ERROR, "a rate, or a label's, far outside what such products go on at",
         "Mostly the unit is another one: 50 lb per sqft is 50000 lb per 1000 sqft. What is usual goes by the product's "
         "kind, or by whether it is granular, liquid or soluble. A plan that means it states its own `usual` entry.",
         USUAL_ENTRIES}, PRODUCTS, check_usual_rates},
    [CHECK_DENSITY_UNLIKELY] = {
        {"density-unlikely", SEVERITY_ERROR, "a density that such products do not have",
         "Nutrients of a liquid are counted by its density: 1.27 lb per gal in place of 1.27 kg per L makes an eighth of "
         "them, and no limit would see the rest.",
         USUAL_ENTRIES}, PRODUCTS, check_usual_products},
    [CHECK_GRADE_UNLIKELY] = {
        {"grade-unlikely", SEVERITY_WARNING, "a grade with more of a nutrient than the pure compound holds",
         "Urea holds 46.6% N, potassium chloride 63.2% K2O, phosphoric acid 72.4% P2O5; what is spread on lawns has no "
         "more.",
         USUAL_ENTRIES}, PRODUCTS, NULL},
    [CHECK_PACK_UNLIKELY] = {
        {"pack-unlikely", SEVERITY_WARNING, "a pack far larger or smaller than such products are sold in",
         "What is to be bought is counted in packs: a slip of the unit buys far too much, or too little.",
         USUAL_ENTRIES}, PRODUCTS, NULL},
    [CHECK_PRICE_UNLIKELY] = {
        {"price-unlikely", SEVERITY_WARNING, "prices of like products that lie far apart",
         "Prices have no unit, so they are held against each other, by mass. The dearest and the cheapest are named; "
         "either may have a slip of the decimal point.",
         USUAL_ENTRIES}, PRODUCTS, NULL},
    [CHECK_GRADE_OVER_100] = {
        {"grade-over-100", SEVERITY_ERROR, "a product that would hold more than all of itself",
         "A grade's three numbers, and all nutrients as elements, come to at most 100 percent by mass.",
         NULL}, PRODUCTS, check_grades},
    [CHECK_SLOW_OVER_TOTAL] = {
        {"slow-over-total", SEVERITY_ERROR, "more slowly available nitrogen than nitrogen",
         "Labels print the slowly available part as a share of the nitrogen or of the product; which it is decides the "
         "limit on soluble nitrogen.",
         NULL}, PRODUCTS, NULL},
    [CHECK_GRADE_AND_CONTAINS] = {
        {"grade-and-contains", SEVERITY_WARNING, "a nutrient stated by the grade and again by `contains`",
         "The two are added up. A label states nitrogen, phosphate and potash once, in its grade.",
         NULL}, PRODUCTS, NULL},
    [CHECK_FORM_MISSING] = {
        {"form-missing", SEVERITY_NOTE, "a product in use of which nobody says whether it is granular or liquid",
         "Cautions go by the form and kind of a product: without either, those for granules on paths and those for spray "
         "in the wind are missing where they are needed.",
         NULL}, PRODUCTS, check_forms},
    [CHECK_SUPPLY_WITHOUT] = {
        {"supply-without", SEVERITY_ERROR, "a product that holds nothing of what it is to supply",
         "No amount of it brings the nutrient. Name another product, or state what it `contains`.",
         NULL}, PRODUCTS, check_supplies},
    [CHECK_NO_DENSITY] = {
        {"no-density", SEVERITY_ERROR, "a product measured by volume whose density is not stated",
         "Nutrients are percentages by mass: without the mass of a gallon they cannot be counted, and a limit that cannot "
         "be looked at is not kept.",
         NULL}, PRODUCTS, check_densities},
    [CHECK_VOLUME_OF_GRANULAR] = {
        {"volume-of-granular", SEVERITY_WARNING, "a granular product measured by volume",
         "Granules settle, so a scoop holds more or less each time. Weigh them.",
         PRACTICE}, PRODUCTS, NULL},
    [CHECK_MACHINE_MISMATCH] = {
        {"machine-mismatch", SEVERITY_ERROR, "a liquid in a spreader, or granules in a sprayer",
         "Loads and passes cannot be reckoned for a machine that cannot do the work. A soluble product goes either way.",
         PRACTICE}, PRODUCTS, check_machines},
    [CHECK_MACHINE_MISSING] = {
        {"machine-missing", SEVERITY_NOTE, "a treatment that names no spreader or sprayer",
         "Hopper loads, passes, tanks and water come from the machine.",
         NULL}, PRODUCTS, NULL},
    [CHECK_LOADS_UNLIKELY] = {
        {"loads-unlikely", SEVERITY_ERROR, "a machine filled far more often than anyone fills it",
         "Mostly the area or the rate has a slip of the unit, or the hopper or tank has. How often is usual stands in the "
         "entries `usual spreader` and `usual sprayer`.",
         USUAL_ENTRIES}, PRODUCTS, check_loads},
    [CHECK_OUNCES_OF_LIQUID] = {
        {"ounces-of-liquid", SEVERITY_NOTE, "a liquid measured in ounces, which are a weight",
         "`oz` is a weight and `fl oz` a volume; labels of liquids mostly mean the volume, and print oz all the same. An "
         "ounce of a heavy liquid is a third less of it than a fluid ounce.",
         "NIST Handbook 44, Appendix C (avoirdupois ounce, fluid ounce)"}, PRODUCTS, NULL},
    [CHECK_LABEL_MISSING] = {
        {"label-missing", SEVERITY_NOTE, "products in use whose label's rate is not stated",
         "What the label allows at a time is the first bound on a rate. Without it the rate is held to the plan's limits "
         "and to what is usual of such products only. Lime, compost, sand and seed are bound by their kind.",
         PRACTICE}, PRODUCTS, check_label_rates_stated},
    [CHECK_ZONE_LEFT_OUT] = {
        {"zone-left-out", SEVERITY_NOTE, "a zone that a treatment names and puts nothing on",
         "The rates were chosen, and none of them for this zone: it needs nothing of what the products hold, or they may "
         "not go there. `prill rates` tells which.",
         NULL}, PRODUCTS, check_zones_left_out},
    [CHECK_NO_ZONE] = {
        {"no-zone", SEVERITY_ERROR, "a treatment that does not say where it goes",
         "Name the zones after `to`, or a lawn for all its zones.",
         NULL}, PRODUCTS, NULL},
    [CHECK_NOTHING_APPLIED] = {
        {"nothing-applied", SEVERITY_ERROR, "a treatment that does not say what goes down",
         "An `apply` puts a product down by `rate` or `supply`. Work that puts nothing down is a `task`.",
         NULL}, PRODUCTS, check_nothing_applied},

    [CHECK_UNUSED_ZONE] = {
        {"unused-zone", SEVERITY_WARNING, "a zone on which nothing is done",
         "Mostly it was forgotten in a `to`. Where it is left alone on purpose, say so with `allow`.",
         NULL}, NAMES, check_unused_ground},
    [CHECK_UNUSED_LAWN] = {
        {"unused-lawn", SEVERITY_WARNING, "a lawn on which nothing is done",
         "None of its zones is treated. Name it after `to`, or say with `allow` why it stands here.",
         NULL}, NAMES, NULL},
    [CHECK_UNUSED_PRODUCT] = {
        {"unused-product", SEVERITY_NOTE, "a product of the plan that nothing refers to",
         "Delete it, or keep it in a file of products that plans share: what stands there is not looked at.",
         NULL}, NAMES, check_unused_things},
    [CHECK_UNUSED_MACHINE] = {
        {"unused-machine", SEVERITY_NOTE, "a machine of the plan that nothing refers to",
         "Name it in a treatment with `with`, or delete it.",
         NULL}, NAMES, NULL},
    [CHECK_UNUSED_LIMITS] = {
        {"unused-limits", SEVERITY_WARNING, "a named set of limits that the plan does not follow",
         "A named set binds only where the plan says `follow`; a set without a name binds at once.",
         NULL}, NAMES, NULL},
    [CHECK_UNUSED_ENTRY] = {
        {"unused-entry", SEVERITY_NOTE, "a grass, scale or source of the plan that nothing refers to",
         "Delete it, or name it where it belongs.",
         NULL}, NAMES, NULL},
    [CHECK_LAW_SOURCE] = {
        {"law-source", SEVERITY_ERROR, "a law in the library, or in a file that plans share, without its source",
         "Laws change. Whoever follows a set of limits must be able to see which text it states, of which year, where that "
         "text is, and when somebody last read it: `title`, `at`, `year` and `read` of its source. Where nobody has read the "
         "text, `status not-read` says so, and every calendar says it too.",
         NULL}, NAMES, check_law_sources},
    [CHECK_NAME_CHARACTER] = {
        {"name-character", SEVERITY_ERROR, "a character that a name should not hold",
         "Names are letters, digits and hyphens of one script. Unicode lists the characters that belong in identifiers; "
         "others are invisible, or look like a letter that they are not. A quoted name may hold anything that can be "
         "seen.",
         "Unicode Technical Standards 31 and 39 (General Security Profile, Highly Restrictive), as of ICU"},
        NAMES, check_names_alike},
    [CHECK_NAMES_ALIKE] = {
        {"names-alike", SEVERITY_ERROR, "two names that no reader can tell apart",
         "A Cyrillic o in the kind of a product makes another kind of it, which no limit speaks of. Names are compared "
         "by their skeletons; two that differ and have the same one are not both meant.",
         "Unicode Technical Standard 39, section 4 (skeleton), as of ICU"}, NAMES, NULL},
    [CHECK_NAMES_EASILY_CONFUSED] = {
        {"names-easily-confused", SEVERITY_WARNING, "two names that differ by letters such as l and 1, O and 0 only",
         "Both are of plain letters, and either may be mistyped for the other. Give one of them another name.",
         "Unicode Technical Standard 39, section 4 (skeleton)"}, NAMES, NULL},
    [CHECK_REPLACES_LIBRARY] = {
        {"replaces-library", SEVERITY_NOTE, "an entry of the plan that counts in place of the library's",
         "A plan, or a file that it uses, may declare an entry of the library anew. From then on a law, scale or grass "
         "of a known name says what the plan says, not what its source says.",
         NULL}, NAMES, check_replaced},
    [CHECK_TITLE_MISSING] = {
        {"title-missing", SEVERITY_NOTE, "a plan without a title",
         "Calendar programs tell one event from another by its UID, which is made of the plan's title, its year and the "
         "treatment. Two untitled plans with treatments of one name overwrite each other's events.",
         "RFC 5545, 3.8.4.7"}, NAMES, check_title},
    [CHECK_EDITION_MISSING] = {
        {"edition-missing", SEVERITY_NOTE, "a plan without an edition",
         "Calendar programs tell a new issue of an event from an old one by its count (SEQUENCE), which is the edition.",
         "RFC 5545, 3.8.7.4"}, NAMES, check_edition},

    [CHECK_RECORD_DEVIATES] = {
        {"record-deviates", SEVERITY_NOTE, "a record of more than a tenth more or less than planned",
         "What was really put down counts from now on. A difference as large as this mostly means that the spreader wants "
         "calibrating, or that the area was measured wrongly.",
         "UMass Extension, \"Rotary Spreader Calibration Procedures\" (5 percent is accepted when calibrating); a tenth on "
         "the lawn: " PRACTICE}, RECORDS, check_record_amounts},
    [CHECK_RECORD_UNFORESEEN] = {
        {"record-unforeseen", SEVERITY_WARNING, "a record of a product or zone that the treatment does not plan",
         "It is counted as it stands. Often a name was mistyped.",
         NULL}, RECORDS, NULL},
    [CHECK_RECORD_PARTIAL] = {
        {"record-partial", SEVERITY_NOTE, "a record that leaves out a zone of the treatment",
         "A record with amounts replaces all that was planned for that day: what it does not say was not put down. "
         "Where the rest is still to be done, say `part` in the record, and it stays planned.",
         NULL}, RECORDS, NULL},
    [CHECK_RECORD_WITHOUT_AMOUNTS] = {
        {"record-without-amounts", SEVERITY_NOTE, "a record of an application that says no amounts",
         "The planned amounts are counted in its place. Weigh what is left over, and write what was used.",
         NULL}, RECORDS, NULL},
    [CHECK_RECORD_MANY] = {
        {"record-many", SEVERITY_WARNING, "more records than the treatment has times, or two of one time",
         "What was put down counts in every limit, whether it was planned or not, and stands in the calendar as done. "
         "Often a date or a name was mistyped, or one day was recorded twice; where only a part of a time was done at "
         "first, say `part` in its record.",
         NULL}, RECORDS, check_record_counts},
    [CHECK_RECORD_ORDER] = {
        {"record-order", SEVERITY_NOTE, "records in another order, or at other distances, than the plan asked for",
         "What was done obeys nothing; the rest of the season follows from it. Look whether a date was mistyped.",
         NULL}, RECORDS, check_record_order},
    [CHECK_RECORD_OFF_WINDOW] = {
        {"record-off-window", SEVERITY_NOTE, "a record outside the days the plan gave",
         "What was done obeys nothing. Look whether a date was mistyped.",
         NULL}, RECORDS, check_record_windows},

    [CHECK_ALLOW_ERROR] = {
        {"allow-error", SEVERITY_WARNING, "an `allow` for something that is an error",
         "Warnings and notes are a matter of judgement and can be accepted; errors cannot.",
         NULL}, ALLOWING, NULL},
    [CHECK_ALLOW_UNKNOWN] = {
        {"allow-unknown", SEVERITY_ERROR, "an `allow` for a check that does not exist",
         "A misspelt name would accept nothing and look as if it did.",
         NULL}, ALLOWING, NULL},
    [CHECK_ALLOW_UNUSED] = {
        {"allow-unused", SEVERITY_NOTE, "an `allow` that accepts nothing",
         "Nothing of the kind is reported here any more; left standing, the statement would hide it later.",
         NULL}, ALLOWING, NULL},
};
/* clang-format on */
