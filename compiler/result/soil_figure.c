#include "compiler/result/soil_figure.h"

#include "compiler/model/figure.h"
#include "compiler/model/tolerance.h"
#include "compiler/season/scale_class.h"
#include "compiler/season/need.h"

static double as_written(const struct table_column *column, double si)
{
    return (si - column->offset) / column->factor;
}

/* A nutrient by the name that the report itself has in its column. */
static const char *analyte_name(const struct table_column *column)
{
    switch ((enum analyte)column->kind) {
    case ANALYTE_NUTRIENT:
        return column->nutrient->name;
    case ANALYTE_PH:
        return "pH";
    case ANALYTE_BUFFER_PH:
        return "buffer pH";
    case ANALYTE_ORGANIC_MATTER:
        return "organic matter";
    case ANALYTE_CEC:
        return "CEC";
    case ANALYTE_ACIDITY:
    case ANALYTE_ACIDITY_OF_VOLUME:
        return "acidity";
    }
    return "";
}

/* In the unit of the report, so that a reader finds the figure there; an index and a converted result
 * have only their own. */
static void enough_find(struct soil_figure *figure)
{
    const struct soil_reading *reading = &figure->reading;
    /* From which on there is no need: of the element, or an index; NAN where the scale has none. */
    const struct level *level = reading->level;
    if (!level || !level->minimum)
        level = scale_enough(reading->scale->scale, reading->nutrient->nutrient, reading->judged_index);
    double enough = reading->activity   ? reading->activity->enough
                    : level             ? level_begin(level)
                    : reading->equation ? equation_end(reading->equation)
                                        : (double)NAN;
    figure->judged_unit = figure->unit;
    if (!reading->step && !reading->activity) {
        double element = reading->index ? 1 : figure->column->nutrient->element_per_unit;
        figure->judged = figure->mean;
        figure->enough = as_written(figure->column, enough / element);
    } else if (reading->activity || reading->judged_index) {
        figure->judged = reading->judged;
        figure->enough = enough;
        figure->judged_unit = "index";
    } else {
        figure->judged = reading->judged * 1e6;
        figure->enough = enough * 1e6;
        figure->judged_unit = "ppm";
    }
}

/* Of a scale only where its reading is of this test: a newer one may have taken over. */
struct soil_figure soil_figure_of(const struct season *season, const struct soil_test *test, size_t column)
{
    struct soil_figure figure = {.test = test,
                                 .column = &test->results.columns[column],
                                 .mean = NAN,
                                 .lowest = NAN,
                                 .highest = NAN,
                                 .least = NAN,
                                 .judged = NAN,
                                 .enough = NAN,
                                 .judged_unit = ""};
    figure.name = analyte_name(figure.column);
    figure.unit = figure.column->kind == ANALYTE_ORGANIC_MATTER ? "%" : figure.column->unit_text;
    /* Below what the laboratory can see a spot counts as that limit in the mean, and as nothing in the least
     * mean. */
    const struct table *results = &figure.test->results;
    double sum = 0, seen = 0;
    for (size_t j = 0; j < results->row_count; j++) {
        const struct table_cell *cell = &results->rows[j].cells[column];
        if (isnan(cell->number))
            continue;
        double value = as_written(figure.column, cell->number);
        sum += value;
        seen += cell->below ? 0 : value;
        if (!(figure.lowest <= value)) { /* of a NAN and a number: the number */
            figure.lowest = value;
            figure.lowest_below = cell->below;
        }
        if (!(figure.highest >= value)) {
            figure.highest = value;
            figure.highest_above = cell->above;
        }
        figure.below += cell->below;
        figure.above += cell->above;
        figure.spots++;
    }
    if (figure.spots) {
        figure.mean = sum / (double)figure.spots;
        figure.least = seen / (double)figure.spots;
    }
    if (figure.column->kind == ANALYTE_NUTRIENT) {
        /* The reading of this very test, by a zone for which it is in force from its day on. */
        enum nutrient nutrient = figure.column->nutrient->nutrient;
        figure.superseded = figure.test->zones.count > 0;
        for (size_t i = 0; i < figure.test->zones.count && !figure.read; i++)
            if (soil_reading_on(season, figure.test->zones.items[i], nutrient, figure.test->day,
                                &figure.reading) &&
                figure.reading.test == figure.test) {
                const struct soil_reading *reading = &figure.reading;
                figure.read = reading->level || reading->equation || reading->activity;
                figure.superseded = false;
            }
    }
    if (figure.read)
        enough_find(&figure);
    figure.doubtful = figure.reading.need == NEED_NONE && !figure.reading.step && !figure.reading.activity &&
                      exceeds(figure.enough, figure.least);
    return figure;
}

const struct grass_range *lawn_range(const struct lawn *lawn, enum grass_range_kind kind)
{
    return lawn_range_of(lawn, kind, NUTRIENT_N);
}

/* ---- as bars, which read without colour ---- */

const char soil_bar_legend[] =
    "Bars: # soil level, | enough. pH from 4 to 9: = good range for the grass, # soil.";

enum { BAR_HALF = 12, BAR_WHOLE = 2 * BAR_HALF };

/* "#######.....|............": the mark is where it is enough, the whole bar twice that. Reads without
 * colour. */
const char *bar_of(struct arena *arena, double mean, double enough)
{
    double share = enough > 0 ? mean / enough : 2;
    size_t filled = (size_t)(fmax(fmin(share, 2), 0) * BAR_HALF + 0.5);
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < BAR_WHOLE; i++) {
        if (i == BAR_HALF)
            buffer_add_string(&text, "|");
        buffer_add_string(&text, i < filled ? "#" : ".");
    }
    if (share > 2)
        buffer_add_string(&text, ">");
    return text.string;
}

const char soil_change_legend[] =
    "Bars: o then, # now, * both, | enough. pH from 4 to 9: = good range for the grass.";

const char *bar_of_two(struct arena *arena, double was, double is, double enough)
{
    double was_share = enough > 0 ? was / enough : 2, is_share = enough > 0 ? is / enough : 2;
    size_t then = (size_t)fmin(fmax(was_share, 0) * BAR_HALF, BAR_WHOLE - 1);
    size_t now = (size_t)fmin(fmax(is_share, 0) * BAR_HALF, BAR_WHOLE - 1);
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < BAR_WHOLE; i++) {
        if (i == BAR_HALF)
            buffer_add_string(&text, "|");
        buffer_add_string(&text, i == now ? (i == then ? "*" : "#") : i == then ? "o" : ".");
    }
    return text.string;
}

static const double PH_FIRST = 4, PH_STEP = 0.2;

static size_t ph_cell(double ph)
{
    double cell = floor((ph - PH_FIRST) / PH_STEP + 1e-9);
    return (size_t)fmax(fmin(cell, BAR_WHOLE), 0);
}

/* "......o...=====#===.......": from pH 4 to 9, `=` where the grass does well, `#` the soil, `o` what it was.
 */
const char *ph_bar_of(struct arena *arena, double was, double is, const struct grass_range *range)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i <= BAR_WHOLE; i++) {
        bool within = range && i >= ph_cell(range->low) && i <= ph_cell(range->high);
        bool then = !isnan(was) && i == ph_cell(was), now = i == ph_cell(is);
        buffer_add_string(&text, now ? (then ? "*" : "#") : then ? "o" : within ? "=" : ".");
    }
    return text.string;
}
