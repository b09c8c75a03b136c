/* What is in the shed: `have` counts it on a day, `bought` adds to it. */
#include "compiler/model/read.h"
#include "compiler/model/display.h"

#include <math.h>

/* In the phase of records, when products have their packs. That it is in the shed does not count as use. Of
 * several packs nobody knows which are meant. */
static void finish_stock(const struct stated *stated)
{
    struct model *model = stated->model;
    struct stock *stock = stated->subject;
    const struct symbol *before = symbol_look(model, SYMBOL_PRODUCT, slot_value(stated, "product")->name);
    bool used = before && before->used;
    struct product *product = slot_symbol(stated, SYMBOL_PRODUCT, "product");
    if (!product || product->symbol.broken)
        return;
    product->symbol.used = used;
    product->stocked = true;
    const struct value *price = slot_value(stated, "price"), *amount = slot_value(stated, "amount");
    const struct value *packs = slot_value(stated, "packs");
    double count = 1;
    if (amount) {
        stock->amount = amount->number;
        stock->volume = amount->volume;
    } else if (packs && product->packs.count == 1) {
        count = slot_value(stated, "count")->number;
        stock->amount = count * product->packs.items[0].amount;
        stock->volume = product->packs.items[0].volume;
    } else if (packs) {
        const char *name = name_string(product->symbol.name);
        struct report *report =
            report_add(model->reports, &model_rules[RULE_VALUE], packs->place,
                       product->packs.count ? "%s is sold in several sizes; which of them are these %s?"
                                            : "%s states no pack, so what %s hold is not known",
                       name, slot_written(stated, "packs"));
        report_label(model->reports, report, product->symbol.place, "the product");
        report_help(model->reports, report, "write the amount: %s AMOUNT of %s",
                    stock->bought ? "bought" : "have", name);
        return;
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
