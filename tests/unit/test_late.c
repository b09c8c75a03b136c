/* Shared libraries that are opened when they are wanted, and what is said where one is missing. */
#include "compiler/model/late.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define MATHEMATICS(each) each(floor) each(ldexp)
#define NOWHERE(each) each(floor) each(arena_init)

struct mathematics {
    MATHEMATICS(LATE_MEMBER)
};
struct nowhere {
    NOWHERE(LATE_MEMBER)
};

static void test_functions_are_found(void **state)
{
    struct arena arena;
    struct mathematics mathematics;
    arena_init(&arena, NULL);
    LATE_OPEN(&arena, "libm.so.6", MATHEMATICS, mathematics);
    assert_true(mathematics.floor(3.5) == 3 && mathematics.ldexp(3, 2) == 12);
    arena_free(&arena);
}

static void test_a_lack_is_said(void **state)
{
    struct mathematics mathematics;
    struct nowhere nowhere;
    for (int which = 0; which < 2; which++) {
        struct arena arena;
        jmp_buf lacking;
        arena_init(&arena, &lacking);
        if (setjmp(lacking) == 0) {
            if (which == 0)
                LATE_OPEN(&arena, "libnobody.so.0", MATHEMATICS, mathematics);
            else
                LATE_OPEN(&arena, "libm.so.6", NOWHERE, nowhere);
            fail();
        }
        assert_non_null(strstr(arena.lack, which ? "libm.so.6" : "libnobody.so.0"));
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_functions_are_found),
        cmocka_unit_test(test_a_lack_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
