/* Whatever a text is made of, no byte of it is lost. */
#include "tests/unit/lexed_text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* A token ends where the blanks before the next one begin: so a byte that was lost would be the end of one
 * that it does not belong to. */
static void check_kind(enum token_kind kind, struct text text)
{
    static const char *const made_of[TOKEN_KIND_COUNT] = {
        [TOKEN_NUMBER] = "0123456789-./ ",
        [TOKEN_PERCENT] = "0123456789-. %",
        [TOKEN_DATE] = "0123456789-",
        [TOKEN_GRADE] = "0123456789-.",
        [TOKEN_CLOCK] = "0123456789:",
        [TOKEN_COMMA] = ",",
        [TOKEN_COLON] = ":",
        [TOKEN_SLASH] = "/",
        [TOKEN_LESS] = "<",
        [TOKEN_MORE] = ">",
        [TOKEN_OPEN_BLOCK] = "{",
        [TOKEN_CLOSE_BLOCK] = "}",
        [TOKEN_OPEN_GROUP] = "(",
        [TOKEN_CLOSE_GROUP] = ")",
        [TOKEN_NEWLINE] = "\r\n",
    };
    for (size_t i = 0; i < text.length && made_of[kind]; i++)
        assert_true(text.start[i] && strchr(made_of[kind], text.start[i]));
    if (kind >= TOKEN_COLON && kind <= TOKEN_CLOSE_GROUP && kind != TOKEN_MARK)
        assert_int_equal(text.length, 1);
    if (kind == TOKEN_WORD)
        for (size_t i = 0; i < text.length; i++)
            assert_true((text.start[i] & 0x80) || text.start[i] == '-' ||
                        (text.start[i] >= '0' && text.start[i] <= '9') ||
                        ((text.start[i] | 0x20) >= 'a' && (text.start[i] | 0x20) <= 'z'));
    if (kind == TOKEN_STRING)
        assert_true(text.length >= 2 && text.start[0] == '"' && text.start[text.length - 1] == '"');
    if (kind == TOKEN_COMMENT)
        assert_true(text.start[0] == '#' && !memchr(text.start, '\n', text.length));
}

/* Every byte of the source lies in one token, or is a blank or the mark at the start. */
static void check_lossless(const struct lexed *lexed)
{
    const unsigned char *bytes = lexed->source.bytes;
    bool mark = lexed->source.length >= 3 && !memcmp(bytes, "\xef\xbb\xbf", 3);
    uint32_t at = mark ? 3 : 0;
    for (size_t i = 0; i < lexed->tokens.count; i++) {
        const struct token *token = &lexed->tokens.items[i];
        for (; at < token->start; at++)
            assert_true(bytes[at] == ' ' || bytes[at] == '\t');
        struct text text = token_text(&lexed->tokens, i);
        assert_true(text.length > 0 || token->kind == TOKEN_END);
        assert_int_equal(token->start, at);
        check_kind((enum token_kind)token->kind, text);
        at = token->end;
    }
    assert_int_equal(at, lexed->source.length);
}

/* Pieces that meet each other in ways nobody thought of. */
static const char *const pieces[] = {
    "zone ",
    "north",
    "4",
    "1/2",
    "-",
    ",",
    ".",
    "%",
    "2027-04-17",
    "14-20-10",
    "18:00",
    "\"",
    "\\",
    "{",
    "}",
    "(",
    ")",
    "<",
    "<<<<<<<",
    "=======",
    "#",
    "\n",
    "\r\n",
    "\r",
    "\t",
    " ",
    "\x01",
    "\xff",
    "\xc2",
    "\u00b0F",
    "\xe2\x80\x9c",
    "\xe2\x80\x9d",
    "\xc2\xa0",
    "\xef\xbb\xbf",
    "_",
    "7777777777777777",
    "\xe2\x80\xae",
    "/",
    ":",
    "@",
};
enum { PIECE_COUNT = sizeof pieces / sizeof *pieces };

static void test_lossless(void **state)
{
    uint64_t seed = 1;
    for (int round = 0; round < 20000; round++) {
        struct lexed lexed;
        struct arena arena;
        arena_init(&arena, NULL);
        struct buffer text = {.arena = &arena};
        size_t count = (size_t)(seed >> 33) % 40;
        for (size_t i = 0; i < count; i++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u;
            size_t piece = (size_t)(seed >> 33) % (PIECE_COUNT + 1);
            if (piece == PIECE_COUNT)
                buffer_add(&text, (struct text){"\0", 1});
            else
                buffer_add_string(&text, pieces[piece]);
        }
        lex_bytes(&lexed, (struct text){buffer_string(&text), text.length});
        check_lossless(&lexed);
        lexed_free(&lexed);
        arena_free(&arena);
        seed = seed * 6364136223846793005u + 1442695040888963407u;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_lossless)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
