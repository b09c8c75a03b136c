/* Texts that are no plan at all are read to their end. */
#include "tests/unit/model_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Words, numbers and marks of the language in any order. */
static void test_soups(void **state)
{
    static const char *const marks[] = {"{\n", "}\n",         "\n",        ", ",     "(",      ")",
                                        ": ",  "/ ",          "< ",        "4 ",     "1/2 ",   "30% ",
                                        "0 ",  "2027-04-17 ", "14-20-10 ", "18:00 ", "\"x\" ", "a ",
                                        "lb ", "sqft ",       "ft ",       "per ",   "days "};
    enum { MARKS = sizeof marks / sizeof *marks };
    uint64_t seed = 99;
    for (int round = 0; round < 800; round++) {
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer text = {.arena = &arena};
        for (uint32_t i = drawn(&seed, 80); i > 0; i--) {
            const char *word = form_at(drawn(&seed, (uint32_t)form_count()))->pattern;
            if (drawn(&seed, 3))
                buffer_add_string(&text, marks[drawn(&seed, MARKS)]);
            else
                buffer_format(&text, "%.*s ", (int)strcspn(word, "<["), word);
            if (!drawn(&seed, 8))
                buffer_format(&text, "%s\n", form_at(drawn(&seed, (uint32_t)form_count()))->example);
        }
        struct model_text read;
        model_text_read(&read, buffer_string(&text));
        model_text_free(&read);
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_soups)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
