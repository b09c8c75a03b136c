/* Zones and lawns: areas by their formulas, and what they received. */
#include "compiler/result/explanation.h"

#include "compiler/result/zone_groups.h"
#include "compiler/result/need_text.h"
#include "compiler/result/soil_figure.h"
#include "compiler/result/nutrient_text.h"

/* ---- areas ---- */

/* A formula in words, the operands to follow it in the order of a shape's sizes; NULL: told in its own way.
 */
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

/* "62 ft, 40 ft" */
static const char *operands(struct explanation *explanation, const struct shape_part *part)
{
    struct buffer text = {.arena = explanation->arena};
    for (size_t i = 0; i < formulas[part->kind].operands && i < part->size_count; i++)
        buffer_format(&text, "%s%s", i ? ", " : ": ", length(explanation, part->sizes[i]));
    return buffer_string(&text);
}

/* "10 ft x (8 ft / 2 + 9.5 ft + 7 ft / 2)" */
static const char *offsets(struct explanation *explanation, const struct shape_part *part)
{
    struct buffer text = {.arena = explanation->arena};
    buffer_format(&text, ": %s x (", length(explanation, part->sizes[0]));
    for (size_t i = 1; i < part->size_count; i++)
        buffer_format(&text, "%s%s%s", i > 1 ? " + " : "", length(explanation, part->sizes[i]),
                      i == 1 || i + 1 == part->size_count ? " / 2" : "");
    buffer_add_string(&text, ")");
    return text.string;
}

static void explain_shape(struct explanation *explanation, const struct shape *shape, int depth);

static void explain_part(struct explanation *explanation, const struct shape_part *part, int depth)
{
    const char *sign = part->less ? "less " : "";
    if (part->kind == SHAPE_GROUP) {
        explain_line(explanation, depth, "%sthe parts in parentheses: %s", sign,
                     area(explanation, part->area));
        explain_shape(explanation, part->group, depth + 1);
        return;
    }
    explain_line(explanation, depth, "%s%s, %s%s = %s", sign, explain_statement(explanation, part->place),
                 formulas[part->kind].formula,
                 part->kind == SHAPE_OFFSETS ? offsets(explanation, part) : operands(explanation, part),
                 area(explanation, part->area));
}

static void explain_shape(struct explanation *explanation, const struct shape *shape, int depth)
{
    struct buffer sum = {.arena = explanation->arena};
    for (size_t i = 0; i < shape->part_count; i++) {
        const struct shape_part *part = &shape->parts[i];
        explain_part(explanation, part, depth);
        buffer_format(&sum, "%s%s", i == 0 ? "" : part->less ? " - " : " + ", area(explanation, part->area));
    }
    if (shape->part_count > 1)
        explain_line(explanation, depth, "%s = %s", sum.string, area(explanation, shape->area));
}

/* ---- what came to it ---- */

static const char *brought(struct explanation *explanation, const double supplied[NUTRIENT_COUNT])
{
    const char *text = nutrients_text(explanation->arena, explanation->model, supplied, supplied, NULL);
    return text ? text : "nothing that is counted";
}

static void explain_application(struct explanation *explanation, const struct application *application)
{
    struct buffer names = {.arena = explanation->arena};
    for (size_t i = 0; i < application->occurrences.count; i++) {
        const struct occurrence *occurrence = application->occurrences.items[i];
        buffer_format(&names, "%s%s%s", i ? ", " : "", occurrence_title(explanation->arena, occurrence),
                      occurrence->done ? " (done)" : "");
    }
    explain_line(explanation, 2, "%s, %s: %s", display_date(explanation->arena, application->day),
                 buffer_string(&names), brought(explanation, application->supplied));
}

static void explain_ledger(struct explanation *explanation, const struct ledger *ledger)
{
    double sum[NUTRIENT_COUNT] = {0};
    explain_line(explanation, 1,
                 ledger->applications.count ? "Applications of the season:" : "No application.");
    for (size_t i = 0; i < ledger->applications.count; i++) {
        explain_application(explanation, &ledger->applications.items[i]);
        for (size_t n = 0; n < NUTRIENT_COUNT; n++)
            sum[n] += ledger->applications.items[i].supplied[n];
    }
    if (ledger->applications.count > 1)
        explain_line(explanation, 2, "In all: %s", brought(explanation, sum));
}

static const char *verdict_text(const struct soil_reading *reading)
{
    switch (reading->need) {
    case NEED_UNKNOWN:
        return "no scale says";
    case NEED_NONE:
        return "enough";
    case NEED_LOW:
        return "less than enough";
    }
    return "";
}

static void explain_reading(struct explanation *explanation, const struct soil_reading *reading)
{
    explain_line(explanation, 1, "Soil test of %s (%s), %s: mean of %zu %s, %s %s; %s%s%s.",
                 display_date(explanation->arena, reading->test->day),
                 explain_place(explanation, reading->test->symbol.place), reading->nutrient->name,
                 reading->spots, reading->spots == 1 ? "spot" : "spots",
                 number_short(explanation->arena, reading->index ? reading->mean : reading->mean * 1e6),
                 reading->index ? "index" : "ppm", verdict_text(reading), reading->level ? " by " : "",
                 reading->level ? explain_statement(explanation, reading->level->place) : "");
}

static void explain_need(struct explanation *explanation, const struct need_words *words,
                         const struct zone_need *need)
{
    const char *reason = need_reason(words, need, false);
    explain_line(explanation, 2, "%s%s%s", sentence_of(explanation->arena, need_sentence(words, need)),
                 *reason ? " " : "", reason);
}

static void explain_soil(struct explanation *explanation, const struct zone *zone)
{
    struct need_words words = {explanation->arena, explanation->model, &explanation->notes};
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        struct zone_need need;
        need_of(explanation->season, zone, n, &need);
        if (!need.read)
            continue;
        explain_reading(explanation, &need.reading);
        explain_need(explanation, &words, &need);
    }
    struct lime_need lime;
    lime_need_of(explanation->season, zone, &lime);
    if (!lime.test)
        return;
    const char *reason = lime_reason(&words, &lime);
    explain_line(explanation, 1, "pH %s: %s%s%s", number_short(explanation->arena, lime.ph),
                 lime_sentence(&words, &lime), *reason ? " " : "", reason);
}

static void explain_water(struct explanation *explanation, const struct zone *zone)
{
    if (!isfinite(zone->water_m))
        return;
    explain_line(explanation, 1, "%s from water (%s).", length(explanation, zone->water_m),
                 explain_place(explanation, zone->water_place));
}

void explain_zone(struct explanation *explanation, const struct zone *zone)
{
    explain_line(explanation, 0, "Zone %s of the lawn %s (%s)", name_string(zone->symbol.name),
                 name_string(zone->lawn->symbol.name), explain_place(explanation, zone->symbol.place));
    explain_line(explanation, 1, "Area %s:", area(explanation, zone->area_m2));
    if (zone->shape)
        explain_shape(explanation, zone->shape, 2);
    explain_water(explanation, zone);
    explain_soil(explanation, zone);
    explain_ledger(explanation, &explanation->season->ledgers[zone->index]);
}

/* ---- lawns ---- */

static void explain_range(struct explanation *explanation, const struct grass_range *range, const char *what,
                          const char *values)
{
    explain_line(explanation, 2, "%s %s%s%s (%s)%s", what, values, range->region ? " in " : "",
                 name_string(range->region), explain_place(explanation, range->place),
                 footnote_mark(&explanation->notes, range->source));
}

static void explain_grass(struct explanation *explanation, const struct lawn *lawn)
{
    if (!lawn->grass)
        return;
    explain_line(explanation, 1, "Grass %s (%s):", name_string(lawn->grass->symbol.name),
                 explain_place(explanation, lawn->grass->symbol.place));
    const struct grass_range *yearly = lawn_range(lawn, GRASS_YEARLY), *ph = lawn_range(lawn, GRASS_PH);
    struct arena *arena = explanation->arena;
    if (yearly && yearly->nutrient) {
        double per = yearly->nutrient->element_per_unit;
        explain_range(explanation, yearly, text_format(arena, "a year, %s", yearly->nutrient->name),
                      quantity_range_text(arena, explanation->model, QUANTITY_MASS_RATE, yearly->low / per,
                                          yearly->high / per));
    }
    if (ph)
        explain_range(explanation, ph, "pH",
                      text_format(arena, "%s to %s", number_fixed(arena, ph->low, 1),
                                  number_fixed(arena, ph->high, 1)));
}

void explain_lawn(struct explanation *explanation, const struct lawn *lawn)
{
    double sum = 0;
    explain_line(explanation, 0, "Lawn %s (%s)", name_string(lawn->symbol.name),
                 explain_place(explanation, lawn->symbol.place));
    explain_grass(explanation, lawn);
    explain_line(explanation, 1, "Zones:");
    for (size_t i = 0; i < lawn->zones.count; i++) {
        const struct zone *zone = lawn->zones.items[i];
        sum += zone->area_m2;
        explain_line(explanation, 2, "%s %s (%s)", name_string(zone->symbol.name),
                     area(explanation, zone->area_m2), explain_place(explanation, zone->symbol.place));
    }
    explain_line(explanation, 2, "in all %s", area(explanation, sum));
}
