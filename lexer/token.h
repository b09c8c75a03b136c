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

enum { TOKEN_START_BITS = 27 }; /* SOURCE_LIMIT has as many */

/* Where it ends is known by where the next one begins: token_end. */
struct token {
    uint32_t start : TOKEN_START_BITS, kind : 32 - TOKEN_START_BITS; /* a byte; enum token_kind */
};

struct tokens {
    const struct source *source;
    struct token *items;    /* and one more behind the last, where that ends */
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

/* The byte after it. Between two tokens there are blanks and nothing else, and no token but a comment ends in
 * one: those behind a quote that was never closed are left to the line. The end of the source has no bytes.
 */
static inline uint32_t token_end(const struct tokens *tokens, size_t index)
{
    const struct token *token = &tokens->items[index];
    const unsigned char *bytes = tokens->source->bytes, *end = bytes + token[1].start;
    if (token->kind != TOKEN_COMMENT && token->kind != TOKEN_END)
        while (end[-1] == ' ' || end[-1] == '\t')
            end--;
    return (uint32_t)(end - bytes);
}

static inline struct text token_text(const struct tokens *tokens, size_t index)
{
    uint32_t start = tokens->items[index].start;
    return (struct text){(const char *)tokens->source->bytes + start, token_end(tokens, index) - start};
}

/* Whether the token, a word, is this one. */
static inline bool token_is(const struct tokens *tokens, size_t index, struct text word)
{
    const struct token *token = &tokens->items[index];
    const char *start = (const char *)tokens->source->bytes + token->start;
    size_t room = token[1].start - token->start; /* with the blanks behind it */
    return room >= word.length && *start == *word.start && memcmp(start, word.start, word.length) == 0 &&
           (room == word.length || start[word.length] == ' ' || start[word.length] == '\t');
}

static inline struct place token_place(const struct tokens *tokens, size_t index)
{
    return (struct place){tokens->source, tokens->items[index].start, token_end(tokens, index)};
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
