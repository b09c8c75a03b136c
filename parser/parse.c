/* What the grammar reads instead of tokens, and what of them it cannot take, as reports.
 *
 * Four things are done here that a grammar does badly: line ends that do not count (after a comma, inside a
 * group), braces that do not match, depth, and tokens the lexer has complained of. */
#include "parser/parse.h"

#include <assert.h>

/* Tokens [token, end) as one terminal. */
static void push(struct parse *parse, int terminal, uint32_t token, uint32_t end)
{
    assert(parse->waiting_count < TERMINALS_WAITING);
    parse->waiting[parse->waiting_count++] = (struct terminal){terminal, {token, end}};
}

/* Of all but terms. The grammar sees a line end only where one ends a statement, and no comment. */
static const uint8_t terminals[TOKEN_KIND_COUNT] = {
    [TOKEN_COMMA] = TOK_COMMA,
    [TOKEN_OPEN_BLOCK] = TOK_OPEN_BLOCK,
    [TOKEN_CLOSE_BLOCK] = TOK_CLOSE_BLOCK,
    [TOKEN_OPEN_GROUP] = TOK_OPEN_GROUP,
    [TOKEN_CLOSE_GROUP] = TOK_CLOSE_GROUP,
    [TOKEN_INVALID] = TOK_PRILL_error,
};

/* All that are open, or only those on top that have no ). A group whose ) is missing ends with its line, not
 * with the file: the lines below are other statements. */
static void close_groups(struct parse *parse, bool all, uint32_t before)
{
    while (parse->group_count && (all || parse->groups[parse->group_count - 1].unclosed)) {
        uint32_t open = parse->groups[--parse->group_count].token;
        report_add(parse->reports, &parser_rules[RULE_UNCLOSED], parse_place(parse, open),
                   "this `(` is never closed");
        push(parse, TOK_CLOSE_GROUP, before, before + 1);
    }
}

static void close_block(struct parse *parse, uint32_t before)
{
    uint32_t open = parse->blocks[--parse->block_count].token;
    struct report *report = report_add(parse->reports, &parser_rules[RULE_UNCLOSED], parse_place(parse, open),
                                       "this `{` is never closed");
    if (parse_kind(parse, before) != TOKEN_END)
        report_label(parse->reports, report, parse_place(parse, before),
                     "a `}` seems to be missing before this line");
    push(parse, TOK_CLOSE_BLOCK, before, before + 1);
    push(parse, TOK_LINE_END, before, before + 1);
}

static bool too_deep(struct parse *parse, uint32_t count, uint32_t token, const char *what)
{
    if (count < DEPTH_LIMIT)
        return false;
    report_add(parse->reports, &parser_rules[RULE_DEPTH], parse_place(parse, token),
               "%s are nested more than %d deep", what, DEPTH_LIMIT);
    push(parse, TOK_PRILL_error, token, token + 1); /* at whose end the grammar gives up */
    parse->token = (uint32_t)parse->tree->tokens.count;
    return true;
}

static bool closes(struct parse *parse, uint32_t *count, uint32_t token, const char *sentence)
{
    if (*count) {
        --*count;
        return true;
    }
    report_add(parse->reports, &parser_rules[RULE_UNOPENED], parse_place(parse, token), "%s", sentence);
    VECTOR_PUSH(parse->arena, &parse->unopened, token);
    return false;
}

/* The first token from here on that is neither a line end nor a comment. */
static uint32_t skip_blank(const struct parse *parse, uint32_t token)
{
    while (parse_blank(parse, token))
        token++;
    return token;
}

/* A line end counts where it ends a statement. A `{` below the statement it belongs to is taken as if it
 * stood at its end. */
static void feed_line_end(struct parse *parse)
{
    uint32_t token = parse->token;
    enum token_kind before = parse->before == PARSE_NONE ? TOKEN_NEWLINE : parse_kind(parse, parse->before);
    bool under_way = parse_is_term(before) || before == TOKEN_CLOSE_GROUP || before == TOKEN_INVALID;
    bool empty = before == TOKEN_NEWLINE || before == TOKEN_OPEN_BLOCK;
    uint32_t next = under_way ? skip_blank(parse, token) : token;
    parse->token = token + 1;
    if (before != TOKEN_COMMA)
        close_groups(parse, false, token);
    if (!parse->group_count && parse_kind(parse, next) == TOKEN_OPEN_BLOCK) {
        struct report *report = report_add(parse->reports, &parser_rules[RULE_SYNTAX],
                                           parse_place(parse, next), "this `{` is on a line of its own");
        report->help = "a block's `{` goes at the end of its statement's line";
        struct place gap = {parse->tree->source, parse_place(parse, parse->before).end,
                            parse_place(parse, next).start};
        bool comment = false;
        for (uint32_t i = parse->before + 1; i < next; i++)
            comment = comment || parse_kind(parse, i) == TOKEN_COMMENT;
        if (!comment)
            report_fix(parse->reports, report, true, gap, " ", "put it at the end of the line above");
        parse->token = next;
        return;
    }
    if (!parse->group_count && before != TOKEN_COMMA) {
        if (!empty)
            push(parse, TOK_LINE_END, token, token + 1);
        parse->before = token;
    }
    parse->line_head = PARSE_NONE;
}

/* Words and values in a row, single commas between them included: their end. */
static uint32_t terms_end(const struct parse *parse, uint32_t token)
{
    do
        token++;
    while (parse_is_term(parse_kind(parse, token)) ||
           (parse_kind(parse, token) == TOKEN_COMMA && parse_is_term(parse_kind(parse, token + 1))));
    return token;
}

/* From `token` on, which begins a line, makes statements of lines that have nothing but terms, or terms and a
 * block of such lines; most of a plan is of this kind. Returns the first token behind them but line ends and
 * comments, and at `line_end` where the last one's line ends. `depth`: of blocks around them; in one that is
 * made here, the last may end with the block's }. */
static uint32_t take_lines(struct parse *parse, uint32_t token, uint32_t depth, uint32_t *line_end)
{
    for (bool more = true; more && parse_is_term(parse_kind(parse, token));) {
        uint32_t before = parse->statements.count;
        uint32_t stop = terms_end(parse, token), inner_end;
        struct statement statement = {.first = token, .end = stop & STATEMENT_END_MOST};
        if (parse_kind(parse, stop) == TOKEN_OPEN_BLOCK && !parse->missing_closes && depth < DEPTH_LIMIT &&
            parse->left_open[depth] != stop) {
            uint32_t close = take_lines(parse, skip_blank(parse, stop + 1), depth + 1, &inner_end);
            parse->left_open[depth] = stop;
            if (parse_kind(parse, close) == TOKEN_CLOSE_BLOCK) {
                statement.block = parse_close(parse, before, stop, close);
                stop = close + 1;
            }
        }
        bool closed = parse_kind(parse, stop) == TOKEN_CLOSE_BLOCK && depth > parse->block_count;
        uint32_t end = stop + (parse_kind(parse, stop) == TOKEN_COMMENT);
        uint32_t next = closed ? stop : skip_blank(parse, end);
        if (!closed &&
            (parse_kind(parse, end) != TOKEN_NEWLINE || parse_kind(parse, next) == TOKEN_OPEN_BLOCK)) {
            parse->statements.count = before; /* of a block that is not such */
            break;
        }
        VECTOR_PUSH(parse->arena, &parse->statements, statement);
        *line_end = end;
        token = next;
        more = !closed && !parse->missing_closes; /* each line is looked at by itself then */
    }
    return token;
}

/* A row of terms is one terminal. What has nothing else is not seen by the grammar. */
static void feed_token(struct parse *parse, enum token_kind kind)
{
    uint32_t token = parse->token, end;
    bool fed = true; /* to the grammar */
    bool begins = parse->line_head == PARSE_NONE && !parse->group_count &&
                  (parse->before == PARSE_NONE || parse_kind(parse, parse->before) != TOKEN_COMMA);
    if (parse->line_head == PARSE_NONE)
        parse->line_head = token;
    if (begins) {
        /* Where the file has too few }, a line no deeper than the block's own line shows where the block
         * should have ended, if its first line was deeper. (A } may stand as deep as that.) Without this
         * guess everything after it would be read as part of the block. */
        uint32_t start = parse_place(parse, token).start;
        uint32_t column = parse->missing_closes ? source_position(parse->tree->source, start).column : 0;
        while (parse->missing_closes && parse->block_count) {
            struct open_block *block = &parse->blocks[parse->block_count - 1];
            if (!block->inner_column)
                block->inner_column = column;
            if (column + (kind == TOKEN_CLOSE_BLOCK) > block->column || block->inner_column <= block->column)
                break;
            parse->missing_closes--;
            close_block(parse, token);
        }

        if (parse->waiting_count) /* of the lines before */
            return;
        parse->token = take_lines(parse, token, parse->block_count, &parse->before);
        if (parse->token > token) {
            parse->line_head = PARSE_NONE;
            return;
        }
    }

    end = parse_is_term(kind) ? terms_end(parse, token) : token + 1;
    if (kind == TOKEN_OPEN_BLOCK || kind == TOKEN_CLOSE_BLOCK)
        close_groups(parse, true, token);
    if (parse->waiting_count) /* what the grammar says of these comes before what is said here */
        return;
    parse->before = end - 1;
    parse->token = end;
    if (kind == TOKEN_CLOSE_BLOCK)
        fed = closes(parse, &parse->block_count, token, "this `}` closes no block");
    else if (kind == TOKEN_CLOSE_GROUP)
        fed = closes(parse, &parse->group_count, token, "this `)` closes no group");
    else if (kind == TOKEN_OPEN_BLOCK && (fed = !too_deep(parse, parse->block_count, token, "blocks"))) {
        uint32_t start = parse_place(parse, parse->line_head).start;
        uint32_t column = parse->missing_closes ? source_position(parse->tree->source, start).column : 0;
        parse->blocks[parse->block_count++] = (struct open_block){.token = token, .column = column};
    } else if (kind == TOKEN_OPEN_GROUP && (fed = !too_deep(parse, parse->group_count, token, "groups"))) {
        bool unclosed = parse_lists(&parse->unclosed_groups, token, token + 1);
        parse->groups[parse->group_count++] = (struct open_group){token, unclosed};
    }
    if (fed)
        push(parse, parse_is_term(kind) ? TOK_TERMS : terminals[kind], token, end);
}

/* The next terminal, of which there may be several for a token, or none. The last line may lack a newline. */
int prill_lex(PRILL_STYPE *value, struct span *span, struct parse *parse)
{
    (void)value;
    uint32_t end = (uint32_t)parse->tree->tokens.count - 1;
    if (parse->waiting_first == parse->waiting_count)
        parse->waiting_first = parse->waiting_count = 0;
    while (!parse->waiting_count) {
        enum token_kind kind = parse->token < end ? parse_kind(parse, parse->token) : TOKEN_END;
        if (kind == TOKEN_NEWLINE) {
            feed_line_end(parse);
        } else if (kind == TOKEN_COMMENT) {
            parse->token++;
        } else if (kind != TOKEN_END) {
            feed_token(parse, kind);
        } else {
            if (parse->token == end) {
                close_groups(parse, true, end);
                push(parse, TOK_LINE_END, end, end + 1);
                while (parse->block_count)
                    close_block(parse, end);
            }
            push(parse, TOK_YYEOF, end, end + 1);
        }
    }
    const struct terminal *terminal = &parse->waiting[parse->waiting_first++];
    *span = terminal->span;
    return terminal->kind;
}

/* The parser gives a tree in any case: where it gave up, one with no statements. */
void parse_source(const struct source *source, struct arena *arena, struct reports *reports,
                  struct tree *tree)
{
    *tree = (struct tree){.source = source};
    size_t errors = reports->errors;
    lex_source(source, arena, reports, &tree->tokens);
    struct parse parse = {
        .arena = arena,
        .reports = reports,
        .tree = tree,
        .tokens = tree->tokens.items,
        .line_head = PARSE_NONE,
        .before = PARSE_NONE,
        .blamed_brace = PARSE_NONE,
    };

    /* Behind the lines that a plan begins with, which may be all of it, counts { without }, and lists the
     * groups that are never closed: one cannot hold a brace, so what is open where one comes, or at the end,
     * was never closed. */
    struct token_list open = {0};
    const struct token *tokens = tree->tokens.items;
    uint32_t end = (uint32_t)tree->tokens.count - 1;
    parse.token = take_lines(&parse, skip_blank(&parse, 0), 0, &parse.before);
    for (uint32_t i = parse.token; i <= end; i++) {
        enum token_kind kind = (enum token_kind)tokens[i].kind;
        if ((kind < TOKEN_OPEN_BLOCK || kind > TOKEN_CLOSE_GROUP) && i < end)
            continue;
        if (kind == TOKEN_OPEN_GROUP) {
            VECTOR_PUSH(arena, &open, i);
            continue;
        }
        if (kind == TOKEN_CLOSE_GROUP) {
            open.count -= open.count > 0;
            continue;
        }
        for (size_t at = 0; at < open.count; at++)
            VECTOR_PUSH(arena, &parse.unclosed_groups, open.items[at]);
        open.count = 0;
        if (kind == TOKEN_OPEN_BLOCK)
            parse.missing_closes++;
        else if (kind == TOKEN_CLOSE_BLOCK && parse.missing_closes)
            parse.missing_closes--;
    }

    if (parse.missing_closes) { /* then no line is beyond doubt */
        parse.statements.count = 0;
        parse.token = 0;
        parse.before = PARSE_NONE;
    }
    prill_parse(&parse);
    if (!tree->plan) {
        parse.statements.count = 0;
        parse_plan(&parse);
    }
    tree->sound = reports->errors == errors;
}

struct place statement_place(const struct tree *tree, const struct statement *statement)
{
    struct place first = token_place(&tree->tokens, statement->first);
    if (statement->end > statement->first)
        first.end = token_place(&tree->tokens, statement->end - 1).end;
    return first;
}
