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

/* ---- how many spots, and whether they agree ---- */

/* Of several scales the one that wants most samples counts. */
void check_spots_few(struct checking *checking, const struct soil_test *test)
{
    const struct scale *scale = NULL;
    for (size_t i = 0; i < test->scales.count; i++)
        if (!test->scales.items[i].scale->symbol.broken &&
            (!scale || test->scales.items[i].scale->spots > scale->spots))
            scale = test->scales.items[i].scale;
    int cores = (int)test->results.row_count * (test->cores > 0 ? test->cores : 1);
    if (!scale || cores >= scale->spots)
        return;
    struct report *report = finding_add(
        checking, CHECK_SOIL_SPOTS_FEW, ABOUT(first_zone(test), &scale->symbol), test->results_place,
        "%s has %d %s; %s", test_text(checking, test), cores, cores == 1 ? "spot" : "spots",
        text_format(checking->arena, "%s calls for at least %d", name_string(scale->symbol.name),
                    scale->spots));
    report_label(checking->model->reports, report, scale->symbol.place, "the scale");
    report_help(checking->model->reports, report, "%s",
                test->cores > 0 ? "take more cores next time, spread over the zones"
                                : "if each spot's sample was mixed from several cores, say so: cores 12");
}

/* The reading that stands for this column of the test; false where a newer test has taken its place. */
static bool column_reading(struct checking *checking, const struct soil_test *test,
                           const struct table_column *column, struct soil_reading *reading)
{
    return column->kind == ANALYTE_NUTRIENT && column->nutrient && test->zones.count &&
           soil_reading_on(checking->season, test->zones.items[0], column->nutrient->nutrient, INT32_MAX,
                           reading) &&
           reading->test == test && reading->nutrient == column->nutrient;
}

/* "12" of "12 ppm", or of an index. */
static const char *figure_text(struct checking *checking, const struct soil_reading *reading, double figure)
{
    return number_short(checking->arena, reading->index ? figure : figure * 1e6);
}

/* Spots further apart than the scale allows have no mean that means anything. */
void check_spots_disagree(struct checking *checking, const struct soil_test *test)
{
    struct soil_reading reading;
    for (size_t i = 0; i < test->results.column_count; i++)
        if (column_reading(checking, test, &test->results.columns[i], &reading) && reading.disagree) {
            /* "P2O5 lies between 10 and 40 ppm around a mean of 22; minimum-levels allows 30% either way" */
            struct reports *reports = checking->model->reports;
            const struct scale *scale = reading.scale->scale;
            struct buffer text = {.arena = checking->arena};
            buffer_format(&text, "%s lies between %s and %s %s", reading.nutrient->name,
                          figure_text(checking, &reading, reading.lowest),
                          figure_text(checking, &reading, reading.highest), reading.index ? "index" : "ppm");
            buffer_format(&text, " around a mean of %s; %s allows %s either way",
                          figure_text(checking, &reading, reading.mean), name_string(scale->symbol.name),
                          display_share(checking->arena, scale->spread));
            struct report *report =
                finding_add(checking, CHECK_SOIL_SPOTS_DISAGREE, ABOUT(first_zone(test), &scale->symbol),
                            test->results.columns[i].place, "%s", buffer_string(&text));
            for (size_t j = 0; j < test->results.row_count; j++) {
                const struct table_cell *cell = &test->results.rows[j].cells[i];
                if (cell->number <= reading.lowest)
                    report_label(reports, report, cell->place, "the lowest");
                else if (cell->number >= reading.highest)
                    report_label(reports, report, cell->place, "the highest");
            }
            report_help(reports, report,
                        "make the spots that differ zones of their own, with a soil test each");
        }
}

/* ---- the scale that reads them ---- */

enum { SCALES_NAMED = 4 };

/* "minimum-levels and sufficiency-sand": scales that read the test's method, for the region of its first zone
 * or for none; only where there are no such those of other regions. */
static void help_scales(struct checking *checking, struct report *report, const struct soil_test *test)
{
    const struct model *model = checking->model;
    const struct name *region = test->zones.count ? test->zones.items[0]->lawn->region : NULL;
    const char *names[SCALES_NAMED], *method = name_string(test->method);
    size_t count = 0;
    for (int anywhere = 0; anywhere < 2 && !count; anywhere++)
        for (size_t i = 0; i < model->scales.count && count < SCALES_NAMED; i++) {
            const struct scale *scale = model->scales.items[i];
            if (scale->method == test->method && (anywhere || !scale->region || scale->region == region))
                names[count++] = name_string(scale->symbol.name);
        }
    if (count)
        report_help(model->reports, report, "%s is read by %s", method,
                    list_text(checking->arena, names, count, " and "));
    else
        report_help(model->reports, report,
                    "no scale here reads %s; add one from the laboratory's own sheet, with its source",
                    method);
}

/* With the first conversion between the two methods that there is, by the library or the plan. */
static void report_method(struct checking *checking, const struct soil_test *test,
                          const struct test_scale *by)
{
    const struct model *model = checking->model;
    const struct scale *scale = by->scale;
    struct report *report = finding_add(
        checking, CHECK_SOIL_METHOD_MISMATCH, ABOUT(first_zone(test), &scale->symbol), test->method_place,
        "this test was made by %s; %s reads %s", name_string(test->method), name_string(scale->symbol.name),
        scale->method ? name_string(scale->method) : "no method that it states");
    report_label(model->reports, report, by->place, "the scale it names");
    for (size_t i = 0; i < model->conversions.count; i++) {
        const struct conversion *conversion = model->conversions.items[i];
        if (conversion->symbol.broken || conversion->from != test->method || conversion->to != scale->method)
            continue;
        report_note(model->reports, report,
                    "a conversion between the two exists; add to the test: convert %s",
                    name_string(conversion->symbol.name));
        break;
    }
    help_scales(checking, report, test);
}

/* A nutrient that a scale is named for and does not read would stay unread in silence. */
static void check_scale_nutrients(struct checking *checking, const struct soil_test *test,
                                  const struct test_scale *by)
{
    const char *scale = name_string(by->scale->symbol.name);
    unsigned read = 0;
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        read |= (unsigned)scale_speaks_of(by->scale, n) << n;
    for (size_t i = 0; i < by->nutrients.count; i++) {
        const struct value *named = by->nutrients.items[i];
        if (scale_speaks_of(by->scale, named->nutrient->nutrient))
            continue;
        struct report *report =
            finding_add(checking, CHECK_SOIL_SCALE_NUTRIENT, ABOUT(first_zone(test), &by->scale->symbol),
                        named->place, "%s has no figure for %s", scale, named->nutrient->name);
        report_label(checking->model->reports, report, by->scale->symbol.place, "the scale");
        report_help(checking->model->reports, report, "%s reads %s", scale,
                    nutrients_of_bits(checking->arena, read));
    }
}

/* A depth that does not fit, or is missing, is told once for a test. */
void check_soil_scales(struct checking *checking, const struct soil_test *test)
{
    struct reports *reports = checking->model->reports;
    bool depth_reported = false, nutrients = false;
    for (size_t i = 0; i < test->results.column_count; i++)
        nutrients = nutrients || test->results.columns[i].kind == ANALYTE_NUTRIENT;
    /* A test of the pH alone has nothing that a scale reads. */
    if (!test->scales.count && nutrients)
        help_scales(checking,
                    finding_add(checking, CHECK_SOIL_SCALE_MISSING, ABOUT(first_zone(test)),
                                test->results_place, "%s names no scale, so it shows no needs",
                                test_text(checking, test)),
                    test);
    for (size_t i = 0; i < test->scales.count; i++) {
        const struct test_scale *by = &test->scales.items[i];
        const struct scale *scale = by->scale;
        const char *name = name_string(scale->symbol.name);
        if (scale->symbol.broken)
            continue;
        check_scale_nutrients(checking, test, by);
        bool converted = scale->method == test->method;
        for (size_t j = 0; j < test->conversions.count && !converted; j++)
            converted = test->conversions.items[j]->from == test->method &&
                        test->conversions.items[j]->to == scale->method;
        bool other_depth = exceeds(fabs(test->depth_m - scale->depth_m), SAME_DEPTH_M);
        bool no_depth = isnan(test->depth_m) && scale->sum != SUM_NONE;
        if (!converted) {
            report_method(checking, test, by);
        } else if (other_depth && !depth_reported) {
            struct display_pair pair = display_pair(checking->arena, checking->model, QUANTITY_DEPTH,
                                                    test->depth_m, scale->depth_m, NULL);
            struct report *report = finding_add(
                checking, CHECK_SOIL_DEPTH_MISMATCH, ABOUT(first_zone(test), &scale->symbol),
                test->depth_place, "the cores went %s deep; %s is made for %s", pair.value, name, pair.bound);
            report_label(reports, report, scale->symbol.place, "the scale");
            report_help(reports, report, "read these results with care, and sample %s deep next time",
                        pair.bound);
        } else if (no_depth && !depth_reported) {
            struct report *report =
                finding_add(checking, CHECK_SOIL_DEPTH_MISSING, ABOUT(first_zone(test), &scale->symbol),
                            test->results_place, "%s gives no depth; %s needs it to work out amounts",
                            test_text(checking, test), name);
            report_label(reports, report, scale->sum_place, "what it adds up");
            report_help(reports, report,
                        "ask who took the cores how deep they went, and state it as `depth LENGTH`");
        }
        depth_reported = depth_reported || other_depth || no_depth;
    }
}

/* ---- two scales for one nutrient ---- */

/* A scale that is named for a nutrient takes it from the test's other scale. That one may read it too, and
 * say the opposite. */
void check_soil_scales_agree(struct checking *checking, const struct soil_test *test)
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
            reading.scale->place, "%s is %s, and %s",
            text_format(checking->arena, "%s %s %s", name, figure_text(checking, &reading, reading.mean),
                        reading.index ? "index" : "ppm"),
            text_format(checking->arena, "%s by %s, which counts",
                        reading.need == NEED_LOW ? "low" : "enough",
                        name_string(reading.scale->scale->symbol.name)),
            text_format(checking->arena, "%s by %s", by_other.need == NEED_LOW ? "low" : "enough",
                        name_string(other->scale->symbol.name)));
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

/* ---- oxides in results ---- */

/* A laboratory that means the element would be read as less than half of it. */
void check_soil_oxides(struct checking *checking, const struct soil_test *test)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *column = &test->results.columns[i];
        if (column->kind != ANALYTE_NUTRIENT || !column->nutrient || column->nutrient->element_per_unit >= 1)
            continue;
        struct report *report = finding_add(
            checking, CHECK_SOIL_OXIDE, ABOUT(first_zone(test)), column->place,
            "these results are stated as %s; laboratories mostly report the element", column->nutrient->name);
        report_help(checking->model->reports, report,
                    "check the laboratory's sheet; if it says %.1s, write %.1s", column->nutrient->name,
                    column->nutrient->name);
    }
}

/* ---- the laboratory's own rating ---- */

/* One report a nutrient, at the first spot that is rated otherwise than the scale reads it alone. */
void check_soil_ratings(struct checking *checking, const struct soil_test *test)
{
    struct soil_reading reading;
    for (size_t column = 0; column < test->results.column_count; column++) {
        const struct table_cell *first = NULL;
        size_t others = 0;
        if (!column_reading(checking, test, &test->results.columns[column], &reading))
            continue;
        for (size_t i = 0; i < test->results.row_count; i++) {
            const struct table_cell *cell = &test->results.rows[i].cells[column];
            struct soil_reading spot = {.test = test,
                                        .scale = reading.scale,
                                        .nutrient = reading.nutrient,
                                        .index = reading.index,
                                        .mean = cell->number,
                                        .lowest = cell->number,
                                        .highest = cell->number,
                                        .ph = reading.ph,
                                        .spots = 1,
                                        .above_range = cell->above};
            reading_judge(&spot);
            if (!(cell->rating == RATING_LOW && spot.need == NEED_NONE) &&
                !(cell->rating == RATING_ENOUGH && spot.need == NEED_LOW))
                continue;
            others += first != NULL;
            first = first ? first : cell;
        }
        if (!first)
            continue;
        const struct symbol *scale = &reading.scale->scale->symbol;
        const char *by_scale =
            text_format(checking->arena, "%s calls %s %s %s", name_string(scale->name),
                        figure_text(checking, &reading, first->number), reading.index ? "index" : "ppm",
                        first->rating == RATING_LOW ? "enough" : "low");
        struct report *report = finding_add(
            checking, CHECK_SOIL_RATING_DIFFERS, ABOUT(first_zone(test), scale), first->place,
            "%s is rated %s by the laboratory; %s", reading.nutrient->name, first->rating_text, by_scale);
        report_label(checking->model->reports, report, reading.scale->place, "the scale that reads it");
        if (others)
            report_note(checking->model->reports, report, "also %zu other %s", others,
                        others == 1 ? "spot" : "spots");
        report_help(
            checking->model->reports, report,
            "check that %s is made for this laboratory; to follow the laboratory, write in the soil test "
            "what it recommends (`recommends`), and `follow laboratory`",
            name_string(scale->name));
    }
}
