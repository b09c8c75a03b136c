#include "compiler/output/shopping_json.h"

#include "compiler/output/closing_json.h"
#include "compiler/output/json_plan.h"
#include "compiler/output/shopping_words.h"
#include "compiler/output/standing.h"
#include "compiler/output/work.h"

struct document {
    const struct model *model;
    struct shopping shopping;
};

static void put_pack(struct json_writer *writer, json_t *packs, const struct document *document,
                     const struct purchase_pack *line)
{
    json_t *object = json_put_object(writer, packs, NULL);
    json_put_string(writer, object, "holds", pack_text(writer->arena, document->model, line->pack));
    json_put_number(writer, object, "amount", line->amount);
    json_put_figure(writer, object, "price", line->pack->price);
    json_put_integer(writer, object, "to_buy", (json_int_t)line->count);
    json_put_figure(writer, object, "covers_m2_at_highest_rate", line->area_low);
    json_put_figure(writer, object, "covers_m2_at_lowest_rate", line->area_high);
    json_put_place(writer, object, "place", line->pack->place);
}

static void put_first(struct json_writer *writer, json_t *object, const struct occurrence *first)
{
    if (!first) {
        json_put_null(writer, object, "first_needed");
        return;
    }
    json_t *needed = json_put_object(writer, object, "first_needed");
    json_put_string(writer, needed, "date", day_text(writer->arena, first->day));
    json_put_string(writer, needed, "for", occurrence_title(writer->arena, first));
}

static void put_choice(struct json_writer *writer, json_t *object, const struct purchase *purchase)
{
    const struct pack_choice *choice = &purchase->choice;
    if (purchase->state != PURCHASE_PACKED) {
        json_put_null(writer, object, "choice");
        return;
    }
    json_t *chosen = json_put_object(writer, object, "choice");
    json_put_integer(writer, chosen, "packs", (json_int_t)choice->packs);
    json_put_string(writer, chosen, "by", choice->priced ? "least cost" : "fewest packs");
    json_put_boolean(writer, chosen, "proven", choice->proven);
    json_put_number(writer, chosen, "bought", choice->bought);
    json_put_number(writer, chosen, "left_over", fmax(choice->bought - purchase->needed, 0));
    json_put_figure(writer, chosen, "cost", choice->cost);
}

static void put_purchase(struct json_writer *writer, json_t *purchases, const struct document *document,
                         const struct purchase *purchase)
{
    const char *reason = purchase_reason(purchase);
    json_t *object = json_put_object(writer, purchases, NULL);
    json_put_string(writer, object, "product", name_string(purchase->product->thing.name));
    json_put_string(writer, object, "unit", purchase->volume ? "m3" : "kg");
    json_put_number(writer, object, "still_to_put_down", purchase->needed);
    json_put_number(writer, object, "recorded", purchase->recorded);
    json_put_number(writer, object, "done_as_planned", purchase->assumed);
    json_put_number(writer, object, "lowest_rate_per_m2", purchase->rate_low);
    json_put_number(writer, object, "highest_rate_per_m2", purchase->rate_high);
    put_first(writer, object, purchase->first);
    put_choice(writer, object, purchase);
    json_put_string(writer, object, "remark", *reason ? reason : NULL);
    json_t *packs = json_put_array(writer, object, "packs");
    for (size_t i = 0; i < purchase->packs.count; i++)
        put_pack(writer, packs, document, &purchase->packs.items[i]);
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct document *document = subject;
    const struct model *model = document->model;
    json_put_string(writer, root, "format", "prill shopping 2");
    json_put_plan(writer, root, "plan", model);
    json_put_string(writer, root, "currency", model->currency);
    json_put_number(writer, root, "cost_of_what_has_a_price", document->shopping.cost);
    json_put_integer(writer, root, "products_without_a_known_cost", (json_int_t)document->shopping.unpriced);
    json_t *purchases = json_put_array(writer, root, "products");
    for (size_t i = 0; i < document->shopping.purchases.count; i++)
        put_purchase(writer, purchases, document, &document->shopping.purchases.items[i]);
    json_put_closing(writer, root, model);
}

void shopping_json_print(struct buffer *out, const struct season *season)
{
    struct document document = {season->model, shopping_of(season)};
    json_print(out, true, fill, &document);
}
