/* What is in the shed: `have` counts it on a day, `bought` adds to it. */
#include "compiler/model/read.h"
#include "compiler/model/display.h"

#include <math.h>

/* The one pack of the product; NULL after a report, since of several nobody knows which are meant. */
static const struct pack *only_pack(const struct stated *stated, const struct product *product)
{
    struct model *model = stated->model;
    const char *name = name_string(product->symbol.name), *packs = slot_written(stated, "packs");
    if (product->packs.count == 1)
        return &product->packs.items[0];
    struct report *report =
        report_add(model->reports, &model_rules[RULE_VALUE], slot_value(stated, "packs")->place,
                   product->packs.count ? "%s is sold in several sizes; which of them are these %s?"
                                        : "%s states no pack, so what %s hold is not known",
                   name, packs);
    report_label(model->reports, report, product->symbol.place, "the product");
    report_help(model->reports, report, "write the amount: %s AMOUNT of %s",
                form_says(stated->clause->form, "have") ? "have" : "bought", name);
    return NULL;
}

/* In the phase of records, when products have their packs. That it is in the shed does not count as use. */
static void finish_stock(const struct stated *stated)
{
    struct stock *stock = stated->subject;
    const struct symbol *before =
        symbol_look(stated->model, SYMBOL_PRODUCT, slot_value(stated, "product")->name);
    bool used = before && before->used;
    struct product *product = slot_symbol(stated, SYMBOL_PRODUCT, "product");
    if (!product || product->symbol.broken)
        return;
    product->symbol.used = used;
    product->stocked = true;
    const struct value *price = slot_value(stated, "price");
    double count = 1;
    switch ((enum stock_form)stated->clause->form->which) {
    case STOCK_NONE:
        break;
    case STOCK_AMOUNT:
        stock->amount = slot_value(stated, "amount")->number;
        stock->volume = slot_value(stated, "amount")->volume;
        break;
    case STOCK_PACKS: {
        const struct pack *pack = only_pack(stated, product);
        if (!pack)
            return;
        count = slot_value(stated, "count")->number;
        stock->amount = count * pack->amount;
        stock->volume = pack->volume;
        break;
    }
    }
    stock->price = price ? count * price->number : NAN;
    stock->product = product;
}

void read_stock(const struct stated *stated)
{
    struct stock *stock = object_new(stated, NULL, sizeof *stock);
    stock->bought = form_says(stated->clause->form, "bought");
    stock->price = NAN;
    if (!day_of_value(stated->model, slot_value(stated, "day"), &stock->day))
        return;
    VECTOR_PUSH(stated->model->arena, &stated->model->stocks, stock);
    body_later(stated, stock, PHASE_RECORD, finish_stock);
}
