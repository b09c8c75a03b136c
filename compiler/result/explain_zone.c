/* Zones and lawns: areas by their formulas, what their soil needs, what they received. */
#include "compiler/result/explanation.h"

#include "compiler/result/zone_groups.h"
#include "compiler/result/need_text.h"
#include "compiler/result/nutrient_text.h"
#include "compiler/result/soil_figure.h"

/* A formula in words, the operands to follow it in the order of a shape's sizes; NULL: told in its own
 * way. */
static const struct shape_formula {
    const char *formula;
    size_t operands;
} formulas[] = {
    [SHAPE_AREA] = {"as stated", 0},
    [SHAPE_RECTANGLE] = {"length x width", 2},
    [SHAPE_SQUARE] = {"side x side", 1},
    [SHAPE_CIRCLE] = {"pi / 4 x (width across)^2", 1},
    [SHAPE_RADIUS] = {"pi x radius^2", 1},
    [SHAPE_TRIANGLE] = {"base x height / 2", 2},
    [SHAPE_SIDES] = {"Heron's formula for three sides", 3},
    [SHAPE_TRAPEZOID] = {"(first side + second side) / 2 x distance", 3},
    [SHAPE_ELLIPSE] = {"pi / 4 x length x width", 2},
    [SHAPE_POLYGON] = {"shoelace formula over the corners", 0},
    [SHAPE_OFFSETS] = {"trapezoid rule: spacing x (half the first width + those between + half the last)", 0},
    [SHAPE_GROUP] = {NULL, 0},
};

static const char *area(struct explanation *explanation, double m2)
{
    return display_area(explanation->arena, explanation->model, m2);
}

static const char *length(struct explanation *explanation, double m)
{
    return display_length(explanation->arena, explanation->model, m);
}

/* ": 62 ft, 40 ft"; of offsets ": 10 ft x (8 ft / 2 + 9.5 ft + 7 ft / 2)" */
static const char *operands(struct explanation *explanation, const struct shape_part *part)
{
    struct buffer text = {.arena = explanation->arena};
    bool offsets = part->kind == SHAPE_OFFSETS;
    size_t count = offsets ? part->size_count : formulas[part->kind].operands;
    if (offsets)
        buffer_format(&text, ": %s x (", length(explanation, part->sizes[0]));
    for (size_t i = offsets; i < count && i < part->size_count; i++) {
        buffer_add_string(&text, i == 0 ? ": " : !offsets ? ", " : i > 1 ? " + " : "");
        buffer_add_string(&text, length(explanation, part->sizes[i]));
        if (offsets && (i == 1 || i + 1 == count))
            buffer_add_string(&text, " / 2");
    }
    buffer_add_string(&text, offsets ? ")" : "");
    return buffer_string(&text);
}

/* Each part with its statement and formula, and the sum of them; parts in parentheses likewise, one
 * deeper. */
static void explain_shape(struct explanation *explanation, const struct shape *shape, int depth)
{
    struct buffer sum = {.arena = explanation->arena};
    for (size_t i = 0; i < shape->part_count; i++) {
        const struct shape_part *part = &shape->parts[i];
        const char *sign = part->less ? "less " : "", *size = area(explanation, part->area);
        if (part->kind == SHAPE_GROUP) {
            explain_line(explanation, depth, "%sthe parts in parentheses: %s", sign, size);
            explain_shape(explanation, part->group, depth + 1);
        } else {
            struct buffer line = {.arena = explanation->arena};
            buffer_format(&line, "%s%s, ", sign, explain_statement(explanation, part->place));
            buffer_format(&line, "%s%s", formulas[part->kind].formula, operands(explanation, part));
            explain_line(explanation, depth, "%s = %s", line.string, size);
        }
        buffer_format(&sum, "%s%s", i == 0 ? "" : part->less ? " - " : " + ", size);
    }
    if (shape->part_count > 1)
        explain_line(explanation, depth, "%s = %s", sum.string, area(explanation, shape->area));
}

/* ---- what came to it ---- */

static const char *supplied_text(struct explanation *explanation, const double supplied[NUTRIENT_COUNT])
{
    const char *text =
        nutrients_text(explanation->arena, explanation->model, supplied, supplied, NULL, false);
    return text ? text : "no nutrient";
}

/* What the soil tests in force say of each nutrient and of the pH. */
static void explain_soil(struct explanation *explanation, const struct zone *zone)
{
    struct arena *arena = explanation->arena;
    struct need_words words = {arena, explanation->model, &explanation->notes};
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        struct zone_need need;
        need_of(explanation->season, zone, n, &need);
        if (!need.read)
            continue;
        /* "Soil test of Fri 2027-02-12 (line 9), K: mean of 3 spots, 43.7 ppm; enough by `...`, line 3." */
        static const char *const verdicts[] = {
            [NEED_UNKNOWN] = "no scale", [NEED_NONE] = "enough", [NEED_LOW] = "below the minimum"};
        struct buffer line = {.arena = arena};
        buffer_format(&line, "Soil test of %s (%s), %s: ", display_date(arena, need.reading.test->day),
                      explain_place(explanation, need.reading.test->symbol.place),
                      need.reading.nutrient->name);
        buffer_format(&line, "mean of %zu %s, ", need.reading.spots,
                      need.reading.spots == 1 ? "spot" : "spots");
        buffer_format(&line, "%s %s",
                      number_short(arena, need.reading.index ? need.reading.mean : need.reading.mean * 1e6),
                      need.reading.index ? "index" : "ppm");
        buffer_format(&line, "; %s", verdicts[need.reading.need]);
        if (need.reading.level)
            buffer_format(&line, " by %s", explain_statement(explanation, need.reading.level->place));
        explain_line(explanation, 1, "%s.", line.string);
        const char *reason = need_reason(&words, &need, false);
        explain_line(explanation, 2, "%s%s%s", sentence_of(arena, need_sentence(&words, &need)),
                     *reason ? " " : "", reason);
    }
    struct lime_need lime;
    lime_need_of(explanation->season, zone, &lime);
    if (!lime.test)
        return;
    const char *reason = lime_reason(&words, &lime);
    explain_line(explanation, 1, "pH %s. %s%s%s", number_short(arena, lime.ph), lime_sentence(&words, &lime),
                 *reason ? " " : "", reason);
}

/* How large it is, what its soil needs, and what it gets. */
void explain_zone(struct explanation *explanation, const struct zone *zone)
{
    explain_heading(explanation, 0, "Zone %s of the lawn %s (%s)", name_string(zone->symbol.name),
                    name_string(zone->lawn->symbol.name), explain_place(explanation, zone->symbol.place));
    explain_line(explanation, 1, "Area %s:", area(explanation, zone->area_m2));
    if (zone->shape)
        explain_shape(explanation, zone->shape, 2);
    if (isfinite(zone->water_m))
        explain_line(explanation, 1, "%s from water (%s).", length(explanation, zone->water_m),
                     explain_place(explanation, zone->water_place));
    explain_soil(explanation, zone);
    /* Each application of the season, and their sum. */
    const struct ledger *ledger = &explanation->season->ledgers[zone->index];
    struct arena *arena = explanation->arena;
    double sum[NUTRIENT_COUNT] = {0};
    explain_line(explanation, 1,
                 ledger->applications.count ? "Applications this season:" : "No application this season.");
    for (size_t i = 0; i < ledger->applications.count; i++) {
        const struct application *application = &ledger->applications.items[i];
        struct buffer names = {.arena = arena};
        for (size_t j = 0; j < application->occurrences.count; j++) {
            const struct occurrence *occurrence = application->occurrences.items[j];
            buffer_separate(&names, ", ");
            buffer_format(&names, "%s%s", occurrence_title(arena, occurrence),
                          occurrence->done ? " (done)" : "");
        }
        explain_line(explanation, 2, "%s, %s: %s", display_date(arena, application->day),
                     buffer_string(&names), supplied_text(explanation, application->supplied));
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            sum[n] += application->supplied[n];
    }
    if (ledger->applications.count > 1)
        explain_line(explanation, 2, "Total: %s", supplied_text(explanation, sum));
}

/* ---- lawns ---- */

/* "a year, N 2 to 6 lb per 1000 sqft in north-east (library/grasses.prill:12) [2]" */
static void explain_range(struct explanation *explanation, const struct grass_range *range, const char *what,
                          const char *values)
{
    struct buffer line = {.arena = explanation->arena};
    buffer_format(&line, "%s %s", what, values);
    if (range->region)
        buffer_format(&line, " in %s", name_string(range->region));
    explain_line(explanation, 2, "%s (%s)%s", line.string, explain_place(explanation, range->place),
                 footnote_mark(&explanation->notes, range->source));
}

/* Its grass with the ranges that the checks hold it against, and its zones. */
void explain_lawn(struct explanation *explanation, const struct lawn *lawn)
{
    struct arena *arena = explanation->arena;
    const struct grass_range *yearly = lawn_range(lawn, GRASS_YEARLY), *ph = lawn_range(lawn, GRASS_PH);
    explain_heading(explanation, 0, "Lawn %s (%s)", name_string(lawn->symbol.name),
                    explain_place(explanation, lawn->symbol.place));
    if (lawn->grass)
        explain_line(explanation, 1, "Grass %s (%s):", name_string(lawn->grass->symbol.name),
                     explain_place(explanation, lawn->grass->symbol.place));
    if (lawn->grass && yearly && yearly->nutrient) {
        double per = yearly->nutrient->element_per_unit;
        explain_range(explanation, yearly, text_format(arena, "a year, %s", yearly->nutrient->name),
                      quantity_range_text(arena, explanation->model, QUANTITY_MASS_RATE, yearly->low / per,
                                          yearly->high / per));
    }
    if (lawn->grass && ph)
        explain_range(explanation, ph, "pH",
                      text_format(arena, "%s to %s", number_fixed(arena, ph->low, 1),
                                  number_fixed(arena, ph->high, 1)));
    double sum = 0;
    explain_line(explanation, 1, "Zones:");
    for (size_t i = 0; i < lawn->zones.count; i++) {
        const struct zone *zone = lawn->zones.items[i];
        sum += zone->area_m2;
        explain_line(explanation, 2, "%s %s (%s)", name_string(zone->symbol.name),
                     area(explanation, zone->area_m2), explain_place(explanation, zone->symbol.place));
    }
    explain_line(explanation, 2, "total %s", area(explanation, sum));
}
