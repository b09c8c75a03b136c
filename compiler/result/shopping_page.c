#include "compiler/result/shopping.h"

#include "compiler/model/display.h"
#include "compiler/model/tolerance.h"
#include "compiler/result/fewer_packs.h"
#include "compiler/result/footnote.h"
#include "compiler/result/result.h"
#include "compiler/result/work.h"

#include <string.h>

/* A list under way; its rows have what they are about in one column and what is said in the other. */
struct list {
    const struct season *season;
    struct page *page;
    struct arena *arena;
    const struct model *model;
    struct page_columns *columns;
};

enum { NAME_CELLS = 20 };

static void add_row(struct list *list, const char *what, const char *text)
{
    page_row(list->page, 1, list->columns, (const char *[]){what, text});
}

/* "2 packs of 25 lb at 20.00, 1 pack of 5 lb at 6.00: total 46.00" */
static void describe_packs(struct list *list, const struct purchase *purchase)
{
    struct buffer text = {.arena = list->arena};
    bool together = purchase->choice.packs > 1 && !isnan(purchase->choice.cost);
    for (size_t i = 0; i < purchase->packs.count; i++) {
        const struct purchase_pack *line = &purchase->packs.items[i];
        if (line->count == 0)
            continue;
        buffer_format(&text, "%s%zu %s of %s", text.length ? ", " : "", line->count,
                      line->count == 1 ? "pack" : "packs",
                      purchase_pack_text(list->arena, list->model, purchase, line->pack));
        if (isnan(line->pack->price))
            buffer_add_string(&text, " without a price");
        else
            buffer_format(&text, " at %s",
                          together ? money_number(list->arena, line->pack->price)
                                   : money_text(list->arena, list->model, line->pack->price));
    }
    if (together)
        buffer_format(&text, ": total %s", money_text(list->arena, list->model, purchase->choice.cost));
    if (!purchase->choice.proven)
        buffer_add_string(&text, " (too many combinations to try them all: another may be cheaper)");
    add_row(list, "to buy", text.string);
}

/* "10000 sqft at 4 lb per 1000 sqft", "7466 to 10000 sqft at 4 to 5.357 lb per 1000 sqft" */
static void describe_cover(struct list *list, const struct purchase *purchase)
{
    const struct model *model = list->model;
    enum quantity quantity = purchase->bulk     ? QUANTITY_DEPTH
                             : purchase->volume ? QUANTITY_VOLUME_RATE
                                                : QUANTITY_MASS_RATE;
    const char *rates =
        display_within(list->arena, model, quantity, purchase->rate_high, purchase->leeway, NULL);
    if (differs(purchase->rate_low, purchase->rate_high))
        rates = text_format(
            list->arena, "%s to %s",
            display_number_within(list->arena, model, quantity, purchase->rate_low, purchase->leeway), rates);
    if (purchase->bulk)
        rates = text_format(list->arena, "%s, loose", rates);
    for (size_t i = 0; i < purchase->packs.count; i++) {
        const struct purchase_pack *line = &purchase->packs.items[i];
        struct buffer text = {.arena = list->arena};
        if (!isfinite(line->area_high))
            continue;
        const char *low = covered_number(list->arena, model, line->area_low);
        if (strcmp(low, covered_number(list->arena, model, line->area_high)) != 0)
            buffer_format(&text, "%s to ", low);
        buffer_format(&text, "%s at %s",
                      display_rounded(list->arena, model, QUANTITY_AREA, line->area_high, number_floor, NULL),
                      rates);
        add_row(list,
                text_format(list->arena, "%s covers",
                            purchase_pack_text(list->arena, model, purchase, line->pack)),
                text.string);
    }
}

/* What is still to apply and what was applied, by records or as planned, before what to buy: the list
 * adds up. */
static void describe_purchase(struct list *list, const struct purchase *purchase)
{
    const struct {
        double amount;
        const char *how;
    } applied[] = {{purchase->recorded, "as recorded"},
                   {purchase->assumed, "recorded without amounts; counted as planned"},
                   {purchase->before_count,
                    purchase->before_count > 0
                        ? text_format(list->arena, "planned up to the count on %s and not recorded",
                                      display_date(list->arena, purchase->shelf->last->day))
                        : NULL}};
    const char *name = name_string(purchase->product->symbol.name);
    if (purchase->first)
        name = text_format(list->arena, "%s, first needed on %s for %s", name,
                           display_date(list->arena, purchase->first->day),
                           occurrence_title(list->arena, purchase->first));
    page_heading(list->page, 0, name);
    if (purchase->first)
        add_row(list, "still to apply", purchase_needed_text(list->arena, list->model, purchase));
    for (size_t i = 0; i < sizeof applied / sizeof *applied; i++)
        if (applied[i].amount > 0)
            add_row(list, "already applied",
                    text_format(list->arena, "%s, %s",
                                purchase_amount_text(list->arena, list->model, purchase, applied[i].amount,
                                                     AMOUNT_NEAREST),
                                applied[i].how));
    if (purchase->first && purchase->bulk && !isnan(purchase->product->density))
        add_row(
            list, "weighs",
            display_amount(list->arena, list->model, purchase->needed * purchase->product->density, false));
    if (purchase->shelf)
        add_row(list, "in the shed", purchase_held_text(list->arena, list->model, purchase));
    if (purchase->state == PURCHASE_PACKED)
        describe_packs(list, purchase);
    else
        add_row(list, "to buy", purchase_reason(list->arena, list->model, purchase));
    const struct fewer_packs fewer = fewer_packs_of(list->season, purchase);
    const char *lower = fewer_packs_text(list->arena, list->model, &fewer);
    if (lower)
        add_row(list, "or", lower);
    const char *rates = purchase_rates_text(list->arena, list->model, purchase);
    if (rates)
        add_row(list, "in `rates`", rates);
    if (purchase->loads) {
        /* "2 of 10 cu yd at 65.00: total 130.00" */
        const char *load =
            purchase_amount_text(list->arena, list->model, purchase, purchase->load, AMOUNT_NEAREST);
        struct buffer text = {.arena = list->arena};
        buffer_format(&text, "%zu of %s%s", purchase->loads, purchase->loads > 1 ? "up to " : "", load);
        if (!isnan(purchase->load_cost) && purchase->loads > 1)
            buffer_format(&text, " at %s: total %s", money_number(list->arena, purchase->product->load_price),
                          money_text(list->arena, list->model, purchase->load_cost));
        else if (!isnan(purchase->load_cost))
            buffer_format(&text, " at %s", money_text(list->arena, list->model, purchase->load_cost));
        add_row(list, "deliveries", text.string);
    }
    if (purchase->state == PURCHASE_PACKED || (purchase->shelf && !isnan(purchase->left))) {
        const char *left = purchase_left_text(list->arena, list->model, purchase);
        add_row(list, "left over", left ? left : "nothing");
    }
    if (purchase->first)
        describe_cover(list, purchase);
    page_gap(list->page);
}

/* What all of it costs, or what of it has a price; what the shed gives of it; and what a plan does not know.
 */
static void describe_cost(struct page *page, const struct model *model, const struct shopping *shopping)
{
    size_t needed = 0, counted = 0;
    struct buffer unknown = {.arena = page->arena};
    for (size_t i = 0; i < shopping->purchases.count; i++) {
        const struct purchase *purchase = &shopping->purchases.items[i];
        needed += purchase->first != NULL;
        counted += purchase->first && purchase->shelf;
        if (purchase->first && !purchase->shelf) {
            buffer_separate(&unknown, ", ");
            buffer_add_string(&unknown, name_string(purchase->product->symbol.name));
        }
    }
    if (!needed && !shopping->materials.count) {
        page_line(page, 0, "Nothing to buy: no product is still to apply.");
        return;
    }
    const char *cost = money_text(page->arena, model, shopping->cost);
    const char *rest = shopping->unpriced == 1 ? "product has no known cost" : "products have no known cost";
    if (shopping->unpriced == 0)
        page_say(page, 0, "Total cost: %s.", cost);
    else if (shopping->cost > 0)
        page_say(page, 0, "Total cost of what has a price: %s; %zu %s.", cost, shopping->unpriced, rest);
    else
        page_say(page, 0, "%zu %s.", shopping->unpriced, rest);
    if (shopping->shed_cost > 0)
        page_say(page, 0, "What the shed gives cost %s.",
                 money_text(page->arena, model, number_nearest(shopping->shed_cost, 2)));
    if (!counted && needed)
        page_line(page, 0, "Subtract what you already have, or state it with `have`.");
    else if (unknown.length)
        page_say(page, 0, "No `have` for %s: subtract what you already have.", unknown.string);
}

/* Purchase by purchase, then what it all costs, and how to store it. */
void shopping_page(struct page *page, const struct result_input *input)
{
    const struct model *model = input->season->model;
    struct list list = {input->season, page, page->arena, model, page_columns(page, 2)};
    struct shopping shopping = shopping_of(input->season);
    struct caution_list cautions = shopping_cautions(model, &shopping);
    struct footnotes notes = {.arena = page->arena};
    list.columns->items[0].least = NAME_CELLS;
    page_plan(page, model);
    if (model->has_season)
        page_say(page, 0, "What to buy for the season %s.",
                 display_dates(page->arena, model->season_first, model->season_last));
    page_gap(page);
    for (size_t i = 0; i < shopping.purchases.count; i++)
        describe_purchase(&list, &shopping.purchases.items[i]);
    for (size_t i = 0; i < shopping.materials.count; i++) {
        /* What layers take that is no product of the plan: how much, but not in what it is sold. */
        const struct laid_material *material = &shopping.materials.items[i];
        const char *name = name_string(material->name);
        page_heading(list.page, 0,
                     text_format(list.arena, "%s, first needed on %s for %s", name,
                                 display_date(list.arena, material->first->day),
                                 occurrence_title(list.arena, material->first)));
        add_row(&list, "still to lay", bulk_text(list.arena, list.model, material->m3));
        add_row(&list, "to buy",
                text_format(list.arena,
                            "Not a product of this plan: declare `product %s` with its `pack`, such as `%s`.",
                            name, pack_example(list.arena, list.model, true, true)));
        page_gap(list.page);
    }
    describe_cost(page, model, &shopping);
    if (cautions.count) {
        page_gap(page);
        page_heading(page, 0, "Storing:");
    }
    for (size_t i = 0; i < cautions.count; i++)
        page_item(page, 1, caution_sentence(page->arena, cautions.items[i], &notes));
    page_sources(page, &notes);
}
