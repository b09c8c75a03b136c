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

/* From what is needed as it is printed, so that the column adds up. */
const char *purchase_left_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase)
{
    const struct unit *unit = measure_unit(arena, model, purchase->needed, purchase->volume);
    double needed = unit_from_si(unit, purchase->needed);
    int decimals = number_short_decimals(needed);
    double left = unit_from_si(unit, purchase->choice.bought) - number_ceiling(needed, decimals);
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
    case PURCHASE_UNPACKED:
        return "The product has no pack sizes: add one, such as `pack 40 lb at 31.00`.";
    case PURCHASE_UNKNOWN:
        return "Amount and packs do not compare, one by mass and one by volume: add the product's `density`.";
    case PURCHASE_TOO_MANY:
        return "The packs are too small: it would take more than a million.";
    }
    return "";
}
