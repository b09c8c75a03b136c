/* Two seasons beside each other, for other programs; docs/compare.schema.json describes it. */
#include "compiler/result/result.h"

#include "compiler/result/caution.h"
#include "compiler/result/season_diff.h"

static void put_plan(struct data *root, const char *key, const struct model *model, const struct text *file,
                     const struct shopping *shopping)
{
    struct data *plan = data_plan(root, key, model);
    if (file)
        data_text(plan, "use", *file);
    else
        data_null(plan, "use");
    data_number(plan, "cost_of_what_has_a_price", shopping->cost);
    data_integer(plan, "products_without_a_known_cost", (long long)shopping->unpriced);
}

static void put_portion(struct data *parent, const char *amount_key, const char *rate_key,
                        const struct model *model, const struct work *work, const struct material *material,
                        const struct portion *portion)
{
    if (!portion) {
        data_null(parent, amount_key);
        data_null(parent, rate_key);
        return;
    }
    const struct amount *amount = portion->amount;
    data_amount(parent, amount_key, amount->total, amount->volume, portion->text);
    data_rate(parent, rate_key, amount->rate, amount->volume,
              material_rate_text(material, portion->amount->rate, work, model));
}

/* Both days and both headlines, null where one edition has no such work. */
static void put_pairing(struct data *changes, const struct comparison *comparison,
                        const struct pairing *pairing)
{
    const struct work *old = pairing->old, *new = pairing->skipped ? NULL : pairing->new;
    const struct work *work = pairing->new ? pairing->new : old;
    const struct occurrence *occurrence = work->occurrence;
    struct data *object = data_object(changes, NULL);
    data_string(object, "change",
                !old               ? "added"
                : pairing->skipped ? "skipped"
                : new              ? "changed"
                                   : "dropped");
    data_name(object, "treatment", occurrence->treatment->symbol.name);
    data_integer(object, "time", occurrence->time);
    data_name(object, "lawn", work->lawn ? work->lawn->symbol.name : NULL);
    data_day(object, "old_date", old ? old->occurrence->day : DAY_NONE);
    data_day(object, "new_date", new ? new->occurrence->day : DAY_NONE);
    data_boolean(object, "done", pairing->new && occurrence->done);
    data_string(object, "old_headline", old ? old->headline : NULL);
    data_string(object, "new_headline", pairing->new ? pairing->new->headline : NULL);
    struct data *amounts = data_list(object, "amounts");
    for (size_t i = 0; i < pairing->amounts.count; i++) {
        const struct portion_change *change = &pairing->amounts.items[i];
        const struct amount *amount = (change->new ? change->new : change->old)->amount;
        struct data *item = data_object(amounts, NULL);
        data_name(item, "product", amount->product->symbol.name);
        data_name(item, "zone", amount->zone->symbol.name);
        put_portion(item, "old", "old_rate", comparison->old->model, old, change->old_material, change->old);
        put_portion(item, "new", "new_rate", comparison->new->model, new, change->new_material, change->new);
    }
    struct data *sentences = data_list(object, "sentences");
    for (size_t i = 0; i < pairing->sentences.count; i++) {
        const struct fact_change *change = &pairing->sentences.items[i];
        struct data *item = data_object(sentences, NULL);
        data_string(item, "old", change->old ? change->old->words : NULL);
        data_string(item, "new", change->new ? change->new->words : NULL);
    }
}

/* Of a figure in SI too, where `unit` is not NULL. */
static void put_facts(struct data *root, const char *key, const char *subject,
                      const struct fact_changes *changes, const char *unit)
{
    struct data *list = data_list(root, key);
    for (size_t i = 0; i < changes->count; i++) {
        const struct fact *sides[] = {changes->items[i].old, changes->items[i].new};
        static const char *const names[] = {"old", "new"};
        struct data *object = data_object(list, NULL);
        data_string(object, subject, (sides[1] ? sides[1] : sides[0])->subject);
        for (int side = 0; side < 2; side++)
            if (unit && sides[side])
                data_quantity(object, names[side], sides[side]->si, unit, sides[side]->words);
            else
                data_string(object, names[side], sides[side] ? sides[side]->words : NULL);
    }
}

/* What does not differ is counted and not listed. */
void compare_data(struct data *root, const struct result_input *input)
{
    const struct replacement *replacement = input->replacement;
    const struct comparison *comparison =
        comparison_of(root->arena, input->before, input->season, replacement);
    put_plan(root, "old", comparison->old->model, replacement ? &replacement->replaced : NULL,
             &comparison->old_shopping);
    put_plan(root, "new", comparison->new->model, replacement ? &replacement->by : NULL,
             &comparison->new_shopping);
    struct data *changes = data_list(root, "changes");
    for (size_t i = 0; i < comparison->pairings.count; i++)
        if (pairing_differs(&comparison->pairings.items[i]))
            put_pairing(changes, comparison, &comparison->pairings.items[i]);
    data_integer(root, "same", (long long)comparison->same);
    put_facts(root, "areas", "zone", &comparison->areas, "m2");
    put_facts(root, "ground", "of", &comparison->ground, NULL);
    put_facts(root, "limits", "set", &comparison->limits, NULL);
    put_facts(root, "products", "product", &comparison->products, NULL);
    data_cautions(root, "new_cautions", &comparison->new_cautions);
    data_cautions(root, "old_cautions", &comparison->old_cautions);
}
