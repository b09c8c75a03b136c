/* Feeds the grammar with tokens, and turns what it cannot take into reports.
 *
 * Pushing instead of being pulled leaves four things here that a grammar does badly: line ends that do not
 * count (after a comma, inside a group), braces that do not match, depth, and tokens the lexer has complained
 * of. */
#include "parser/parse.h"

enum { RULE_SYNTAX, RULE_UNCLOSED, RULE_UNOPENED, RULE_DEPTH };

const struct rule parser_rules[] = {
    [RULE_SYNTAX] =
        {"syntax", SEVERITY_ERROR, "text that is no statement",
         "A plan is one statement a line; a statement may carry a block of further statements between "
         "{ and }. A line goes on after a comma and inside ( ).",
         NULL},
    [RULE_UNCLOSED] =
        {"unclosed", SEVERITY_ERROR, "a block or group that is opened and not closed",
         "Every { needs its }, every ( its ). The report names the line before which the closing mark "
         "seems to be missing, judging by the indentation.",
         NULL},
    [RULE_UNOPENED] = {"unopened", SEVERITY_ERROR, "a closing mark with nothing to close",
                       "A } or ) stands where no block or group is open.", NULL},
    [RULE_DEPTH] = {"depth", SEVERITY_ERROR, "blocks or groups nested too deep",
                    "Blocks and groups may be nested 64 deep; no plan needs more than three.", NULL},
};
const size_t parser_rule_count = sizeof parser_rules / sizeof *parser_rules;

struct parse {
    struct arena *arena;
    struct reports *reports;
    struct tree *tree;
    prill_pstate *state;
    uint32_t blocks[DEPTH_LIMIT]; /* tokens of the braces now open */
    uint32_t block_count;
    uint32_t groups[DEPTH_LIMIT];
    uint32_t group_count;
    uint32_t missing_closes; /* more { than } in the file, not yet made up for */
    uint32_t blamed_brace;   /* the last { that was itself a mistake; UINT32_MAX before */
    bool stopped;
};

/* ---- what the grammar's actions build ---- */

struct block *parse_block(struct parse *parse)
{
    return ARENA_NEW(parse->arena, struct block);
}

struct block *parse_add(struct parse *parse, struct block *block, struct statement *statement)
{
    (void)parse;
    if (block->last)
        block->last->next = statement;
    else
        block->first = statement;
    block->last = statement;
    block->count++;
    return block;
}

struct block *parse_close(struct parse *parse, struct block *block, struct span open, struct span close)
{
    block->open = open.first;
    block->close = close.first;
    block->depth = parse->block_count + 1;
    return block;
}

struct statement *parse_statement(struct parse *parse, struct span terms, struct block *block)
{
    struct statement *statement = ARENA_NEW(parse->arena, struct statement);
    statement->first = terms.first;
    statement->end = terms.end;
    statement->block = block;
    return statement;
}

struct statement *parse_broken(struct parse *parse, struct span terms, struct block *block)
{
    struct statement *statement = parse_statement(parse, terms, block);
    statement->broken = true;
    parse->tree->sound = false;
    return statement;
}

void parse_plan(struct parse *parse, struct block *block)
{
    block->open = 0;
    block->close = (uint32_t)parse->tree->tokens.count - 1;
    parse->tree->plan = block;
}

/* ---- complaints ---- */

static struct place place_of(const struct parse *parse, uint32_t token)
{
    return token_place(&parse->tree->tokens, token);
}

static enum token_kind kind_of(const struct parse *parse, uint32_t token)
{
    return (enum token_kind)parse->tree->tokens.items[token].kind;
}

static uint32_t previous_token(const struct parse *parse, uint32_t token)
{
    while (token-- > 0)
        if (kind_of(parse, token) != TOKEN_COMMENT && kind_of(parse, token) != TOKEN_NEWLINE)
            return token;
    return UINT32_MAX;
}

static const char *wanted(const struct parse_expectation *expected, enum token_kind before)
{
    if (before == TOKEN_COMMA)
        return "a line that ends in `,` goes on: a further part of the statement is missing";
    if (before == TOKEN_OPEN_GROUP)
        return "a group between ( and ) cannot be empty";
    if (expected->close_group)
        return "expected more of the statement, `,` or the closing `)`";
    if (expected->open_block)
        return "expected more of the statement, `,`, a `{` or the end of the line";
    if (expected->line_end && !expected->term)
        return "a new statement begins on a new line";
    return "a statement begins with a word that says what it is";
}

void parse_complain(struct parse *parse, struct span found, const struct parse_expectation *expected)
{
    enum token_kind kind = kind_of(parse, found.first);
    uint32_t before = previous_token(parse, found.first);
    enum token_kind before_kind = before == UINT32_MAX ? TOKEN_NEWLINE : kind_of(parse, before);
    parse->tree->sound = false;
    if (kind == TOKEN_OPEN_BLOCK) {
        bool cascade = before != UINT32_MAX && before == parse->blamed_brace;
        parse->blamed_brace = found.first;
        if (cascade)
            return;
        report_add(parse->reports, &parser_rules[RULE_SYNTAX], place_of(parse, found.first),
                   "this `{` belongs to no statement")
            ->help = "a block's `{` stands at the end of its statement's line";
        return;
    }
    struct report *report = report_add(
        parse->reports, &parser_rules[RULE_SYNTAX], place_of(parse, found.first), "%s cannot stand here",
        kind == TOKEN_NEWLINE ? "the end of the line" : token_description(kind));
    report->help = wanted(expected, before_kind);
}

void parse_complain_of_stack(struct parse *parse, struct span found, const char *sentence)
{
    parse->tree->sound = false;
    parse->stopped = true;
    report_add(parse->reports, &parser_rules[RULE_DEPTH], place_of(parse, found.first),
               "the plan cannot be read: %s", sentence);
}

/* ---- the driver ---- */

static void push(struct parse *parse, int terminal, uint32_t token)
{
    struct span span = {token, token + 1};
    int status = prill_push_parse(parse->state, terminal, &(PRILL_STYPE){0}, &span, parse);
    if (status != YYPUSH_MORE && terminal != TOK_YYEOF)
        parse->stopped = true;
}

static int terminal_of(enum token_kind kind)
{
    switch (kind) {
    case TOKEN_WORD:
        return TOK_WORD;
    case TOKEN_STRING:
        return TOK_STRING;
    case TOKEN_NUMBER:
        return TOK_NUMBER;
    case TOKEN_PERCENT:
        return TOK_PERCENT;
    case TOKEN_DATE:
        return TOK_DATE;
    case TOKEN_GRADE:
        return TOK_GRADE;
    case TOKEN_CLOCK:
        return TOK_CLOCK;
    case TOKEN_COMMA:
        return TOK_COMMA;
    case TOKEN_COLON:
        return TOK_COLON;
    case TOKEN_SLASH:
        return TOK_SLASH;
    case TOKEN_LESS:
        return TOK_LESS;
    case TOKEN_OPEN_BLOCK:
        return TOK_OPEN_BLOCK;
    case TOKEN_CLOSE_BLOCK:
        return TOK_CLOSE_BLOCK;
    case TOKEN_OPEN_GROUP:
        return TOK_OPEN_GROUP;
    case TOKEN_CLOSE_GROUP:
        return TOK_CLOSE_GROUP;
    case TOKEN_NEWLINE:
    case TOKEN_END:
        return TOK_LINE_END;
    case TOKEN_COMMENT:
    case TOKEN_INVALID:
    case TOKEN_KIND_COUNT:
        break;
    }
    return TOK_PRILL_error;
}

static uint32_t column_of(const struct parse *parse, uint32_t token)
{
    struct place place = place_of(parse, token);
    return source_position(place.source, place.start).byte_column;
}

/* The first token of the line that `token` stands on. */
static uint32_t line_head(const struct parse *parse, uint32_t token)
{
    while (token > 0 && kind_of(parse, token - 1) != TOKEN_NEWLINE)
        token--;
    return token;
}

static void close_groups(struct parse *parse, uint32_t before)
{
    while (parse->group_count) {
        uint32_t open = parse->groups[--parse->group_count];
        report_add(parse->reports, &parser_rules[RULE_UNCLOSED], place_of(parse, open),
                   "this `(` is never closed");
        parse->tree->sound = false;
        push(parse, TOK_CLOSE_GROUP, before);
    }
}

static void close_block(struct parse *parse, uint32_t before)
{
    uint32_t open = parse->blocks[--parse->block_count];
    struct report *report = report_add(parse->reports, &parser_rules[RULE_UNCLOSED], place_of(parse, open),
                                       "this `{` is never closed");
    if (kind_of(parse, before) != TOKEN_END)
        report_label(parse->reports, report, place_of(parse, before),
                     "a `}` seems to be missing before this line");
    parse->tree->sound = false;
    push(parse, TOK_CLOSE_BLOCK, before);
    push(parse, TOK_LINE_END, before);
}

/* Where the file has too few }, a line no deeper than the block's own line shows where the block should have
 * ended. Without this guess everything after it would be read as part of the block. */
static void close_by_indentation(struct parse *parse, uint32_t token)
{
    while (parse->missing_closes && parse->block_count) {
        uint32_t open = parse->blocks[parse->block_count - 1];
        if (column_of(parse, token) > column_of(parse, line_head(parse, open)))
            return;
        parse->missing_closes--;
        close_block(parse, token);
    }
}

static bool too_deep(struct parse *parse, uint32_t count, uint32_t token)
{
    if (count < DEPTH_LIMIT)
        return false;
    report_add(parse->reports, &parser_rules[RULE_DEPTH], place_of(parse, token),
               "blocks are nested more than %d deep", DEPTH_LIMIT);
    parse->tree->sound = false;
    parse->stopped = true;
    return true;
}

/* Keeps count of braces and groups; false when the token is not for the grammar. */
static bool track(struct parse *parse, enum token_kind kind, uint32_t token)
{
    if (kind == TOKEN_OPEN_BLOCK) {
        close_groups(parse, token);
        if (too_deep(parse, parse->block_count, token))
            return false;
        parse->blocks[parse->block_count++] = token;
    } else if (kind == TOKEN_OPEN_GROUP) {
        if (too_deep(parse, parse->group_count, token))
            return false;
        parse->groups[parse->group_count++] = token;
    } else if (kind == TOKEN_CLOSE_BLOCK) {
        close_groups(parse, token);
        if (!parse->block_count) {
            report_add(parse->reports, &parser_rules[RULE_UNOPENED], place_of(parse, token),
                       "this `}` closes no block");
            parse->tree->sound = false;
            return false;
        }
        parse->block_count--;
    } else if (kind == TOKEN_CLOSE_GROUP) {
        if (!parse->group_count) {
            report_add(parse->reports, &parser_rules[RULE_UNOPENED], place_of(parse, token),
                       "this `)` closes no group");
            parse->tree->sound = false;
            return false;
        }
        parse->group_count--;
    }
    return true;
}

static void feed(struct parse *parse)
{
    const struct tokens *tokens = &parse->tree->tokens;
    bool line_begins = true;
    enum token_kind before = TOKEN_NEWLINE;
    for (uint32_t i = 0; i + 1 < tokens->count && !parse->stopped; i++) {
        enum token_kind kind = kind_of(parse, i);
        if (kind == TOKEN_COMMENT)
            continue;
        if (kind == TOKEN_NEWLINE) {
            line_begins = true;
            if (before == TOKEN_COMMA || parse->group_count)
                continue;
        } else if (line_begins) {
            line_begins = false;
            if (kind != TOKEN_CLOSE_BLOCK && before != TOKEN_COMMA)
                close_by_indentation(parse, i);
        }
        before = kind;
        if (track(parse, kind, i))
            push(parse, terminal_of(kind), i);
    }
}

static void finish(struct parse *parse)
{
    uint32_t end = (uint32_t)parse->tree->tokens.count - 1;
    if (parse->stopped)
        return;
    close_groups(parse, end);
    push(parse, TOK_LINE_END, end); /* the last line need not end in a newline */
    while (parse->block_count)
        close_block(parse, end);
    push(parse, TOK_YYEOF, end);
}

/* The parser's state is not in the arena, so a refusal of memory stops over here to give it back. */
static void run(struct parse *parse)
{
    struct arena *arena = parse->arena;
    jmp_buf *outer = arena->exhausted, here;
    if (!parse->state || setjmp(here)) {
        prill_pstate_delete(parse->state);
        arena->exhausted = outer;
        arena_exhausted(arena);
    }
    arena->exhausted = &here;
    feed(parse);
    finish(parse);
    prill_pstate_delete(parse->state);
    arena->exhausted = outer;
}

static uint32_t count_missing_closes(const struct tokens *tokens)
{
    int64_t balance = 0;
    for (size_t i = 0; i < tokens->count; i++)
        balance += (tokens->items[i].kind == TOKEN_OPEN_BLOCK) - (tokens->items[i].kind == TOKEN_CLOSE_BLOCK);
    return balance > 0 ? (uint32_t)balance : 0;
}

void parse_source(const struct source *source, struct arena *arena, struct reports *reports,
                  struct tree *tree)
{
    *tree = (struct tree){.source = source, .sound = true};
    size_t errors = reports->errors;
    lex_source(source, arena, reports, &tree->tokens);
    struct parse parse = {
        .arena = arena,
        .reports = reports,
        .tree = tree,
        .state = prill_pstate_new(),
        .missing_closes = count_missing_closes(&tree->tokens),
        .blamed_brace = UINT32_MAX,
    };
    run(&parse);
    if (!tree->plan)
        parse_plan(&parse, parse_block(&parse));
    tree->sound = tree->sound && reports->errors == errors;
}

struct place statement_place(const struct tree *tree, const struct statement *statement)
{
    struct place first = token_place(&tree->tokens, statement->first);
    if (statement->end > statement->first)
        first.end = token_place(&tree->tokens, statement->end - 1).end;
    return first;
}
