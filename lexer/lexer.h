/* A source while it is cut into tokens: between lexer.re, which cuts, lex.c, which takes a second look where
 * a pattern does not tell, and mistake.c, which reports what is no token. */
#ifndef PRILL_LEXER_LEXER_H
#define PRILL_LEXER_LEXER_H

#include "lexer/odd_date.h"
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

/* What the scanner finds besides the kinds of tokens. */
enum scan {
    SCAN_CROSSING = TOKEN_KIND_COUNT, /* a word such as x15: behind a number its x stands between two */
    SCAN_QUOTED,                      /* text in quotes: behind a number its first one is a mark of inches */
    /* from here on: no token, but a mistake known by its look */
    SCAN_CONFLICT_MARKER,
    SCAN_GROUPED_NUMBER,
    SCAN_COMMA_DECIMAL,
    SCAN_BARE_DECIMAL,
    SCAN_MIXED_FRACTION,
    SCAN_SLASH_DATE,
    SCAN_ODD_GRADE,
    SCAN_ODD_DATE,
    SCAN_LONG_GRADE,
    SCAN_UNDERSCORE,
    SCAN_BAD_ESCAPE,
    SCAN_OPEN_STRING,
    SCAN_CURLY_QUOTE,
    SCAN_ODD_BLANK,
    SCAN_ODD_DASH,
    SCAN_LONE_RETURN,
    SCAN_HIDDEN,
    SCAN_STRAY,
    SCAN_BROKEN_UTF8,
};

struct lexer {
    const unsigned char *start;  /* of what was scanned last */
    const unsigned char *cursor; /* its end */
    const unsigned char *limit;  /* end of the source, where a NUL stands */
    const struct source *source;
    struct arena *arena; /* of the reports, for their texts */
    struct reports *reports;
    struct arena *tokens_arena;
    struct tokens *tokens;
    unsigned previous;        /* enum token_kind or scan, of what a second look was taken at before */
    bool lone_return;         /* one was reported */
    bool broken_bytes;        /* some were: where one byte is of another character set, all are */
    bool ordered;             /* `order` was looked for */
    enum date_order order;    /* of the dates in the source that can be read in one way only */
    struct report *bracket;   /* of a [ whose ] is still to come, or NULL */
    struct report *shortened; /* of a word with a point, to which a second one in its line belongs; NULL */
    size_t shortened_at;      /* how many tokens there were */
    struct {
        uint32_t end;   /* of the line that was looked at last; 0: none was */
        char separator; /* `,` or `;` where it is a row of a spreadsheet; 0 where it is none */
    } row;
};

struct place lexer_place(const struct lexer *lexer); /* of what was scanned last */
struct text lexer_text(const struct lexer *lexer);

static inline struct token token_of(const unsigned char *bytes, const unsigned char *start,
                                    const unsigned char *end, unsigned kind)
{
    static_assert(SOURCE_LIMIT >> TOKEN_END_BITS == 0 && TOKEN_KIND_COUNT <= 32, "a token holds both");
    return (struct token){.start = (uint32_t)(start - bytes),
                          .kind = kind & 31,
                          .end = (uint32_t)(end - bytes) & ((1u << TOKEN_END_BITS) - 1)};
}

/* What was scanned last, as a token. */
void lexer_add(struct lexer *lexer, enum token_kind kind);

struct report *lexer_complain(struct lexer *lexer, enum lexer_rule rule, const char *sentence);

/* The newest token; NULL before the first. */
const struct token *lexer_last(const struct lexer *lexer);
bool lexer_touches(const struct lexer *lexer); /* whether what was scanned last begins at its end */

/* Whether the line is a row of a spreadsheet, whose numbers are parted by `,` or `;`; the mark, or 0. */
char lexer_row_separator(struct lexer *lexer);

/* One token for all of a file of another kind; nothing where it is none. */
void lexer_take_foreign_file(struct lexer *lexer);

/* Adds what was scanned last, where its pattern alone does not tell what it is. `kind` is that pattern's enum
 * token_kind or enum scan. */
void lexer_look_again(struct lexer *lexer, unsigned kind);

/* What was scanned is a mistake known by its look: reports it, and adds what stands for it. */
void lexer_take_mistake(struct lexer *lexer, unsigned scan);

/* The kind, or TOKEN_INVALID after a report where the text at hand is too long for a token of it. */
enum token_kind lexer_exact(struct lexer *lexer, enum token_kind kind);

#endif
