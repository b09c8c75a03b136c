/* What the grammar's actions build, and what it complains of. */
#include "parser/parse.h"

const struct rule parser_rules[] = {
    [RULE_SYNTAX] =
        {"syntax", SEVERITY_ERROR, "text that is not a statement",
         "A plan is one statement a line; a statement may carry a block of further statements between "
         "{ and }. A line goes on after a comma and inside ( ).",
         NULL},
    [RULE_UNCLOSED] =
        {"unclosed", SEVERITY_ERROR, "a block or group never closed",
         "Every { needs its }, every ( its ). The report names the line before which the closing mark "
         "seems to be missing, judging by the indentation.",
         NULL},
    [RULE_UNOPENED] = {"unopened", SEVERITY_ERROR, "a closing mark with no opening",
                       "A } or ) is where no block or group is open.", NULL},
    [RULE_DEPTH] = {"depth", SEVERITY_ERROR, "blocks or groups nested too deep",
                    "Blocks and groups may be nested 64 deep; no plan needs more than three.", NULL},
};
const size_t parser_rule_count = sizeof parser_rules / sizeof *parser_rules;

bool parse_lists(const struct token_list *list, uint32_t first, uint32_t end)
{
    size_t low = 0, high = list->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (list->items[middle] < first)
            low = middle + 1;
        else
            high = middle;
    }
    return low < list->count && list->items[low] < end;
}

struct block *parse_add(struct block *block, struct statement *statement)
{
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

struct statement *parse_statement(struct parse *parse, struct span terms, struct block *block, bool broken)
{
    struct statement *statement = ARENA_NEW(parse->arena, struct statement);
    statement->first = terms.first;
    /* where a mistake was met at the brace, the terms reach as far */
    statement->end = block && terms.end > block->open ? block->open : terms.end;
    statement->block = block;
    statement->broken = broken || parse_lists(&parse->unclosed_groups, terms.first, terms.end) ||
                        parse_lists(&parse->unopened, terms.first, terms.end);
    return statement;
}

void parse_plan(struct parse *parse, struct block *block)
{
    block->open = 0;
    block->close = (uint32_t)parse->tree->tokens.count - 1;
    parse->tree->plan = block;
}

/* ---- complaints ---- */

/* Of braces in a row the first is blamed: the others follow from it. */
void parse_complain(struct parse *parse, struct span found, const struct parse_expectation *expected)
{
    enum token_kind kind = parse_kind(parse, found.first);
    uint32_t before =
        found.first; /* the token before it that is neither a line end nor a comment, or PARSE_NONE */
    do
        before = before ? before - 1 : PARSE_NONE;
    while (before != PARSE_NONE && parse_blank(parse, before));
    enum token_kind before_kind = before == PARSE_NONE ? TOKEN_NEWLINE : parse_kind(parse, before);
    if (kind == TOKEN_OPEN_BLOCK) {
        bool cascade = before != PARSE_NONE && before == parse->blamed_brace;
        parse->blamed_brace = found.first;
        if (cascade)
            return;
        report_add(parse->reports, &parser_rules[RULE_SYNTAX], parse_place(parse, found.first),
                   "this `{` has no statement before it")
            ->help = "a block's `{` goes at the end of its statement's line";
        return;
    }
    if (before_kind == TOKEN_COMMA &&
        (kind == TOKEN_CLOSE_BLOCK || kind == TOKEN_NEWLINE || kind == TOKEN_END)) {
        struct report *report = report_add(parse->reports, &parser_rules[RULE_SYNTAX],
                                           parse_place(parse, before), "nothing follows this `,`");
        report->help = "a `,` continues the statement: add the rest, or remove the `,`";
        report_fix(parse->reports, report, false, parse_place(parse, before), "", "remove the `,`");
        return;
    }
    struct report *report = report_add(
        parse->reports, &parser_rules[RULE_SYNTAX], parse_place(parse, found.first), "%s is not allowed here",
        kind == TOKEN_NEWLINE ? "the end of the line" : token_description(kind));
    report->help =
        before_kind == TOKEN_COMMA        ? "a `,` continues the statement: add the rest, or remove the `,`"
        : before_kind == TOKEN_OPEN_GROUP ? "a group between ( and ) cannot be empty"
        : expected->line_end && !expected->term ? "a new statement begins on a new line"
                                                : "a statement begins with a word that says what it is";
}

void parse_exhausted(struct parse *parse)
{
    arena_exhausted(parse->arena);
}
