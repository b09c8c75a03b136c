/* A source while it is cut into tokens: between lex.c, which cuts, and mistake.c, which reports what is no
 * token. */
#ifndef PRILL_LEXER_LEXER_H
#define PRILL_LEXER_LEXER_H

#include "lexer/odd_date.h"
#include "lexer/scan.h"
#include "lexer/token.h"

#include <assert.h>

enum lexer_rule {
    RULE_CHARACTER,
    RULE_ENCODING,
    RULE_STRING,
    RULE_NUMBER,
    RULE_DATE_FORM,
    RULE_CONFLICT_MARKER,
    RULE_TOO_LONG,
};

struct lexer {
    struct scanner scanner;
    const struct source *source;
    struct arena *arena; /* of the reports, for their texts */
    struct reports *reports;
    struct arena *tokens_arena;
    struct tokens *tokens;
    bool lone_return;         /* one was reported */
    bool broken_bytes;        /* some were: where one byte is of another character set, all are */
    bool ordered;             /* `order` was looked for */
    enum date_order order;    /* of the dates in the source that can be read in one way only */
    struct report *bracket;   /* of a [ whose ] is still to come, or NULL */
    struct report *shortened; /* of a word with a point in this line, to which a second one belongs; NULL */
    struct {
        uint32_t end;   /* of the line that was looked at last; 0: none was */
        char separator; /* `,` or `;` where it is a row of a spreadsheet; 0 where it is none */
    } row;
};

struct place lexer_place(const struct lexer *lexer); /* of what was scanned last */
struct text lexer_text(const struct lexer *lexer);
static inline void lexer_add(struct lexer *lexer, enum token_kind kind)
{
    const unsigned char *bytes = lexer->source->bytes;
    static_assert(SOURCE_LIMIT >> TOKEN_START_BITS == 0 && TOKEN_KIND_COUNT <= 32, "a token holds both");
    struct token token = {.start = (uint32_t)(lexer->scanner.start - bytes) & ((1u << TOKEN_START_BITS) - 1),
                          .kind = kind & 31,
                          .end = (uint32_t)(lexer->scanner.cursor - bytes)};
    VECTOR_PUSH(lexer->tokens_arena, lexer->tokens, token);
    if (kind == TOKEN_NEWLINE)
        lexer->shortened = NULL;
}

struct report *lexer_complain(struct lexer *lexer, enum lexer_rule rule, const char *sentence);

/* The newest token; NULL before the first. */
const struct token *lexer_last(const struct lexer *lexer);

/* Whether it is the first of its line. */
bool lexer_begins_line(const struct lexer *lexer);

/* Whether the line is a row of a spreadsheet, whose numbers are parted by `,` or `;`; the mark, or 0. */
char lexer_row_separator(struct lexer *lexer);

/* What was scanned is no token, but a mistake known by its look: reports it, and adds what stands for it.
 * `previous`: what was scanned before. */
void lexer_take_mistake(struct lexer *lexer, enum scan scan, enum scan previous);

#endif
