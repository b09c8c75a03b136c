/* Which cautions of the library and the plan belong to a piece of work. */
#include "compiler/output/work.h"

/* What `with granular` of a caution names, beside the kinds that products and tasks are given by name. */
static const char *const form_words[] = {
    [FORM_UNKNOWN] = "", [FORM_GRANULAR] = "granular", [FORM_LIQUID] = "liquid", [FORM_SOLUBLE] = "soluble"};

/* A nutrient stands for every product that brings it. */
static bool product_has_kind(const struct product *product, const struct name *kind)
{
    const struct nutrient_form *nutrient = nutrient_find(kind->text);
    if (text_is(kind->text, form_words[product->form]) ||
        (nutrient && product->content[nutrient->nutrient] > 0))
        return true;
    for (size_t i = 0; i < product->kinds.count; i++)
        if (product->kinds.items[i] == kind)
            return true;
    return false;
}

static bool product_names(const struct product *product, const struct caution *caution)
{
    for (size_t i = 0; i < product->cautions.count; i++)
        if (product->cautions.items[i] == caution)
            return true;
    return false;
}

static bool treatment_has_kind(const struct treatment *treatment, const struct name *kind)
{
    for (size_t i = 0; i < treatment->kinds.count; i++)
        if (treatment->kinds.items[i] == kind)
            return true;
    return false;
}

static bool work_has_kind(const struct work *work, const struct name *kind)
{
    if (treatment_has_kind(work->occurrence->treatment, kind))
        return true;
    for (size_t i = 0; i < work->materials.count; i++)
        if (product_has_kind(work->materials.items[i].product, kind))
            return true;
    return false;
}

static bool caution_concerns(const struct caution *caution, const struct work *work)
{
    for (size_t i = 0; i < work->materials.count; i++)
        if (product_names(work->materials.items[i].product, caution))
            return true;
    for (size_t i = 0; i < caution->kinds.count; i++)
        if (work_has_kind(work, caution->kinds.items[i]))
            return true;
    return false;
}

/* `listed` has a mark for each of model->cautions: whether the list as a whole holds it. */
void work_cautions(struct work_list *list, struct work *work, const struct model *model, bool *listed)
{
    for (size_t i = 0; i < model->cautions.count; i++) {
        const struct caution *caution = model->cautions.items[i];
        if (caution->thing.broken || !caution_concerns(caution, work))
            continue;
        VECTOR_PUSH(model->arena, &work->cautions, caution);
        if (listed[i])
            continue;
        listed[i] = true;
        VECTOR_PUSH(model->arena, &list->cautions, caution);
    }
}
