/* A missing } draws the statements below it into the block above. Where they cannot belong there they are
 * given back to the plan, so that one mistake makes one report. */
#include "compiler/model/read.h"

#include <string.h>

/* Bytes before a statement that begins its line; UINT32_MAX where something stands before it. */
static uint32_t indent_of(const struct tree *tree, const struct statement *statement)
{
    const struct token *tokens = tree->tokens.items;
    uint32_t first = statement->first;
    if (first == 0)
        return tokens[0].start;
    return tokens[first - 1].kind == TOKEN_NEWLINE ? tokens[first].start - tokens[first - 1].end : UINT32_MAX;
}

/* Where the block of `outer` holds the first statement that is the plan's; NULL when it holds none. Every
 * statement of the block is looked at, hence the cheap test first. A block whose lines are indented no deeper
 * than its own line says nothing by them. */
static struct statement **first_stray(const struct tree *tree, const struct statement *outer)
{
    enum block_kind kind = BLOCK_NONE; /* until a line stands where it may be the plan's */
    struct block *block = outer->block;
    uint32_t indent = indent_of(tree, outer);
    bool open = block->close + 1 == tree->tokens.count; /* the parser closed it at the end of the file */
    if (!block->first || (!open && indent_of(tree, block->first) <= indent))
        return NULL;
    for (struct statement **at = &block->first; *at; at = &(*at)->next) {
        struct text head = token_text(&tree->tokens, (*at)->first);
        if (!open && indent_of(tree, *at) > indent)
            continue;
        if (kind == BLOCK_NONE)
            kind = block_kind_of(BLOCK_PLAN, token_text(&tree->tokens, outer->first), (struct text){0});
        if (kind == BLOCK_NONE)
            return NULL;
        if (!block_has_head(kind, head) && block_has_head(BLOCK_PLAN, head))
            return at;
    }
    return NULL;
}

/* Each block that holds a statement of the plan is reported, then cut before it. */
void tree_mend(struct model *model, const struct tree *tree)
{
    static const char sentence[] = "a `}` seems to be missing before this line";
    struct reports *reports = model->reports;
    for (struct statement *outer = tree->plan->first; outer; outer = outer->next) {
        struct statement **stray = outer->block ? first_stray(tree, outer) : NULL;
        if (!stray)
            continue;
        struct block *plan = tree->plan, *block = outer->block;
        struct place open = token_place(&tree->tokens, block->open);
        struct place here = token_place(&tree->tokens, (*stray)->first);
        if (block->close + 1 < tree->tokens.count) {
            struct report *report = report_add(reports, &model_rules[RULE_BLOCK], here, sentence);
            report_label(reports, report, open, "the block that begins here");
            report_label(reports, report, token_place(&tree->tokens, block->close),
                         "then ends at this `}`, which is one too many");
        } else { /* The parser has reported it, and could not tell where: the place is added to its report. */
            size_t last = reports->all.count;
            while (last > 0 && (reports->all.items[last - 1]->place.source != open.source ||
                                reports->all.items[last - 1]->place.start != open.start))
                last--;
            if (last > 0)
                report_label(reports, reports->all.items[last - 1], here, sentence);
        }

        /* The block is cut before the first stray, and what follows goes behind it. */
        struct statement *first = *stray, *kept = NULL;
        uint32_t count = 0;
        *stray = NULL;
        for (struct statement *at = block->first; at; at = at->next, count++)
            kept = at;
        block->last->next = outer->next;
        if (plan->last == outer)
            plan->last = block->last;
        outer->next = first;
        plan->count += block->count - count;
        block->last = kept;
        block->count = count;
    }
}
