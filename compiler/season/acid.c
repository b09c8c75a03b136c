#include "compiler/season/acid.h"

/* The first of the statements that says it: the product's own, its material's, its neutralizing value. */
struct acid_figure product_acid(const struct model *model, const struct product *product)
{
    if (!isnan(product->acidity))
        return (struct acid_figure){.amount = product->acidity};
    for (size_t i = 0; i < model->acidities.count; i++) {
        const struct acidity *acidity = &model->acidities.items[i];
        bool of_material = product->symbol.name == acidity->material;
        for (size_t j = 0; j < product->kinds.count; j++)
            of_material = of_material || product->kinds.items[j] == acidity->material;
        if (of_material)
            return (struct acid_figure){.amount = acidity->amount, .material = acidity};
    }
    if (!isnan(product->neutralizing))
        return (struct acid_figure){.amount = -product->neutralizing};
    bool makes = product->content[NUTRIENT_N] > 0 || product->content[NUTRIENT_S] > 0;
    return (struct acid_figure){.amount = makes ? (double)NAN : 0};
}

/* Acid and lime apart: they are made in different places and at different times. */
struct acid_balance zone_acid(const struct season *season, const struct zone *zone)
{
    struct acid_balance balance = {.acid = 0};
    const struct ledger *ledger = &season->ledgers[zone->index];
    for (size_t i = 0; i < ledger->applications.count; i++)
        for (size_t j = 0; j < ledger->applications.items[i].amounts.count; j++) {
            const struct amount *amount = ledger->applications.items[i].amounts.items[j];
            struct acid_figure figure = product_acid(season->model, amount->product);
            double sum = figure.amount * amount->mass_rate;
            balance.others |= isnan(sum) && balance.unknown && balance.unknown != amount->product;
            if (isnan(sum) && !balance.unknown)
                balance.unknown = amount->product;
            balance.acid += sum > 0 ? sum : 0;
            balance.lime -= sum < 0 ? sum : 0;
        }
    return balance;
}
