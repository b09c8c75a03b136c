#include "compiler/model/replaced.h"

struct list {
    struct arena *arena;
    struct replaced_list entries;
};

static void add(struct list *list, const char *word, const struct thing *thing, bool counts)
{
    if (thing->replaces && counts && !thing->broken)
        VECTOR_PUSH(list->arena, &list->entries, ((struct replaced_entry){word, thing}));
}

struct replaced_list model_replaced(const struct model *model)
{
    struct list list = {.arena = model->arena};
    for (size_t i = 0; i < model->limit_sets.count; i++)
        add(&list, "limits", &model->limit_sets.items[i]->thing, model->limit_sets.items[i]->bound);
    for (size_t i = 0; i < model->scales.count; i++)
        add(&list, "scale", &model->scales.items[i]->thing, model->scales.items[i]->thing.used);
    for (size_t i = 0; i < model->lime_tables.count; i++)
        add(&list, "lime", &model->lime_tables.items[i]->thing, model->lime_tables.items[i]->thing.used);
    for (size_t i = 0; i < model->conversions.count; i++)
        add(&list, "conversion", &model->conversions.items[i]->thing,
            model->conversions.items[i]->thing.used);
    for (size_t i = 0; i < model->grasses.count; i++)
        add(&list, "grass", &model->grasses.items[i]->thing, model->grasses.items[i]->thing.used);
    for (size_t i = 0; i < model->usuals.count; i++)
        add(&list, "usual", &model->usuals.items[i]->thing, model->usuals.items[i]->thing.used);
    for (size_t i = 0; i < model->cautions.count; i++)
        add(&list, "caution", &model->cautions.items[i]->thing, true);
    for (size_t i = 0; i < model->source_entries.count; i++)
        add(&list, "source", &model->source_entries.items[i]->thing,
            model->source_entries.items[i]->thing.used);
    if (!model->has_season)
        list.entries.count = 0;
    return list.entries;
}
