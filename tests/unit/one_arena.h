/* An arena of its own for each test of a program whose tests need nothing else, and what they print into it.
 * A test is a row TEST(function). */
#ifndef PRILL_TESTS_ONE_ARENA_H
#define PRILL_TESTS_ONE_ARENA_H

#include "compiler/form/page.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct arena arena;

static inline int one_arena_setup(void **state)
{
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static inline int one_arena_teardown(void **state)
{
    (void)state;
    arena_free(&arena);
    return 0;
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, one_arena_setup, one_arena_teardown)

/* What a form prints of a page. */
static inline const char *page_printed(void (*print)(struct buffer *out, const struct page *page),
                                       const struct page *page)
{
    struct buffer out = {.arena = &arena};
    print(&out, page);
    return buffer_string(&out);
}

/* What is between two marks, the first of which is there once. */
static inline const char *text_between(const char *text, const char *first, const char *second)
{
    const char *start = strstr(text, first), *end = start ? strstr(start + strlen(first), second) : NULL;
    assert_non_null(start);
    assert_non_null(end);
    assert_null(strstr(start + 1, first));
    start += strlen(first);
    return text_string(&arena, (struct text){start, (size_t)(end - start)});
}

#endif
