#include "compiler/result/season_diff_json.h"

#include "compiler/result/caution_json.h"
#include "compiler/result/season_diff.h"
#include "compiler/form/json_values.h"

static void put_day(struct json_writer *writer, json_t *parent, const char *key, const struct work *work)
{
    if (work)
        json_put_string(writer, parent, key, day_text(writer->arena, work->occurrence->day));
    else
        json_put_null(writer, parent, key);
}

static void put_plan(struct json_writer *writer, json_t *root, const char *key, const struct model *model,
                     const struct text *file, const struct shopping *shopping)
{
    json_t *plan = json_put_plan(writer, root, key, model);
    if (file)
        json_put_text(writer, plan, "use", *file);
    else
        json_put_null(writer, plan, "use");
    json_put_number(writer, plan, "cost_of_what_has_a_price", shopping->cost);
    json_put_integer(writer, plan, "products_without_a_known_cost", (json_int_t)shopping->unpriced);
}

static void put_portion(struct json_writer *writer, json_t *parent, const char *key,
                        const struct portion *portion)
{
    if (!portion) {
        json_put_null(writer, parent, key);
        return;
    }
    json_put_amount(writer, parent, key, portion->amount->total, portion->amount->volume, portion->text);
}

static const char *kind_of(const struct pairing *pairing)
{
    if (!pairing->old)
        return "added";
    if (pairing->skipped)
        return "skipped";
    return pairing->new ? "changed" : "dropped";
}

static void put_amounts(struct json_writer *writer, json_t *object, const struct pairing *pairing)
{
    json_t *amounts = json_put_array(writer, object, "amounts");
    for (size_t i = 0; i < pairing->amounts.count; i++) {
        const struct portion_change *change = &pairing->amounts.items[i];
        const struct amount *amount = (change->new ? change->new : change->old)->amount;
        json_t *item = json_put_object(writer, amounts, NULL);
        json_put_text(writer, item, "product", amount->product->symbol.name->text);
        json_put_text(writer, item, "zone", amount->zone->symbol.name->text);
        put_portion(writer, item, "old", change->old);
        put_portion(writer, item, "new", change->new);
    }
}

static void put_pairing(struct json_writer *writer, json_t *changes, const struct pairing *pairing)
{
    const struct work *work = pairing->new ? pairing->new : pairing->old;
    const struct occurrence *occurrence = work->occurrence;
    json_t *object = json_put_object(writer, changes, NULL);
    json_put_string(writer, object, "change", kind_of(pairing));
    json_put_text(writer, object, "treatment", occurrence->treatment->symbol.name->text);
    json_put_integer(writer, object, "time", occurrence->time);
    if (work->lawn)
        json_put_text(writer, object, "lawn", work->lawn->symbol.name->text);
    else
        json_put_null(writer, object, "lawn");
    put_day(writer, object, "old_date", pairing->old);
    put_day(writer, object, "new_date", pairing->skipped ? NULL : pairing->new);
    json_put_boolean(writer, object, "done", pairing->new && occurrence->done);
    json_put_string(writer, object, "old_headline", pairing->old ? pairing->old->headline : NULL);
    json_put_string(writer, object, "new_headline", pairing->new ? pairing->new->headline : NULL);
    put_amounts(writer, object, pairing);
    json_t *sentences = json_put_array(writer, object, "sentences");
    for (size_t i = 0; i < pairing->sentences.count; i++)
        json_put_string(writer, sentences, NULL, pairing->sentences.items[i]);
    json_t *gone = json_put_array(writer, object, "gone");
    for (size_t i = 0; i < pairing->gone.count; i++)
        json_put_string(writer, gone, NULL, pairing->gone.items[i]);
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct comparison *comparison = subject;
    json_put_string(writer, root, "format", "prill compare 2");
    const struct replacement *replacement = comparison->replacement;
    put_plan(writer, root, "old", comparison->old->model, replacement ? &replacement->replaced : NULL,
             &comparison->old_shopping);
    put_plan(writer, root, "new", comparison->new->model, replacement ? &replacement->by : NULL,
             &comparison->new_shopping);
    json_t *changes = json_put_array(writer, root, "changes");
    for (size_t i = 0; i < comparison->pairings.count; i++)
        if (pairing_differs(&comparison->pairings.items[i]))
            put_pairing(writer, changes, &comparison->pairings.items[i]);
    json_put_integer(writer, root, "same", (json_int_t)comparison->same);
    json_put_cautions(writer, root, "new_cautions", &comparison->new_cautions);
    json_put_cautions(writer, root, "old_cautions", &comparison->old_cautions);
}

void compare_json_print(struct buffer *out, const struct season *old, const struct season *new,
                        const struct replacement *replacement)
{
    json_print(out, true, fill, comparison_of(out->arena, old, new, replacement));
}
