#include "compiler/result/shopping.h"

#include "compiler/form/csv_cell.h"
#include "compiler/model/display.h"
#include "compiler/result/caution.h"
#include "compiler/result/fewer_packs.h"
#include "compiler/result/result.h"
#include "compiler/result/work.h"

/* ---- for a program ---- */

static void put_covered(struct data *object, const char *key, const struct model *model, double m2)
{
    data_quantity(object, key, m2, "m2",
                  isfinite(m2) ? display_rounded(object->arena, model, QUANTITY_AREA, m2, number_floor, NULL)
                               : NULL);
}

/* Null where no packs could be chosen: the remark says why. */
static void put_choice(struct data *object, const struct model *model, const struct purchase *purchase)
{
    const struct pack_choice *choice = &purchase->choice;
    if (purchase->state != PURCHASE_PACKED) {
        data_null(object, "choice");
        return;
    }
    struct data *chosen = data_object(object, "choice");
    data_integer(chosen, "packs", (long long)choice->packs);
    data_string(chosen, "by", choice->priced ? "least cost" : "fewest packs");
    data_boolean(chosen, "proven", choice->proven);
    data_amount(chosen, "bought", choice->bought, purchase->volume,
                purchase_amount_text(object->arena, model, purchase, choice->bought, AMOUNT_NEAREST));
    const char *left = purchase_left_text(object->arena, model, purchase);
    data_amount(chosen, "left_over", left ? purchase->left : (double)NAN, purchase->volume, left);
    data_number(chosen, "cost", choice->cost);
}

/* Of what is still to come; null without. */
static void put_rate(struct data *object, const char *key, const struct model *model,
                     const struct purchase *purchase, double rate)
{
    enum quantity quantity = purchase->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (purchase->first)
        data_rate(object, key, rate, purchase->volume,
                  display_within(object->arena, model, quantity, rate, purchase->leeway, NULL));
    else
        data_null(object, key);
}

/* What is stated of it; null without. */
static void put_shed(struct data *object, const struct model *model, const struct purchase *purchase)
{
    const struct shelf *shelf = purchase->shelf;
    if (!shelf) {
        data_null(object, "shed");
        return;
    }
    struct data *shed = data_object(object, "shed");
    data_day(shed, "counted_on", shelf->last ? shelf->last->day : DAY_NONE);
    const struct {
        const char *key;
        double amount;
    } amounts[] = {{"counted", shelf->counted},
                   {"bought_since", shelf->bought},
                   {"used_since", shelf->used},
                   {"in_shed", shelf->left}};
    for (size_t i = 0; i < sizeof amounts / sizeof *amounts; i++)
        data_amount(
            shed, amounts[i].key, amounts[i].amount, shelf->volume,
            purchase->bulk && shelf->volume
                ? purchase_amount_text(shed->arena, model, purchase, amounts[i].amount, AMOUNT_NEAREST)
                : display_amount(shed->arena, model, amounts[i].amount, shelf->volume));
    data_number(shed, "cost_of_in_shed", shelf->worth);
    data_amount(shed, "from_shed", purchase->taken, purchase->volume,
                purchase_amount_text(shed->arena, model, purchase, purchase->taken, AMOUNT_NEAREST));
    data_number(shed, "cost_of_from_shed", purchase->taken_cost);
    data_place(shed, "place", (shelf->last ? shelf->last : shelf->first)->symbol.statement);
}

/* Null where there is nothing to propose. */
static void put_fewer_packs(struct data *object, const struct season *season, const struct purchase *purchase)
{
    struct fewer_packs fewer = fewer_packs_of(season, purchase);
    if (!fewer.rates.count) {
        data_null(object, "fewer_packs");
        return;
    }
    struct data *proposal = data_object(object, "fewer_packs");
    data_integer(proposal, "packs", (long long)fewer.packs);
    data_number(proposal, "saved", fewer.saved);
    struct data *rates = data_list(proposal, "rates");
    for (size_t i = 0; i < fewer.rates.count; i++) {
        struct data *rate = data_object(rates, NULL);
        data_name(rate, "treatment", fewer.rates.items[i].treatment->symbol.name);
        data_string(rate, "statement", fewer.rates.items[i].statement);
        data_place(rate, "place", fewer.rates.items[i].dressing->place);
    }
}

/* Every size is listed with what to buy of it, also those of which nothing is. */
static void put_purchase(struct data *purchases, const struct season *season, const struct purchase *purchase)
{
    const struct model *model = season->model;
    struct data *object = data_object(purchases, NULL);
    struct arena *arena = object->arena;
    bool volume = purchase->volume;
    data_name(object, "product", purchase->product->symbol.name);
    data_amount(object, "still_to_apply", purchase->needed, volume,
                purchase_needed_text(arena, model, purchase));
    data_amount(object, "recorded", purchase->recorded, volume,
                purchase_amount_text(arena, model, purchase, purchase->recorded, AMOUNT_NEAREST));
    data_amount(object, "done_as_planned", purchase->assumed, volume,
                purchase_amount_text(arena, model, purchase, purchase->assumed, AMOUNT_NEAREST));
    data_amount(object, "planned_before_count", purchase->before_count, volume,
                purchase_amount_text(arena, model, purchase, purchase->before_count, AMOUNT_NEAREST));
    put_rate(object, "lowest_rate", model, purchase, purchase->rate_low);
    put_rate(object, "highest_rate", model, purchase, purchase->rate_high);
    if (purchase->first) {
        struct data *needed = data_object(object, "first_needed");
        data_day(needed, "date", purchase->first->day);
        data_string(needed, "for", occurrence_title(arena, purchase->first));
    } else {
        data_null(object, "first_needed");
    }
    put_shed(object, model, purchase);
    data_amount(object, "to_buy", purchase->to_buy, volume,
                purchase_amount_text(arena, model, purchase, purchase->to_buy, AMOUNT_UP));
    data_amount(object, "left_at_season_end", purchase->left, volume,
                isnan(purchase->left)
                    ? NULL
                    : purchase_amount_text(arena, model, purchase, purchase->left, AMOUNT_NEAREST));
    /* Null where nothing is to be bought, or the product states no load. */
    if (!purchase->loads) {
        data_null(object, "deliveries");
    } else {
        struct data *loads = data_object(object, "deliveries");
        data_integer(loads, "count", (long long)purchase->loads);
        data_amount(loads, "most", purchase->load, purchase->volume,
                    purchase_amount_text(loads->arena, model, purchase, purchase->load, AMOUNT_NEAREST));
        data_number(loads, "cost", purchase->load_cost);
    }
    put_choice(object, model, purchase);
    put_fewer_packs(object, season, purchase);
    const char *reason = purchase_reason(arena, model, purchase);
    data_string(object, "remark", *reason ? reason : NULL);
    struct data *packs = data_list(object, "packs");
    for (size_t i = 0; i < purchase->packs.count; i++) {
        /* What one pack holds and costs. */
        const struct purchase_pack *line = &purchase->packs.items[i];
        struct data *item = data_object(packs, NULL);
        data_amount(item, "holds", line->amount, purchase->volume,
                    purchase_pack_text(packs->arena, model, purchase, line->pack));
        data_number(item, "price", line->pack->price);
        data_integer(item, "to_buy", (long long)line->count);
        put_covered(item, "covers_at_highest_rate", model, line->area_low);
        put_covered(item, "covers_at_lowest_rate", model, line->area_high);
        data_place(item, "place", line->pack->place);
    }
}

/* The sums first: most readers want no more. */
void shopping_data(struct data *root, const struct result_input *input)
{
    const struct model *model = input->season->model;
    struct shopping shopping = shopping_of(input->season);
    struct caution_list cautions = shopping_cautions(model, &shopping);
    data_string(root, "currency", model->currency);
    data_number(root, "cost_of_what_has_a_price", shopping.cost);
    data_number(root, "cost_of_what_the_shed_gives", shopping.shed_cost);
    data_integer(root, "products_without_a_known_cost", (long long)shopping.unpriced);
    struct data *purchases = data_list(root, "products");
    for (size_t i = 0; i < shopping.purchases.count; i++)
        put_purchase(purchases, input->season, &shopping.purchases.items[i]);
    struct data *materials = data_list(root, "materials");
    for (size_t i = 0; i < shopping.materials.count; i++) {
        const struct laid_material *material = &shopping.materials.items[i];
        struct data *object = data_object(materials, NULL);
        data_name(object, "material", material->name);
        data_amount(object, "still_to_lay", material->m3, true, bulk_text(root->arena, model, material->m3));
        data_day(object, "first_needed", material->first->day);
        data_string(object, "for", occurrence_title(root->arena, material->first));
    }
    data_cautions(root, "storing", &cautions);
}

/* ---- for a spreadsheet ---- */

enum { DIGITS_AFTER = 4 }; /* of an amount; finer than anything that is weighed */

static void amount_cell(struct buffer *out, const struct unit *unit, double si,
                        double (*round_to)(double, int))
{
    double value = unit_from_si(unit, si);
    csv_plain(out, number_text(out->arena, round_to(value, DIGITS_AFTER), DIGITS_AFTER));
}

enum { NEED_CELLS = 8, PACK_CELLS = 7 };

/* What the shed has, where that is stated, and what it leaves to buy; not in the rows of further sizes. */
static void print_shed(struct buffer *out, const struct unit *unit, const struct purchase *purchase)
{
    if (purchase->shelf)
        amount_cell(out, unit, purchase->held, number_floor);
    else
        csv_blank(out, 1);
    amount_cell(out, unit, purchase->to_buy, number_ceiling);
    csv_end(out);
}

/* A row for each size to buy: what is needed is on the first alone, so that a column of it can be summed. */
static void print_purchase(struct buffer *out, const struct model *model, const struct purchase *purchase)
{
    double most = fmax(fmax(purchase->measured, purchase->recorded), fmax(purchase->assumed, purchase->held));
    const struct unit *unit = purchase_unit(model, purchase, most);
    /* What is still needed is rounded up, what there is already down: nothing runs out before. */
    csv_text(out, name_string(purchase->product->symbol.name));
    csv_plain(out, purchase->first ? day_text(out->arena, purchase->first->day) : "");
    csv_text(out, purchase->first ? occurrence_title(out->arena, purchase->first) : "");
    csv_plain(out, unit->name);
    amount_cell(out, unit, purchase->measured, number_ceiling);
    amount_cell(out, unit, purchase->recorded, number_floor);
    amount_cell(out, unit, purchase->assumed, number_floor);
    if (!isnan(purchase->left) && (purchase->shelf || purchase->state == PURCHASE_PACKED))
        amount_cell(out, unit, purchase->left, number_floor);
    else
        csv_blank(out, 1);
    if (purchase->state != PURCHASE_PACKED) {
        csv_blank(out, PACK_CELLS);
        csv_text(out, purchase_reason(out->arena, model, purchase));
        print_shed(out, unit, purchase);
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
        /* A row for each size of pack to buy. */
        const struct purchase_pack *line = &purchase->packs.items[i];
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
        csv_blank(out, 1); /* no remark */
        if (first) {
            print_shed(out, unit, purchase);
        } else {
            csv_blank(out, 2);
            csv_end(out);
        }
        first = false;
    }
}

/* A row for each size of pack, so that a spreadsheet can add up. */
void shopping_csv_print(struct buffer *out, const struct result_input *input)
{
    const struct model *model = input->season->model;
    struct shopping shopping = shopping_of(input->season);
    const char *area = display_unit(out->arena, model, QUANTITY_AREA, 0);
    buffer_format(out,
                  "product,first needed,for,unit,still to apply,recorded,done as planned,left over,"
                  "pack,price,packs,cost,currency,pack covers least %s,pack covers most %s,remark,in the "
                  "shed,to buy\r\n",
                  area, area);
    for (size_t i = 0; i < shopping.purchases.count; i++)
        print_purchase(out, model, &shopping.purchases.items[i]);
    /* Rows of materials that are no products have no more than what is still to lay of them. */
    for (size_t i = 0; i < shopping.materials.count; i++) {
        const struct laid_material *material = &shopping.materials.items[i];
        struct purchase purchase = {.volume = true, .bulk = true};
        const struct unit *unit = purchase_unit(model, &purchase, material->m3);
        csv_text(out, name_string(material->name));
        csv_plain(out, day_text(out->arena, material->first->day));
        csv_text(out, occurrence_title(out->arena, material->first));
        csv_plain(out, unit->name);
        amount_cell(out, unit, material->m3, number_ceiling);
        csv_blank(out, NEED_CELLS - 5 + PACK_CELLS + 2);
        amount_cell(out, unit, material->m3, number_ceiling);
        csv_end(out);
    }
}
