#include "parser/tree.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

struct parsed {
    struct arena arena;
    struct reports reports;
    struct source source;
    struct tree tree;
};

static void parse_text(struct parsed *parsed, struct text text)
{
    memset(parsed, 0, sizeof *parsed);
    arena_init(&parsed->arena, NULL);
    reports_init(&parsed->reports, &parsed->arena);
    const char *copy = text_string(&parsed->arena, text);
    source_init(&parsed->source, &parsed->arena, "test.prill", (const unsigned char *)copy,
                (uint32_t)text.length);
    parse_source(&parsed->source, &parsed->arena, &parsed->reports, &parsed->tree);
    reports_sort(&parsed->reports);
}

static void parsed_free(struct parsed *parsed)
{
    arena_free(&parsed->arena);
}

static void show_block(struct buffer *out, const struct tree *tree, const struct block *block);

static void show_statement(struct buffer *out, const struct tree *tree, const struct statement *statement)
{
    const char *between = statement->broken ? "!" : "";
    for (uint32_t i = statement->first; i < statement->end; i++) {
        enum token_kind kind = (enum token_kind)tree->tokens.items[i].kind;
        if (kind == TOKEN_NEWLINE || kind == TOKEN_COMMENT || kind == TOKEN_END)
            continue;
        buffer_add_string(out, between);
        buffer_add(out, token_text(&tree->tokens, i));
        between = " ";
    }
    if (!statement->block)
        return;
    buffer_add_string(out, " {");
    show_block(out, tree, statement->block);
    buffer_add_string(out, "}");
}

/* "a b {c; d}; e": statements, `!` before those in which a mistake was met. */
static void show_block(struct buffer *out, const struct tree *tree, const struct block *block)
{
    for (const struct statement *statement = block->first; statement; statement = statement_next(statement)) {
        buffer_add_string(out, statement == block->first ? "" : "; ");
        show_statement(out, tree, statement);
    }
}

static const char *shown(struct parsed *parsed)
{
    struct buffer out = {.arena = &parsed->arena};
    show_block(&out, &parsed->tree, parsed->tree.plan);
    return buffer_string(&out);
}

/* "LINE:COLUMN RULE" of each report. */
static const char *complaints(struct parsed *parsed)
{
    struct buffer out = {.arena = &parsed->arena};
    for (size_t i = 0; i < parsed->reports.all.count; i++) {
        const struct report *report = parsed->reports.all.items[i];
        struct position at = source_position(report->place.source, report->place.start);
        buffer_format(&out, "%s%u:%u %s", i ? ", " : "", at.line, at.column, report->rule->name);
    }
    return buffer_string(&out);
}

struct sample {
    const char *text, *tree, *reports;
};

static void check_samples(const struct sample *samples, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct parsed parsed;
        parse_text(&parsed, text_of(samples[i].text));
        if (strcmp(shown(&parsed), samples[i].tree) != 0 ||
            strcmp(complaints(&parsed), samples[i].reports) != 0)
            print_error("%s\n", samples[i].text);
        assert_string_equal(shown(&parsed), samples[i].tree);
        assert_string_equal(complaints(&parsed), samples[i].reports);
        assert_int_equal(parsed.tree.sound, samples[i].reports[0] == '\0');
        parsed_free(&parsed);
    }
}
#define CHECK(samples) check_samples(samples, sizeof(samples) / sizeof *(samples))

static void test_statements(void **state)
{
    static const struct sample samples[] = {
        {"", "", ""},
        {"\n\n# only a comment", "", ""},
        {"plan \"x\"\nunits us", "plan \"x\"; units us", ""},
        {"plan \"x\"\n\n\nunits us\n", "plan \"x\"; units us", ""},
        {"lawn a {\n    zone b\n    zone c\n}\ntask d", "lawn a {zone b; zone c}; task d", ""},
        {"lawn a { zone b }", "lawn a {zone b}", ""},
        {"lawn a { }\nlawn b {}\nlawn c {\n}\n", "lawn a {}; lawn b {}; lawn c {}", ""},
        {"test {\n results {\n  a b\n }\n}", "test {results {a b}}", ""},
        {"spreader b { width 8 ft, hopper 35 lb }", "spreader b {width 8 ft , hopper 35 lb}", ""},
        {"a b,\nc,\n\n# note\nd\ne", "a b , c , d; e", ""},
        {"zone a (square 3 ft,\n plus square 2 ft)\nzone b",
         "zone a ( square 3 ft , plus square 2 ft ); zone b", ""},
        {"zone a polygon (0 ft,\n\n 0 ft), (3 ft, 0 ft)", "zone a polygon ( 0 ft , 0 ft ) , ( 3 ft , 0 ft )",
         ""},
        {"a { # x\n b # y\n} # z", "a {b}", ""},
        {"a: b / c < 4 30% 2027-04-17 1-2-3 18:00", "a : b / c < 4 30% 2027-04-17 1-2-3 18:00", ""},
        {"a\r\nb {\r\nc\r\n}\r\n", "a; b {c}", ""},
    };
    CHECK(samples);
}

static void test_commas(void **state)
{
    static const struct sample samples[] = {
        {"to a,\n}", "!to a , }", "2:1 unopened, 2:2 syntax"},
        {"x {\n to a,\n}\ny", "x {!to a , }}; y", "2:6 syntax"},
        {"to a,", "!to a ,", "1:5 syntax"},
        {"to a,,b\nc", "!to a , , b; c", "1:6 syntax"},
        {", a\nb", "!, a; b", "1:1 syntax"},
        {"a (b,) c\nd", "!a ( b , ) c; d", "1:6 syntax"},
    };
    CHECK(samples);
}

static void test_each_mistake_in_its_statement(void **state)
{
    static const struct sample samples[] = {
        {"a \"open\nb\nc 4,500 d\ne", "!a \"open; b; !c 4,500 d; e", "1:3 string, 3:3 number"},
        {"a {\n b ? c\n d\n e ?\n}\nf ?\ng", "a {!b ? c; d; !e ?}; !f ?; g",
         "2:4 character, 4:4 character, 6:3 character"},
        {"a ? {\n b\n}\nc", "!a ? {b}; c", "1:3 character"},
        {"a ? b {\n c ?\n}\nd", "!a ? b {!c ?}; d", "1:3 character, 2:4 character"},
        {"?\n?\n?", "!?; !?; !?", "1:1 character, 2:1 character, 3:1 character"},
        {"<<<<<<< x\na\n=======\nb\n>>>>>>> y", "!<<<<<<< x; a; !=======; b; !>>>>>>> y",
         "1:1 conflict-marker, 3:1 conflict-marker, 5:1 conflict-marker"},
        {"a () b\nc", "!a ( ) b; c", "1:4 syntax"},
    };
    CHECK(samples);
}

static void test_missing_braces(void **state)
{
    static const struct sample samples[] = {
        {"lawn a {\n    zone b\n    zone c\n", "lawn a {zone b; zone c}", "1:8 unclosed"},
        {"lawn a {\n    zone b\n\ntask c\ntask d", "lawn a {zone b}; task c; task d", "1:8 unclosed"},
        {"lawn a {\n    zone b\napply c {\n    to b\n}\ntask d", "lawn a {zone b}; apply c {to b}; task d",
         "1:8 unclosed"},
        {"test {\n    results {\n        a b\n}\ntask c", "test {results {a b}}; task c", "2:13 unclosed"},
        {"a {\n    b {\n        c\n    d\ne", "a {b {c}; d}; e", "1:3 unclosed, 2:7 unclosed"},
        {"a {\n\tb\n c", "a {b; c}", "1:3 unclosed"},
        /* what is not indented tells nothing: the rest is in the block, and said to be */
        {"lawn a {\nzone b\ntask c", "lawn a {zone b; task c}", "1:8 unclosed"},
        {"{", " {}", "1:1 syntax, 1:1 unclosed"},
    };
    CHECK(samples);
}

static void test_extra_braces(void **state)
{
    static const struct sample samples[] = {
        {"lawn a {\n    zone b\n}\n}\ntask c", "lawn a {zone b}; task c", "4:1 unopened"},
        {"}\na", "a", "1:1 unopened"},
        {"}}\na {\n    b\nc", "a {b}; c", "1:1 unopened, 1:2 unopened, 2:3 unclosed"},
        {"a {\n    b\n}\n)\nc", "a {b}; c", "4:1 unopened"},
        {"a b) c\nd", "!a b ) c; d", "1:4 unopened"},
        {"a } b\nd", "!a } b; d", "1:3 unopened"},
        {"a { {\n b\n}\n}\nc", "a { {b}}; c", "1:5 syntax"},
    };
    CHECK(samples);
}

/* What a mistake's help tells of. */
static void test_help(void **state)
{
    static const struct {
        const char *text, *sentence, *help;
    } samples[] = {
        {"x {\n a,\n # note\n\n}", "nothing follows this `,`",
         "a `,` continues the statement: add the rest, or remove the `,`"},
        {"a,", "nothing follows this `,`", "a `,` continues the statement: add the rest, or remove the `,`"},
        {"a (\n\n)", "`)` is not allowed here", "a group between ( and ) cannot be empty"},
        {"a { } b", "a word is not allowed here", "a new statement begins on a new line"},
        {", a", "`,` is not allowed here", "a statement begins with a word that says what it is"},
        {"a\n, b", "`,` is not allowed here", "a statement begins with a word that says what it is"},
    };
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct parsed parsed;
        parse_text(&parsed, text_of(samples[i].text));
        assert_int_equal(parsed.reports.all.count, 1);
        assert_string_equal(parsed.reports.all.items[0]->sentence, samples[i].sentence);
        assert_string_equal(parsed.reports.all.items[0]->help, samples[i].help);
        parsed_free(&parsed);
    }
}

/* Braces on a line of their own are met once each and read as if they stood above. */
static void test_lone_braces(void **state)
{
    static const struct sample samples[] = {
        {"lawn a\n{\n    zone b\n}\ntask c", "lawn a {zone b}; task c", "2:1 syntax"},
        {"lawn a # note\n\n{\n    zone b\n}", "lawn a {zone b}", "3:1 syntax"},
        {"lawn a ?\n{\n    zone b\n}\nc", "!lawn a ? {zone b}; c", "1:8 character, 2:1 syntax"},
        {"lawn a {\n}\n{\n b\n}\nc", "lawn a {};  {b}; c", "3:1 syntax"},
    };
    CHECK(samples);
    struct parsed parsed;
    parse_text(&parsed, TEXT("lawn a\n\n{\n}"));
    const struct fix *fix = parsed.reports.all.items[0]->fix;
    assert_true(fix && fix->safe && fix->edit_count == 1);
    assert_int_equal(fix->edits[0].place.start, 6);
    assert_int_equal(fix->edits[0].place.end, 8);
    assert_string_equal(fix->edits[0].replacement, " ");
    parsed_free(&parsed);
    parse_text(&parsed, TEXT("lawn a # note\n{\n}"));
    assert_null(parsed.reports.all.items[0]->fix); /* it would swallow the comment */
    parsed_free(&parsed);
}

static void test_groups(void **state)
{
    static const struct sample samples[] = {
        {"zone a (square 3 ft\nzone b\n", "!zone a ( square 3 ft; zone b", "1:8 unclosed"},
        {"(a\nzone b\n", "!( a; zone b", "1:1 unclosed"},
        {"zone a ((square 3 ft\nzone b (c)\n", "!zone a ( ( square 3 ft; zone b ( c )",
         "1:8 unclosed, 1:9 unclosed"},
        {"x {\n zone a (square 3 ft,\n  plus b\n zone c\n}\nd",
         "x {!zone a ( square 3 ft , plus b; zone c}; d", "2:9 unclosed"},
        {"x (a {\n b\n}", "!x ( a {b}", "1:3 unclosed"},
        {"x (", "!x (", "1:3 unclosed, 1:4 syntax"},
        {"x (\na)", "x ( a )", ""},
    };
    CHECK(samples);
}

/* `count` times a text. */
static const char *repeated(struct arena *arena, const char *text, size_t count, const char *after)
{
    struct buffer out = {.arena = arena};
    for (size_t i = 0; i < count; i++)
        buffer_add_string(&out, text);
    buffer_add_string(&out, after);
    return buffer_string(&out);
}

static void check_depth(const char *open, size_t count, const char *close, const char *reports)
{
    struct parsed parsed;
    struct arena arena;
    arena_init(&arena, NULL);
    struct buffer text = {.arena = &arena};
    buffer_add_string(&text, repeated(&arena, open, count, ""));
    buffer_add_string(&text, repeated(&arena, close, count, "\n"));
    parse_text(&parsed, text_of(buffer_string(&text)));
    assert_string_equal(complaints(&parsed), reports);
    parsed_free(&parsed);
    arena_free(&arena);
}

static void test_depth(void **state)
{
    check_depth("a {\n", DEPTH_LIMIT, "}\n", "");
    check_depth("a {\n", DEPTH_LIMIT + 1, "}\n", "65:3 depth");
    check_depth("a {\n", 20000, "}\n", "65:3 depth");
    check_depth("(a ", DEPTH_LIMIT, ")", "");
    check_depth("(a ", DEPTH_LIMIT + 1, ")", "1:193 depth");
    check_depth("(a ", 20000, ")", "1:193 depth");
    check_depth("a {\n", 20000, "", "65:3 depth");
}

/* Every block and every group that may be open, each with as much before it as the grammar's stack can hold:
 * no more is ever there, and it has room (YYINITDEPTH). One more of either is reported where it opens. */
static void test_deepest_stack(void **state)
{
    static const struct {
        const char *block, *group, *said;
    } samples[] = {{"", "b", ""}, {"c {\n", "b", "129:3 depth"}, {"", "(a)", "129:513 depth"}};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        struct parsed parsed;
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer text = {.arena = &arena};
        buffer_add_string(&text, repeated(&arena, "a\nc {\n", DEPTH_LIMIT, ""));
        buffer_add_string(&text, samples[i].block);
        buffer_add_string(&text, repeated(&arena, "(a), b (", DEPTH_LIMIT, samples[i].group));
        buffer_add_string(&text, repeated(&arena, ")", DEPTH_LIMIT, "\n"));
        buffer_add_string(&text, repeated(&arena, "}\n", DEPTH_LIMIT + (size_t)(*samples[i].block != 0), ""));
        parse_text(&parsed, text_of(buffer_string(&text)));
        assert_string_equal(complaints(&parsed), samples[i].said);
        parsed_free(&parsed);
        arena_free(&arena);
    }
}

/* Plain lines become statements before the grammar sees them: those that it makes must be made by then. */
static void test_order_kept(void **state)
{
    static const struct sample samples[] = {
        {"a (b)\nc\nd (e)\nf\n", "a ( b ); c; d ( e ); f", ""},
        {"a {\nb (c)\nd\n}\ne\nf (g) {\nh\ni (j) }\nk\n", "a {b ( c ); d}; e; f ( g ) {h; i ( j )}; k", ""},
        {"a ?\nb\nc { d ?\ne }\nf\n", "!a ?; b; c {!d ?; e}; f", "1:3 character, 3:7 character"},
    };
    CHECK(samples);
}

/* A nest with one line that is not plain at its bottom takes what a shallow one takes. */
static void test_nest_read_once(void **state)
{
    size_t taken[2];
    for (int deep = 0; deep < 2; deep++) {
        struct parsed parsed;
        struct arena arena;
        arena_init(&arena, NULL);
        size_t depth = deep ? DEPTH_LIMIT - 1 : 1;
        struct buffer text = {.arena = &arena};
        buffer_add_string(&text, repeated(&arena, "a {\n", depth, ""));
        buffer_add_string(&text, repeated(&arena, "b {\nc\n}\n", 20000, "d (e)\n"));
        buffer_add_string(&text, repeated(&arena, "}\n", depth, ""));
        parse_text(&parsed, text_of(buffer_string(&text)));
        assert_string_equal(complaints(&parsed), "");
        taken[deep] = arena_total(&parsed.arena);
        parsed_free(&parsed);
        arena_free(&arena);
    }
    assert_true(taken[1] < 2 * taken[0]);
}

/* Recovery lets the parser end well: the count of errors is what tells. */
static void test_recovery_is_counted(void **state)
{
    struct parsed parsed;
    parse_text(&parsed, TEXT("a (b,) c\nd {\n e,\n}\nf ?\n"));
    assert_int_equal(parsed.reports.errors, 3);
    assert_false(parsed.tree.sound);
    assert_non_null(parsed.tree.plan);
    parsed_free(&parsed);
}

static void check_siblings(const char *text, size_t tokens)
{
    enum { COUNT = 20000 };
    struct parsed parsed;
    struct arena arena;
    arena_init(&arena, NULL);
    parse_text(&parsed, text_of(repeated(&arena, text, COUNT, "")));
    assert_int_equal(parsed.reports.errors, 0);
    assert_int_equal(parsed.tree.tokens.count, tokens * COUNT + 1);
    parsed_free(&parsed);
    arena_free(&arena);
}

/* More of each than the 10,000 that the parser's stack could hold. */
static void test_siblings(void **state)
{
    check_siblings("a b\n", 3);
    check_siblings("a {\n}\n", 5);
    check_siblings("a { b }\n", 5);
}

static void test_wide_statements(void **state)
{
    static const char *const parts[][3] = {
        {"a", ", b", ""},     {"a", " b", ""},       {"a", " (b)", ""},
        {"a (b", ", c", ")"}, {"a {\n", "b\n", "}"}, {"a {", " b, c d,\n", " e }"},
    };
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        struct parsed parsed;
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer text = {.arena = &arena};
        buffer_add_string(&text, parts[i][0]);
        buffer_add_string(&text, repeated(&arena, parts[i][1], 20000, parts[i][2]));
        parse_text(&parsed, text_of(buffer_string(&text)));
        assert_int_equal(parsed.reports.errors, 0);
        assert_true(parsed.tree.plan->first->last);
        parsed_free(&parsed);
        arena_free(&arena);
    }
}

static void check_tree(const struct tree *tree, const struct block *block, uint32_t *last, uint32_t depth)
{
    assert_true(depth <= DEPTH_LIMIT + 1);
    for (const struct statement *statement = block->first; statement; statement = statement_next(statement)) {
        assert_true(statement->first <= statement->end && statement->end <= tree->tokens.count);
        assert_true(statement->first >= *last);
        *last = statement->first;
        statement_place(tree, statement);
        if (statement->block)
            check_tree(tree, statement->block, last, depth + 1);
    }
}

/* Random soups of tokens: always an end, always a tree within the tokens, never a silent mistake. */
static void test_soups(void **state)
{
    static const char *const pieces[] = {"a ", "b ",        "\"c\" ", "4 ",  ", ", ",\n",  "\n", "\n    ",
                                         "{",  "}",         "{\n",    "}\n", "(",  ")",    "@",  "# x\n",
                                         ": ", "<<<<<<< y", "\"",     "{}",  "  ", "a {\n"};
    enum { PIECES = sizeof pieces / sizeof *pieces };
    uint64_t seed = 3;
    for (int round = 0; round < 30000; round++) {
        struct parsed parsed;
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer text = {.arena = &arena};
        size_t count = (size_t)(seed >> 33) % 60;
        for (size_t i = 0; i < count; i++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u;
            buffer_add_string(&text, pieces[(size_t)(seed >> 33) % PIECES]);
        }
        seed = seed * 6364136223846793005u + 1442695040888963407u;
        parse_text(&parsed, text_of(buffer_string(&text)));
        uint32_t last = 0;
        check_tree(&parsed.tree, parsed.tree.plan, &last, 0);
        assert_int_equal(parsed.tree.sound, parsed.reports.errors == 0);
        for (size_t i = 0; i < parsed.reports.all.count; i++)
            place_text(parsed.reports.all.items[i]->place); /* asserts that it lies in the text */
        parsed_free(&parsed);
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_statements),
        cmocka_unit_test(test_commas),
        cmocka_unit_test(test_each_mistake_in_its_statement),
        cmocka_unit_test(test_missing_braces),
        cmocka_unit_test(test_extra_braces),
        cmocka_unit_test(test_help),
        cmocka_unit_test(test_lone_braces),
        cmocka_unit_test(test_groups),
        cmocka_unit_test(test_depth),
        cmocka_unit_test(test_deepest_stack),
        cmocka_unit_test(test_order_kept),
        cmocka_unit_test(test_nest_read_once),
        cmocka_unit_test(test_recovery_is_counted),
        cmocka_unit_test(test_siblings),
        cmocka_unit_test(test_wide_statements),
        cmocka_unit_test(test_soups),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
