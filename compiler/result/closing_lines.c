#include "compiler/result/closing_lines.h"

#include "compiler/result/limits_followed.h"

static const char DEFERRAL[] =
    "The product's label, the rules of the place and the advice of licensed practitioners "
    "come before this plan.";
static const char BASIS[] =
    "This plan is arithmetic on what its author stated: it has seen neither the lawn nor the "
    "weather nor the product.";

/* The words are the library's, or the plan's where it replaces them; then the program's own go beside them,
 * so that no plan takes the deferring away. */
struct closing closing_of(const struct model *model)
{
    struct closing closing = {.count = 0};
    const struct caution *caution = NULL;
    for (size_t i = 0; i < model->cautions.count && !caution; i++)
        if (text_is(model->cautions.items[i]->symbol.name->text, "closing"))
            caution = model->cautions.items[i];
    const char *incomplete = held_incomplete(model);
    if (incomplete)
        closing.lines[closing.count++] = incomplete;
    if (caution && caution->text)
        closing.lines[closing.count++] = caution->text;
    if (!caution || !caution->text || !caution->symbol.library)
        closing.lines[closing.count++] = DEFERRAL;
    closing.deferring = closing.count;
    closing.lines[closing.count++] = BASIS;
    return closing;
}

void page_closing(struct page *page, const struct model *model)
{
    struct closing closing = closing_of(model);
    page_gap(page);
    for (size_t i = 0; i < closing.count; i++)
        page_closing_line(page, closing.lines[i]);
}

void data_closing(struct data *root, const struct model *model)
{
    struct closing closing = closing_of(model);
    struct data *lines = data_list(root, "closing");
    for (size_t i = 0; i < closing.count; i++)
        data_string(lines, NULL, closing.lines[i]);
}
