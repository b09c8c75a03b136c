/* A client sees a status, and never an abort, when memory ends: tried at each allocation of each result. */
#include "tests/unit/client_calls.h"
#include "tests/unit/ending_memory.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#ifdef MEMORY_NEVER_ENDS
static void test_memory_ends(void **state)
{
    skip();
}
#else
/* One compilation with every result, of which the n-th allocation fails, and all after it. */
static void compile_with(long allocations, const char *result, const char *form)
{
    struct prill_compilation *compilation;
    const char *text = NULL;
    size_t length;
    end_was_met = false;
    allocations_left = allocations;
    struct prill_options options = client_options(client_plan);
    enum prill_status status = prill_compile("lawn.prill", &options, &compilation);
    if (compilation && status == PRILL_FINE)
        text = prill_result(compilation, result, form, client_subject(result), &length);
    if (compilation)
        status = prill_status(compilation);
    allocations_left = -1;
    assert_int_equal(status, text ? PRILL_FINE : PRILL_SYSTEM_FAILED);
    assert_true(text || end_was_met);
    prill_free(compilation);
}

static void test_memory_ends(void **state)
{
    const char *result, *form;
    if (!memory_can_end())
        skip();
    for (size_t i = 0; (result = prill_result_name(i)); i++)
        for (size_t j = 0; (form = prill_result_form(result, j)); j++) {
            long allocations = 0;
            do
                compile_with(allocations++, result, form);
            while (end_was_met && allocations < 2000);
            assert_true(allocations > 4); /* the compilation, its scratch, and a block of each */
            assert_false(end_was_met);    /* at last there was enough */
        }
}
#endif

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_memory_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
