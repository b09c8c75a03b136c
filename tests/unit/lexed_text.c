#include "tests/unit/lexed_text.h"

#include <string.h>

void lex_bytes(struct lexed *lexed, struct text text)
{
    memset(lexed, 0, sizeof *lexed);
    arena_init(&lexed->arena, NULL);
    reports_init(&lexed->reports, &lexed->arena);
    const char *copy = text_string(&lexed->arena, text);
    source_init(&lexed->source, &lexed->arena, "test.prill", (const unsigned char *)copy,
                (uint32_t)text.length);
    lex_source(&lexed->source, &lexed->arena, &lexed->reports, &lexed->tokens);
}

void lexed_free(struct lexed *lexed)
{
    arena_free(&lexed->arena);
}
