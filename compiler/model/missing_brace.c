/* A missing } draws the statements below it into the block above. Where they cannot belong there they are
 * given back to the plan, so that one mistake makes one report. */
#include "compiler/model/read.h"

struct statements {
    struct statement *items;
    size_t count, capacity;
};

/* Bytes before a statement that begins its line; UINT32_MAX where something stands before it. */
static uint32_t indent_of(const struct tree *tree, const struct statement *statement)
{
    const struct token *first = &tree->tokens.items[statement->first];
    if (statement->first == 0)
        return first->start;
    return first[-1].kind == TOKEN_NEWLINE ? first->start - first[-1].end : UINT32_MAX;
}

/* Where the block of `outer` holds the first statement that is the plan's; NULL when it holds none. Every
 * statement of the block is looked at, hence the cheap test first. A block whose lines are indented no deeper
 * than its own line says nothing by them. */
static struct statement *first_stray(const struct tree *tree, const struct statement *outer)
{
    enum block_kind kind = BLOCK_NONE; /* until a line stands where it may be the plan's */
    struct block *block = outer->block;
    uint32_t indent = indent_of(tree, outer);
    bool open = block->close + 1 == tree->tokens.count; /* the parser closed it at the end of the file */
    if (!block->first || (!open && indent_of(tree, block->first) <= indent))
        return NULL;
    for (struct statement *at = block->first; at; at = statement_next(at)) {
        if (!open && indent_of(tree, at) > indent)
            continue;
        struct text head = token_text(&tree->tokens, at->first);
        if (kind == BLOCK_NONE)
            kind = block_kind_of(BLOCK_PLAN, token_text(&tree->tokens, outer->first), (struct text){0});
        if (kind == BLOCK_NONE)
            return NULL;
        if (!form_find(kind, head) && form_find(BLOCK_PLAN, head))
            return at;
    }
    return NULL;
}

/* Copies the statements from `from` to the end of their block behind the plan's. Each block that holds a
 * statement of the plan is reported, then cut before it, and what was cut off goes behind it. */
static void mend(struct model *model, const struct tree *tree, const struct statement *from,
                 struct statements *plan)
{
    static const char sentence[] = "a `}` seems to be missing before this line";
    struct reports *reports = model->reports;
    for (const struct statement *outer = from; outer; outer = statement_next(outer)) {
        VECTOR_PUSH(arena_scratch(model->arena), plan, *outer);
        plan->items[plan->count - 1].last = false;
        struct statement *stray = outer->block ? first_stray(tree, outer) : NULL;
        if (!stray)
            continue;
        struct block *block = outer->block;
        struct place open = token_place(&tree->tokens, block->open);
        struct place here = token_place(&tree->tokens, stray->first);
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
        mend(model, tree, stray, plan);
        if (stray == block->first)
            block->first = NULL;
        else
            stray[-1].last = true;
    }
}

void tree_mend(struct model *model, const struct tree *tree)
{
    for (const struct statement *outer = tree->plan->first; outer; outer = statement_next(outer)) {
        if (!outer->block || !first_stray(tree, outer))
            continue;
        struct statements plan = {0};
        mend(model, tree, tree->plan->first, &plan);
        plan.items[plan.count - 1].last = true;
        tree->plan->first = plan.items;
        return;
    }
}
