#include "compiler/model/replaced.h"

#include <string.h>

struct list {
    struct arena *arena;
    struct replaced_list entries;
};

static void add(struct list *list, const char *word, const struct symbol *symbol, bool counts)
{
    if (symbol->replaces && counts && !symbol->broken)
        VECTOR_PUSH(list->arena, &list->entries,
                    ((struct replaced_entry){word, symbol, strcmp(word, "usual") == 0}));
}

/* Only what counts in the plan: an entry that nothing uses changes no figure. */
struct replaced_list model_replaced(const struct model *model)
{
    struct list list = {.arena = model->arena};
    for (size_t i = 0; i < model->limit_sets.count; i++)
        add(&list, "limits", &model->limit_sets.items[i]->symbol, model->limit_sets.items[i]->bound);
    for (size_t i = 0; i < model->scales.count; i++)
        add(&list, "scale", &model->scales.items[i]->symbol, model->scales.items[i]->symbol.used);
    for (size_t i = 0; i < model->lime_tables.count; i++)
        add(&list, "lime", &model->lime_tables.items[i]->symbol, model->lime_tables.items[i]->symbol.used);
    for (size_t i = 0; i < model->conversions.count; i++)
        add(&list, "conversion", &model->conversions.items[i]->symbol,
            model->conversions.items[i]->symbol.used);
    for (size_t i = 0; i < model->grasses.count; i++)
        add(&list, "grass", &model->grasses.items[i]->symbol, model->grasses.items[i]->symbol.used);
    for (size_t i = 0; i < model->usuals.count; i++)
        add(&list, "usual", &model->usuals.items[i]->symbol, model->usuals.items[i]->symbol.used);
    for (size_t i = 0; i < model->cautions.count; i++)
        add(&list, "caution", &model->cautions.items[i]->symbol, true);
    for (size_t i = 0; i < model->source_entries.count; i++)
        add(&list, "source", &model->source_entries.items[i]->symbol,
            model->source_entries.items[i]->symbol.used);
    if (!model->has_season)
        list.entries.count = 0;
    return list.entries;
}
