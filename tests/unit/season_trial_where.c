/* What each occurrence of a trial puts on each zone. */
#include "tests/unit/season_trial_parts.h"

static bool planned_for(const struct treatment *treatment, const struct zone *zone)
{
    for (size_t i = 0; i < treatment->zones.count; i++)
        if (treatment->zones.items[i] == zone)
            return true;
    return treatment->zones.count == 0;
}

static bool planned_with(const struct treatment *treatment, const struct product *product)
{
    for (size_t i = 0; i < treatment->dressings.count; i++)
        if (treatment->dressings.items[i].product == product)
            return true;
    return false;
}

static bool used(const struct record *record, const struct product *product, const struct zone *zone)
{
    for (size_t i = 0; i < record->uses.count; i++)
        if (record->uses.items[i].zone == zone && (!product || record->uses.items[i].product == product))
            return true;
    return false;
}

static bool taken(const struct record *record, const struct zone *zone)
{
    for (size_t i = 0; i < record->part_zones.count; i++)
        if (record->part_zones.items[i] == zone)
            return true;
    return false;
}

/* By a part that was done of the same time before. */
static bool done_before(const struct trial *trial, int index, const struct product *product,
                        const struct zone *zone)
{
    const struct occurrence *rest = trial_occurrence(trial, index);
    for (int i = 0; i < trial->count && rest->share == SHARE_REST; i++) {
        const struct occurrence *part = trial_occurrence(trial, i);
        if (part->share == SHARE_PART && part->treatment == rest->treatment && part->time == rest->time &&
            (taken(part->record, zone) || used(part->record, product, zone)))
            return true;
    }
    return false;
}

bool trial_brings(const struct trial *trial, int index, const struct product *product,
                  const struct zone *zone)
{
    const struct treatment *treatment = trial_treatment(trial, index);
    const struct record *record =
        trial->records && trial->fixed[index] ? trial_occurrence(trial, index)->record : NULL;
    bool planned = planned_for(treatment, zone) && (!product || planned_with(treatment, product));
    if (trial->records && done_before(trial, index, product, zone))
        planned = false;
    if (!record || (record->uses.count == 0 && !record->part))
        return planned;
    return used(record, product, zone) || (record->part && taken(record, zone) && planned);
}

static bool anywhere(const struct trial *trial, int index)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count; i++)
        for (size_t j = 0; j < model->zones.count; j++)
            if (trial_brings(trial, index, model->products.items[i], model->zones.items[j]))
                return true;
    return false;
}

bool trial_in_zone(const struct trial *trial, int index, const struct zone *zone)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count; i++)
        if (trial_brings(trial, index, model->products.items[i], zone))
            return true;
    return !anywhere(trial, index) && trial_brings(trial, index, NULL, zone);
}

bool trial_has_nutrient(const struct trial *trial, int index, const struct zone *zone, enum nutrient nutrient)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count; i++)
        if (model->products.items[i]->content[nutrient] > 0 &&
            trial_brings(trial, index, model->products.items[i], zone))
            return true;
    return false;
}

static bool has_kind(const struct trial *trial, int index, const struct zone *zone,
                     const struct treatment_class *class)
{
    const struct model *model = trial->season->model;
    for (size_t i = 0; i < model->products.count && trial->fixed[index]; i++)
        for (size_t j = 0; j < model->products.items[i]->kinds.count; j++)
            if (model->products.items[i]->kinds.items[j] == class->kind &&
                trial_brings(trial, index, model->products.items[i], zone))
                return true;
    const struct treatment *treatment = trial_treatment(trial, index);
    for (size_t i = 0; i < treatment->kinds.count; i++)
        if (treatment->kinds.items[i] == class->kind)
            return true;
    for (size_t i = 0; i < treatment->dressings.count; i++)
        if (product_in_class(treatment->dressings.items[i].product, class))
            return true;
    return false;
}

bool trial_in_class(const struct trial *trial, int index, const struct zone *zone,
                    const struct treatment_class *class)
{
    return class->nutrient ? trial_has_nutrient(trial, index, zone, class->nutrient->nutrient)
                           : has_kind(trial, index, zone, class);
}

bool trial_limit_speaks_of(const struct trial *trial, const struct limit *limit, int index)
{
    const struct model *model = trial->season->model;
    bool speaks = false;
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct zone *zone = model->zones.items[i];
        bool nutrient = limit->nutrients.count == 0 &&
                        (trial_in_zone(trial, index, zone) || trial_brings(trial, index, NULL, zone));
        for (size_t j = 0; j < limit->nutrients.count; j++)
            nutrient |= trial_has_nutrient(trial, index, zone, limit->nutrients.items[j]->nutrient);
        speaks |= limit_binds(limit, zone) && nutrient;
    }
    return speaks && !trial_treatment(trial, index)->task;
}
