#include "compiler/model/product.h"

double product_measure(const struct product *product, double amount, bool volume, bool as_volume)
{
    if (volume == as_volume)
        return amount;
    return as_volume ? amount / product->density : amount * product->density;
}

double product_mass(const struct product *product, double amount, bool volume)
{
    return product_measure(product, amount, volume, false);
}

double layer_loose_m(const struct product *product, double laid_m)
{
    return isnan(product->settles) ? laid_m : laid_m / (1 - product->settles);
}

bool product_supplies(const struct product *product, enum nutrient nutrient)
{
    return product->content[nutrient] > 0;
}

double product_share(const struct product *product, const struct nutrient_form *form)
{
    return product->content[form->nutrient] / form->element_per_unit;
}

bool kind_among(const struct name *const *kinds, size_t count, const struct name *kind)
{
    for (size_t i = 0; i < count; i++)
        if (kinds[i] == kind)
            return true;
    return false;
}

bool zone_among(const struct zone *const *zones, size_t count, const struct zone *zone)
{
    for (size_t i = 0; i < count; i++)
        if (zones[i] == zone)
            return true;
    return false;
}

bool product_has_kind(const struct product *product, const struct name *kind)
{
    return kind_among(product->kinds.items, product->kinds.count, kind);
}

bool class_equal(const struct treatment_class *a, const struct treatment_class *b)
{
    if (a->nutrient && b->nutrient)
        return a->nutrient->nutrient == b->nutrient->nutrient;
    return !a->nutrient && !b->nutrient && a->kind == b->kind;
}

bool product_in_class(const struct product *product, const struct treatment_class *class)
{
    return class->nutrient ? product_supplies(product, class->nutrient->nutrient)
                           : product_has_kind(product, class->kind);
}

const struct mixing *product_mixing(const struct model *model, const struct product *a,
                                    const struct product *b)
{
    const struct mixing *known = NULL;
    for (size_t i = 0; i < model->mixings.count; i++) {
        const struct mixing *mixing = model->mixings.items[i];
        bool of_both = (product_has_kind(a, mixing->first) && product_has_kind(b, mixing->second)) ||
                       (product_has_kind(b, mixing->first) && product_has_kind(a, mixing->second));
        bool before = known && (mixing->library != known->library ? !mixing->library
                                                                  : mixing->verdict > known->verdict);
        if (of_both && (!known || before))
            known = mixing;
    }
    return known;
}
