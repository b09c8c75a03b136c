/* The syntax tree: a plan is statements, a statement is terms and perhaps a block of further statements.
 *
 * The tree holds no text of its own: it points into the tokens, and these lose nothing, so that the formatter
 * and the editor see every comment, blank line and unit as written. What a statement means is not known here;
 * its form is looked up in the table of compiler/model/statement.h. */
#ifndef PRILL_PARSER_TREE_H
#define PRILL_PARSER_TREE_H

#include "lexer/token.h"

struct block;

enum { STATEMENT_END_MOST = (1 << 30) - 1 };

/* The statements of a block lie side by side. */
struct statement {
    uint32_t first;      /* tokens of its terms, [first, end); comments and line ends between them included */
    uint32_t end : 30;   /* there are fewer tokens than bytes: SOURCE_LIMIT has 27 bits */
    uint32_t broken : 1; /* a syntax error was reported in it: nothing more is said about it */
    uint32_t last : 1;   /* of its block */
    struct block *block; /* NULL when it has none */
};

struct block {
    struct statement *first; /* NULL when it is empty */
    uint32_t open, close;    /* tokens of its braces; for the whole plan: the first token and the end */
};

/* The next one of its block; NULL behind the last. */
static inline struct statement *statement_next(const struct statement *statement)
{
    return statement->last ? NULL : (struct statement *)statement + 1;
}

struct tree {
    const struct source *source;
    struct tokens tokens;
    struct block *plan;
    bool sound; /* no syntax error: the formatter refuses a plan that is not sound */
};

/* Deeper blocks or groups are refused with a report: no plan needs them, and every walk over a tree may
 * recurse. */
enum { DEPTH_LIMIT = 64 };

/* Lexes and parses a whole source, whose tokens and tree lie in `arena`. Never fails: what is wrong is in the
 * reports, and what could be read is in the tree. The exit status must come from the count of errors, never
 * from here. */
void parse_source(const struct source *source, struct arena *arena, struct reports *reports,
                  struct tree *tree);

/* From the statement's first term to its last. */
struct place statement_place(const struct tree *tree, const struct statement *statement);

extern const struct rule parser_rules[];
extern const size_t parser_rule_count;

#endif
