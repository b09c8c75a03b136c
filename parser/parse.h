/* Between the grammar, its actions and what it reads instead of tokens. */
#ifndef PRILL_PARSER_PARSE_H
#define PRILL_PARSER_PARSE_H

#include "parser/grammar.h"

enum { RULE_SYNTAX, RULE_UNCLOSED, RULE_UNOPENED, RULE_DEPTH };

#define PARSE_NONE UINT32_MAX /* no token */

struct open_block {
    uint32_t token;
    uint32_t column;       /* of its line's first token */
    uint32_t inner_column; /* of the first line inside; 0 before */
};

struct open_group {
    uint32_t token;
    bool unclosed; /* without a ) before the next brace or the end */
};

struct token_list {
    uint32_t *items;
    size_t count, capacity;
};

/* Of the grammar: tokens [first, end) as one. */
struct terminal {
    int kind;
    struct span span;
};

/* No token makes more terminals than the end of the file, which closes all groups and all blocks, each with a
 * line's end. */
enum { TERMINALS_WAITING = 3 * DEPTH_LIMIT + 2 };

struct parse {
    struct arena *arena;
    struct reports *reports;
    struct tree *tree;
    const struct token *tokens;
    VECTOR(struct statement) statements;        /* of the blocks now open, the outermost block's first */
    uint32_t token;                             /* that is looked at next */
    struct terminal waiting[TERMINALS_WAITING]; /* for the grammar to read */
    uint32_t waiting_first, waiting_count;
    struct open_block blocks[DEPTH_LIMIT]; /* now open */
    uint32_t block_count;
    uint32_t left_open[DEPTH_LIMIT]; /* by depth: the newest { that take_lines looked behind; once each */
    struct open_group groups[DEPTH_LIMIT]; /* now open */
    uint32_t group_count;
    struct token_list unclosed_groups; /* tokens of all that are unclosed, ascending */
    struct token_list unopened; /* ) and } that close nothing, ascending; the grammar does not see them */
    uint32_t line_head;         /* first token of this line; PARSE_NONE before it */
    uint32_t before; /* last token fed, or the line end that ended a statement; PARSE_NONE at the start */
    uint32_t missing_closes; /* more { than } in the file, not yet made up for */
    uint32_t blamed_brace;   /* the last { that was itself a mistake; PARSE_NONE before */
};

static inline struct place parse_place(const struct parse *parse, uint32_t token)
{
    return token_place(&parse->tree->tokens, token);
}

static inline enum token_kind parse_kind(const struct parse *parse, uint32_t token)
{
    return (enum token_kind)parse->tokens[token].kind;
}

/* Whether a statement is made of such. */
static inline bool parse_is_term(enum token_kind kind)
{
    return kind >= TOKEN_WORD && kind <= TOKEN_MARK;
}

/* Whether it is a line end or a comment. */
static inline bool parse_blank(const struct parse *parse, uint32_t token)
{
    return parse_kind(parse, token) == TOKEN_NEWLINE || parse_kind(parse, token) == TOKEN_COMMENT;
}

/* Whether one of the tokens [first, end) is in an ascending list. */
bool parse_lists(const struct token_list *list, uint32_t first, uint32_t end);

struct parse_expectation {
    bool term, line_end;
};

/* What the grammar reads: an enum prill_tokentype, of which `span` are the tokens. */
int prill_lex(PRILL_STYPE *value, struct span *span, struct parse *parse);

/* `broken`: a mistake was met in it. */
void parse_statement(struct parse *parse, struct span terms, struct block *block, bool broken);
/* Of the statements from `first` on; its braces are the tokens `open` and `close`. */
struct block *parse_close(struct parse *parse, uint32_t first, uint32_t open, uint32_t close);
void parse_plan(struct parse *parse);

void parse_complain(struct parse *parse, struct span found, const struct parse_expectation *expected);

#endif
