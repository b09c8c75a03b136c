#include "compiler/result/shopping_csv.h"

#include "compiler/form/csv_cell.h"
#include "compiler/model/measure.h"
#include "compiler/result/shopping_words.h"
#include "compiler/result/work.h"

enum { DIGITS_AFTER = 4 }; /* of an amount; finer than anything that is weighed */

static void amount_cell(struct buffer *out, const struct unit *unit, double si,
                        double (*round_to)(double, int))
{
    double value = unit_from_si(unit, si);
    csv_plain(out, number_text(out->arena, round_to(value, DIGITS_AFTER), DIGITS_AFTER));
}

static void print_need(struct buffer *out, const struct unit *unit, const struct purchase *purchase)
{
    csv_text(out, name_string(purchase->product->symbol.name));
    csv_plain(out, purchase->first ? day_text(out->arena, purchase->first->day) : "");
    csv_text(out, purchase->first ? occurrence_title(out->arena, purchase->first) : "");
    csv_plain(out, unit->name);
    amount_cell(out, unit, purchase->needed, number_ceiling);
    amount_cell(out, unit, purchase->recorded, number_floor);
    amount_cell(out, unit, purchase->assumed, number_floor);
    if (purchase->state == PURCHASE_PACKED)
        amount_cell(out, unit, fmax(purchase->choice.bought - purchase->needed, 0), number_floor);
    else
        csv_blank(out, 1);
}

static void print_pack(struct buffer *out, const struct model *model, const struct unit *unit,
                       const struct purchase_pack *line)
{
    double price = line->pack->price;
    csv_plain(out, number_short(out->arena, unit_from_si(unit, line->amount)));
    csv_plain(out, isnan(price) ? "" : money_number(out->arena, price));
    csv_plain(out, text_format(out->arena, "%zu", line->count));
    csv_plain(out, isnan(price) ? "" : money_number(out->arena, price * (double)line->count));
    csv_text(out, isnan(price) ? NULL : model->currency);
    if (isfinite(line->area_high)) {
        csv_plain(out, covered_number(out->arena, model, line->area_low));
        csv_plain(out, covered_number(out->arena, model, line->area_high));
    } else {
        csv_blank(out, 2);
    }
    csv_blank(out, 1);
    csv_end(out);
}

enum { NEED_CELLS = 8, PACK_CELLS = 7 };

static void print_purchase(struct buffer *out, const struct model *model, const struct purchase *purchase)
{
    double most = fmax(fmax(purchase->needed, purchase->recorded), purchase->assumed);
    const struct unit *unit = measure_unit(out->arena, model, most, purchase->volume);
    print_need(out, unit, purchase);
    if (purchase->state != PURCHASE_PACKED) {
        csv_blank(out, PACK_CELLS);
        csv_text(out, purchase_reason(purchase));
        csv_end(out);
        return;
    }
    bool first = true;
    for (size_t i = 0; i < purchase->packs.count; i++) {
        if (purchase->packs.items[i].count == 0)
            continue;
        if (!first) {
            csv_text(out, name_string(purchase->product->symbol.name));
            csv_blank(out, 2);
            csv_plain(out, unit->name);
            csv_blank(out, NEED_CELLS - 4);
        }
        print_pack(out, model, unit, &purchase->packs.items[i]);
        first = false;
    }
}

void shopping_csv_print(struct buffer *out, const struct season *season)
{
    struct shopping shopping = shopping_of(season);
    const char *area = display_unit(out->arena, season->model, QUANTITY_AREA, 0);
    buffer_format(out,
                  "product,first needed,for,unit,still to put down,recorded,done as planned,left over,"
                  "pack,price,packs,cost,currency,pack covers least %s,pack covers most %s,remark\r\n",
                  area, area);
    for (size_t i = 0; i < shopping.purchases.count; i++)
        print_purchase(out, season->model, &shopping.purchases.items[i]);
}
