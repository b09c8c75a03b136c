/* A mistake in a statement gives one report: the rest of the plan is read as if it were not there. */
#include "tests/unit/model_text.h"

#include "compiler/model/read.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define SEASON "season 2027-03-01 to 2027-11-20\n"
#define GROUND "lawn l { zone a square 30 ft, zone b square 20 ft }\n"

static void test_block_is_read_on(void **state)
{
    /* the mistake is in the first line; what the block has is known, and checked */
    assert_errors(SEASON "lawn l of mine {\n zone a square 3 ft\n zone b square 3 lb\n}\n"
                         "task t { to a, b\n when on Apr 3 }\n",
                  "2:6 form\n4:16 dimension");
    assert_errors("product p @ { grade 14-0-0 granlar }\n", "1:11 form\n1:28 form");
    assert_errors("soil-test 2027-02-12 of a { method mehlich-3 }\n", "1:22 form");
}

static void test_lost_names(void **state)
{
    static const char *const declarations[] = {
        "lawn l { zone a squre 3 ft }\n",
        "lawn l { zone a square 3,000 ft }\n",
        "lawn l { zone b square 3 ft, zone a }\n",
        "lawn l { zone a (square 3 ft }\n",
        "lawn l { zon a square 3 ft 3 }\n",
        "lawn 4 { zone a square 3 ft }\n",
        "lawns of mine { zone a square 3 ft }\n",
        "lawn l { zone a square 3 ft { } }\n",
        "@ l { zone a square 3 ft }\n",
    };
    for (size_t i = 0; i < sizeof declarations / sizeof *declarations; i++) {
        struct model_text read;
        char plan[400];
        snprintf(plan, sizeof plan,
                 SEASON "%stask t { to a, a, a\n when on Apr 3 }\ntask u { to a\n when on Apr 4 }\n",
                 declarations[i]);
        model_text_read(&read, plan);
        if (read.reports.errors != 1)
            print_error("%s%s\n", plan, model_text_errors(&read));
        assert_int_equal(read.reports.errors, 1);
        assert_int_equal(
            source_position(model_text_error(&read)->place.source, model_text_error(&read)->place.start).line,
            2);
        model_text_free(&read);
    }
    assert_errors("product 14-0-0 p { }\n" SEASON GROUND
                  "apply x { to a\n when on Apr 3\n rate 4 lb per 1000 sqft of p }\n",
                  "1:9 form");
}

static void test_lost_season(void **state)
{
    assert_errors("season 2027-03-01 - 2027-11-20\ntask t { when on Apr 3 }\n", "1:19 form");
    assert_errors("season 2027-03-01 until 2027-11-20\ntask t { when on Apr 3 }\n", "1:19 form");
    assert_errors("seson 2027-03-01\ntask t { when on Apr 3 }\n", "1:1 statement");
    assert_errors("task t { when on Apr 3 }\n", "1:1 missing");
    assert_errors("units imperial\ntask t { when on Apr 3 }\n",
                  "1:1 missing\n1:7 form"); /* something else was lost */
}

/* What holds a mistake is broken, so that nothing is concluded from it. */
static void test_broken(void **state)
{
    static const char *const faulty[] = {"grade 14",
                                         "nope",
                                         "grade 14-0-0, nope",
                                         "kind iron { }",
                                         "grade 1,400-0-0",
                                         "kind iron\n kind iron",
                                         "\"x\"",
                                         "contains Mgg 4%"};
    for (size_t i = 0; i < sizeof faulty / sizeof *faulty; i++) {
        struct model_text read;
        char plan[100];
        snprintf(plan, sizeof plan, "product p {\n %s\n}\nproduct q { kind iron }\n", faulty[i]);
        model_text_read(&read, plan);
        assert_true(read.reports.errors > 0);
        assert_true(model_text_product(&read, "p")->symbol.broken);
        assert_false(model_text_product(&read, "q")->symbol.broken);
        model_text_free(&read);
    }
}

/* A form of several lines is not given as a note. */
static void test_long_example(void **state)
{
    struct model_text read;
    model_text_read(&read, "weather { normals x { } }\n");
    assert_int_equal(model_text_error(&read)->notes.count, 0);
    model_text_free(&read);
    model_text_read(&read, "product p { kind 4 }\n");
    assert_string_equal(model_text_error(&read)->notes.items[0], "its form: kind iron");
    model_text_free(&read);
    model_text_read(&read, "product p { label 4 }\n");
    model_text_free(&read);
    model_text_read(&read, "product p { pack x }\n");
    assert_string_equal(model_text_error(&read)->notes.items[0], "one of its forms: pack 40 lb at 31.00");
    model_text_free(&read);
}

/* Braces that are missing or too many: one report, and the rest is read as it was meant. */
static void test_braces(void **state)
{
    static const char ground[] = "lawn l {\n    zone a square 3 ft\n    zone b square 3 ft\n";
    static const char rest[] = "task t {\n    to a, b\n    when on Apr 3\n}\ntask u { when after t }\n";
    static const struct {
        const char *between, *errors;
    } samples[] = {
        {"}\n", ""},
        {"", "2:8 unclosed"},
        {"}\n}\n", "6:1 unopened"},
        {"}}\n", "5:2 unopened"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        char plan[600];
        snprintf(plan, sizeof plan, SEASON "%s%s%s", ground, samples[i].between, rest);
        assert_errors(plan, samples[i].errors);
    }
    /* without any indentation the words tell */
    assert_errors(SEASON
                  "lawn l {\nzone a square 3 ft\nproduct p {\ngrade 14-0-0 granular\n}\ntask t {\nto a\n"
                  "when on Apr 3\n}\n",
                  "2:8 unclosed");
    /* one missing and one too many */
    assert_errors(SEASON "lawn l {\n    zone a square 3 ft\ntask t {\n    to a\n    when on Apr 3\n}\ntask u "
                         "{ when on Apr 4 }\n}\n",
                  "4:1 block");
    struct model_text read;
    model_text_read(&read,
                    SEASON "lawn l {\n    zone a square 3 ft\nunits us\ntask t { when on Apr 3 }\n}\n");
    struct tree tree;
    parse_source(read.model->plan, &read.arena, &read.reports, &tree);
    tree_mend(read.model, &tree);
    const struct statement *mended = tree.plan->first; /* season, lawn, units, task */
    assert_false(mended[0].last || mended[1].last || mended[2].last);
    assert_true(mended[3].last);
    assert_true(mended[1].block->first->last);
    model_text_free(&read);
    /* in a block without a mistake nothing is taken for one */
    assert_errors(SEASON "lawn l {\n    zone a square 3 ft\nzone b square 3 ft\n  grass tall-fescue\n}\n",
                  "");
    assert_errors(SEASON "lawn l {\nzone a square 3 ft\nproduct p\n}\n", "4:1 statement");
    assert_errors(SEASON "lawn l {\n    zone a square 3 ft\n    product p\n}\n", "4:5 statement");
}

static void test_independent_mistakes(void **state)
{
    assert_errors(
        "plan 4\n" SEASON "units imperial\nlawn l {\n    zone a square 3\n    zone b square 3 lb\n"
        "    zone c squar 3 ft\n    grass fescue\n}\ntask t {\n    to d\n    when on Feb 30\n    "
        "nope\n}\nfoo\n",
        "1:6 form\n3:7 form\n5:19 unit\n6:19 dimension\n7:12 form\n8:11 unknown-name\n11:8 unknown-name\n"
        "12:13 date\n13:5 statement\n15:1 statement");
}

static void test_conflict(void **state)
{
    assert_errors(SEASON GROUND
                  "task t {\n    to a\n<<<<<<< mine\n    when on Apr 3\n=======\n    when by Apr 4\n"
                  ">>>>>>> theirs\n}\n",
                  "5:1 conflict-marker\n7:1 conflict-marker\n9:1 conflict-marker");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_block_is_read_on),     cmocka_unit_test(test_lost_names),
        cmocka_unit_test(test_lost_season),          cmocka_unit_test(test_broken),
        cmocka_unit_test(test_long_example),         cmocka_unit_test(test_braces),
        cmocka_unit_test(test_independent_mistakes), cmocka_unit_test(test_conflict),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
