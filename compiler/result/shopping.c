#include "compiler/result/shopping.h"

#include "compiler/model/product.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/work.h"
#include "compiler/season/layer.h"
#include "compiler/solve/solution.h"

/* ---- what is needed ---- */

/* Counted as its first amount is. A product without a density that is measured in both ways has two. */
static struct purchase *purchase_for(struct shopping *shopping, struct arena *arena,
                                     const struct product *product, bool volume)
{
    for (size_t i = 0; i < shopping->purchases.count; i++) {
        struct purchase *purchase = &shopping->purchases.items[i];
        if (purchase->product == product && (purchase->volume == volume || !isnan(product->density)))
            return purchase;
    }
    VECTOR_PUSH(arena, &shopping->purchases, ((struct purchase){.product = product, .volume = volume}));
    return &shopping->purchases.items[shopping->purchases.count - 1];
}

/* Of all that needs the product, the first occurrence and the range of rates are kept. */
static void need_add(struct purchase *purchase, const struct occurrence *occurrence,
                     const struct amount *amount)
{
    double rate = amount_rate_as(amount, purchase->volume);
    double total = product_measure(amount->product, amount->total, amount->volume, purchase->volume);
    purchase->needed += total;
    if (treatment_lays(occurrence->treatment, amount->product))
        purchase->measured += total;
    if (!purchase->first) {
        purchase->first = occurrence;
        purchase->rate_low = purchase->rate_high = rate;
        purchase->leeway = amount->leeway;
    }
    purchase->leeway = leeway_both(purchase->leeway, amount->leeway);
    purchase->rate_low = fmin(purchase->rate_low, rate);
    purchase->rate_high = fmax(purchase->rate_high, rate);
}

static void material_add(struct shopping *shopping, struct arena *arena, const struct occurrence *occurrence,
                         const struct draw *draw)
{
    size_t at = 0;
    while (at < shopping->materials.count && shopping->materials.items[at].name != draw->material)
        at++;
    if (at == shopping->materials.count)
        VECTOR_PUSH(arena, &shopping->materials,
                    ((struct laid_material){.name = draw->material, .first = occurrence}));
    shopping->materials.items[at].m3 += draw->amount.total;
}

/* Whether the shed's last count was taken after it, or on its day: what was counted then no longer has it. */
static bool before_count(const struct shopping *shopping, const struct product *product,
                         const struct occurrence *occurrence)
{
    const struct shelf *shelf = shed_find(&shopping->shed, product);
    return shelf && shelf->last && occurrence->day <= shelf->last->day;
}

/* What is weighed and measured for all that is planned; of layers nothing is. */
static void measured_add(struct shopping *shopping, const struct season *season)
{
    struct work_list list = work_list_of(season);
    for (size_t i = 0; i < list.count; i++) {
        const struct occurrence *occurrence = list.items[i].occurrence;
        for (size_t j = 0; j < list.items[i].materials.count && !occurrence->done; j++) {
            const struct material *material = &list.items[i].materials.items[j];
            const struct product *product = material->product;
            if (treatment_lays(occurrence->treatment, product) || !(material->sum_exact > 0) ||
                before_count(shopping, product, occurrence))
                continue;
            struct purchase *purchase = purchase_for(shopping, season->arena, product, material->volume);
            purchase->measured += product_measure(product, unit_to_si(material->unit, material->sum),
                                                  material->volume, purchase->volume);
        }
    }
}

/* ---- which packs ---- */

/* What the shed gives, which packs to buy of the rest and, where none can be chosen, why. */
static void purchase_finish(struct shopping *shopping, struct purchase *purchase, struct arena *arena)
{
    const struct shelf *shelf = shed_find(&shopping->shed, purchase->product);
    double held =
        shelf ? product_measure(shelf->product, shelf->left, shelf->volume, purchase->volume) : (double)NAN;
    if (shelf && !isnan(held)) {
        purchase->shelf = shelf;
        purchase->held = held;
        purchase->taken = exceeds(purchase->measured, held) ? held : fmin(purchase->measured, held);
        purchase->taken_cost = held > 0 ? shelf->worth * (purchase->taken / held) : 0;
    }
    purchase->to_buy = exceeds(purchase->measured, purchase->held) ? purchase->measured - purchase->held : 0;
    /* Sizes that cannot be counted as the purchase is, for want of a density, are left out. */
    const struct product *product = purchase->product;
    for (size_t j = 0; j < product->packs.count && purchase->packs.count < PACK_SIZE_LIMIT; j++) {
        const struct pack *pack = &product->packs.items[j];
        struct purchase_pack line = {.pack = pack};
        line.amount = product_measure(product, pack->amount, pack->volume, purchase->volume);
        if (!(line.amount > 0))
            continue;
        if (purchase->first) {
            line.area_low = line.amount / purchase->rate_high;
            line.area_high = line.amount / purchase->rate_low;
        }
        VECTOR_PUSH(arena, &purchase->packs, line);
    }
    if (!purchase->first)
        purchase->state = PURCHASE_DONE;
    else if (purchase->shelf && !(purchase->to_buy > 0))
        purchase->state = PURCHASE_HELD;
    else if (purchase->product->packs.count == 0)
        purchase->state = PURCHASE_UNPACKED;
    else if (purchase->packs.count == 0)
        purchase->state = PURCHASE_UNKNOWN;
    else {
        struct pack_size sizes[PACK_SIZE_LIMIT];
        for (size_t i = 0; i < purchase->packs.count; i++)
            sizes[i] =
                (struct pack_size){purchase->packs.items[i].amount, purchase->packs.items[i].pack->price};
        purchase->choice = packs_choose(sizes, purchase->packs.count, purchase->to_buy);
        for (size_t i = 0; i < purchase->packs.count; i++)
            purchase->packs.items[i].count = purchase->choice.counts[i];
        purchase->state = purchase->choice.packs > 0 ? PURCHASE_PACKED : PURCHASE_TOO_MANY;
    }
    bool bought = purchase->state == PURCHASE_PACKED, buys = purchase->first && purchase->to_buy > 0;
    bool known = bought || (purchase->shelf && !buys);
    /* Deliveries of what is bought, or of what is needed where no packs are stated. */
    purchase->load = product_measure(purchase->product, purchase->product->load,
                                     purchase->product->load_volume, purchase->volume);
    double brought = bought ? purchase->choice.bought : purchase->to_buy;
    double loads = ceil(brought / purchase->load * (1 - COMPARE_TOLERANCE));
    if (buys && loads <= PACK_COUNT_LIMIT)
        purchase->loads = (size_t)loads;
    purchase->load_cost =
        purchase->loads ? (double)purchase->loads * purchase->product->load_price : (double)NAN;
    shopping->cost += isnan(purchase->load_cost) ? 0 : purchase->load_cost;
    purchase->left =
        known ? fmax(purchase->held + purchase->choice.bought - purchase->measured, 0) : (double)NAN;
    shopping->shed_cost += purchase->taken_cost;
    if (bought && !isnan(purchase->choice.cost))
        shopping->cost += purchase->choice.cost;
    else
        shopping->unpriced += buys;
}

/* ---- all of it ---- */

/* What the season takes first, then the packs for it: a pack is chosen for the whole need. */
struct shopping shopping_of(const struct season *season)
{
    struct shopping shopping = {.shed = shed_of(season)};
    for (size_t i = 0; i < season->calendar_count; i++) {
        const struct occurrence *occurrence = season->calendar[i];
        struct draw_list draws = draws_of(season->arena, occurrence);
        for (size_t j = 0; j < draws.count; j++) {
            /* What is laid is counted by volume, as heaps are sold. What was planned for a day up to the
             * shed's last count is no longer in what was counted: to subtract it would be to use it twice. */
            const struct amount *amount = &draws.items[j].amount;
            if (!amount->product && amount->total > 0 && !occurrence->done)
                material_add(&shopping, season->arena, occurrence, &draws.items[j]);
            if (!amount->product || !(amount->total > 0))
                continue;
            bool laid = treatment_lays(occurrence->treatment, amount->product);
            bool by_volume = amount->volume || (laid && !isnan(amount->product->density));
            struct purchase *purchase = purchase_for(&shopping, season->arena, amount->product, by_volume);
            double total = product_measure(amount->product, amount->total, amount->volume, purchase->volume);
            purchase->bulk = purchase->bulk || (laid && purchase->volume);
            if (amount->recorded)
                purchase->recorded += total;
            else if (occurrence->done)
                purchase->assumed += total;
            else if (before_count(&shopping, amount->product, occurrence))
                purchase->before_count += total;
            else
                need_add(purchase, occurrence, amount);
        }
    }
    measured_add(&shopping, season);
    /* What is in the shed and not needed is listed too: it is left at the season's end. */
    for (size_t i = 0; i < shopping.shed.shelves.count; i++)
        purchase_for(&shopping, season->arena, shopping.shed.shelves.items[i].product,
                     shopping.shed.shelves.items[i].volume);
    for (size_t i = 0; i < shopping.purchases.count; i++) {
        purchase_finish(&shopping, &shopping.purchases.items[i], season->arena);
        /* What `prill rates` says of the same product: in its answers cost is of what is used, unless `whole
         * packs` are asked for, and knows neither the shed nor what other treatments take. */
        struct purchase *purchase = &shopping.purchases.items[i];
        const struct solution *solution = season->solution;
        for (size_t k = 0; solution && k < solution->choices.count; k++)
            for (size_t m = 0; m < solution->choices.items[k].bought.count; m++) {
                const struct bought *bought = &solution->choices.items[k].bought.items[m];
                if (bought->product != purchase->product)
                    continue;
                purchase->rates_amount +=
                    product_measure(bought->product, bought->mass, false, purchase->volume);
                purchase->rates_cost += bought->cost;
                purchase->rates_packs = bought->packs != NULL;
            }
    }
    /* By the first day of need; what is needed at the same time stays in the order of the calendar. */
    struct purchase *items = shopping.purchases.items;
    for (size_t i = 1; i < shopping.purchases.count; i++) {
        struct purchase moved = items[i];
        day_number day = moved.first ? moved.first->day : DAY_NEVER;
        size_t at = i;
        for (; at > 0 && day < (items[at - 1].first ? items[at - 1].first->day : DAY_NEVER); at--)
            items[at] = items[at - 1];
        items[at] = moved;
    }
    shopping.unpriced += shopping.materials.count;
    return shopping;
}

struct caution_list shopping_cautions(const struct model *model, const struct shopping *shopping)
{
    size_t count = shopping->purchases.count;
    const struct product **products = ARENA_ARRAY(model->arena, count + 1, const struct product *);
    for (size_t i = 0; i < count; i++)
        products[i] = shopping->purchases.items[i].product;
    return cautions_of(model, products, count, 1U << STAGE_STORING);
}
