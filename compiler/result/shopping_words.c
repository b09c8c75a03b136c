#include "compiler/result/shopping.h"

#include "compiler/model/display.h"
#include "compiler/model/measure.h"
#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"

#include <string.h>

enum { LEAST_DECIMALS = 2, MOST_DECIMALS = 6 };

const char *money_number(struct arena *arena, double value)
{
    int decimals = LEAST_DECIMALS;
    while (decimals < MOST_DECIMALS && differs(number_floor(value, decimals), value))
        decimals++;
    return number_fixed(arena, value, decimals);
}

const char *money_text(struct arena *arena, const struct model *model, double value)
{
    const char *number = money_number(arena, value);
    return model->currency ? text_format(arena, "%s %s", number, model->currency) : number;
}

const char *pack_text(struct arena *arena, const struct model *model, const struct pack *pack)
{
    return display_amount(arena, model, pack->amount, pack->volume);
}

const char *covered_number(struct arena *arena, const struct model *model, double m2)
{
    double area = display_parts(model, QUANTITY_AREA, m2).value;
    int decimals = number_short_decimals(area);
    return number_text(arena, number_floor(area, decimals), decimals);
}

/* Heaps are bought in these (common practice, no source). */
static const struct unit *heap_unit(const struct model *model, double m3)
{
    const double least_of_large = 0.5;
    const struct unit *unit = unit_named(model->metric ? "cu m" : "cu yd");
    if (unit_from_si(unit, m3) < least_of_large)
        unit = unit_named(model->metric ? "L" : "cu ft");
    return unit;
}

const char *purchase_pack_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase, const struct pack *pack)
{
    if (!purchase->bulk || !pack->volume)
        return pack_text(arena, model, pack);
    return purchase_amount_text(arena, model, purchase, pack->amount, AMOUNT_NEAREST);
}

const struct unit *purchase_unit(const struct model *model, const struct purchase *purchase, double amount)
{
    return purchase->bulk ? heap_unit(model, amount) : measure_unit(model, amount, purchase->volume);
}

const char *bulk_text(struct arena *arena, const struct model *model, double m3)
{
    const struct unit *unit = heap_unit(model, m3);
    int decimals;
    double value = measure_up(unit, m3, &decimals);
    return number_in(arena, value, decimals, unit->name);
}

/* Heaps have a unit of their own, which display does not know. */
const char *purchase_amount_text(struct arena *arena, const struct model *model,
                                 const struct purchase *purchase, double amount,
                                 enum amount_rounding rounding)
{
    enum quantity quantity = purchase->volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    double value = purchase->bulk ? unit_from_si(heap_unit(model, amount), amount) : 0;
    switch (rounding) {
    case AMOUNT_UP:
        return purchase->bulk ? bulk_text(arena, model, amount)
                              : display_rounded(arena, model, quantity, amount, number_ceiling, NULL);
    case AMOUNT_DOWN:
        if (!purchase->bulk)
            return display_rounded(arena, model, quantity, amount, number_floor, NULL);
        value = number_floor(value, number_short_decimals(value));
        break;
    case AMOUNT_NEAREST:
        if (!purchase->bulk)
            return display_of(arena, model, quantity, amount, NULL);
        break;
    }
    return text_format(arena, "%s %s", number_short(arena, value), heap_unit(model, amount)->name);
}

/* What is printed of what is still to apply, in the unit: sums of figures that are measured have few
 * decimals; where units of a gallon and of a fluid ounce meet, they are rounded up. */
static double needed_value(const struct model *model, const struct purchase *purchase,
                           const struct unit *unit, int *decimals)
{
    /* What the plan's own scale shows in another unit has endless decimals in this one. */
    const int most = (purchase->volume ? model->measures_in : model->weighs_in) ? 2 : 4;
    double value = unit_from_si(unit, purchase->measured);
    if (purchase->bulk)
        return measure_up(unit, purchase->measured, decimals);
    *decimals = 0;
    while (*decimals < most && differs(number_nearest(value, *decimals), value))
        ++*decimals;
    return number_ceiling(value, *decimals);
}

const char *purchase_needed_text(struct arena *arena, const struct model *model,
                                 const struct purchase *purchase)
{
    const struct unit *unit = purchase_unit(model, purchase, purchase->measured);
    int decimals;
    double value = needed_value(model, purchase, unit, &decimals);
    return number_in(arena, value, decimals, unit->name);
}

/* What the shelf says, counted as the purchase is. */
static double shelf_measure(const struct purchase *purchase, double amount)
{
    return product_measure(purchase->product, amount, purchase->shelf->volume, purchase->volume);
}

/* "12 lb, counted on Thu 2027-04-01", "8.6 lb: 12 lb counted on Thu 2027-04-01, 3.4 lb used since then",
 * "36.6 lb: 40 lb bought from Sat 2027-04-10 on, 3.4 lb used". */
const char *purchase_held_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase)
{
    const struct shelf *shelf = purchase->shelf;
    const char *held = purchase_amount_text(arena, model, purchase, purchase->held, AMOUNT_DOWN);
    const struct {
        double amount;
        const char *before, *after;
    } since[] = {{shelf->bought, shelf->last ? ", " : "", " bought"}, {shelf->used, ", ", " used"}};
    const char *day = display_date(arena, shelf->last ? shelf->last->day : shelf->first->day);
    struct buffer text = {.arena = arena};
    if (shelf->last && !(shelf->bought > 0) && !(shelf->used > 0))
        return text_format(arena, "%s, counted on %s", held, day);
    buffer_format(&text, "%s: ", held);
    if (shelf->last)
        buffer_format(&text, "%s counted on %s",
                      purchase_amount_text(arena, model, purchase, shelf_measure(purchase, shelf->counted),
                                           AMOUNT_NEAREST),
                      day);
    for (size_t i = 0; i < sizeof since / sizeof *since; i++) {
        double amount = shelf_measure(purchase, since[i].amount);
        if (amount > 0)
            buffer_format(&text, "%s%s%s", since[i].before,
                          purchase_amount_text(arena, model, purchase, amount, AMOUNT_NEAREST),
                          since[i].after);
        if (i == 0 && amount > 0 && !shelf->last)
            buffer_format(&text, " from %s on", day);
    }
    if (shelf->last)
        buffer_add_string(&text, " since then");
    return text.string;
}

/* From what is needed and held as it is printed, so that the column adds up. */
const char *purchase_left_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase)
{
    if (!purchase->first)
        return purchase->left > 0
                   ? purchase_amount_text(arena, model, purchase, purchase->left, AMOUNT_NEAREST)
                   : NULL;
    const struct unit *unit = purchase_unit(model, purchase, purchase->measured);
    int decimals;
    double needed = needed_value(model, purchase, unit, &decimals), held = unit_from_si(unit, purchase->held);
    int finer = number_short_decimals(held);
    decimals = finer > decimals && held > 0 ? finer : decimals;
    double left = unit_from_si(unit, purchase->choice.bought) + number_floor(held, decimals) - needed;
    if (!(number_nearest(left, decimals) > 0))
        return NULL;
    return number_in(arena, left, decimals, unit->name);
}

/* "12.3 lb at 9.53 for the part used; this list counts whole packs, amounts as the scale or cup shows them, 4
 * lb for other work, 5 lb from the shed" */
const char *purchase_rates_text(struct arena *arena, const struct model *model,
                                const struct purchase *purchase)
{
    double other = purchase->needed - purchase->rates_amount;
    bool more = exceeds(purchase->needed, purchase->rates_amount);
    bool costs = !isnan(purchase->rates_cost) && purchase->state == PURCHASE_PACKED &&
                 differs(purchase->rates_cost, purchase->choice.cost);
    const char *amount = purchase_amount_text(arena, model, purchase, purchase->rates_amount, AMOUNT_UP);
    bool weighed = !more && strcmp(amount, purchase_needed_text(arena, model, purchase)) != 0;
    if (!(purchase->rates_amount > 0) || !purchase->first ||
        !(more || costs || weighed || purchase->taken > 0))
        return NULL;
    struct buffer text = {.arena = arena}, why = {.arena = arena};
    buffer_add_string(&text, amount);
    if (!isnan(purchase->rates_cost))
        buffer_format(&text, " at %s", money_text(arena, model, number_nearest(purchase->rates_cost, 2)));
    buffer_add_string(&text, purchase->rates_packs ? " for whole packs" : " for the part used");
    if (!purchase->rates_packs && purchase->state == PURCHASE_PACKED)
        buffer_add_string(&why, "whole packs");
    if (weighed) {
        buffer_separate(&why, ", ");
        buffer_add_string(&why, "amounts as the scale or cup shows them");
    }
    if (more) {
        buffer_separate(&why, ", ");
        buffer_format(&why, "%s for other work",
                      purchase_amount_text(arena, model, purchase, other, AMOUNT_NEAREST));
    }
    if (purchase->taken > 0) {
        buffer_separate(&why, ", ");
        buffer_format(&why, "%s from the shed",
                      purchase_amount_text(arena, model, purchase, purchase->taken, AMOUNT_NEAREST));
    }
    return why.length ? text_format(arena, "%s; this list counts %s", text.string, why.string) : NULL;
}

/* As such a product is sold (common practice, no source); with a price only where the plan says in what
 * money. */
const char *pack_example(struct arena *arena, const struct model *model, bool volume, bool bulk)
{
    static const struct {
        const char *us, *metric, *price;
    } examples[] = {
        {"40 lb", "20 kg", "31.00"}, {"2.5 gal", "10 L", "31.00"}, {"1 cu yd", "1 cu m", "38.00"}};
    size_t row = bulk ? 2 : volume;
    return text_format(arena, "pack %s%s%s", model->metric ? examples[row].metric : examples[row].us,
                       model->currency ? " at " : "", model->currency ? examples[row].price : "");
}

/* Each says which statement would tell more. */
const char *purchase_reason(struct arena *arena, const struct model *model, const struct purchase *purchase)
{
    bool volume = purchase->volume || purchase->product->form == FORM_LIQUID;
    switch (purchase->state) {
    case PURCHASE_PACKED:
        return "";
    case PURCHASE_DONE:
        return "Nothing more is needed.";
    case PURCHASE_HELD:
        return "Nothing: the shed has enough.";
    case PURCHASE_UNPACKED:
        return text_format(arena, "The product has no pack sizes: add one, such as `%s`.",
                           pack_example(arena, model, volume, purchase->bulk));
    case PURCHASE_UNKNOWN:
        return "Amount and packs do not compare, one by mass and one by volume: add the product's `density`.";
    case PURCHASE_TOO_MANY:
        return "The packs are too small: it would take more than a million.";
    }
    return "";
}
