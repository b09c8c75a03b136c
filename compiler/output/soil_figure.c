#include "compiler/output/soil_figure.h"

static double as_written(const struct table_column *column, double si)
{
    return (si - column->offset) / column->factor;
}

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

static void spots_sum(struct soil_figure *figure, size_t column)
{
    const struct table *results = &figure->test->results;
    double sum = 0;
    for (size_t i = 0; i < results->row_count; i++) {
        const struct table_cell *cell = &results->rows[i].cells[column];
        if (isnan(cell->number))
            continue;
        double value = as_written(figure->column, cell->number);
        sum += value;
        figure->lowest = fmin(figure->lowest, value); /* of a NAN and a number: the number */
        figure->highest = fmax(figure->highest, value);
        figure->below += cell->below;
        figure->spots++;
    }
    if (figure->spots)
        figure->mean = sum / (double)figure->spots;
}

/* The reading of this very test, by a zone for which no newer one counts. */
static void reading_find(const struct season *season, struct soil_figure *figure)
{
    enum nutrient nutrient = figure->column->nutrient->nutrient;
    figure->superseded = figure->test->zones.count > 0;
    for (size_t i = 0; i < figure->test->zones.count && !figure->read; i++)
        if (soil_reading_of(season, figure->test->zones.items[i], nutrient, &figure->reading) &&
            figure->reading.test == figure->test) {
            figure->read = figure->reading.level != NULL;
            figure->superseded = false;
        }
}

/* The level from which on there is no need: the minimum, or the class that the scale calls enough. */
static const struct level *level_of_enough(const struct soil_figure *figure)
{
    const struct level *level = figure->reading.level;
    const struct scale *scale = figure->test->scale;
    if (level->minimum || !scale->enough)
        return level->minimum ? level : NULL;
    for (size_t i = 0; i < scale->levels.count; i++) {
        const struct level *other = &scale->levels.items[i];
        if (other->nutrient && other->nutrient->nutrient == level->nutrient->nutrient && !other->minimum &&
            other->name == scale->enough)
            return other;
    }
    return NULL;
}

static void enough_find(struct soil_figure *figure)
{
    const struct level *enough = level_of_enough(figure);
    if (!enough)
        return;
    double as_column =
        enough->low * enough->nutrient->element_per_unit / figure->column->nutrient->element_per_unit;
    figure->enough = as_written(figure->column, as_column);
}

struct soil_figure soil_figure_of(const struct season *season, const struct soil_test *test, size_t column)
{
    struct soil_figure figure = {.test = test,
                                 .column = &test->results.columns[column],
                                 .mean = NAN,
                                 .lowest = NAN,
                                 .highest = NAN,
                                 .enough = NAN};
    figure.name = analyte_name(figure.column);
    figure.unit = figure.column->unit_text;
    spots_sum(&figure, column);
    if (figure.column->kind == ANALYTE_NUTRIENT)
        reading_find(season, &figure);
    if (figure.read)
        enough_find(&figure);
    return figure;
}

const struct grass_range *lawn_range(const struct lawn *lawn, enum grass_range_kind kind)
{
    const struct grass_range *anywhere = NULL;
    for (size_t i = 0; lawn->grass && i < lawn->grass->ranges.count; i++) {
        const struct grass_range *range = &lawn->grass->ranges.items[i];
        if (range->kind != kind)
            continue;
        if (range->region && range->region == lawn->region)
            return range;
        if (!range->region)
            anywhere = range;
    }
    return anywhere;
}
