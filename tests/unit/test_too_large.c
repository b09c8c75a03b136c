/* A plan that takes more than it may: the report, at the statement to make smaller. */
#include "compiler/compilation.h"
#include "compiler/model/rule.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

static const char plan_text[] = "plan \"Test\"\n"
                                "edition 1 on 2027-02-20\n"
                                "season 2027-03-01 to 2027-11-20\n"
                                "lawn green {\n"
                                "    zone north area 1000 sqft\n"
                                "    zone south area 1000 sqft\n"
                                "    zone west area 1000 sqft\n"
                                "}\n"
                                "task mow { to north }\n"
                                "task edge { to south }\n";

/* The plan is read; what takes too much begins then. */
static struct prill_compilation *compiled(void)
{
    struct prill_compilation *compilation;
    struct prill_options options = {
        .size = sizeof options, .text = plan_text, .text_length = strlen(plan_text), .sealed = true};
    prill_compile("plan.prill", &options, &compilation);
    assert_non_null(compilation->model);
    compilation->compiled = false;
    return compilation;
}

static void work(struct prill_compilation *compilation, void *task)
{
    for (size_t *turns = task;; ++*turns)
        arena_work(&compilation->arena, 1000);
}

static void take(struct prill_compilation *compilation, void *task)
{
    for (size_t *turns = task;; ++*turns)
        arena_alloc(arena_scratch(&compilation->arena), 1000);
}

/* One report, at the last of the three zones, which are more than the two tasks. */
static void assert_too_large(struct prill_compilation *compilation, const char *sentence)
{
    assert_int_equal(prill_status(compilation), PRILL_PLAN_HAS_ERRORS);
    assert_false(compilation->over);
    assert_int_equal(compilation->reports.all.count, 1);
    const struct report *report = compilation->reports.all.items[0];
    assert_string_equal(report->rule->name, "too-large");
    assert_string_equal(report->sentence, sentence);
    const char *named = (const char *)report->place.source->bytes + report->place.start;
    assert_memory_equal(named, "west", 4);
    assert_string_equal(report->help, "what it holds multiplies: 3 zones, 2 applications and tasks; make one "
                                      "of them smaller, or make two plans");
}

static void test_work(void **state)
{
    struct prill_compilation *compilation = compiled();
    size_t turns = 0;
    compilation->arena.steps = 0;
    compilation->arena.steps_most = 7000000;
    assert_false(compilation_attempt(compilation, work, &turns));
    assert_int_equal(turns, 7000);
    assert_too_large(compilation, "this plan takes more than 7 million steps to work out");
    prill_free(compilation);
}

/* What is taken for a while counts as well, and a block is asked for before it is needed. */
static void test_memory(void **state)
{
    struct prill_compilation *compilation = compiled();
    size_t turns = 0;
    compilation->arena.most = (size_t)8 << 20;
    assert_false(compilation_attempt(compilation, take, &turns));
    assert_in_range(turns, 1, 8 << 20);
    assert_too_large(compilation, "this plan takes more than 8 MiB of memory to work out");
    prill_free(compilation);
}

/* Each result has the work of a whole compilation again; what takes more is refused, with what
 * to make smaller, and is no report. */
static void test_result(void **state)
{
    struct prill_compilation *compilation = compiled();
    size_t turns = 0;
    compilation->compiled = true;
    compilation->over = false;
    compilation->arena.steps_most = 5000;
    assert_false(compilation_attempt(compilation, work, &turns));
    assert_int_equal(turns, 5);
    assert_int_equal(prill_status(compilation), PRILL_SYSTEM_FAILED);
    assert_string_equal(prill_reason(compilation),
                        "this takes more work than prill allows a plan; what it holds multiplies: 3 zones, "
                        "2 applications and tasks; make one of them smaller, or make two plans");
    prill_free(compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_work), cmocka_unit_test(test_memory),
                                       cmocka_unit_test(test_result)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
