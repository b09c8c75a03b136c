/* The region that a lawn states, against those that there are figures for. */
#include "compiler/check/checking.h"
#include "compiler/model/library.h"

#include <string.h>

/* In an entry of the plan's own: those of the library are looked up in its text, since a file of it is read
 * only where something in it is named. */
static bool plan_knows(const struct model *model, const struct name *region)
{
    for (size_t i = 0; i < model->grasses.count; i++)
        for (size_t j = 0; j < model->grasses.items[i]->ranges.count; j++)
            if (model->grasses.items[i]->ranges.items[j].region == region)
                return true;
    for (size_t i = 0; i < model->scales.count; i++)
        if (model->scales.items[i]->region == region)
            return true;
    for (size_t i = 0; i < model->lime_tables.count; i++)
        if (model->lime_tables.items[i]->region == region)
            return true;
    return false;
}

/* The library is only searched where a lawn states a region. */
void check_regions(struct checking *checking)
{
    const struct model *model = checking->model;
    struct text_list regions = {0};
    for (size_t i = 0; i < model->lawns.count; i++) {
        const struct lawn *lawn = model->lawns.items[i];
        if (!lawn->region || lawn->symbol.broken || plan_knows(model, lawn->region))
            continue;
        if (!regions.count) {
            struct library_entries entries = library_entries(checking->arena);
            regions = library_regions(checking->arena, &entries);
        }
        bool known = false;
        for (size_t j = 0; j < regions.count; j++)
            known = known || text_equal(regions.items[j], lawn->region->text);
        if (known)
            continue;
        struct report *report = finding_add(checking, CHECK_REGION_UNKNOWN, ABOUT(&lawn->symbol),
                                            lawn->region_place, "nothing has figures for the region %s of %s",
                                            name_string(lawn->region), name_string(lawn->symbol.name));
        /* The nearest regions of the library, or else all of them. */
        const char **names = ARENA_ARRAY(checking->arena, regions.count + 1, const char *);
        const char *nearest = NULL;
        size_t least = lawn->region->text.length / 3 + 1;
        for (size_t j = 0; j < regions.count; j++) {
            names[j] = text_string(checking->arena, regions.items[j]);
            size_t distance = text_distance(lawn->region->text, regions.items[j]);
            if (distance < least) {
                least = distance;
                nearest = names[j];
            }
        }
        /* Of a state with several regions people write the state. */
        size_t begun = 0;
        for (size_t j = 0; j < regions.count; j++)
            if (strncmp(names[j], name_string(lawn->region), lawn->region->text.length) == 0 &&
                names[j][lawn->region->text.length] == '-')
                names[begun++] = text_format(checking->arena, "`%s`", names[j]);
        if (begun)
            report_help(checking->model->reports, report, "did you mean %s?",
                        list_text(checking->arena, names, begun, " or "));
        else if (nearest)
            report_help(checking->model->reports, report, "did you mean `%s`?", nearest);
        else
            report_help(checking->model->reports, report, "the library has %s",
                        list_text(checking->arena, names, regions.count, " and "));
    }
}
