#include "tests/unit/format_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void assert_format(struct arena *arena, const char *bytes, const char *wanted)
{
    const char *once = formatted(arena, bytes);
    assert_non_null(once);
    if (strcmp(once, wanted) != 0)
        fail_msg("formatted:\n%s\nwanted:\n%s", once, wanted);
    assert_string_equal(formatted(arena, once), once);
    assert_string_equal(without_blanks(arena, once), without_blanks(arena, bytes));
}

static void test_blanks(void **state)
{
    static const struct {
        const char *bytes, *wanted;
    } rows[] = {
        {"", ""},
        {"\n\n  \n", ""},
        {"plan", "plan\n"},
        {"  rate\t4   lb", "rate 4 lb\n"},
        {"width 12ft", "width 12 ft\n"},
        {"rate 4 lb per 1000sqft of starter", "rate 4 lb per 1000 sqft of starter\n"},
        {"to north ,south,strip", "to north, south, strip\n"},
        {"offsets every 10 ft :8 ft", "offsets every 10 ft: 8 ft\n"},
        {"at 18 : 00", "at 18: 00\n"},
        {"at 18:00", "at 18:00\n"},
        {"rate 4 lb / acre", "rate 4 lb/acre\n"},
        {"rate 4 lb/acre", "rate 4 lb/acre\n"},
        {"x 4 / 5", "x 4 / 5\n"},
        {"x 4 / 5%", "x 4 / 5%\n"},
        {"x 4 / / 5", "x 4/ /5\n"},
        {"x 1/2", "x 1/2\n"},
        {"x 1\t1/2", "x 1\t1/2\n"},
        {"x 1   1/2", "x 1   1/2\n"}, /* one number: one and a half */
        {"x -1 1/2", "x -1 1/2\n"},
        {"x -1\t1/2", "x -1\t1/2\n"},
        {"x 9\t1/2", "x 9\t1/2\n"},
        {"x 0.5   1/2", "x 0.5 1/2\n"},
        {"x <  0.5", "x <0.5\n"},
        {"x ( a,b )c", "x (a, b) c\n"},
        {"x 30 % of N", "x 30 % of N\n"},
        {"\xEF\xBB\xBFplan", "plan\n"},
        {"plan \"a\"\r\nunits us\r\n", "plan  \"a\"\nunits us\n"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *once = formatted(*state, rows[i].bytes);
        assert_non_null(once);
        assert_string_equal(once, rows[i].wanted);
        assert_string_equal(formatted(*state, once), once);
    }
}

static void test_empty_lines(void **state)
{
    assert_format(*state, "\n\na b\n\n\n\nc d\nlawn x {\n\n\n  grass y\n\n\n  soil z\n\n}\n\n\n",
                  "a b\n\nc d\nlawn x {\n    grass y\n\n    soil z\n}\n");
}

static void test_alignment(void **state)
{
    assert_format(*state,
                  "lawn green {\n"
                  "grass tall-fescue\n"
                  " soil loam\n"
                  "zone a rectangle 62 ft by 40 ft\n"
                  "zone north triangle 50 ft by 34 ft\n"
                  "results {\n"
                  "spot pH P ppm K ppm\n"
                  "gate 6.4 11 44\n"
                  "\n"
                  "# shaded\n"
                  "bench 6.5 <1 (4 4)\n"
                  "}\n"
                  "method x\n"
                  "}\n",
                  "lawn green {\n"
                  "    grass  tall-fescue\n"
                  "    soil   loam\n"
                  "    zone   a       rectangle 62 ft by 40 ft\n"
                  "    zone   north   triangle 50 ft by 34 ft\n"
                  "    results {\n"
                  "        spot    pH    P ppm   K ppm\n"
                  "        gate    6.4   11      44\n"
                  "\n"
                  "        # shaded\n"
                  "        bench   6.5   <1      (4 4)\n"
                  "    }\n"
                  "    method x\n"
                  "}\n");
}

static void test_words_that_belong_together(void **state)
{
    assert_format(*state, "correct x {\n need N, P2O5\n at least 2 lb N\n at most 3 lb\n}\n",
                  "correct x {\n    need      N, P2O5\n    at least  2 lb N\n    at        most 3 lb\n}\n");
}

static void test_rules_are_not_aligned(void **state)
{
    assert_format(*state,
                  "limits {\n at most 0.9 lb N per application\n no  N, P2O5  from Nov 16 to Mar 1\n}",
                  "limits {\n    at most 0.9 lb N per application\n    no N, P2O5 from Nov 16 to Mar 1\n}\n");
}

static void test_blocks_on_a_line(void **state)
{
    assert_format(*state,
                  "spreader broadcast {width 8 ft,hopper 35 lb}\nsprayer backpack { tank 4 gal }\nweather{}\n"
                  "lawn x { zone a area 5 sqft\n}\nlawn y {\n}\n",
                  "spreader broadcast { width 8 ft, hopper 35 lb }\n"
                  "sprayer  backpack  { tank 4 gal }\n"
                  "weather  { }\n"
                  "lawn x {\n    zone a area 5 sqft\n}\n"
                  "lawn y {\n}\n");
}

static void test_long_block_is_opened(void **state)
{
    assert_format(
        *state,
        "spreader broadcast { width 8 ft, hopper 35 lb, passes 2, note \"lent by the neighbour, back by "
        "noon\" } # x\n",
        "spreader broadcast {\n"
        "    width 8 ft, hopper 35 lb, passes 2, note \"lent by the neighbour, back by noon\"\n"
        "}                                           # x\n");
}

static void test_wrapped_lines(void **state)
{
    assert_format(*state,
                  "product starter {\n"
                  "grade 14-20-10 granular\n"
                  "label 2 to 6 lb per 1000 sqft,\n"
                  "\n"
                  "   at least 42 days apart, # as printed\n"
                  "  # and this\n"
                  "      at most 3 a year\n"
                  "water-in 0.25 in\n"
                  "}\n"
                  "limits {\n"
                  "no N,\n"
                  "P2O5 from (\n"
                  "Nov 16)\n"
                  "}",
                  "product starter {\n"
                  "    grade     14-20-10 granular\n"
                  "    label     2 to 6 lb per 1000 sqft,\n"
                  "              at least 42 days apart,       # as printed\n"
                  "              # and this\n"
                  "              at most 3 a year\n"
                  "    water-in  0.25 in\n"
                  "}\n"
                  "limits {\n"
                  "    no N,\n"
                  "            P2O5 from (\n"
                  "            Nov 16)\n"
                  "}\n");
}

static void test_comments(void **state)
{
    assert_format(*state,
                  "# head  \n"
                  "plan \"a\" # first\n"
                  "units us     # second\n"
                  "             # goes on\n"
                  "    # on its own\n"
                  "lawn x { # opened\n"
                  "# inner\n"
                  "grass y # a rather long comment behind a line\n"
                  "  soil \"a text that is longer than where comments stand\" #far\n"
                  "# last\n"
                  "} # closed",
                  "# head  \n"
                  "plan  \"a\"                                   # first\n"
                  "units us                                    # second\n"
                  "                                            # goes on\n"
                  "# on its own\n"
                  "lawn x {                                    # opened\n"
                  "    # inner\n"
                  "    grass  y                                                  # a rather long comment "
                  "behind a line\n"
                  "    soil   \"a text that is longer than where comments stand\"  #far\n"
                  "    # last\n"
                  "}                                           # closed\n");
}

/* Only a comment right under the one behind a line goes on with it, and only from the same column. */
static void test_comments_that_do_not_go_on(void **state)
{
    assert_format(*state,
                  "lawn x {\n"
                  "grass y   # behind\n"
                  "     # on its own\n"
                  "# at the margin\n"
                  " # a blank in\n"
                  "soil z    # behind\n"
                  "\n"
                  "          # after a gap\n"
                  "}\n",
                  "lawn x {\n"
                  "    grass  y                                # behind\n"
                  "    # on its own\n"
                  "    # at the margin\n"
                  "    # a blank in\n"
                  "    soil   z                                # behind\n"
                  "\n"
                  "    # after a gap\n"
                  "}\n");
}

/* What goes before on other lines, comments among them, takes no room on the block's own line. */
static void test_block_after_wrapped_line(void **state)
{
    assert_format(
        *state,
        "spreader \"a name of some length\", # lent by the neighbour, to be brought back by noon of the same "
        "day at the very "
        "latest\n broadcast {width 8 ft}\n",
        "spreader \"a name of some length\",           # lent by the neighbour, to be brought back by "
        "noon of the same day at the very latest\n"
        "         broadcast { width 8 ft }\n");
}

/* Columns by terminal cells: a letter of two bytes is one wide, an ideograph of three bytes two. */
static void test_width(void **state)
{
    assert_format(*state, "lawn x {\ngr\xC3\xBCn a\n\xE8\x8D\x89 b\nabcd c\n}",
                  "lawn x {\n    gr\xC3\xBCn  a\n    \xE8\x8D\x89    b\n    abcd  c\n}\n");
}

/* A cell beyond all measure moves no other. */
static void test_widest(void **state)
{
    assert_format(*state,
                  "lawn x {\n"
                  "a123456789a123456789a123456789a123456789a123456789a123456789x b\n"
                  "soil loam\n"
                  "}",
                  "lawn x {\n"
                  "    a123456789a123456789a123456789a123456789a123456789a123456789x  b\n"
                  "    soil  loam\n"
                  "}\n");
}

static void test_unsound_text_is_refused(void **state)
{
    assert_null(formatted(*state, "lawn x {\n"));
    assert_null(formatted(*state, "plan \"open\n"));
    assert_null(formatted(*state, "a 4,500 lb\n"));
}

static bool keeps(struct arena *arena, const char *before, const char *after)
{
    struct tree a, b;
    parse_text(arena, before, &a);
    parse_text(arena, after, &b);
    return format_keeps_tokens(&a.tokens, &b.tokens);
}

static void test_faults_are_seen(void **state)
{
    assert_true(keeps(*state, "a b\n\n\nc d\n", "a   b\nc d"));
    assert_true(keeps(*state, "a { b c }", "a {\n    b c\n}\n"));
    assert_true(keeps(*state, "a b,\n\n\nc", "a b,\nc\n"));
    assert_false(keeps(*state, "a b\nc d\n", "a b c d\n"));
    assert_false(keeps(*state, "a b c d\n", "a b\nc d\n"));
    assert_false(keeps(*state, "a 4 lb\n", "a 5 lb\n"));
    assert_false(keeps(*state, "a 4 lb\n", "a 4\n"));
    assert_false(keeps(*state, "a # c\n", "a\n"));
    assert_false(keeps(*state, "a # c\n", "a #c\n"));
    assert_false(keeps(*state, "a # c\nb", "a\n# c\nb"));
    assert_false(keeps(*state, "a \"b  c\"\n", "a \"b c\"\n"));
    assert_false(keeps(*state, "x 1\t1/2\n", "x 1 1/2\n"));
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, arena_setup, arena_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_blanks),
        TEST(test_empty_lines),
        TEST(test_alignment),
        TEST(test_words_that_belong_together),
        TEST(test_rules_are_not_aligned),
        TEST(test_blocks_on_a_line),
        TEST(test_long_block_is_opened),
        TEST(test_wrapped_lines),
        TEST(test_comments),
        TEST(test_comments_that_do_not_go_on),
        TEST(test_block_after_wrapped_line),
        TEST(test_width),
        TEST(test_widest),
        TEST(test_unsound_text_is_refused),
        TEST(test_faults_are_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
