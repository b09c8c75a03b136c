#include "tests/unit/model_text.h"

#include "compiler/model/read.h"
#include "compiler/model/slot.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define SEASON "season 2027-03-01 to 2027-11-20\n"
#define GROUND "lawn l { zone a square 30 ft, zone b square 20 ft }\n"

/* ---- the table ---- */

static bool is_slot_type(const char *type, size_t length)
{
    return memchr(type, '|', length) || slot_type_find((struct text){type, length});
}

static void check_pattern(const char *pattern)
{
    int slots = 0;
    for (const char *at = pattern; (at = strchr(at, '<')) != NULL; at++) {
        const char *colon = strchr(at, ':'), *end = strchr(at, '>');
        assert_true(colon && end && colon < end);
        if (!is_slot_type(colon + 1, (size_t)(end - colon - 1)))
            fail_msg("%s: no such type of slot", pattern);
        slots++;
    }
    assert_true(slots <= SLOT_LIMIT);
    const char *open = strchr(pattern, '['), *close = strchr(pattern, ']');
    assert_true(!open == !close && (!open || open < close));
}

/* What stands for another form has its slots, in their order, and nothing that may be left out; that form is
 * one of the block that stands for none. */
static void check_standing(const struct form *form)
{
    const char *wanted = form->stands_for;
    bool found = false;
    assert_null(strchr(form->pattern, '['));
    assert_true(form->opens == BLOCK_NONE);
    for (const char *at = form->pattern; (at = strchr(at, '<')) != NULL; at++) {
        size_t length = strcspn(at, ">");
        wanted = strchr(wanted, '<');
        assert_non_null(wanted);
        assert_memory_equal(at, wanted, length);
        wanted++;
    }
    assert_null(strchr(wanted, '<'));
    for (size_t i = 0; i < form_count(); i++)
        found = found || (form_at(i)->block == form->block && !form_at(i)->stands_for &&
                          strcmp(form_at(i)->pattern, form->stands_for) == 0);
    assert_true(found);
}

static void test_table(void **state)
{
    for (size_t i = 0; i < form_count(); i++) {
        const struct form *form = form_at(i);
        check_pattern(form->pattern);
        assert_true(form->meaning[0] && form->example[0] && (form->read || form->stands_for));
        if (form->stands_for)
            check_standing(form);
        assert_true(form_head(form).length > 0 && form->block > BLOCK_NONE);
        if (i > 0) /* halving finds a block's rows only if they stand in order */
            assert_true(form_at(i - 1)->block <= form->block);
        /* the formatter takes a word, or the two that a form begins with, to open one kind of block; the
         * mending of braces a word of the plan */
        const struct form *first = form_find(form->block, form_head(form));
        bool from = !strncmp(form->pattern, "results from ", 13);
        assert_int_equal(form->opens, from ? BLOCK_SOIL_FILE : first->opens);
        assert_true(!from || form->block != BLOCK_PLAN);
        size_t head = form_head(form).length;
        assert_true(!strncmp(form->example, form->pattern, head) && form->example[head] != '-');
    }
    assert_null(form_at(form_count()));
}

/* Forms of one word stand together: what they are is told by the first and the next. */
static void test_forms_of_a_word(void **state)
{
    for (size_t i = 0; i + 1 < form_count(); i++)
        for (size_t k = i + 2; k < form_count(); k++)
            if (form_at(i)->block == form_at(k)->block && form_begins(form_at(i), form_head(form_at(k))))
                assert_true(form_begins(form_at(k - 1), form_head(form_at(k))));
}

static void test_find(void **state)
{
    size_t rows = 0;
    for (int kind = BLOCK_NONE; kind < BLOCK_KIND_COUNT; kind++)
        for (const struct form *form = form_first((enum block_kind)kind); form;
             form = form_next(form), rows++)
            assert_int_equal(form->block, kind);
    assert_int_equal(rows, form_count());
    assert_null(form_first(BLOCK_NONE));
    assert_null(form_first(BLOCK_RESULTS));
    assert_non_null(form_find(BLOCK_PLAN, TEXT("lawn")));
    assert_null(form_find(BLOCK_PLAN, TEXT("law")));
    assert_null(form_find(BLOCK_PLAN, TEXT("lawns")));
    assert_null(form_find(BLOCK_PLAN, TEXT("Lawn")));
    assert_null(form_find(BLOCK_PLAN, TEXT("")));
    assert_int_equal(block_kind_of(BLOCK_PLAN, TEXT("lawn"), TEXT("{")), BLOCK_LAWN);
    assert_int_equal(block_kind_of(BLOCK_SOIL_TEST, TEXT("results"), TEXT("{")), BLOCK_RESULTS);
    assert_int_equal(block_kind_of(BLOCK_SOIL_TEST, TEXT("results"), TEXT("from")), BLOCK_SOIL_FILE);
    assert_int_equal(block_kind_of(BLOCK_PLAN, TEXT("season"), TEXT("{")), BLOCK_NONE);
    assert_int_equal(block_kind_of(BLOCK_LAWN, TEXT("grass"), TEXT("{")), BLOCK_NONE);
    assert_int_equal(block_kind_of(BLOCK_PLAN, TEXT("grass"), TEXT("{")), BLOCK_GRASS);
    assert_true(form_declares(form_find(BLOCK_LAWN, TEXT("zone"))));
    assert_false(form_declares(form_find(BLOCK_PLAN, TEXT("use"))));
    assert_false(form_declares(form_find(BLOCK_PLAN, TEXT("weather"))));
}

/* ---- what is read ---- */

/* No word is reserved where a name is expected. */
static void test_names_like_words(void **state)
{
    assert_errors(
        SEASON "lawn lawn {\n zone to square 3 ft\n zone zone square 3 ft\n zone at square 3 ft\n"
               " zone note square 3 ft\n zone less square 3 ft\n}\n"
               "product label { grade 14-0-0 granular }\nproduct of { grade 14-0-0 granular }\n"
               "spreader with { width 3 ft }\nlimits limits { nothing within 3 ft of water }\nfollow limits\n"
               "apply apply {\n to to, zone, at, note, less\n when on Apr 3\n"
               " rate 4 lb per 1000 sqft of of\n with with\n}\n"
               "apply per { to to\n supply 1 lb N per 1000 sqft from label\n when after apply }\n"
               "task after { when after after2 }\ntask after2 { when 3 days after per }\n"
               "done apply 2027-04-03 { used 3 lb of of on to }\nskipped per\n",
        "");
}

static void test_quoted_names(void **state)
{
    assert_errors(SEASON "lawn l { zone \"back yard\" square 3 ft, zone \"say \\\"so\\\"\" square 3 ft }\n"
                         "task t { to \"back yard\", \"say \\\"so\\\"\"\n when on Apr 3 }\n",
                  "");
    assert_errors("lawn \"\" { zone a square 3 ft }\n", "1:6 value");
}

static void test_lists_and_statements(void **state)
{
    assert_errors(SEASON GROUND "task t { to a, b, when on Apr 3 }\n", "");
    assert_errors(SEASON GROUND "task t { to a, when on Apr 3, to b }\n", "3:31 repeated");
    assert_errors(SEASON "lawn l { zone when square 3 ft, zone to square 3 ft }\n"
                         "task t { to when, to, when on Apr 3 }\n",
                  "");
    assert_errors("limits { only on Sat, Sun, nothing within 3 ft of water, no N, P2O5 from Nov 16 to Mar 1, "
                  "nothing on Jul 4, Sep 6, at most 1 lb N per 1000 sqft per year, for x }\n",
                  "1:159 unknown-name");
    assert_errors(SEASON GROUND "task t {\n    to a,\n       b\n    when on Apr 3\n}\n", "");
    assert_errors(SEASON GROUND "task t {\n    to a,\n\n    # the rest\n    when on Apr 3\n}\n", "");
}

static void test_continued(void **state)
{
    struct model_text read;
    model_text_read(
        &read, SEASON GROUND
        "product p { grade 6-0-0 liquid, 10.6 lb per gal, contains Fe 5%, Mg 1%\n"
        "label 2 to 6 fl oz per 1000 sqft in 1 to 2 gal of water, at least 42 days apart, at most 3 a year\n"
        "pack 40 lb at 31.00, 20 lb, kind iron, granular, dry 4 h, note \"x\" }\n"
        "apply x { to a, b, when between Apr 10 and Apr 30, at least 3 days after y, every 2 weeks from Apr "
        "1, "
        "2 times, rate 4 fl oz per 1000 sqft of p }\n"
        "task y { when on Apr 3 }\n"
        "done x 2027-04-17 { used 1 lb of p on a, 2 lb on b, time 1 }\n");
    assert_string_equal(model_text_errors(&read), "");
    const struct product *product = model_text_product(&read, "p");
    assert_figure(product->content[NUTRIENT_FE], 0.05);
    assert_figure(product->content[NUTRIENT_MG], 0.01);
    assert_int_equal(product->label.interval.days, 42);
    assert_int_equal(product->label.times_a_year, 3);
    assert_int_equal(product->packs.count, 2);
    assert_int_equal(product->kinds.count, 2);
    assert_string_equal(product->symbol.note, "x");
    const struct treatment *treatment = model_text_treatment(&read, "x");
    assert_int_equal(treatment->zones.count, 2);
    assert_int_equal(treatment->whens.count, 3);
    assert_int_equal(treatment->records.items[0]->uses.count, 2);
    model_text_free(&read);
}

/* ---- what is reported ---- */

static void check_report(const char *plan, const char *errors, const char *sentence, const char *help)
{
    struct model_text read;
    model_text_read(&read, plan);
    assert_string_equal(model_text_errors(&read), errors);
    const struct report *report = model_text_error(&read);
    assert_string_equal(report->sentence, sentence);
    if (help)
        assert_string_equal(report->help ? report->help : "", help);
    model_text_free(&read);
}

static void test_unknown_word(void **state)
{
    check_report("prodct p { grade 14-0-0 granular }\n", "1:1 statement", "a plan has no `prodct` statement",
                 "did you mean `product`?");
    check_report(SEASON "task t {\n suply 1 lb\n}\n", "3:2 statement",
                 "a `task` block has no `suply` statement", NULL);
    check_report(SEASON "apply t {\n xyzzy 1 lb\n}\n", "3:2 statement",
                 "an `apply` block has no `xyzzy` statement",
                 "an `apply` block has: to, supply, rate, live-seed, lay, match, with, allow, note, when");
    check_report("\"plan\" x\n", "1:1 statement", "a statement begins with a word, not with quoted text", "");
    check_report("4 lb\n", "1:1 statement", "a statement begins with a word, not with a number", "");
    /* it is read as what was probably meant, and what stands in its block with it */
    assert_errors(SEASON
                  "Lawn l { Zone a square 3 ft\n zone b square 3 lb }\ntask t { to a, b\n when on Apr 3 }\n",
                  "2:1 statement\n2:10 statement\n3:16 dimension");
    assert_errors("prodct p { grade 14-0-0 granlar }\n", "1:1 statement\n1:25 form");
    /* a word that is a statement elsewhere was not misspelt, however near another one may be */
    check_report("zone a square 3 ft\n", "1:1 statement", "`zone a square 3 ft` belongs in `lawn`", NULL);
}

static void test_homes(void **state)
{
    struct model_text read;
    model_text_read(&read, "zone a square 3 ft\n");
    const struct report *report = model_text_error(&read);
    assert_string_equal(report->help, "write, for example: `lawn green { zone a square 3 ft }`");
    assert_null(report->fix);
    model_text_free(&read);
    model_text_read(&read, "prodct p { grade 14-0-0 granular }\n");
    report = model_text_error(&read);
    assert_string_equal(report->fix->edits[0].replacement, "product");
    assert_false(report->fix->safe);
    model_text_free(&read);
}

static void test_expected(void **state)
{
    check_report("units imperial\n", "1:7 form",
                 "`imperial` has larger gallons than `us`, whose gallon is 3.785 L",
                 "did you mean `units us`?");
    check_report("units furlong\n", "1:7 form", "`furlong` cannot come after `units`",
                 "expected `us`, `metric`, `rates lb per acre` or `rates kg per ha`");
    check_report(
        "units\n", "1:6 form",
        "`us`, `metric`, `rates lb per acre` or `rates kg per ha` is missing at the end",
        "did you mean `units us`, `units metric`, `units rates lb per acre` or `units rates kg per ha`?");
    check_report("units us metric\n", "1:10 form", "`metric` cannot come after `units us`",
                 "expected `,` or the end of the line");
    check_report("season 2027-03-01 until 2027-11-20\n", "1:19 form", "`until` is written `to` here",
                 "did you mean `season 2027-03-01 to 2027-11-20`?");
    check_report("season 2027-03-01 2027-11-20\n", "1:19 form", "`to` is missing before `2027-11-20`",
                 "did you mean `season 2027-03-01 to 2027-11-20`?");
    check_report("season 2027-03-01 until x\n", "1:19 form", "`until` cannot come after `season 2027-03-01`",
                 "expected `to`");
    check_report(
        "limits { at most 1 lb N per 1000 sqft }\n", "1:38 form",
        "`per application` or `per year` is missing at the end",
        "did you mean `at most 1 lb N per 1000 sqft per application` or `at most 1 lb N per 1000 sqft "
        "per year`?");
    check_report(SEASON "task t { when\n}\n", "2:14 form", "this statement is incomplete",
                 "for example `when on May 22`, `when between Apr 10 and Apr 30` or `when from Apr 10`");
}

static void test_line_break(void **state)
{
    struct model_text read;
    model_text_read(&read, SEASON GROUND "task t {\n to a,\n when Foo 3\n}\n");
    assert_string_equal(model_text_errors(&read), "5:7 form");
    const struct report *report = model_text_error(&read);
    assert_int_equal(report->labels.count, 0); /* the comma did no harm */
    model_text_free(&read);
    model_text_read(&read, SEASON GROUND "task t {\n when on Apr 3,\n \"x\"\n}\n");
    assert_string_equal(model_text_errors(&read), "5:2 form");
    report = model_text_error(&read);
    assert_int_equal(report->labels.count, 1);
    assert_string_equal(report->labels.items[0].text,
                        "the comma at the end of this line continues the statement");
    model_text_free(&read);
}

static void test_no_line_break(void **state)
{
    struct model_text read;
    model_text_read(&read, SEASON GROUND "task t { when on Apr 3, \"x\" }\n");
    assert_string_equal(model_text_errors(&read), "3:25 form");
    assert_int_equal(model_text_error(&read)->labels.count, 0);
    model_text_free(&read);
}

static void test_blocks(void **state)
{
    check_report("lawn l\n", "1:1 block", "`lawn` needs a block", NULL);
    check_report("units us { }\n", "1:10 block", "`units` cannot have a block", "");
    check_report("lawn l, units us { }\n", "1:1 block", "`lawn` needs a block", NULL);
    assert_errors(SEASON "task t { when on Apr 3 }\ndone t 2027-04-03\n", "");
}

static void test_repeated(void **state)
{
    assert_errors(SEASON "season 2027-03-01 to 2027-11-20\n", "2:1 repeated");
    assert_errors(SEASON GROUND "task t { to a\n to b\n when on Apr 3\n when by Apr 30 }\n", "4:2 repeated");
    assert_errors("product p { label 2 lb per 1000 sqft, up to 3 lb per 1000 sqft }\n", "1:39 repeated");
    assert_errors("weather { }\nweather { }\n", "2:1 repeated");
    struct model_text read;
    model_text_read(&read, "units metric\nunits us\n"); /* the first one stands */
    assert_true(read.model->metric);
    model_text_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_table),        cmocka_unit_test(test_forms_of_a_word),
        cmocka_unit_test(test_find),         cmocka_unit_test(test_names_like_words),
        cmocka_unit_test(test_quoted_names), cmocka_unit_test(test_lists_and_statements),
        cmocka_unit_test(test_continued),    cmocka_unit_test(test_unknown_word),
        cmocka_unit_test(test_homes),        cmocka_unit_test(test_expected),
        cmocka_unit_test(test_line_break),   cmocka_unit_test(test_no_line_break),
        cmocka_unit_test(test_blocks),       cmocka_unit_test(test_repeated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
