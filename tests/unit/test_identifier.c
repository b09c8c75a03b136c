#include "compiler/model/identifier.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct identifier judged(const char *text, bool quoted)
{
    struct arena arena;
    arena_init(&arena, NULL);
    struct identifier identifier = {.text = text_of(text), .quoted = quoted};
    identifiers_judge(&arena, &identifier, 1);
    arena_free(&arena);
    return identifier;
}

/* The ASCII half is our own table; with a letter beyond ASCII behind it the same text goes through ICU. Held
 * apart, a name of ASCII must have one skeleton whichever way it was found. */
static void test_ascii_skeletons_are_those_of_icu(void **state)
{
    for (char c = ' '; c <= '~'; c++) {
        char plain[] = {'a', c, 'b', 0};
        /* A Cyrillic a, whose skeleton is the Latin one: this goes through ICU. */
        char foreign[] = {'\xd0', '\xb0', c, 'b', 0};
        uint64_t skeleton, other;
        assert_true(identifier_ascii_skeleton(text_of(plain), &skeleton));
        assert_false(identifier_ascii_skeleton(text_of(foreign), &other));
        assert_int_equal(skeleton, judged(foreign, true).skeleton);
        assert_int_equal(skeleton, judged(plain, true).skeleton);
    }
}

/* Unicode Technical Standard 39, section 4, "Confusable Detection": its own examples. */
static void test_examples_of_the_standard(void **state)
{
    assert_int_equal(judged("\xc7\x89"
                            "eto",
                            false)
                         .skeleton,
                     judged("ljeto", false).skeleton);
    assert_int_equal(judged("p\xd0\xb0yp\xd0\xb0l", false).skeleton, judged("paypal", false).skeleton);
    assert_int_equal(judged("\xd1\x95\xd1\x81\xd0\xbe\xd1\x80\xd0\xb5", false).skeleton,
                     judged("scope", false).skeleton);
    assert_true(judged("scope", false).skeleton != judged("scape", false).skeleton);
}

static void test_faults_stand_where_they_are(void **state)
{
    struct identifier mixed = judged("p\xd0\xb0ypal", false);
    assert_int_equal(mixed.fault, IDENTIFIER_MIXED);
    assert_int_equal(mixed.offset, 1);
    assert_int_equal(mixed.length, 2);
    assert_int_equal(mixed.code_point, 0x430);
    struct identifier soft = judged("no\xc2\xadrth", true);
    assert_int_equal(soft.fault, IDENTIFIER_INVISIBLE);
    assert_int_equal(soft.code_point, 0xad);
    assert_int_equal(judged("\xef\xac\x81"
                            "eld",
                            false)
                         .fault,
                     IDENTIFIER_CHARACTER); /* the ligature fi */
    assert_int_equal(judged("\xef\xac\x81"
                            "eld",
                            true)
                         .fault,
                     IDENTIFIER_SOUND);
    assert_int_equal(judged("caf\xc3\xa9-1", false).fault, IDENTIFIER_SOUND);
    assert_int_equal(judged("north", false).fault, IDENTIFIER_SOUND);
}

/* Names that are too long for a skeleton, and bytes that are no text, are survived. */
static void test_odd_texts_are_survived(void **state)
{
    static char longest[6000];
    for (size_t i = 0; i + 1 < sizeof longest; i += 2) {
        longest[i] = '\xd0';
        longest[i + 1] = '\xb0';
    }
    longest[sizeof longest - 2] = 0;
    assert_int_equal(judged(longest, true).fault, IDENTIFIER_SOUND);
    judged("\xff\xfe", true);
    judged("", true);
}

static void test_code_points_are_named(void **state)
{
    struct arena arena;
    arena_init(&arena, NULL);
    assert_string_equal(code_point_text(&arena, 0x43e), "U+043E CYRILLIC SMALL LETTER O");
    assert_string_equal(code_point_text(&arena, 0xe000), "U+E000");
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ascii_skeletons_are_those_of_icu),
        cmocka_unit_test(test_examples_of_the_standard),
        cmocka_unit_test(test_faults_stand_where_they_are),
        cmocka_unit_test(test_odd_texts_are_survived),
        cmocka_unit_test(test_code_points_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
