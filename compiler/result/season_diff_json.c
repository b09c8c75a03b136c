#include "compiler/result/season_diff_json.h"

#include "compiler/result/caution_data.h"
#include "compiler/result/closing_lines.h"
#include "compiler/result/season_diff.h"
#include "compiler/form/json.h"

static void put_day(struct data *parent, const char *key, const struct work *work)
{
    if (work)
        data_string(parent, key, day_text(parent->arena, work->occurrence->day));
    else
        data_null(parent, key);
}

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

static void put_portion(struct data *parent, const char *key, const struct portion *portion)
{
    if (!portion) {
        data_null(parent, key);
        return;
    }
    data_amount(parent, key, portion->amount->total, portion->amount->volume, portion->text);
}

static const char *kind_of(const struct pairing *pairing)
{
    if (!pairing->old)
        return "added";
    if (pairing->skipped)
        return "skipped";
    return pairing->new ? "changed" : "dropped";
}

static void put_amounts(struct data *object, const struct pairing *pairing)
{
    struct data *amounts = data_list(object, "amounts");
    for (size_t i = 0; i < pairing->amounts.count; i++) {
        const struct portion_change *change = &pairing->amounts.items[i];
        const struct amount *amount = (change->new ? change->new : change->old)->amount;
        struct data *item = data_object(amounts, NULL);
        data_text(item, "product", amount->product->symbol.name->text);
        data_text(item, "zone", amount->zone->symbol.name->text);
        put_portion(item, "old", change->old);
        put_portion(item, "new", change->new);
    }
}

/* Both days and both headlines, null where one edition has no such work. */
static void put_pairing(struct data *changes, const struct pairing *pairing)
{
    const struct work *work = pairing->new ? pairing->new : pairing->old;
    const struct occurrence *occurrence = work->occurrence;
    struct data *object = data_object(changes, NULL);
    data_string(object, "change", kind_of(pairing));
    data_text(object, "treatment", occurrence->treatment->symbol.name->text);
    data_integer(object, "time", occurrence->time);
    if (work->lawn)
        data_text(object, "lawn", work->lawn->symbol.name->text);
    else
        data_null(object, "lawn");
    put_day(object, "old_date", pairing->old);
    put_day(object, "new_date", pairing->skipped ? NULL : pairing->new);
    data_boolean(object, "done", pairing->new && occurrence->done);
    data_string(object, "old_headline", pairing->old ? pairing->old->headline : NULL);
    data_string(object, "new_headline", pairing->new ? pairing->new->headline : NULL);
    put_amounts(object, pairing);
    struct data *sentences = data_list(object, "sentences");
    for (size_t i = 0; i < pairing->sentences.count; i++)
        data_string(sentences, NULL, pairing->sentences.items[i]);
    struct data *gone = data_list(object, "gone");
    for (size_t i = 0; i < pairing->gone.count; i++)
        data_string(gone, NULL, pairing->gone.items[i]);
}

/* What does not differ is counted and not listed. */
static void put_comparison(struct data *root, const struct comparison *comparison)
{
    data_string(root, "format", "prill compare 2");
    const struct replacement *replacement = comparison->replacement;
    put_plan(root, "old", comparison->old->model, replacement ? &replacement->replaced : NULL,
             &comparison->old_shopping);
    put_plan(root, "new", comparison->new->model, replacement ? &replacement->by : NULL,
             &comparison->new_shopping);
    struct data *changes = data_list(root, "changes");
    for (size_t i = 0; i < comparison->pairings.count; i++)
        if (pairing_differs(&comparison->pairings.items[i]))
            put_pairing(changes, &comparison->pairings.items[i]);
    data_integer(root, "same", (long long)comparison->same);
    data_cautions(root, "new_cautions", &comparison->new_cautions);
    data_cautions(root, "old_cautions", &comparison->old_cautions);
    data_closing(root, comparison->new->model);
}

void compare_json_print(struct buffer *out, const struct season *old, const struct season *new,
                        const struct replacement *replacement)
{
    struct data *root = data_new(out->arena);
    put_comparison(root, comparison_of(out->arena, old, new, replacement));
    json_print(out, true, root);
}
