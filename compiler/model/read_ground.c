/* Lawns, zones and soil tests. */
#include "compiler/model/read.h"
#include "compiler/model/recommend.h"
#include "compiler/model/soil_file.h"

#include <math.h>

static void finish_lawn(struct model *model, const struct clause *clause, struct symbol *subject)
{
    struct lawn *lawn = (struct lawn *)subject;
    if (lawn->zones.count || subject->broken)
        return;
    struct report *report =
        report_add(model->reports, &model_rules[RULE_MISSING], clause->place, "this lawn has no zone");
    report_help(model->reports, report, "write, for example: zone north rectangle 62 ft by 40 ft");
    subject->broken = true;
}

void read_lawn(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct lawn *lawn = symbol_new(model, clause, "name", sizeof *lawn);
    lawn->bulk_density = lawn->goal_ph = NAN;
    symbol_declare(model, SYMBOL_LAWN, &lawn->symbol);
    VECTOR_PUSH(model->arena, &model->lawns, lawn);
    body_later(model, clause, &lawn->symbol, PHASE_GROUND, finish_lawn);
}

void read_lawn_grass(struct model *model, const struct clause *clause, void *subject)
{
    struct lawn *lawn = subject;
    const struct value *name = clause_value(clause, "grass");
    lawn->grass = (const struct grass *)symbol_find(model, SYMBOL_GRASS, name);
    lawn->grass_place = name->place;
}

void read_lawn_soil(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct lawn *)subject)->soil = clause_value(clause, "texture")->name;
}

void read_lawn_region(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct lawn *lawn = subject;
    lawn->region = clause_value(clause, "region")->name;
    lawn->region_place = clause_value(clause, "region")->place;
}

void read_lawn_density(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct lawn *lawn = subject;
    lawn->bulk_density = clause_value(clause, "density")->number;
    lawn->density_place = clause->place;
}

void read_zone(struct model *model, const struct clause *clause, void *subject)
{
    struct lawn *lawn = subject;
    struct zone *zone = symbol_new(model, clause, "name", sizeof *zone);
    const struct value *distance = clause_value(clause, "distance");
    zone->lawn = lawn;
    zone->index = (uint32_t)model->zones.count;
    zone->shape = clause_value(clause, "shape")->shape;
    zone->water_m = distance ? distance->number : INFINITY;
    if (distance)
        zone->water_place = distance->place;
    if (!shape_measure(zone->shape, model))
        zone->symbol.broken = true;
    zone->area_m2 = zone->shape->area;
    symbol_declare(model, SYMBOL_ZONE, &zone->symbol);
    VECTOR_PUSH(model->arena, &model->zones, zone);
    VECTOR_PUSH(model->arena, &lawn->zones, zone);
}

/* ---- soil tests ---- */

static void need_statement(struct model *model, const struct clause *clause, struct symbol *subject,
                           const char *sentence, const char *example)
{
    struct report *report =
        report_add(model->reports, &model_rules[RULE_MISSING], clause->place, "%s", sentence);
    report_help(model->reports, report, "write, for example: %s", example);
    subject->broken = true;
}

static void finish_soil_test(struct model *model, const struct clause *clause, struct symbol *subject)
{
    struct soil_test *test = (struct soil_test *)subject;
    if (subject->broken)
        return;
    if (!test->zones.count)
        need_statement(model, clause, subject, "this soil test does not say which zones it is of",
                       "of north, south");
    if (!test->method)
        need_statement(model, clause, subject, "this soil test does not say the laboratory's method",
                       "method mehlich-3");
    if (!test->results.row_count)
        need_statement(model, clause, subject, "this soil test has no results", "results { ... }");
    recommendations_check(model, test);
}

void read_soil_test(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    struct soil_test *test = symbol_new(model, clause, NULL, sizeof *test);
    test->day = day_of_date(clause_value(clause, "day")->date);
    test->depth_m = NAN;
    VECTOR_PUSH(model->arena, &model->soil_tests, test);
    body_later(model, clause, &test->symbol, PHASE_RULES, finish_soil_test);
}

void read_test_zones(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_test *test = subject;
    struct zone_list zones = {0};
    if (!zones_of(model, clause_value(clause, "zones"), &zones))
        test->symbol.broken = true;
    test->zones.items = zones.items;
    test->zones.count = zones.count;
    test->zones.capacity = zones.capacity;
}

void read_test_method(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct soil_test *test = subject;
    test->method = clause_value(clause, "method")->name;
    test->method_place = clause_value(clause, "method")->place;
}

void read_test_depth(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct soil_test *test = subject;
    test->depth_m = clause_value(clause, "depth")->number;
    test->depth_place = clause->place;
}

void read_test_cores(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    ((struct soil_test *)subject)->cores = (int)clause_value(clause, "count")->number;
}

const struct column_form soil_columns[] = {
    {.name = "pH", .kind = ANALYTE_PH, .most = 14, .exact = true},
    {.name = "buffer-pH", .kind = ANALYTE_BUFFER_PH, .most = 14, .exact = true},
    {.name = "organic-matter", .kind = ANALYTE_ORGANIC_MATTER, .most = 100},
    {.name = "CEC", .kind = ANALYTE_CEC, .needs_unit = true, .dimension = {.mass = -1, .charge = 1}},
    {.name = "acidity",
     .kind = ANALYTE_ACIDITY,
     .needs_unit = true,
     .dimension = {.mass = -1, .charge = 1},
     .other = {.length = -3, .charge = 1},
     .other_kind = ANALYTE_ACIDITY_OF_VOLUME},
    {0},
};

/* Rows in the plan itself, or in a laboratory's file that the block describes. */
void read_test_results(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_test *test = subject;
    const struct value *file = clause_value(clause, "file");
    test->results_place = clause->place;
    bool sound = file ? soil_file_results(model, clause, &test->results)
                      : table_read(model, clause->tree, clause->statement->block, "spot", soil_columns,
                                   ANALYTE_NUTRIENT, &test->results);
    if (!sound)
        test->symbol.broken = true;
}
