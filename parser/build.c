/* What the grammar's actions build, and what it complains of. */
#include "parser/parse.h"

#include <string.h>

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

void parse_statement(struct parse *parse, struct span terms, struct block *block, bool broken)
{
    /* where a mistake was met at the brace, the terms reach as far */
    uint32_t end = block && terms.end > block->open ? block->open : terms.end;
    broken = broken || parse_lists(&parse->unclosed_groups, terms.first, terms.end) ||
             parse_lists(&parse->unopened, terms.first, terms.end);
    struct statement statement = {
        .first = terms.first, .end = end & STATEMENT_END_MOST, .broken = broken, .block = block};
    VECTOR_PUSH(parse->arena, &parse->statements, statement);
}

/* They have their place for good once the block is whole, behind it; until then blocks end among them. */
struct block *parse_close(struct parse *parse, uint32_t first, uint32_t open, uint32_t close)
{
    size_t count = parse->statements.count - first, size = count * sizeof(struct statement);
    struct block *block = arena_uncleared(parse->arena, sizeof *block + size);
    *block = (struct block){.open = open, .close = close};
    if (count) {
        block->first = memcpy(block + 1, &parse->statements.items[first], size);
        block->first[count - 1].last = true;
    }
    parse->statements.count = first;
    return block;
}

/* The plan's own are the last ones left, and stay where they are. */
void parse_plan(struct parse *parse)
{
    struct block *block = ARENA_NEW(parse->arena, struct block);
    block->close = (uint32_t)parse->tree->tokens.count - 1;
    if (parse->statements.count) {
        block->first = parse->statements.items;
        block->first[parse->statements.count - 1].last = true;
    }
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
