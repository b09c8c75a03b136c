/* Which cautions of the library and the plan belong to a piece of work. */
#include "compiler/result/work.h"

static bool caution_concerns(const struct caution *caution, const struct work *work)
{
    for (size_t i = 0; i < work->materials.count; i++)
        if (caution_of_product(caution, work->materials.items[i].product))
            return true;
    const struct treatment *treatment = work->occurrence->treatment;
    for (size_t i = 0; i < caution->kinds.count; i++)
        for (size_t j = 0; j < treatment->kinds.count; j++)
            if (treatment->kinds.items[j] == caution->kinds.items[i])
                return true;
    return false;
}

/* `listed` has a mark for each of model->cautions: whether the list as a whole holds it. */
void work_cautions(struct work_list *list, struct work *work, const struct model *model, bool *listed)
{
    for (size_t i = 0; i < model->cautions.count; i++) {
        const struct caution *caution = model->cautions.items[i];
        if (caution->symbol.broken || !caution_concerns(caution, work))
            continue;
        VECTOR_PUSH(model->arena, &work->cautions, caution);
        if (listed[i])
            continue;
        listed[i] = true;
        VECTOR_PUSH(model->arena, &list->cautions, caution);
    }
}
