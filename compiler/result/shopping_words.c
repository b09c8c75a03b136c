#include "compiler/result/shopping.h"

#include "compiler/model/display.h"
#include "compiler/model/measure.h"
#include "compiler/model/tolerance.h"

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
    double area = display_value(model, QUANTITY_AREA, m2);
    int decimals = number_short_decimals(area);
    return number_text(arena, number_floor(area, decimals), decimals);
}

const char *purchase_needed_text(struct arena *arena, const struct model *model,
                                 const struct purchase *purchase)
{
    enum quantity quantity = purchase->volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    return display_ceiling(arena, model, quantity, purchase->needed, NULL);
}

/* "12 lb, counted on Thu 2027-04-01", "8.6 lb: 12 lb counted on Thu 2027-04-01, 3.4 lb used since then",
 * "36.6 lb: 40 lb bought from Sat 2027-04-10 on, 3.4 lb used". */
const char *purchase_held_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase)
{
    const struct shelf *shelf = purchase->shelf;
    enum quantity quantity = purchase->volume ? QUANTITY_VOLUME : QUANTITY_MASS;
    const char *held = display_floor(arena, model, quantity, purchase->held, NULL);
    const char *day = display_date(arena, shelf->last ? shelf->last->day : shelf->first->day);
    struct buffer text = {.arena = arena};
    if (shelf->last && !(shelf->bought > 0) && !(shelf->used > 0))
        return text_format(arena, "%s, counted on %s", held, day);
    buffer_format(&text, "%s: ", held);
    if (shelf->last)
        buffer_format(&text, "%s counted on %s", display_amount(arena, model, shelf->counted, shelf->volume),
                      day);
    if (shelf->bought > 0)
        buffer_format(&text, "%s%s bought", shelf->last ? ", " : "",
                      display_amount(arena, model, shelf->bought, shelf->volume));
    if (shelf->bought > 0 && !shelf->last)
        buffer_format(&text, " from %s on", day);
    if (shelf->used > 0)
        buffer_format(&text, ", %s used", display_amount(arena, model, shelf->used, shelf->volume));
    if (shelf->last)
        buffer_add_string(&text, " since then");
    return text.string;
}

/* From what is needed and held as it is printed, so that the column adds up. */
const char *purchase_left_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase)
{
    if (!purchase->first)
        return purchase->left > 0 ? display_amount(arena, model, purchase->left, purchase->volume) : NULL;
    const struct unit *unit = measure_unit(arena, model, purchase->needed, purchase->volume);
    double needed = unit_from_si(unit, purchase->needed), held = unit_from_si(unit, purchase->held);
    int decimals = number_short_decimals(needed);
    int finer = number_short_decimals(held);
    decimals = finer > decimals && held > 0 ? finer : decimals;
    double left = unit_from_si(unit, purchase->choice.bought) + number_floor(held, decimals) -
                  number_ceiling(needed, decimals);
    if (!(number_nearest(left, decimals) > 0))
        return NULL;
    return text_format(arena, "%s %s", number_text(arena, left, decimals), unit->name);
}

/* Each says which statement would tell more. */
const char *purchase_reason(const struct purchase *purchase)
{
    switch (purchase->state) {
    case PURCHASE_PACKED:
        return "";
    case PURCHASE_DONE:
        return "Nothing more is needed.";
    case PURCHASE_HELD:
        return "Nothing: the shed has enough.";
    case PURCHASE_UNPACKED:
        return "The product has no pack sizes: add one, such as `pack 40 lb at 31.00`.";
    case PURCHASE_UNKNOWN:
        return "Amount and packs do not compare, one by mass and one by volume: add the product's `density`.";
    case PURCHASE_TOO_MANY:
        return "The packs are too small: it would take more than a million.";
    }
    return "";
}
