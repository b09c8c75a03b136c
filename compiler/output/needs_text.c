#include "compiler/output/needs_text.h"

#include "compiler/model/display.h"
#include "compiler/output/closing.h"
#include "compiler/output/footnote.h"
#include "compiler/output/paragraph.h"
#include "compiler/output/soil_figure.h"
#include "compiler/output/standing.h"
#include "compiler/output/nutrient_text.h"
#include "compiler/output/work.h"

struct needs {
    struct buffer *out;
    struct arena *arena;
    const struct season *season;
    const struct model *model;
    struct footnotes notes;
};

/* ---- a bar: what is there, against what is enough ---- */

enum { BAR_HALF = 12, BAR_WHOLE = 2 * BAR_HALF };

/* "#######.....|............": the mark is where the need ends, the whole bar twice that. Reads without
 * colour. */
static const char *bar(struct arena *arena, double mean, double enough)
{
    double share = enough > 0 ? mean / enough : 2;
    size_t filled = (size_t)(fmin(share, 2) * BAR_HALF + 0.5);
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

/* ---- a line of the report ---- */

/* Three digits: a laboratory promises no more. */
static const char *number(const struct needs *needs, double value)
{
    int decimals = value >= 100 ? 0 : value >= 10 ? 1 : value >= 1 ? 2 : 3;
    return number_text(needs->arena, value, decimals);
}

/* "12 ppm (11 to 13)" */
static const char *figure_text(const struct needs *needs, const struct soil_figure *figure)
{
    struct buffer text = {.arena = needs->arena};
    buffer_format(&text, "%s%s%s", number(needs, figure->mean), *figure->unit ? " " : "", figure->unit);
    if (figure->highest > figure->lowest)
        buffer_format(&text, " (%s to %s)", number(needs, figure->lowest), number(needs, figure->highest));
    return text.string;
}

static void say_level(struct needs *needs, const struct soil_figure *figure)
{
    const struct level *level = figure->reading.level;
    const char *mark = footnote_mark(&needs->notes, level->source);
    double gap = fabs(figure->enough - figure->mean);
    const char *place = place_line(needs->arena, level->place);
    struct buffer text = {.arena = needs->arena};
    if (level->minimum)
        buffer_format(&text, "%s: the minimum is %s%s", figure->reading.need == NEED_LOW ? "Low" : "Enough",
                      level->text, mark);
    else
        buffer_format(&text, "Class %s (%s)%s", name_string(level->name), level->text, mark);
    if (figure->reading.need == NEED_LOW && !isnan(figure->enough))
        buffer_format(&text, "; %s %s short of enough, so there is a need", number(needs, gap), figure->unit);
    else if (figure->reading.need == NEED_NONE)
        buffer_format(&text, "; no need");
    else
        buffer_format(&text, "; the scale does not say from which class on it is enough");
    buffer_format(&text, " (%s).", place);
    paragraph_add(needs->out, "      ", text.string);
}

static void say_spots(struct needs *needs, const struct soil_figure *figure)
{
    if (figure->reading.disagree)
        paragraph_add(needs->out, "      ",
                      text_format(needs->arena,
                                  "The spots lie more than %s from their mean: treat them apart.",
                                  display_share(needs->arena, figure->test->scale->spread)));
    if (figure->below)
        paragraph_add(
            needs->out, "      ",
            text_format(needs->arena,
                        "%zu of %zu spots below what the laboratory can see; counted at that limit.",
                        figure->below, figure->spots));
}

static void print_nutrient(struct needs *needs, const struct soil_figure *figure)
{
    if (figure->superseded)
        paragraph_add(needs->out, "      ", "A newer test counts in its place.");
    else if (figure->read)
        say_level(needs, figure);
    else
        paragraph_add(needs->out, "      ", "No scale of this plan reads it.");
    say_spots(needs, figure);
}

/* ---- pH ---- */

static const char *ph_advice(const struct needs *needs, const struct soil_figure *figure,
                             const struct grass_range *range)
{
    if (figure->mean < range->low)
        return text_format(needs->arena, "%s too low: lime, by the laboratory's own recommendation",
                           number(needs, range->low - figure->mean));
    if (figure->mean > range->high)
        return text_format(needs->arena, "%s too high: ask the laboratory before treating",
                           number(needs, figure->mean - range->high));
    return "nothing to do";
}

static void say_ph_of_lawn(struct needs *needs, const struct soil_figure *figure, const struct lawn *lawn)
{
    const struct grass_range *range = lawn_range(lawn, GRASS_PH);
    const char *grass = lawn->grass ? name_string(lawn->grass->thing.name) : "the grass";
    if (!range) {
        paragraph_add(needs->out, "      ",
                      text_format(needs->arena, "No range of pH is stated for %s on %s.", grass,
                                  name_string(lawn->thing.name)));
        return;
    }
    paragraph_add(needs->out, "      ",
                  text_format(needs->arena, "%s on %s does well from %s to %s%s: %s (%s).", grass,
                              name_string(lawn->thing.name), number_fixed(needs->arena, range->low, 1),
                              number_fixed(needs->arena, range->high, 1),
                              footnote_mark(&needs->notes, range->source), ph_advice(needs, figure, range),
                              place_line(needs->arena, range->place)));
}

/* Once for each lawn: zones of one lawn mostly stand together. */
static void print_ph(struct needs *needs, const struct soil_figure *figure)
{
    const struct soil_test *test = figure->test;
    for (size_t i = 0; i < test->zones.count; i++)
        if (i == 0 || test->zones.items[i]->lawn != test->zones.items[i - 1]->lawn)
            say_ph_of_lawn(needs, figure, test->zones.items[i]->lawn);
}

/* ---- a test ---- */

static void print_figure(struct needs *needs, const struct soil_figure *figure, uint32_t name_cells)
{
    buffer_add_string(needs->out, "  ");
    field_add(needs->out, figure->name, name_cells + 2);
    if (isnan(figure->mean)) {
        buffer_add_string(needs->out, "no figure\n");
        return;
    }
    const char *text = figure_text(needs, figure);
    bool measured = figure->read && !isnan(figure->enough);
    field_add(needs->out, text, measured ? 28 : 0);
    if (measured)
        buffer_add_string(needs->out, bar(needs->arena, figure->mean, figure->enough));
    buffer_add_string(needs->out, "\n");
    if (figure->column->kind == ANALYTE_NUTRIENT)
        print_nutrient(needs, figure);
    else if (figure->column->kind == ANALYTE_PH)
        print_ph(needs, figure);
}

static const char *names_joined(struct arena *arena, const struct soil_test *test)
{
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < test->zones.count; i++)
        buffer_format(&text, "%s%s", i ? ", " : "", name_string(test->zones.items[i]->thing.name));
    return buffer_string(&text);
}

static void print_test_head(struct needs *needs, const struct soil_test *test)
{
    struct buffer text = {.arena = needs->arena};
    paragraph_add(needs->out, "",
                  text_format(needs->arena, "Soil test of %s (%s)", display_date(needs->arena, test->day),
                              place_line(needs->arena, test->thing.place)));
    buffer_format(&text, "Zones %s. ", names_joined(needs->arena, test));
    if (test->method)
        buffer_format(&text, "Method %s. ", name_string(test->method));
    if (!isnan(test->depth_m))
        buffer_format(&text, "%s deep. ", display_depth(needs->arena, needs->model, test->depth_m));
    buffer_format(&text, "%zu %s", test->results.row_count, test->results.row_count == 1 ? "spot" : "spots");
    if (test->cores)
        buffer_format(&text, " of %d %s", test->cores, test->cores == 1 ? "core" : "cores");
    buffer_add_string(&text, ". ");
    if (test->scale)
        buffer_format(&text, "Read by the scale %s (%s).", name_string(test->scale->thing.name),
                      place_line(needs->arena, test->scale->thing.place));
    else
        buffer_add_string(&text, "No scale reads it.");
    paragraph_add(needs->out, "  ", text.string);
    buffer_add_string(needs->out, "\n");
}

static bool test_holds(const struct soil_test *test, int kind, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *column = &test->results.columns[i];
        if (column->kind == kind && (kind != ANALYTE_NUTRIENT || column->nutrient->nutrient == nutrient))
            return true;
    }
    return false;
}

static bool scale_reads_nutrient(const struct scale *scale, enum nutrient nutrient)
{
    for (size_t i = 0; i < scale->levels.count; i++)
        if (scale->levels.items[i].nutrient && scale->levels.items[i].nutrient->nutrient == nutrient)
            return true;
    return false;
}

/* What the scale could have read, and pH. */
static void print_lacking(struct needs *needs, const struct soil_test *test)
{
    struct buffer text = {.arena = needs->arena};
    if (!test_holds(test, ANALYTE_PH, NUTRIENT_COUNT))
        buffer_add_string(&text, "pH");
    for (enum nutrient n = NUTRIENT_N; test->scale && n < NUTRIENT_SOLUBLE_N; n++)
        if (scale_reads_nutrient(test->scale, n) && !test_holds(test, ANALYTE_NUTRIENT, n)) {
            const char *oxide = nutrient_trade_form(n)->name;
            const char *element = n == NUTRIENT_P ? "P" : n == NUTRIENT_K ? "K" : oxide;
            buffer_format(&text, "%s%s", text.length ? ", " : "", element);
        }
    if (text.length)
        paragraph_add(needs->out, "  ", text_format(needs->arena, "Not in the report: %s.", text.string));
}

static void print_test(struct needs *needs, const struct soil_test *test)
{
    print_test_head(needs, test);
    uint32_t cells = 0;
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(needs->season, test, i);
        uint32_t name = field_cells(needs->arena, figure.name);
        cells = name > cells ? name : cells;
    }
    for (size_t i = 0; i < test->results.column_count; i++) {
        struct soil_figure figure = soil_figure_of(needs->season, test, i);
        print_figure(needs, &figure, cells);
    }
    print_lacking(needs, test);
    buffer_add_string(needs->out, "\n");
}

/* ---- what no test says ---- */

static bool zone_tested(const struct model *model, const struct zone *zone)
{
    for (size_t i = 0; i < model->soil_tests.count; i++)
        for (size_t j = 0; j < model->soil_tests.items[i]->zones.count; j++)
            if (model->soil_tests.items[i]->zones.items[j] == zone)
                return true;
    return false;
}

static void print_untested(struct needs *needs)
{
    struct buffer text = {.arena = needs->arena};
    for (size_t i = 0; i < needs->model->zones.count; i++)
        if (!zone_tested(needs->model, needs->model->zones.items[i]))
            buffer_format(&text, "%s%s", text.length ? ", " : "",
                          name_string(needs->model->zones.items[i]->thing.name));
    if (text.length)
        paragraph_add(needs->out, "", text_format(needs->arena, "No soil test: %s.", text.string));
}

/* Nitrogen is not read from these tests: the grass says what a year asks. */
static void print_nitrogen(struct needs *needs, const struct lawn *lawn)
{
    const struct grass_range *range = lawn_range(lawn, GRASS_YEARLY);
    if (!range || !range->nutrient)
        return;
    double per = range->nutrient->element_per_unit;
    paragraph_add(needs->out, "",
                  text_format(needs->arena, "%s on %s takes %s of %s a year%s (%s).",
                              name_string(lawn->grass->thing.name), name_string(lawn->thing.name),
                              quantity_range_text(needs->arena, needs->model, QUANTITY_MASS_RATE,
                                                  range->low / per, range->high / per),
                              range->nutrient->name, footnote_mark(&needs->notes, range->source),
                              place_line(needs->arena, range->place)));
}

void needs_text_print(struct buffer *out, const struct season *season)
{
    const struct model *model = season->model;
    struct needs needs = {
        .out = out, .arena = out->arena, .season = season, .model = model, .notes = {.arena = out->arena}};
    paragraph_add(out, "", model->title ? model->title : "A plan without a name");
    paragraph_add(out, "",
                  model->soil_tests.count ? "What the soil tests say." : "The plan has no soil test.");
    buffer_add_string(out, "\n");
    for (size_t i = 0; i < model->soil_tests.count; i++)
        print_test(&needs, model->soil_tests.items[i]);
    for (size_t i = 0; i < model->lawns.count; i++)
        print_nitrogen(&needs, model->lawns.items[i]);
    if (model->soil_tests.count)
        print_untested(&needs);
    footnotes_print(out, &needs.notes);
    buffer_add_string(out, "\n");
    struct closing closing = closing_of(model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
