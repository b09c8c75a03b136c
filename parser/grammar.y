/* The grammar of a plan's phrases.
 *
 * It is small on purpose: it knows how lines, commas, groups and blocks hold together, so that each mistake is
 * met at the end of its own statement or block. Which statements there are and what they are made of is data
 * (compiler/model/statement.def), because there every word of the language is declared once and no word has to
 * be reserved: a zone may be called `north`, `to` or `starter`. For the grammar a run of words and values is one
 * terminal, whatever they are, with the commas between them; and lines that have nothing else, or a block of
 * such lines, are statements before it comes to see them (take_lines in parse.c). So that they follow on those
 * before them, each rule of a statement ends with a terminal behind which nothing needs to be read: where one
 * rule alone is possible, Bison reduces by it at once (lr.default-reduction).
 *
 * Lists recurse on the left, so that the stack does not grow with the plan: it is as deep as blocks and groups
 * are nested, each block being three symbols and each group four. */
%require "3.8.2"
%expect 0
%locations
%define api.pure full
%define api.prefix {prill_}
%define api.token.prefix {TOK_}
%define api.token.raw
%define api.value.type union
%define api.location.type {struct span}
%define api.header.include {"parser/grammar.h"}
%define parse.error custom
%define parse.lac full
%define lr.default-reduction most

%code requires {
#include "parser/tree.h"

/* Tokens [first, end). */
struct span {
    uint32_t first, end;
};

struct parse;
}

%code {
#include "parser/parse.h"

/* Three symbols for each block, four for each group, and a few: tests/unit/test_parse.c nests as deep as may be. */
#define YYINITDEPTH (8 * DEPTH_LIMIT)
#define YYMAXDEPTH YYINITDEPTH

#define YYLLOC_DEFAULT(current, rhs, n)                                                                     \
    do {                                                                                                    \
        if (n) {                                                                                            \
            (current).first = YYRHSLOC(rhs, 1).first;                                                       \
            (current).end = YYRHSLOC(rhs, n).end;                                                           \
        } else {                                                                                            \
            (current).first = (current).end = YYRHSLOC(rhs, 0).end;                                         \
        }                                                                                                   \
    } while (0)

static void prill_error(const struct span *span, struct parse *parse, const char *sentence);
}

%param {struct parse *parse}

%token
    TERMS           "words and values"
    COMMA           "`,`"
    OPEN_BLOCK      "`{`"
    CLOSE_BLOCK     "`}`"
    OPEN_GROUP      "`(`"
    CLOSE_GROUP     "`)`"
    LINE_END        "the end of the line"

%nterm <struct block *> block
%nterm <size_t> statements
%nterm <size_t> block_body

%%

plan:
    statements                              { parse_plan(parse); }
;

/* How many there were before the first of these. */
statements:
    %empty                                  { $$ = parse->statements.count; }
|   statements LINE_END
|   statements phrases LINE_END             { parse_statement(parse, @phrases, NULL, false); }
|   statements phrases block LINE_END       { parse_statement(parse, @phrases, $block, false); }
|   statements error LINE_END               { parse_statement(parse, @error, NULL, true); yyerrok; }
|   statements error block LINE_END         { parse_statement(parse, @error, $block, true); yyerrok; }
;

/* The closing brace may stand on the last statement's line. */
block_body:
    statements
|   statements phrases                      { parse_statement(parse, @phrases, NULL, false); }
|   statements phrases block                { parse_statement(parse, @phrases, $block, false); }
|   statements error                        { parse_statement(parse, @error, NULL, true); }
|   statements error block                  { parse_statement(parse, @error, $block, true); }
;

block:
    open block_body CLOSE_BLOCK             { $$ = parse_close(parse, $block_body, @open.first, @CLOSE_BLOCK.first); yyerrok; }
;

/* Inside the braces mistakes are reported anew, even when the statement before them was one. */
open:
    OPEN_BLOCK                              { yyerrok; }
;

phrases:
    phrase
|   phrases COMMA phrase
;

phrase:
    TERMS
|   group
|   phrase TERMS
|   phrase group
;

group:
    OPEN_GROUP phrases CLOSE_GROUP
;

%%

/* What may come next, in the language's words. A value of any kind is one thing to the user, not eight. */
static int yyreport_syntax_error(const yypcontext_t *context, struct parse *parse)
{
    yysymbol_kind_t expected[YYNTOKENS];
    int count = yypcontext_expected_tokens(context, expected, YYNTOKENS);
    struct parse_expectation expectation = {0};
    if (count < 0)
        arena_exhausted(parse->arena);
    for (int i = 0; i < count; i++) {
        yysymbol_kind_t symbol = expected[i];
        expectation.term |= symbol == YYSYMBOL_TERMS;
        expectation.line_end |= symbol == YYSYMBOL_LINE_END;
    }
    parse_complain(parse, *yypcontext_location(context), &expectation);
    return 0;
}

/* Only for what is no syntax error: the parser's own stack, whose depth has a bound. */
static void prill_error(const struct span *span, struct parse *parse, const char *sentence)
{
    (void)span;
    (void)sentence;
    arena_exhausted(parse->arena);
}
