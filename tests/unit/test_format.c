#include "parser/format.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* A language small enough to be seen whole; the real one is compiler/model's. */
enum { PLAN, PROPERTIES, TABLE, RULES, UNKNOWN };

static int block_kind(int outer, struct text head)
{
    if (outer == PROPERTIES && text_is(head, "results"))
        return TABLE;
    if (outer == PLAN && text_is(head, "limits"))
        return RULES;
    return outer == PLAN ? PROPERTIES : UNKNOWN;
}

static enum block_layout block_layout(int kind)
{
    return kind == TABLE ? LAYOUT_TABLE : kind == PLAN || kind == PROPERTIES ? LAYOUT_ALIGNED : LAYOUT_PLAIN;
}

static bool declares_name(int kind, struct text head)
{
    return kind == PROPERTIES && text_is(head, "zone");
}

static bool head_goes_on(struct text word, struct text next)
{
    return text_is(word, "at") && text_is(next, "least");
}

static size_t column_words(const struct text *words, size_t count)
{
    return count > 1 && text_is(words[1], "ppm") ? 2 : 1;
}

static const struct format_language language = {PLAN,          block_kind,   block_layout,
                                                declares_name, head_goes_on, column_words};

static int arena_setup(void **state)
{
    static struct arena arena;
    arena_init(&arena, NULL);
    *state = &arena;
    return 0;
}

static int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

static void parse(struct arena *arena, const char *bytes, struct tree *tree)
{
    struct source *source = ARENA_NEW(arena, struct source);
    struct reports *reports = ARENA_NEW(arena, struct reports);
    reports_init(reports, arena);
    source_init(source, arena, "green.prill", (const unsigned char *)bytes, (uint32_t)strlen(bytes));
    parse_source(source, arena, reports, tree);
}

/* NULL when the text is not sound. */
static const char *formatted(struct arena *arena, const char *bytes)
{
    struct tree tree;
    struct buffer out = {.arena = arena};
    parse(arena, bytes, &tree);
    if (!tree.sound)
        return NULL;
    if (!format_tree(&tree, &language, &out))
        fail_msg("the formatter would have changed:\n%s\ninto:\n%s", bytes, buffer_string(&out));
    return buffer_string(&out);
}

/* Everything but blanks, so that two texts may be compared by what they say; written without the lexer. */
static const char *without_blanks(struct arena *arena, const char *bytes)
{
    char *copy = (char *)text_string(arena, text_of(bytes)), *end = copy;
    for (const char *at = copy; *at; at++)
        if (*at != ' ' && *at != '\t' && *at != '\r' && *at != '\n')
            *end++ = *at;
    *end = '\0';
    return copy;
}

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
    parse(arena, before, &a);
    parse(arena, after, &b);
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

/* ---- random texts ---- */

static uint64_t random_state;

/* Marsaglia's xorshift, "Xorshift RNGs", J. Statistical Software 8, 2003; the same numbers in every run. */
static uint32_t random_below(uint32_t limit)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return (uint32_t)(random_state >> 32) % limit;
}

static const char *const pieces[] = {
    "a",     "zone", "results", "limits", "P2O5",       "ppm",   "\xC3\xBC", "4",   "0.5", "-3",     "1/2",
    "1",     "30%",  "5 %",     "18:00",  "2027-04-17", "6-0-0", "\"t x\"",  ",",   ",",   ":",      "/",
    "/",     "<",    "(",       ")",      "{",          "}",     "}",        "\n",  "\n",  "\r\n",   "# c\n",
    "#\t\n", "# \n", "\n\n\n",  "\n",     " ",          "\t",    "   ",      ",\n", "x {", "lawn {", "\"\"",
};

/* Any pieces at all: most of these texts are not sound, the short ones often are. */
static const char *soup(struct arena *arena)
{
    struct buffer text = {.arena = arena};
    uint32_t count = 1 + random_below(14);
    for (uint32_t i = 0; i < count; i++) {
        buffer_add_string(&text, pieces[random_below(sizeof pieces / sizeof *pieces)]);
        if (random_below(3))
            buffer_add_string(&text, random_below(8) ? " " : "\t");
    }
    return buffer_string(&text);
}

static void add_blanks(struct buffer *text)
{
    static const char *const blanks[] = {" ", " ", "  ", "\t", " \t  "};
    buffer_add_string(text, blanks[random_below(5)]);
}

static void add_term(struct buffer *text, int depth)
{
    static const char *const terms[] = {"a",
                                        "zone",
                                        "P",
                                        "ppm",
                                        "4",
                                        "1",
                                        "1/2",
                                        "0.5",
                                        "5%",
                                        "18:00",
                                        "\"q  q\"",
                                        "6-0-0",
                                        "2027-04-17",
                                        ":",
                                        "/",
                                        "<",
                                        "a-rather-long-word-for-a-column"};
    if (depth < 3 && random_below(12) == 0) {
        buffer_add_string(text, "(");
        add_term(text, depth + 1);
        buffer_add_string(text, random_below(3) ? " " : "\n");
        add_term(text, depth + 1);
        buffer_add_string(text, random_below(3) ? ")" : " # in a group\n )");
    } else {
        buffer_add_string(text, terms[random_below(sizeof terms / sizeof *terms)]);
    }
}

static void add_line_end(struct buffer *text)
{
    static const char *const ends[] = {"\n",
                                       "\r\n",
                                       "\n\n",
                                       "\n\n\n",
                                       " # c\n",
                                       "\t#  \n",
                                       "\n# own\n",
                                       "\n      # own\n",
                                       " # c\n   # on\n",
                                       " # c\n                                            # on\n"};
    buffer_add_string(text, ends[random_below(sizeof ends / sizeof *ends)]);
}

static void add_statements(struct buffer *text, int depth);

static void add_statement(struct buffer *text, int depth)
{
    static const char *const heads[] = {"a", "zone", "results", "limits", "lawn", "water-in", "4", "(x)"};
    static const char *const commas[] = {", ", " ,\t", ",\n", ", # c\n", ",\n\n  # c\n"};
    buffer_add_string(text, heads[random_below(8)]);
    for (uint32_t i = random_below(6); i > 0; i--) {
        add_blanks(text);
        add_term(text, 0);
        if (random_below(5) == 0) {
            buffer_add_string(text, commas[random_below(5)]);
            add_term(text, 0);
        }
    }
    if (depth < 12 && random_below(3) == 0) {
        buffer_add_string(text, random_below(2) ? "{" : " {");
        if (random_below(3) == 0) {
            buffer_add_string(text, " a 1");
        } else {
            add_line_end(text);
            add_statements(text, depth + 1);
        }
        buffer_add_string(text, "}");
    }
}

static void add_statements(struct buffer *text, int depth)
{
    for (uint32_t i = random_below(5); i > 0; i--) {
        add_statement(text, depth);
        add_line_end(text);
    }
}

/* Sound by its making. */
static const char *plan(struct arena *arena)
{
    struct buffer text = {.arena = arena};
    add_line_end(&text);
    add_statements(&text, 0);
    add_statement(&text, 0);
    return buffer_string(&text);
}

static bool assert_laws(const char *bytes)
{
    struct arena arena;
    arena_init(&arena, NULL);
    const char *once = formatted(&arena, bytes);
    if (once) {
        const char *twice = formatted(&arena, once);
        if (!twice || strcmp(once, twice) != 0)
            fail_msg("not the same again:\n%s\nonce:\n%s\ntwice:\n%s", bytes, once,
                     twice ? twice : "(not sound)");
        assert_string_equal(without_blanks(&arena, once), without_blanks(&arena, bytes));
        assert_null(strstr(once, "\n\n\n"));
        assert_true(*once == '\0' || (once[0] != '\n' && once[strlen(once) - 1] == '\n'));
    }
    arena_free(&arena);
    return once != NULL;
}

static void assert_laws_of(const char *(*make)(struct arena *), int count, int least)
{
    struct arena arena;
    int sound = 0;
    random_state = 88172645463325252u;
    for (int i = 0; i < count; i++) {
        arena_init(&arena, NULL);
        sound += assert_laws(make(&arena));
        arena_free(&arena);
    }
    if (sound < least)
        fail_msg("only %d of %d texts were sound", sound, count);
}

static void test_soups(void **state)
{
    (void)state;
    assert_laws_of(soup, 40000, 4000);
}

static void test_random_plans(void **state)
{
    (void)state;
    assert_laws_of(plan, 4000, 4000);
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
        TEST(test_soups),
        TEST(test_random_plans),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
