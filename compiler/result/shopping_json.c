#include "compiler/result/shopping_json.h"

#include "compiler/model/display.h"
#include "compiler/result/caution_json.h"
#include "compiler/result/closing_lines_json.h"
#include "compiler/form/json_values.h"
#include "compiler/result/shopping_words.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"

struct document {
    const struct model *model;
    struct shopping shopping;
};

static void put_covered(struct json_writer *writer, json_t *object, const char *key,
                        const struct model *model, double m2)
{
    if (isfinite(m2))
        json_put_quantity(writer, object, key, m2, "m2",
                          display_floor(writer->arena, model, QUANTITY_AREA, m2, NULL));
    else
        json_put_null(writer, object, key);
}

static void put_pack(struct json_writer *writer, json_t *packs, const struct document *document,
                     const struct purchase *purchase, const struct purchase_pack *line)
{
    json_t *object = json_put_object(writer, packs, NULL);
    json_put_amount(writer, object, "holds", line->amount, purchase->volume,
                    pack_text(writer->arena, document->model, line->pack));
    json_put_figure(writer, object, "price", line->pack->price);
    json_put_integer(writer, object, "to_buy", (json_int_t)line->count);
    put_covered(writer, object, "covers_at_highest_rate", document->model, line->area_low);
    put_covered(writer, object, "covers_at_lowest_rate", document->model, line->area_high);
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

static void put_choice(struct json_writer *writer, json_t *object, const struct model *model,
                       const struct purchase *purchase)
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
    json_put_amount(writer, chosen, "bought", choice->bought, purchase->volume,
                    display_amount(writer->arena, model, choice->bought, purchase->volume));
    const char *left = purchase_left_text(writer->arena, model, purchase);
    if (left)
        json_put_amount(writer, chosen, "left_over", fmax(choice->bought - purchase->needed, 0),
                        purchase->volume, left);
    else
        json_put_null(writer, chosen, "left_over");
    json_put_figure(writer, chosen, "cost", choice->cost);
}

/* Of what is still to come; null without. */
static void put_rate(struct json_writer *writer, json_t *object, const char *key, const struct model *model,
                     const struct purchase *purchase, double rate)
{
    enum quantity quantity = purchase->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (purchase->first)
        json_put_product_rate(writer, object, key, rate, purchase->volume,
                              display_within(writer->arena, model, quantity, rate, purchase->leeway, NULL));
    else
        json_put_null(writer, object, key);
}

static void put_purchase(struct json_writer *writer, json_t *purchases, const struct document *document,
                         const struct purchase *purchase)
{
    const char *reason = purchase_reason(purchase);
    const struct model *model = document->model;
    bool volume = purchase->volume;
    json_t *object = json_put_object(writer, purchases, NULL);
    json_put_string(writer, object, "product", name_string(purchase->product->symbol.name));
    json_put_amount(writer, object, "still_to_apply", purchase->needed, volume,
                    purchase_needed_text(writer->arena, model, purchase));
    json_put_amount(writer, object, "recorded", purchase->recorded, volume,
                    display_amount(writer->arena, model, purchase->recorded, volume));
    json_put_amount(writer, object, "done_as_planned", purchase->assumed, volume,
                    display_amount(writer->arena, model, purchase->assumed, volume));
    put_rate(writer, object, "lowest_rate", model, purchase, purchase->rate_low);
    put_rate(writer, object, "highest_rate", model, purchase, purchase->rate_high);
    put_first(writer, object, purchase->first);
    put_choice(writer, object, model, purchase);
    json_put_string(writer, object, "remark", *reason ? reason : NULL);
    json_t *packs = json_put_array(writer, object, "packs");
    for (size_t i = 0; i < purchase->packs.count; i++)
        put_pack(writer, packs, document, purchase, &purchase->packs.items[i]);
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
    struct caution_list cautions = shopping_cautions(model, &document->shopping);
    json_put_cautions(writer, root, "storing", &cautions);
    json_put_closing(writer, root, model);
}

void shopping_json_print(struct buffer *out, const struct season *season)
{
    struct document document = {season->model, shopping_of(season)};
    json_print(out, true, fill, &document);
}
