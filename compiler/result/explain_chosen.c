/* Corrections and blends: what was asked, how that was found, and the sum of what was chosen. */
#include "compiler/result/explanation.h"
#include "compiler/result/need_text.h"
#include "compiler/result/rates.h"

static const char *rate_of(struct explanation *explanation, double element, const struct nutrient_form *form)
{
    return display_of(explanation->arena, explanation->model, QUANTITY_MASS_RATE,
                      element / form->element_per_unit, form->name);
}

/* One nutrient on one zone: the need and its reason, and how near the choice comes to it. */
static void explain_wanted(struct explanation *explanation, const struct rates_answer *choice,
                           const struct wanted *wanted)
{
    struct need_words words = {explanation->arena, explanation->model, &explanation->notes};
    const struct nutrient_form *form = wanted->nutrient;
    if (wanted->test)
        explain_line(explanation, 2, "%s: %s. %s", form->name, need_sentence(&words, wanted->test),
                     need_reason(&words, wanted->test, false));
    else if (wanted->need > 0)
        explain_line(explanation, 2, "%s: %s is needed, %s.", form->name,
                     rate_of(explanation, wanted->need, form), explain_statement(explanation, wanted->place));
    else
        explain_line(explanation, 2, "%s: not needed, so kept as low as possible.", form->name);
    /* "2.595 lb of feed x 22% on Fri 2027-04-09 + ..." of each product and application; "" of none. */
    struct arena *arena = explanation->arena;
    enum nutrient nutrient = wanted->nutrient->nutrient;
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < choice->slots.count; i++) {
        const struct occurrence *occurrence = choice->slots.items[i].occurrence;
        for (size_t j = 0; j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            if (amount->zone != wanted->zone || !amount->dressing || !amount->dressing->open ||
                !(amount->supplied[nutrient] > 0))
                continue;
            double share = product_share(amount->product, wanted->nutrient);
            buffer_add_string(&text, text.length ? " + " : "");
            buffer_format(&text, "%s of %s", display_rate(arena, explanation->model, amount->mass_rate),
                          name_string(amount->product->symbol.name));
            buffer_format(&text, " x %s on %s", display_share(arena, share),
                          display_date(arena, occurrence->day));
        }
    }
    const char *sum = buffer_string(&text);
    if (*sum)
        explain_line(explanation, 3, "chosen: %s = %s", sum, rate_of(explanation, wanted->chosen, form));
    if (wanted->given > 0)
        explain_line(explanation, 3, "from records and the rest of the plan: %s",
                     rate_of(explanation, wanted->given, form));
    if (wanted->missing > 0)
        explain_line(explanation, 3, "short: the need less both = %s",
                     rate_of(explanation, wanted->missing, form));
    if (wanted->excess > 0)
        explain_line(explanation, 3, "over: %s = %s",
                     wanted->unasked ? "all that is chosen" : "both less the need",
                     rate_of(explanation, wanted->excess, form));
}

/* Zones of which the same is said are one group. So what is said of each is written on a page of its own
 * first.
 */
void explain_correction(struct explanation *explanation, const struct rates_answer *choice)
{
    struct arena *arena = explanation->arena;
    struct page *page = explanation->page, *zones = ARENA_ARRAY(arena, choice->zone_count, struct page);
    rates_choice_describe(page, explanation->season, choice);
    page_gap(page);
    explain_heading(explanation, 0, "How this was worked out:");
    for (size_t i = 0; i < choice->zone_count; i++) {
        zones[i] = (struct page){.arena = arena};
        explanation->page = &zones[i];
        for (size_t j = 0; j < choice->zones[i].want_count; j++)
            explain_wanted(explanation, choice, &choice->zones[i].wants[j]);
    }
    explanation->page = page;
    for (size_t i = 0; i < choice->zone_count; i++) {
        struct buffer names = {.arena = arena};
        size_t first = choice->zone_count;
        for (size_t j = 0; j < choice->zone_count; j++) {
            if (!page_equal(&zones[i], &zones[j]))
                continue;
            first = j < first ? j : first;
            buffer_separate(&names, ", ");
            buffer_add_string(&names, name_string(choice->zones[j].zone->symbol.name));
        }
        if (first < i)
            continue;
        explain_line(explanation, 1, "On %s, this season:", names.string);
        page_append(page, &zones[i]);
    }
}

/* The grade of the blend, each figure as the sum over its materials of share x content. */
void explain_blend(struct explanation *explanation, const struct blend_answer *made)
{
    static const enum nutrient parts[] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct arena *arena = explanation->arena;
    rates_blend_describe(explanation->page, explanation->model, &explanation->notes, made);
    if (!made->solved)
        return;
    page_gap(explanation->page);
    explain_heading(explanation, 0, "How this was worked out, share x content of each material:");
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        const struct nutrient_form *form = nutrient_trade_form(parts[i]);
        struct buffer text = {.arena = arena};
        double sum = 0;
        for (size_t j = 0; j < made->blend->products.count; j++) {
            const struct product *product = made->blend->products.items[j];
            double content = product_share(product, form);
            if (!(made->shares[j] * content > 0))
                continue;
            sum += made->shares[j] * content;
            buffer_add_string(&text, text.length ? " + " : "");
            buffer_format(&text, "%s of %s", display_share(arena, made->shares[j]),
                          name_string(product->symbol.name));
            buffer_format(&text, " x %s (%s)", display_share(arena, content),
                          explain_place(explanation, product->content_place[parts[i]]));
        }
        if (text.length)
            explain_line(explanation, 1, "%s: %s = %s", form->name, text.string, display_share(arena, sum));
    }
}
