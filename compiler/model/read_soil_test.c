/* What a soil test is read by: scales, the laboratory's own recommendation, and the time it must keep from
 * what was applied before. */
#include "compiler/model/read_formula.h"
#include "compiler/model/recommend.h"

#include <math.h>

/* ---- scales ---- */

/* Where the test names a scale for the nutrient already; NULL where it does not. */
static const struct value *scale_named_for(const struct soil_test *test, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->scales.count; i++)
        for (size_t j = 0; j < test->scales.items[i].nutrients.count; j++)
            if (test->scales.items[i].nutrients.items[j]->nutrient->nutrient == nutrient)
                return test->scales.items[i].nutrients.items[j];
    return NULL;
}

void read_test_scale(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_test *test = subject;
    const struct value *name = clause_value(clause, "scale");
    const struct scale *scale = (const struct scale *)symbol_find(model, SYMBOL_SCALE, name);
    const struct test_scale *other = NULL;
    for (size_t i = 0; i < test->scales.count; i++)
        if (!test->scales.items[i].nutrients.count)
            other = &test->scales.items[i];
    if (other) {
        struct report *report = report_add(model->reports, &model_rules[RULE_REPEATED], name->place,
                                           "this soil test names two scales for all nutrients");
        report_label(model->reports, report, other->place, "named here already");
        report_help(model->reports, report, "say which nutrients the second one reads: scale %s for ...",
                    name_string(name->name));
    } else if (scale)
        VECTOR_PUSH(model->arena, &test->scales, ((struct test_scale){.scale = scale, .place = name->place}));
}

void read_test_scale_for(struct model *model, const struct clause *clause, void *subject)
{
    struct soil_test *test = subject;
    const struct value *name = clause_value(clause, "scale"), *nutrients = clause_value(clause, "nutrients");
    struct test_scale added = {.scale = (const struct scale *)symbol_find(model, SYMBOL_SCALE, name),
                               .place = name->place};
    for (size_t i = 0; i < nutrients->count; i++) {
        const struct value *nutrient = &nutrients->items[i];
        const struct value *named = scale_named_for(test, nutrient->nutrient->nutrient);
        for (size_t j = 0; j < added.nutrients.count && !named; j++)
            if (added.nutrients.items[j]->nutrient->nutrient == nutrient->nutrient->nutrient)
                named = added.nutrients.items[j];
        if (named) {
            struct report *report =
                report_add(model->reports, &model_rules[RULE_REPEATED], nutrient->place,
                           "this soil test names a scale for %s twice", nutrient->nutrient->name);
            report_label(model->reports, report, named->place, "named here already");
            report_help(model->reports, report, "one scale reads a nutrient: delete one of the two");
        } else {
            VECTOR_PUSH(model->arena, &added.nutrients, nutrient);
        }
    }
    if (added.scale && added.nutrients.count)
        VECTOR_PUSH(model->arena, &test->scales, added);
}

/* ---- what the laboratory recommends ---- */

const struct recommendation *recommendation_of(const struct soil_test *test, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->recommends.count; i++)
        if (test->recommends.items[i].nutrient->nutrient == nutrient)
            return &test->recommends.items[i];
    return NULL;
}

/* N and lime have statements of their own, which more than one part of a plan goes by. */
static const char *stated_elsewhere(enum nutrient nutrient)
{
    if (nutrient == NUTRIENT_N || nutrient == NUTRIENT_SOLUBLE_N || nutrient == NUTRIENT_SLOW_N)
        return "write the N of a year in the lawn: yearly 3 lb N per 1000 sqft";
    if (nutrient == NUTRIENT_LIME)
        return "lime is worked out from the pH by the test's lime table; to spread what the laboratory "
               "recommends, "
               "write it in an application: supply 50 lb lime per 1000 sqft from PRODUCT";
    return NULL;
}

static void recommendation_add(struct model *model, struct soil_test *test,
                               const struct recommendation *recommendation)
{
    enum nutrient nutrient = recommendation->nutrient->nutrient;
    const char *help = stated_elsewhere(nutrient);
    const struct recommendation *other = recommendation_of(test, nutrient);
    if (help) {
        report_add(model->reports, &model_rules[RULE_NUTRIENT], recommendation->place,
                   "a soil test does not recommend %s", recommendation->nutrient->name)
            ->help = help;
    } else if (other) {
        struct report *report =
            report_add(model->reports, &model_rules[RULE_REPEATED], recommendation->place,
                       "this soil test recommends %s twice", recommendation->nutrient->name);
        report_label(model->reports, report, other->place, "recommended here already");
    } else {
        VECTOR_PUSH(model->arena, &test->recommends, *recommendation);
    }
}

void read_test_recommends(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *amounts = clause_value(clause, "amounts");
    const struct source_entry *source = source_in(model, clause);
    for (size_t i = 0; i < amounts->count; i++) {
        const struct value *amount = &amounts->items[i];
        double element = amount->nutrient->element_per_unit;
        recommendation_add(model, subject,
                           &(struct recommendation){.nutrient = amount->nutrient,
                                                    .low = amount->number * element,
                                                    .high = amount->high * element,
                                                    .source = source,
                                                    .place = amount->place});
    }
}

void read_test_recommends_none(struct model *model, const struct clause *clause, void *subject)
{
    const struct value *nutrients = clause_value(clause, "nutrients");
    const struct source_entry *source = source_in(model, clause);
    for (size_t i = 0; i < nutrients->count; i++)
        recommendation_add(model, subject,
                           &(struct recommendation){.nutrient = nutrients->items[i].nutrient,
                                                    .source = source,
                                                    .place = nutrients->items[i].place});
}

void read_test_follow(struct model *model, const struct clause *clause, void *subject)
{
    (void)model;
    struct soil_test *test = subject;
    test->follow = clause_value(clause, "whom")->number > 0 ? FOLLOW_LABORATORY : FOLLOW_SCALE;
    test->follow_place = clause->place;
}

static bool has_figure(const struct soil_test *test, enum nutrient nutrient)
{
    for (size_t i = 0; i < test->results.column_count; i++) {
        const struct table_column *column = &test->results.columns[i];
        for (size_t j = 0; j < test->results.row_count && column->kind == ANALYTE_NUTRIENT; j++)
            if (column->nutrient->nutrient == nutrient && !isnan(test->results.rows[j].cells[i].number))
                return true;
    }
    return false;
}

void recommendations_check(struct model *model, const struct soil_test *test)
{
    for (size_t i = 0; i < test->recommends.count && !test->symbol.broken; i++) {
        const struct recommendation *recommendation = &test->recommends.items[i];
        if (has_figure(test, recommendation->nutrient->nutrient))
            continue;
        struct report *report = report_add(model->reports, &model_rules[RULE_MISSING], recommendation->place,
                                           "%s is recommended, but the results have no figure for it",
                                           recommendation->nutrient->name);
        report_label(model->reports, report, test->results_place, "the results");
        report_help(model->reports, report, "add a column with the %s that the laboratory found",
                    nutrient_element(recommendation->nutrient->nutrient));
    }
    if (test->follow != FOLLOW_UNSTATED && !test->recommends.count)
        report_add(model->reports, &model_rules[RULE_MISSING], test->follow_place,
                   "this soil test states nothing that the laboratory recommends")
            ->help = "write it, for example: recommends 1 lb P2O5 per 1000 sqft from SOURCE";
}

/* ---- how long after an application a sample means something ---- */

/* The library's is read before the plan, whose own takes its place. */
void read_sample_wait(struct model *model, const struct clause *clause, void *subject)
{
    (void)subject;
    const struct value *wait = clause_value(clause, "wait");
    struct sample_wait made = {.after = treatment_class_of(clause_value(clause, "class")),
                               .wait = duration_of_time(wait, false),
                               .wait_text = text_string(model->arena, place_text(wait->place)),
                               .source = source_in(model, clause),
                               .place = clause->place};
    for (size_t i = 0; i < model->sample_waits.count; i++) {
        struct sample_wait *before = &model->sample_waits.items[i];
        if (before->after.nutrient == made.after.nutrient && before->after.kind == made.after.kind) {
            *before = made;
            return;
        }
    }
    VECTOR_PUSH(model->arena, &model->sample_waits, made);
}
