/* A text cut into tokens. */
#ifndef PRILL_TESTS_LEXED_TEXT_H
#define PRILL_TESTS_LEXED_TEXT_H

#include "lexer/token.h"

struct lexed {
    struct arena arena;
    struct reports reports;
    struct source source;
    struct tokens tokens;
};

void lex_bytes(struct lexed *lexed, struct text text);
void lexed_free(struct lexed *lexed);

#endif
