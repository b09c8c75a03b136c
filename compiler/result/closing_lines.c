#include "compiler/result/closing_lines.h"

#include "compiler/result/limits_followed.h"

static const char DEFERRAL[] =
    "The product's label, the rules of the place and the advice of licensed practitioners "
    "come before this plan.";
static const char BASIS[] =
    "Worked out from what the plan states. Nobody has looked at the lawn, the weather or the "
    "products.";

/* The words are the library's, or the plan's where it replaces them; then the program's own go beside them,
 * so that no plan takes the deferring away. */
struct closing_text closing_text_of(const struct model *model)
{
    struct closing_text closing_text = {.count = 0};
    const struct caution *caution = NULL;
    for (size_t i = 0; i < model->cautions.count && !caution; i++)
        if (text_is(model->cautions.items[i]->symbol.name->text, "closing"))
            caution = model->cautions.items[i];
    const char *incomplete = held_incomplete(model);
    if (incomplete)
        closing_text.lines[closing_text.count++] = incomplete;
    if (caution && caution->text)
        closing_text.lines[closing_text.count++] = caution->text;
    if (!caution || !caution->text || !caution->symbol.library)
        closing_text.lines[closing_text.count++] = DEFERRAL;
    closing_text.deferring = closing_text.count;
    closing_text.lines[closing_text.count++] = BASIS;
    return closing_text;
}
