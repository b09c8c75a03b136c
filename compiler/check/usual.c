/* Figures far outside what products of their form or kind have: mostly a slip of the unit or of the decimal
 * point. The bounds are entries of the library (usual.prill), which a plan may state anew. */
#include "compiler/check/checking.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

static bool outside(const struct usual_range *range, double value)
{
    return exceeds(value, range->high) || exceeds(range->low, value);
}

/* The range of the product's first entry that states it; NULL without one. `offset` is the range's in struct
 * usual. */
static const struct usual_range *range_of(const struct product *product, size_t offset)
{
    for (size_t i = 0; i < product->usual.count; i++) {
        const struct usual_range *range =
            (const struct usual_range *)((const char *)product->usual.items[i] + offset);
        if (range->place.source)
            return range;
    }
    return NULL;
}

#define RANGE_OF(product, member) range_of((product), offsetof(struct usual, member))

static const struct usual_range *rate_range(const struct product *product, bool volume)
{
    return volume ? RANGE_OF(product, rate[BY_VOLUME]) : RANGE_OF(product, rate[BY_MASS]);
}

static void explain(struct checking *checking, struct report *report, const struct usual_range *range)
{
    report_label(checking->model->reports, report, range->place, "what is usual");
    source_note(checking, report, range->source);
}

static const char LAST_HELP[] =
    "check the label; if it is right, add an entry of your own: `usual NAME`, and `kind NAME` in the product";

/* ---- rates ---- */

/* The rate as written, per another area, where that is usual: "50 lb per 1000 sqft"; NULL where none is. */
static const char *other_area(struct checking *checking, struct place place, double rate, double per_m2,
                              const struct usual_range *range)
{
    static const struct {
        const char *text;
        double m2;
    } areas[] = {{"1000 sqft", 92.90304}, {"acre", 4046.8564224}, {"100 m2", 100}, {"m2", 1}, {"ha", 10000}};
    const char *start = (const char *)place.source->bytes + place.start;
    size_t length = place.end - place.start, cut = length;
    for (size_t i = 0; i < length; i++)
        if (start[i] == '/' || (i + 4 < length && memcmp(start + i, " per", 4) == 0))
            cut = i; /* the last one: 1/2 lb per sqft */
    while (cut > 0 && start[cut - 1] == ' ')
        cut--;
    for (size_t i = 0; i < sizeof areas / sizeof *areas && cut < length; i++) {
        double other_rate = rate * per_m2 / areas[i].m2;
        if (!outside(range, other_rate) && fabs(areas[i].m2 - per_m2) > 1e-6 * per_m2)
            return text_format(checking->arena, "%.*s per %s", (int)cut, start, areas[i].text);
    }
    return NULL;
}

/* `about`: the treatment whose rate it is; NULL: it is the label's. */
static void report_rate(struct checking *checking, const struct product *product, const struct symbol *about,
                        struct place place, double rate, bool volume, double per_m2)
{
    const struct usual_range *range = rate_range(product, volume);
    if (!range || !exceeds(rate, range->high)) /* too little does no harm */
        return;
    enum quantity quantity = volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    struct display_pair most =
        display_pair(checking->arena, checking->model, quantity, rate, range->high, NULL);
    const char *low = display_number(checking->arena, checking->model, quantity, range->low);
    struct report *report = finding_add(checking, CHECK_RATE_UNLIKELY, ABOUT(&product->symbol, about), place,
                                        "this is %s of %s; such products are applied at %s to %s", most.value,
                                        name_string(product->symbol.name), low, most.bound);
    explain(checking, report, range);
    const char *other_rate = other_area(checking, place, rate, per_m2, range);
    if (other_rate)
        report_help(checking->model->reports, report, "did you mean %s?", other_rate);
    else
        report_help(checking->model->reports, report, "%s", LAST_HELP);
}

static bool label_outside(const struct product *product)
{
    const struct product_label *label = &product->label;
    const struct usual_range *range = isnan(label->high) ? NULL : rate_range(product, label->volume);
    return range && exceeds(label->high, range->high);
}

void check_usual_labels(struct checking *checking)
{
    for (size_t i = 0; i < checking->model->products.count; i++) {
        const struct product *product = checking->model->products.items[i];
        if (!product->symbol.broken && label_outside(product))
            report_rate(checking, product, NULL, product->label.rate_place, product->label.high,
                        product->label.volume, product->label.per_m2);
    }
}

/* Silent where the label is far out too, and where the rate exceeds a sound label: another check reports
 * that.
 */
void check_usual_rate(struct checking *checking, const struct treatment *treatment,
                      const struct dressing *dressing)
{
    const struct product_label *label = &dressing->product->label;
    bool volume = false;
    double rate = dressing->open ? NAN : dressing_rate(dressing, &volume);
    bool over_label = !isnan(label->high) && label->volume == volume && exceeds(rate, label->high);
    if (rate > 0 && !label_outside(dressing->product) && !over_label)
        report_rate(checking, dressing->product, &treatment->symbol, dressing->rate_place, rate, volume,
                    dressing->per_m2);
}

const char *rate_meant(struct checking *checking, const struct dressing *dressing)
{
    bool volume = false;
    double rate = dressing_rate(dressing, &volume);
    const struct product *product = dressing->product;
    const struct usual_range *range = rate_range(product, volume);
    struct usual_range both = range ? *range : (struct usual_range){0};
    if (!range || dressing->by_supply || product->label.volume != volume)
        return NULL;
    both.low = fmax(both.low, product->label.low);
    both.high = fmin(both.high, product->label.high);
    return other_area(checking, dressing->rate_place, rate, dressing->per_m2, &both);
}

/* ---- densities ---- */

/* The number as written, in another unit, where that is usual: "1.27 kg per L"; NULL where none is. */
static const char *other_density(struct checking *checking, double number, double density,
                                 const struct usual_range *range)
{
    static const struct {
        const char *text;
        double kg_per_m3;
    } units[] = {{"kg per L", 1000},
                 {"lb per gal", 119.82642731689663},
                 {"g per L", 1},
                 {"lb per cuft", 16.018463373960142}};
    for (size_t i = 0; i < sizeof units / sizeof *units && !isnan(number); i++) {
        double other_rate = number * units[i].kg_per_m3;
        if (!outside(range, other_rate) && fabs(other_rate - density) > 1e-6 * density)
            return text_format(checking->arena, "%s %s", number_short(checking->arena, number),
                               units[i].text);
    }
    return NULL;
}

/* ---- prices ---- */

struct priced {
    const struct product *product;
    const struct pack *pack;
    double price; /* of 1 kg; NAN: none */
};

/* Prices have no unit that a bound could be stated in; they are held against each other, class by class. */
static void check_prices(struct checking *checking, const struct usual *usual)
{
    const struct model *model = checking->model;
    struct priced cheapest = {.price = NAN}, dearest = {.price = NAN};
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        if (product->symbol.broken || RANGE_OF(product, prices) != &usual->prices)
            continue;
        for (size_t j = 0; j < product->packs.count; j++) {
            const struct pack *pack = &product->packs.items[j];
            struct priced priced = {product, pack,
                                    pack->price / product_mass(product, pack->amount, pack->volume)};
            if (!(priced.price > 0))
                continue;
            if (!(priced.price >= cheapest.price))
                cheapest = priced;
            if (!(priced.price <= dearest.price))
                dearest = priced;
        }
    }
    if (!cheapest.product || !dearest.product || !exceeds(dearest.price / cheapest.price, usual->prices.high))
        return;
    struct report *report = finding_add(
        checking, CHECK_PRICE_UNLIKELY, ABOUT(&dearest.product->symbol, &cheapest.product->symbol),
        dearest.pack->place,
        "by mass, %s costs %s times as much as %s; such products differ by less than %s times",
        name_string(dearest.product->symbol.name),
        number_short(checking->arena, dearest.price / cheapest.price),
        name_string(cheapest.product->symbol.name), number_short(checking->arena, usual->prices.high));
    report_label(model->reports, report, cheapest.pack->place, "the cheapest");
    explain(checking, report, &usual->prices);
    report_help(model->reports, report, "check both prices, and what the packs hold");
}

/* ---- loads ---- */

/* Of what is planned; once for a statement. */
void check_loads(struct checking *checking)
{
    const struct season *season = checking->season;
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        const struct machine *machine = occurrence->treatment->machine;
        bool counts = machine && machine->usual && !machine->symbol.broken && !occurrence->done &&
                      !occurrence->skipped && !occurrence->treatment->symbol.broken;
        for (size_t j = 0; counts && j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            double loads = machine->sprayer ? machine->output * amount->zone->area_m2 / machine->tank_m3
                                            : product_mass(amount->product, amount->total, amount->volume) /
                                                  machine->hopper_kg;
            if (!exceeds(loads, machine->usual->loads.high) ||
                !finding_once(checking, CHECK_LOADS_UNLIKELY, amount->place, 0))
                continue;
            struct report *report =
                finding_add(checking, CHECK_LOADS_UNLIKELY,
                            ABOUT(&occurrence->treatment->symbol, &machine->symbol, &amount->zone->symbol),
                            amount->place, "%s would be filled %s times for %s; at most %s times is usual",
                            name_string(machine->symbol.name), number_short(checking->arena, loads),
                            name_string(amount->zone->symbol.name),
                            number_short(checking->arena, machine->usual->loads.high));
            report_label(checking->model->reports, report, amount->zone->symbol.place, "its area");
            report_label(checking->model->reports, report, machine->symbol.place, "the machine");
            explain(checking, report, &machine->usual->loads);
            report_help(checking->model->reports, report,
                        "check the area, the rate and what the machine holds");
        }
    }
}

/* What a product states of itself, beside what such products usually have. */
static void check_usual_product(struct checking *checking, const struct product *product)
{
    struct reports *reports = checking->model->reports;
    const char *name = name_string(product->symbol.name);
    /* The other unit that the same number would be usual in is most often the one that was meant. */
    const struct usual_range *range = RANGE_OF(product, density);
    if (range && !isnan(product->density) && outside(range, product->density)) {
        struct display_pair most = display_pair(checking->arena, checking->model, QUANTITY_DENSITY,
                                                product->density, range->high, NULL);
        struct report *report = finding_add(
            checking, CHECK_DENSITY_UNLIKELY, ABOUT(&product->symbol), product->density_place,
            "%s has a density of %s; such products have %s to %s", name, most.value,
            display_number(checking->arena, checking->model, QUANTITY_DENSITY, range->low), most.bound);
        explain(checking, report, range);
        const char *other = other_density(checking, product->density_number, product->density, range);
        if (other)
            report_help(reports, report, "did you mean %s?", other);
        else
            report_help(reports, report, "%s", LAST_HELP);
    }
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    for (size_t i = 0; i < 3; i++) {
        range = range_of(product, offsetof(struct usual, grade) + i * sizeof(struct usual_range));
        if (!range || !exceeds(product->grade[i], range->high) ||
            !finding_once(checking, CHECK_GRADE_UNLIKELY, product->grade_place, 0))
            continue;
        struct display_pair pair = display_share_pair(checking->arena, product->grade[i], range->high);
        struct report *report =
            finding_add(checking, CHECK_GRADE_UNLIKELY, ABOUT(&product->symbol), product->grade_place,
                        "%s has %s %s; such products have at most %s", name, pair.value,
                        nutrient_trade_form(parts[i])->name, pair.bound);
        explain(checking, report, range);
        report_help(reports, report, "a grade is N-P2O5-K2O in percent by mass; check the label");
    }
    /* A pack is looked at by mass or by volume, as it is stated. */
    for (size_t i = 0; i < product->packs.count; i++) {
        const struct pack *pack = &product->packs.items[i];
        range = pack->volume ? RANGE_OF(product, pack[BY_VOLUME]) : RANGE_OF(product, pack[BY_MASS]);
        if (!range || !outside(range, pack->amount))
            continue;
        struct report *report =
            finding_add(checking, CHECK_PACK_UNLIKELY, ABOUT(&product->symbol), pack->place,
                        "a pack of %s holds %s; such products are sold in packs of %s to %s", name,
                        display_amount(checking->arena, checking->model, pack->amount, pack->volume),
                        display_amount(checking->arena, checking->model, range->low, pack->volume),
                        display_amount(checking->arena, checking->model, range->high, pack->volume));
        explain(checking, report, range);
        report_help(reports, report, "check the number and its unit");
    }
}

/* Each product by itself, then the prices of like ones. */
void check_usual_products(struct checking *checking)
{
    const struct model *model = checking->model;
    for (size_t i = 0; i < model->products.count; i++)
        if (!model->products.items[i]->symbol.broken)
            check_usual_product(checking, model->products.items[i]);
    for (size_t i = 0; i < model->usuals.count; i++)
        if (model->usuals.items[i]->prices.place.source)
            check_prices(checking, model->usuals.items[i]);
}
