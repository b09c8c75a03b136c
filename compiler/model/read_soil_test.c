/* Soil tests: which zones, by which scales, what was found, and what the laboratory itself recommends. */
#include "compiler/model/read.h"
#include "compiler/model/soil_file.h"
#include "compiler/model/soil_test.h"

#include <math.h>

/* All that is missing is reported at once. What is recommended of nutrients that the results have no figure
 * for would be checked against nothing, and so would a choice whom to follow where nothing is recommended. */
static void finish_soil_test(const struct stated *stated)
{
    struct model *model = stated->model;
    struct soil_test *test = stated->subject;
    struct place place = stated->clause->place;
    if (test->symbol.broken)
        return;
    if (!test->zones.count)
        report_lacks(model, place, &test->symbol, "this soil test does not name its zones",
                     "of north, south");
    if (!test->method)
        report_lacks(model, place, &test->symbol, "this soil test does not name the laboratory's method",
                     "method mehlich-3");
    if (!test->results.row_count)
        report_lacks(model, place, &test->symbol, "this soil test has no results", "results { ... }");
    for (size_t i = 0; i < test->recommends.count && !test->symbol.broken; i++) {
        const struct recommendation *recommendation = &test->recommends.items[i];
        bool figure = false;
        for (size_t c = 0; c < test->results.column_count; c++) {
            const struct table_column *column = &test->results.columns[c];
            for (size_t r = 0; r < test->results.row_count && column->kind == ANALYTE_NUTRIENT; r++)
                figure = figure || (column->nutrient->nutrient == recommendation->nutrient->nutrient &&
                                    !isnan(test->results.rows[r].cells[c].number));
        }
        if (figure)
            continue;
        struct report *report =
            report_add(model->reports, &model_rules[RULE_MISSING], recommendation->place,
                       "%s is recommended, but the results have no %s", recommendation->nutrient->name,
                       nutrient_element(recommendation->nutrient->nutrient));
        report_label(model->reports, report, test->results_place, "the results");
        report_help(model->reports, report, "add a column with the %s that the laboratory found",
                    nutrient_element(recommendation->nutrient->nutrient));
    }
    if (test->follow != FOLLOW_UNSTATED && !test->recommends.count)
        report_add(model->reports, &model_rules[RULE_MISSING], test->follow_place,
                   "this soil test has no recommendation of the laboratory to follow")
            ->help = "write it, for example: recommends 1 lb P2O5 per 1000 sqft from SOURCE";
}

void read_soil_test(const struct stated *stated)
{
    struct soil_test *test = object_new(stated, NULL, sizeof *test);
    test->day = day_of_date(slot_value(stated, "day")->date);
    test->depth_m = NAN;
    VECTOR_PUSH(stated->model->arena, &stated->model->soil_tests, test);
    body_later(stated, test, PHASE_RULES, finish_soil_test);
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
void read_test_results(const struct stated *stated)
{
    struct soil_test *test = stated->subject;
    const struct clause *clause = stated->clause;
    test->results_place = clause->place;
    bool sound = slot_value(stated, "file")
                     ? soil_file_results(stated, &test->results)
                     : table_read(stated->model, clause->tree, clause->statement->block, "spot", soil_columns,
                                  ANALYTE_NUTRIENT, &test->results);
    if (!sound)
        test->symbol.broken = true;
}

void read_test_convert(const struct stated *stated)
{
    struct soil_test *test = stated->subject;
    const struct value *names = slot_value(stated, "conversions");
    for (size_t i = 0; i < names->count; i++) {
        struct symbol *conversion = symbol_find(stated->model, SYMBOL_CONVERSION, &names->items[i]);
        if (conversion)
            VECTOR_PUSH(stated->model->arena, &test->conversions, (const struct conversion *)conversion);
        else
            test->symbol.broken = true;
    }
}

/* ---- scales ---- */

/* One scale reads all nutrients that no other scale of the test is named for. */
void read_test_scale(const struct stated *stated)
{
    struct model *model = stated->model;
    struct soil_test *test = stated->subject;
    const struct value *name = slot_value(stated, "scale");
    const struct scale *scale = slot_symbol(stated, SYMBOL_SCALE, "scale");
    const struct test_scale *other = test_scale_for_others(test);
    if (other) {
        struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], name->place,
                                           "this soil test names two scales for all nutrients");
        report_label(model->reports, report, other->place, "named here already");
        report_help(model->reports, report, "name the nutrients of the second: scale %s for ...",
                    name_string(name->name));
    } else if (scale) {
        VECTOR_PUSH(model->arena, &test->scales, ((struct test_scale){.scale = scale, .place = name->place}));
    }
}

/* A nutrient is read by one scale: what this or an earlier statement names already is not added. */
void read_test_scale_for(const struct stated *stated)
{
    struct model *model = stated->model;
    struct soil_test *test = stated->subject;
    const struct value *nutrients = slot_value(stated, "nutrients");
    struct test_scale added = {.scale = slot_symbol(stated, SYMBOL_SCALE, "scale"),
                               .place = slot_value(stated, "scale")->place};
    for (size_t i = 0; i < nutrients->count; i++) {
        const struct value *nutrient = &nutrients->items[i];
        const struct value *named = NULL;
        for (size_t s = 0; s <= test->scales.count && !named; s++) {
            const struct test_scale *scale = s < test->scales.count ? &test->scales.items[s] : &added;
            for (size_t j = 0; j < scale->nutrients.count && !named; j++)
                if (scale->nutrients.items[j]->nutrient->nutrient == nutrient->nutrient->nutrient)
                    named = scale->nutrients.items[j];
        }
        if (named) {
            struct report *report =
                report_add(model->reports, &model_rules[RULE_REPEATED], nutrient->place,
                           "this soil test names a scale for %s twice", nutrient->nutrient->name);
            report_label(model->reports, report, named->place, "named here already");
            report_help(model->reports, report, "only one scale can read a nutrient: delete one of the two");
        } else {
            struct value *kept = ARENA_NEW(model->arena, struct value);
            *kept = *nutrient;
            VECTOR_PUSH(model->arena, &added.nutrients, kept);
        }
    }
    if (added.scale && added.nutrients.count)
        VECTOR_PUSH(model->arena, &test->scales, added);
}

/* ---- what the laboratory recommends ---- */

/* Amounts, or nutrients of which it recommends none. N and lime are not among them: they have statements of
 * their own, on which more than one part of a plan is based. */
void read_test_recommends(const struct stated *stated)
{
    struct model *model = stated->model;
    struct soil_test *test = stated->subject;
    const struct value *amounts = &stated->clause->values[0];
    for (size_t i = 0; i < amounts->count; i++) { /* what is no amount has the number 0 */
        const struct value *amount = &amounts->items[i];
        const struct nutrient_form *nutrient = amount->nutrient;
        const struct recommendation *other = recommendation_of(test, nutrient->nutrient);
        bool lime = nutrient->nutrient == NUTRIENT_LIME;
        if (lime || nutrient->nutrient == NUTRIENT_N || nutrient->nutrient == NUTRIENT_SOLUBLE_N ||
            nutrient->nutrient == NUTRIENT_SLOW_N) {
            report_add(model->reports, &model_rules[RULE_NUTRIENT], amount->place,
                       "a recommendation of %s does not belong in a soil test", nutrient->name)
                ->help = lime ? "lime is worked out from the pH by the test's lime table; to spread what the "
                                "laboratory recommends, write it in an application: supply 50 lb lime per "
                                "1000 sqft from PRODUCT"
                              : "put the year's N in the lawn: yearly 3 lb N per 1000 sqft";
        } else if (other) {
            struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], amount->place,
                                               "this soil test recommends %s twice", nutrient->name);
            report_label(model->reports, report, other->place, "recommended here already");
        } else {
            struct recommendation recommendation = {nutrient, amount->number * nutrient->element_per_unit,
                                                    amount->high * nutrient->element_per_unit,
                                                    slot_source(stated), amount->place};
            VECTOR_PUSH(model->arena, &test->recommends, recommendation);
        }
    }
}

/* ---- how long after an application a sample means something ---- */

/* The library's is read first: the plan's own takes its place. */
void read_sample_wait(const struct stated *stated)
{
    struct model *model = stated->model;
    if (!model->building->library)
        library_read_file(model, LIBRARY_SAMPLING);
    struct sample_wait wait = {.after = treatment_class_of(slot_value(stated, "class")),
                               .wait = duration_of_time(slot_value(stated, "wait"), false),
                               .wait_text = slot_written(stated, "wait"),
                               .source = slot_source(stated),
                               .place = stated->clause->place};
    for (size_t i = 0; i < model->sample_waits.count; i++) {
        struct sample_wait *before = &model->sample_waits.items[i];
        if (before->after.nutrient == wait.after.nutrient && before->after.kind == wait.after.kind) {
            *before = wait;
            return;
        }
    }
    VECTOR_PUSH(model->arena, &model->sample_waits, wait);
}
