#include "compiler/result/shopping_text.h"

#include "compiler/model/tolerance.h"
#include "compiler/result/closing_lines.h"
#include "compiler/form/paragraph.h"
#include "compiler/result/shopping_words.h"
#include "compiler/result/work.h"

#include <string.h>

struct list {
    struct buffer *out;
    struct arena *arena;
    const struct model *model;
};

/* "  left over          10.82 lb" */
static void print_line(struct list *list, const char *what, const char *text)
{
    enum { LEAD_CELLS = 20 };
    struct buffer lead = {.arena = list->arena};
    buffer_add_string(&lead, "  ");
    field_add(&lead, what, LEAD_CELLS);
    paragraph_add(list->out, lead.string, text);
}

static void print_name(struct list *list, const struct purchase *purchase)
{
    const char *name = name_string(purchase->product->symbol.name);
    if (purchase->first)
        name = text_format(list->arena, "%s, first needed on %s for %s", name,
                           display_date(list->arena, purchase->first->day),
                           occurrence_title(list->arena, purchase->first));
    paragraph_add(list->out, "", name);
}

static void print_put_down(struct list *list, const struct purchase *purchase)
{
    const struct {
        double amount;
        const char *how;
    } parts[] = {{purchase->recorded, "as recorded"},
                 {purchase->assumed, "recorded without amounts, so taken as planned"}};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (parts[i].amount > 0)
            print_line(
                list, "put down already",
                text_format(list->arena, "%s, %s",
                            display_amount(list->arena, list->model, parts[i].amount, purchase->volume),
                            parts[i].how));
}

/* "2 packs of 25 lb at 20.00, 1 pack of 5 lb at 6.00: 46.00 together" */
static void print_packs(struct list *list, const struct purchase *purchase)
{
    struct buffer text = {.arena = list->arena};
    size_t kinds = 0;
    bool together = purchase->choice.packs > 1 && !isnan(purchase->choice.cost);
    for (size_t i = 0; i < purchase->packs.count; i++) {
        const struct purchase_pack *line = &purchase->packs.items[i];
        if (line->count == 0)
            continue;
        buffer_format(&text, "%s%zu %s of %s", kinds++ ? ", " : "", line->count,
                      line->count == 1 ? "pack" : "packs", pack_text(list->arena, list->model, line->pack));
        if (isnan(line->pack->price))
            buffer_add_string(&text, " without a price");
        else
            buffer_format(&text, " at %s",
                          together ? money_number(list->arena, line->pack->price)
                                   : money_text(list->arena, list->model, line->pack->price));
    }
    if (together)
        buffer_format(&text, ": %s together", money_text(list->arena, list->model, purchase->choice.cost));
    if (!purchase->choice.proven)
        buffer_add_string(&text, " (other numbers of packs may be cheaper: there are too many to try)");
    print_line(list, "to buy", text.string);
    const char *left = purchase_left_text(list->arena, list->model, purchase);
    print_line(list, "left over", left ? left : "nothing");
}

/* "7466 to 10000 sqft" */
static const char *area_text(struct list *list, const struct purchase_pack *line)
{
    const char *low = covered_number(list->arena, list->model, line->area_low);
    const char *high = covered_number(list->arena, list->model, line->area_high);
    const char *unit = display_unit(list->arena, list->model, QUANTITY_AREA, line->area_high);
    if (strcmp(low, high) == 0)
        return text_format(list->arena, "%s %s", low, unit);
    return text_format(list->arena, "%s to %s %s", low, high, unit);
}

static const char *rates_text(struct list *list, const struct purchase *purchase, enum quantity rate)
{
    const char *high =
        display_within(list->arena, list->model, rate, purchase->rate_high, purchase->leeway, NULL);
    const char *low =
        display_number_within(list->arena, list->model, rate, purchase->rate_low, purchase->leeway);
    return differs(purchase->rate_low, purchase->rate_high) ? text_format(list->arena, "%s to %s", low, high)
                                                            : high;
}

/* "10000 sqft at 4 lb per 1000 sqft", "7466 to 10000 sqft at 4 to 5.357 lb per 1000 sqft" */
static void print_cover(struct list *list, const struct purchase *purchase)
{
    enum quantity rate = purchase->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    for (size_t i = 0; i < purchase->packs.count; i++) {
        const struct purchase_pack *line = &purchase->packs.items[i];
        if (!isfinite(line->area_high))
            continue;
        print_line(
            list, text_format(list->arena, "%s covers", pack_text(list->arena, list->model, line->pack)),
            text_format(list->arena, "%s at %s", area_text(list, line), rates_text(list, purchase, rate)));
    }
}

static void print_purchase(struct list *list, const struct purchase *purchase)
{
    print_name(list, purchase);
    if (purchase->first)
        print_line(list, "still to put down", purchase_needed_text(list->arena, list->model, purchase));
    print_put_down(list, purchase);
    if (purchase->state == PURCHASE_PACKED)
        print_packs(list, purchase);
    else
        print_line(list, "to buy", purchase_reason(purchase));
    if (purchase->first)
        print_cover(list, purchase);
    buffer_add_string(list->out, "\n");
}

static void print_head(struct list *list)
{
    const struct model *model = list->model;
    paragraph_add(list->out, "", model->title ? model->title : "A plan without a name");
    if (model->has_season)
        paragraph_add(list->out, "",
                      text_format(list->arena, "What to buy for the season %s.",
                                  display_dates(list->arena, model->season_first, model->season_last)));
    buffer_add_string(list->out, "\n");
}

static void print_sum(struct list *list, const struct shopping *shopping)
{
    bool needed = false;
    for (size_t i = 0; i < shopping->purchases.count; i++)
        needed = needed || shopping->purchases.items[i].first;
    if (needed) {
        paragraph_add(list->out, "", shopping_cost_sentence(list->arena, list->model, shopping));
        paragraph_add(list->out, "", shopping_at_hand);
    } else {
        paragraph_add(list->out, "", "Nothing is to be bought: no product is still to be put down.");
    }
    buffer_add_string(list->out, "\n");
}

static void print_storing(struct list *list, const struct shopping *shopping)
{
    struct caution_list cautions = shopping_cautions(list->model, shopping);
    struct footnotes notes = {.arena = list->arena};
    if (!cautions.count)
        return;
    buffer_add_string(list->out, "Storing:\n");
    for (size_t i = 0; i < cautions.count; i++)
        paragraph_add(list->out, "  - ", caution_sentence(list->arena, cautions.items[i], &notes));
    footnotes_print(list->out, &notes);
    buffer_add_string(list->out, "\n");
}

void shopping_text_print(struct buffer *out, const struct season *season)
{
    struct list list = {out, out->arena, season->model};
    struct shopping shopping = shopping_of(season);
    print_head(&list);
    for (size_t i = 0; i < shopping.purchases.count; i++)
        print_purchase(&list, &shopping.purchases.items[i]);
    print_sum(&list, &shopping);
    print_storing(&list, &shopping);
    struct closing closing = closing_of(season->model);
    for (size_t i = 0; i < closing.count; i++)
        paragraph_add(out, "", closing.lines[i]);
}
