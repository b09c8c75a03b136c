/* Soil tests themselves: samples, spots, methods, depths, and the forms their results are in. */
#include "compiler/check/checking.h"
#include "compiler/model/symbol.h"
#include "compiler/season/scale_class.h"
#include "compiler/season/scale_offer.h"

#include <math.h>

/* A core of 10 cm and one of 4 in are the same; nobody stops a probe to the millimetre. */
static const double SAME_DEPTH_M = 0.0127;

static const char *test_text(struct checking *checking, const struct soil_test *test)
{
    return text_format(checking->arena, "the soil test of %s", display_date(checking->arena, test->day));
}

static const struct symbol *first_zone(const struct soil_test *test)
{
    return test->zones.count ? &test->zones.items[0]->symbol : NULL;
}

/* Calls `check` for every test that could be read. */
static void walk_tests(struct checking *checking, void (*check)(struct checking *, const struct soil_test *))
{
    for (size_t i = 0; i < checking->model->soil_tests.count; i++)
        if (!checking->model->soil_tests.items[i]->symbol.broken)
            check(checking, checking->model->soil_tests.items[i]);
}

/* ---- how many spots, and whether they agree ---- */

static void check_test_spots(struct checking *checking, const struct soil_test *test)
{
    /* Of several scales the one that wants most. */
    const struct scale *scale = NULL;
    for (size_t i = 0; i < test->scales.count; i++)
        if (!test->scales.items[i].scale->symbol.broken &&
            (!scale || test->scales.items[i].scale->spots > scale->spots))
            scale = test->scales.items[i].scale;
    int cores = (int)test->results.row_count * (test->cores > 0 ? test->cores : 1);
    if (!scale || cores >= scale->spots)
        return;
    struct report *report =
        finding_add(checking, CHECK_SOIL_SPOTS_FEW, ABOUT(first_zone(test), &scale->symbol),
                    test->results_place, "%s is of %d %s; %s asks for at least %d", test_text(checking, test),
                    cores, cores == 1 ? "spot" : "spots", name_string(scale->symbol.name), scale->spots);
    report_label(checking->model->reports, report, scale->symbol.place, "the scale");
    report_help(checking->model->reports, report, "%s",
                test->cores > 0 ? "take more cores next time, spread over the zones"
                                : "if each spot's sample was mixed from several cores, say so: cores 12");
}

void check_spots_few(struct checking *checking)
{
    walk_tests(checking, check_test_spots);
}

/* The reading that stands for this column of the test; false where a newer test has taken its place. */
static bool column_reading(struct checking *checking, const struct soil_test *test,
                           const struct table_column *column, struct soil_reading *reading)
{
    return column->kind == ANALYTE_NUTRIENT && column->nutrient && test->zones.count &&
           soil_reading_of(checking->season, test->zones.items[0], column->nutrient->nutrient, reading) &&
           reading->test == test && reading->nutrient == column->nutrient;
}

static void label_extremes(struct checking *checking, struct report *report, const struct soil_test *test,
                           size_t column, const struct soil_reading *reading)
{
    for (size_t i = 0; i < test->results.row_count; i++) {
        const struct table_cell *cell = &test->results.rows[i].cells[column];
        bool lowest = cell->number <= reading->lowest, highest = cell->number >= reading->highest;
        if (lowest || highest)
            report_label(checking->model->reports, report, cell->place, "the %s",
                         lowest ? "lowest" : "highest");
    }
}

/* "12" of "12 ppm", or of an index. */
static const char *figure_text(struct checking *checking, const struct soil_reading *reading, double figure)
{
    return number_short(checking->arena, reading->index ? figure : figure * 1e6);
}

static void report_disagreement(struct checking *checking, const struct soil_test *test, size_t column,
                                const struct soil_reading *reading)
{
    const struct scale *scale = reading->scale->scale;
    struct report *report = finding_add(
        checking, CHECK_SOIL_SPOTS_DISAGREE, ABOUT(first_zone(test), &scale->symbol),
        test->results.columns[column].place,
        "%s lies between %s and %s %s around a mean of %s; %s allows %s either way", reading->nutrient->name,
        figure_text(checking, reading, reading->lowest), figure_text(checking, reading, reading->highest),
        reading->index ? "index" : "ppm", figure_text(checking, reading, reading->mean),
        name_string(scale->symbol.name), display_share(checking->arena, scale->spread));
    label_extremes(checking, report, test, column, reading);
    report_help(checking->model->reports, report,
                "make the spots that differ zones of their own, with a soil test each");
}

static void check_test_agreement(struct checking *checking, const struct soil_test *test)
{
    struct soil_reading reading;
    for (size_t i = 0; i < test->results.column_count; i++)
        if (column_reading(checking, test, &test->results.columns[i], &reading) && reading.disagree)
            report_disagreement(checking, test, i, &reading);
}

void check_spots_disagree(struct checking *checking)
{
    walk_tests(checking, check_test_agreement);
}

/* ---- the scale that reads them ---- */

enum { SCALES_NAMED = 4 };

static size_t scales_for(struct checking *checking, const struct name *method, const struct name *region,
                         bool anywhere, const char *names[SCALES_NAMED])
{
    size_t count = 0;
    for (size_t i = 0; i < checking->model->scales.count && count < SCALES_NAMED; i++) {
        const struct scale *scale = checking->model->scales.items[i];
        if (scale->method == method && (anywhere || !scale->region || scale->region == region))
            names[count++] = name_string(scale->symbol.name);
    }
    return count;
}

/* "minimum-levels and sufficiency-sand": scales that read the test's method, for the region of its first zone
 * or for none; only where there are no such those of other regions; "" when there is none at all. */
static const char *scales_of(struct checking *checking, const struct soil_test *test)
{
    const struct name *region = test->zones.count ? test->zones.items[0]->lawn->region : NULL;
    const char *names[SCALES_NAMED];
    size_t count = scales_for(checking, test->method, region, false, names);
    if (!count)
        count = scales_for(checking, test->method, region, true, names);
    return list_text(checking->arena, names, count, " and ");
}

static void help_scales(struct checking *checking, struct report *report, const struct soil_test *test)
{
    const char *scales = scales_of(checking, test);
    const char *method = text_string(checking->arena, test->method->text);
    if (*scales)
        report_help(checking->model->reports, report, "%s is read by %s", method, scales);
    else
        report_help(checking->model->reports, report,
                    "no scale here reads %s; add one from the laboratory's own sheet, with its source",
                    method);
}

/* Whether a conversion that the test names counts its results by the scale's method. */
static bool test_converts(const struct soil_test *test, const struct scale *scale)
{
    for (size_t i = 0; i < test->conversions.count; i++) {
        const struct conversion *conversion = test->conversions.items[i];
        if (conversion->from == test->method && conversion->to == scale->method)
            return true;
    }
    return false;
}

/* "bray-1-from-mehlich-3", the first that would do; NULL when the library and the plan have none. */
static const char *conversion_for(struct checking *checking, const struct soil_test *test,
                                  const struct scale *scale)
{
    for (size_t i = 0; i < checking->model->conversions.count; i++) {
        const struct conversion *conversion = checking->model->conversions.items[i];
        if (!conversion->symbol.broken && conversion->from == test->method && conversion->to == scale->method)
            return name_string(conversion->symbol.name);
    }
    return NULL;
}

static void report_method(struct checking *checking, const struct soil_test *test,
                          const struct test_scale *by)
{
    const struct scale *scale = by->scale;
    struct report *report = finding_add(
        checking, CHECK_SOIL_METHOD_MISMATCH, ABOUT(first_zone(test), &scale->symbol), test->method_place,
        "this test was made by %s; %s reads %s", text_string(checking->arena, test->method->text),
        name_string(scale->symbol.name),
        scale->method ? text_string(checking->arena, scale->method->text) : "no method that it states");
    report_label(checking->model->reports, report, by->place, "the scale it names");
    const char *conversion = conversion_for(checking, test, scale);
    if (conversion)
        report_note(checking->model->reports, report,
                    "there is a conversion between the two, which the test may name: convert %s", conversion);
    help_scales(checking, report, test);
}

static void report_depth(struct checking *checking, const struct soil_test *test, const struct scale *scale)
{
    struct display_pair pair =
        display_pair(checking->arena, checking->model, QUANTITY_DEPTH, test->depth_m, scale->depth_m, NULL);
    struct report *report = finding_add(
        checking, CHECK_SOIL_DEPTH_MISMATCH, ABOUT(first_zone(test), &scale->symbol), test->depth_place,
        "the cores went %s deep; %s is made for %s", pair.value, name_string(scale->symbol.name), pair.bound);
    report_label(checking->model->reports, report, scale->symbol.place, "the scale");
    report_help(checking->model->reports, report,
                "read these results with care, and sample %s deep next time", pair.bound);
}

static void report_no_depth(struct checking *checking, const struct soil_test *test,
                            const struct scale *scale)
{
    struct report *report =
        finding_add(checking, CHECK_SOIL_DEPTH_MISSING, ABOUT(first_zone(test), &scale->symbol),
                    test->results_place, "%s does not say how deep the cores went; %s counts by it",
                    test_text(checking, test), name_string(scale->symbol.name));
    report_label(checking->model->reports, report, scale->sum_place, "what it adds up");
    report_help(checking->model->reports, report,
                "ask who took the cores how deep they went, and state it as `depth LENGTH`");
}

/* A test of the pH alone has nothing that a scale reads. */
static void report_no_scale(struct checking *checking, const struct soil_test *test)
{
    bool nutrients = false;
    for (size_t i = 0; i < test->results.column_count; i++)
        nutrients = nutrients || test->results.columns[i].kind == ANALYTE_NUTRIENT;
    if (!nutrients)
        return;
    struct report *report =
        finding_add(checking, CHECK_SOIL_SCALE_MISSING, ABOUT(first_zone(test)), test->results_place,
                    "%s names no scale, so it finds no needs", test_text(checking, test));
    help_scales(checking, report, test);
}

/* "Fe, Zn, Cu, B, Mn": what the scale reads, in the order of the nutrients. */
static const char *nutrients_read(struct checking *checking, const struct scale *scale)
{
    unsigned read = 0;
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        read |= (unsigned)scale_speaks_of(scale, n) << n;
    return nutrients_of_bits(checking->arena, read);
}

/* A nutrient that a scale is named for and does not read would stay unread in silence. */
static void check_scale_nutrients(struct checking *checking, const struct soil_test *test,
                                  const struct test_scale *by)
{
    for (size_t i = 0; i < by->nutrients.count; i++) {
        const struct value *named = by->nutrients.items[i];
        if (scale_speaks_of(by->scale, named->nutrient->nutrient))
            continue;
        const char *scale = name_string(by->scale->symbol.name);
        struct report *report =
            finding_add(checking, CHECK_SOIL_SCALE_NUTRIENT, ABOUT(first_zone(test), &by->scale->symbol),
                        named->place, "%s has no figure for %s", scale, named->nutrient->name);
        report_label(checking->model->reports, report, by->scale->symbol.place, "the scale");
        report_help(checking->model->reports, report, "%s reads %s", scale,
                    nutrients_read(checking, by->scale));
    }
}

static void check_test_scale(struct checking *checking, const struct soil_test *test)
{
    bool depth_told = false;
    if (!test->scales.count)
        report_no_scale(checking, test);
    for (size_t i = 0; i < test->scales.count; i++) {
        const struct test_scale *by = &test->scales.items[i];
        const struct scale *scale = by->scale;
        if (scale->symbol.broken)
            continue;
        check_scale_nutrients(checking, test, by);
        bool other_depth = exceeds(fabs(test->depth_m - scale->depth_m), SAME_DEPTH_M);
        bool no_depth = isnan(test->depth_m) && scale->sum != SUM_NONE;
        if (scale->method != test->method && !test_converts(test, scale))
            report_method(checking, test, by);
        else if (other_depth && !depth_told)
            report_depth(checking, test, scale);
        else if (no_depth && !depth_told)
            report_no_depth(checking, test, scale);
        depth_told = depth_told || other_depth || no_depth;
    }
}

void check_soil_scales(struct checking *checking)
{
    walk_tests(checking, check_test_scale);
}

/* ---- two scales for one nutrient ---- */

/* A scale that is named for a nutrient takes it from the test's other scale. That one may read it too, and
 * say the opposite. */
static void check_test_scales_agree(struct checking *checking, const struct soil_test *test)
{
    struct soil_reading reading;
    for (size_t i = 0; i < test->results.column_count; i++) {
        if (!column_reading(checking, test, &test->results.columns[i], &reading) || !reading.scale)
            continue;
        const struct test_scale *other = test_scale_for_others(test);
        if (!other || other == reading.scale)
            continue;
        struct soil_reading by_other = {.test = test,
                                        .scale = other,
                                        .nutrient = reading.nutrient,
                                        .index = reading.index,
                                        .mean = reading.mean,
                                        .lowest = reading.lowest,
                                        .highest = reading.highest,
                                        .ph = reading.ph,
                                        .spots = reading.spots,
                                        .above_range = reading.above_range};
        reading_judge(&by_other);
        if (reading.need == NEED_UNKNOWN || by_other.need == NEED_UNKNOWN || reading.need == by_other.need)
            continue;
        const char *name = reading.nutrient->name;
        struct report *report = finding_add(
            checking, CHECK_SOIL_SCALES_DISAGREE, ABOUT(first_zone(test), &reading.scale->scale->symbol),
            reading.scale->place, "%s %s %s is %s by %s, which counts, and %s by %s", name,
            figure_text(checking, &reading, reading.mean), reading.index ? "index" : "ppm",
            reading.need == NEED_LOW ? "low" : "enough", name_string(reading.scale->scale->symbol.name),
            by_other.need == NEED_LOW ? "low" : "enough", name_string(other->scale->symbol.name));
        report_label(checking->model->reports, report, other->place, "the scale for all other nutrients");
        if (reading.level)
            report_label(checking->model->reports, report, reading.level->place, "what counts");
        if (by_other.level)
            report_label(checking->model->reports, report, by_other.level->place, "the other figure");
        report_help(checking->model->reports, report,
                    "check which of the two is made for this laboratory; to read %s by %s, take it off the "
                    "list after `for`",
                    name, name_string(other->scale->symbol.name));
    }
}

void check_soil_scales_agree(struct checking *checking)
{
    walk_tests(checking, check_test_scales_agree);
}

/* ---- oxides in results ---- */

static void check_test_oxides(struct checking *checking, const struct soil_test *test)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *column = &test->results.columns[i];
        if (column->kind != ANALYTE_NUTRIENT || !column->nutrient || column->nutrient->element_per_unit >= 1)
            continue;
        struct report *report = finding_add(
            checking, CHECK_SOIL_OXIDE, ABOUT(first_zone(test)), column->place,
            "these results are stated as %s; laboratories mostly report the element", column->nutrient->name);
        report_help(checking->model->reports, report,
                    "look at the laboratory's sheet; if it says %.1s, write %.1s", column->nutrient->name,
                    column->nutrient->name);
    }
}

void check_soil_oxides(struct checking *checking)
{
    walk_tests(checking, check_test_oxides);
}

/* ---- the laboratory's own rating ---- */

static bool rating_differs(const struct soil_reading *reading, const struct table_cell *cell)
{
    struct soil_reading spot = {.test = reading->test,
                                .scale = reading->scale,
                                .nutrient = reading->nutrient,
                                .index = reading->index,
                                .mean = cell->number,
                                .lowest = cell->number,
                                .highest = cell->number,
                                .ph = reading->ph,
                                .spots = 1,
                                .above_range = cell->above};
    reading_judge(&spot);
    return (cell->rating == RATING_LOW && spot.need == NEED_NONE) ||
           (cell->rating == RATING_ENOUGH && spot.need == NEED_LOW);
}

/* One report a nutrient, at the first spot that is rated otherwise than the scale reads it. */
static void check_column_ratings(struct checking *checking, const struct soil_test *test, size_t column,
                                 const struct soil_reading *reading)
{
    const struct table_cell *first = NULL;
    size_t others = 0;
    for (size_t i = 0; i < test->results.row_count; i++) {
        const struct table_cell *cell = &test->results.rows[i].cells[column];
        if (!rating_differs(reading, cell))
            continue;
        others += first != NULL;
        first = first ? first : cell;
    }
    if (!first)
        return;
    const struct symbol *scale = &reading->scale->scale->symbol;
    struct report *report = finding_add(
        checking, CHECK_SOIL_RATING_DIFFERS, ABOUT(first_zone(test), scale), first->place,
        "%s is rated %s by the laboratory; %s calls %s %s %s", reading->nutrient->name, first->rating_text,
        name_string(scale->name), figure_text(checking, reading, first->number),
        reading->index ? "index" : "ppm", first->rating == RATING_LOW ? "enough" : "low");
    report_label(checking->model->reports, report, reading->scale->place, "the scale that reads it");
    if (others)
        report_note(checking->model->reports, report, "also %zu other %s", others,
                    others == 1 ? "spot" : "spots");
    report_help(
        checking->model->reports, report,
        "check that %s is made for this laboratory; to follow the laboratory, write in the soil test what it "
        "recommends (`recommends`), and `follow laboratory`",
        name_string(scale->name));
}

static void check_test_ratings(struct checking *checking, const struct soil_test *test)
{
    struct soil_reading reading;
    for (size_t i = 0; i < test->results.column_count; i++)
        if (column_reading(checking, test, &test->results.columns[i], &reading))
            check_column_ratings(checking, test, i, &reading);
}

void check_soil_ratings(struct checking *checking)
{
    walk_tests(checking, check_test_ratings);
}
