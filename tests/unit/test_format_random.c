/* What holds of the layout of every text: it keeps what is said, and is its own layout. */
#include "tests/unit/format_text.h"

#include <string.h>

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_soups),
        cmocka_unit_test(test_random_plans),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
