/* A plan's text cut into tokens. Nothing is copied and nothing is lost: every byte belongs to a token or is a
 * blank between two. */
#ifndef PRILL_LEXER_TOKEN_H
#define PRILL_LEXER_TOKEN_H

#include "lexer/report.h"

/* From words to marks: what a statement is made of, commas between; behind them what holds it together. */
enum token_kind {
    TOKEN_END,     /* end of the source; always the last token */
    TOKEN_WORD,    /* topdress, P2O5, mehlich-3, m2 */
    TOKEN_STRING,  /* "the bank" */
    TOKEN_NUMBER,  /* 4, 0.25, -3, 1/4, 1 1/2 */
    TOKEN_PERCENT, /* 30% */
    TOKEN_DATE,    /* 2027-04-17; the day may not exist */
    TOKEN_GRADE,   /* 14-20-10 */
    TOKEN_CLOCK,   /* 18:00 */
    TOKEN_RANGE,   /* 2-6, 1/4 - 1/2: two numbers and a dash of any length */
    TOKEN_COLON,
    TOKEN_SLASH,
    TOKEN_LESS, /* < before a result below detection */
    TOKEN_MORE, /* > before a result above what was measured */
    TOKEN_MARK, /* a mark of other texts: $ before a price, ' and " behind a length, a dash apart */
    TOKEN_COMMA,
    TOKEN_OPEN_BLOCK,
    TOKEN_CLOSE_BLOCK,
    TOKEN_OPEN_GROUP,
    TOKEN_CLOSE_GROUP,
    TOKEN_NEWLINE,
    TOKEN_COMMENT, /* # to the end of the line */
    TOKEN_INVALID, /* reported already */
    TOKEN_KIND_COUNT
};

enum { TOKEN_END_BITS = 27 }; /* SOURCE_LIMIT has as many */

struct token {
    uint32_t start;
    uint32_t kind : 32 - TOKEN_END_BITS, end : TOKEN_END_BITS; /* enum token_kind; the byte after it */
};

struct tokens {
    const struct source *source;
    struct token *items;
    size_t count, capacity; /* at least 1: the end */
};

/* Longest word, number of digits: beyond them a report; no plan needs them, and exactness would be lost. */
enum { WORD_LIMIT = 200, DIGIT_LIMIT = 15 };

/* Cuts the whole source into tokens that lie in `arena`; what is no token is reported at its place and
 * becomes TOKEN_INVALID. */
void lex_source(const struct source *source, struct arena *arena, struct reports *reports,
                struct tokens *tokens);

/* "a word", "a number", "`{`": for sentences to the user. */
const char *token_description(enum token_kind kind);

static inline struct text token_text(const struct tokens *tokens, size_t index)
{
    const struct token *token = &tokens->items[index];
    return (struct text){(const char *)tokens->source->bytes + token->start, token->end - token->start};
}

static inline struct place token_place(const struct tokens *tokens, size_t index)
{
    return (struct place){tokens->source, tokens->items[index].start, tokens->items[index].end};
}

/* The value of a number, fraction or percent token (30% gives 30), exact to the nearest double. */
double token_number(struct text text);

/* Both numbers of a range token. */
void token_range(struct text text, double *low, double *high);

/* A string token's content: quotes gone, \" and \\ resolved; a copy only where there was an escape. */
struct text token_string(struct arena *arena, struct text text);

/* For `prill checks` and `allow`: the lexer's own rules. */
extern const struct rule lexer_rules[];
extern const size_t lexer_rule_count;

#endif
