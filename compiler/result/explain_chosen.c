/* Corrections and blends: what was asked, how that was found, and the sum of what was chosen. */
#include "compiler/model/tolerance.h"
#include "compiler/result/explanation.h"
#include "compiler/result/need_text.h"
#include "compiler/form/page_text.h"
#include "compiler/result/rates.h"
#include "compiler/result/plan_notes.h"
#include "compiler/result/work.h"

static const char *rate_of(struct explanation *explanation, double element, const struct nutrient_form *form)
{
    return display_of(explanation->arena, explanation->model, QUANTITY_MASS_RATE,
                      element / form->element_per_unit, form->name);
}

/* ---- a nutrient on a zone ---- */

static void explain_need(struct explanation *explanation, const struct wanted *wanted)
{
    struct need_words words = {explanation->arena, explanation->model, &explanation->notes};
    const char *name = wanted->nutrient->name;
    if (wanted->test)
        explain_line(explanation, 2, "%s: %s. %s", name, need_sentence(&words, wanted->test),
                     need_reason(&words, wanted->test, false));
    else if (wanted->need > 0)
        explain_line(explanation, 2, "%s: %s is needed, %s.", name,
                     rate_of(explanation, wanted->need, wanted->nutrient),
                     explain_statement(explanation, wanted->place));
    else
        explain_line(explanation, 2, "%s: not asked for; as little of it as can be.", name);
}

/* " + 2.595 lb of feed x 22% on Fri 2027-04-09" of each product and application */
static void explain_sum(struct explanation *explanation, const struct choice_made *choice,
                        const struct wanted *wanted)
{
    struct arena *arena = explanation->arena;
    struct buffer text = {.arena = arena};
    for (size_t i = 0; i < choice->slots.count; i++) {
        const struct occurrence *occurrence = choice->slots.items[i].occurrence;
        for (size_t j = 0; j < occurrence->amounts.count; j++) {
            const struct amount *amount = &occurrence->amounts.items[j];
            double brought = amount->supplied[wanted->nutrient->nutrient];
            if (amount->zone == wanted->zone && amount->dressing && amount->dressing->open && brought > 0)
                buffer_format(&text, "%s%s of %s x %s on %s", text.length ? " + " : "",
                              display_rate(arena, explanation->model, amount->mass_rate),
                              name_string(amount->product->symbol.name),
                              display_share(arena, amount->product->content[wanted->nutrient->nutrient] /
                                                       wanted->nutrient->element_per_unit),
                              display_date(arena, occurrence->day));
        }
    }
    if (text.length)
        explain_line(explanation, 3, "chosen: %s = %s", text.string,
                     rate_of(explanation, wanted->chosen, wanted->nutrient));
    if (wanted->given > 0)
        explain_line(explanation, 3, "by records and the rest of the plan: %s",
                     rate_of(explanation, wanted->given, wanted->nutrient));
    if (wanted->missing > 0)
        explain_line(explanation, 3, "missing: what is needed less both = %s",
                     rate_of(explanation, wanted->missing, wanted->nutrient));
    if (wanted->excess > 0)
        explain_line(explanation, 3, "too much: %s = %s",
                     wanted->unasked ? "all that is chosen" : "both less what is needed",
                     rate_of(explanation, wanted->excess, wanted->nutrient));
}

static const char *zone_words(struct explanation *explanation, const struct choice_made *choice, size_t at)
{
    struct buffer text = {.arena = explanation->arena}, *out = explanation->out;
    explanation->out = &text;
    for (size_t i = 0; i < choice->zones[at].want_count; i++) {
        explain_need(explanation, &choice->zones[at].wants[i]);
        explain_sum(explanation, choice, &choice->zones[at].wants[i]);
    }
    explanation->out = out;
    return buffer_string(&text);
}

/* Zones of which the same is to be said are told together. */
static void explain_zones(struct explanation *explanation, const struct choice_made *choice)
{
    const char **words = ARENA_ARRAY(explanation->arena, choice->zone_count, const char *);
    for (size_t i = 0; i < choice->zone_count; i++)
        words[i] = zone_words(explanation, choice, i);
    for (size_t i = 0; i < choice->zone_count; i++) {
        struct buffer names = {.arena = explanation->arena};
        size_t first = i;
        for (size_t j = 0; j < choice->zone_count; j++) {
            if (!text_equal(text_of(words[i]), text_of(words[j])))
                continue;
            first = j < first ? j : first;
            buffer_format(&names, "%s%s", names.length ? ", " : "",
                          name_string(choice->zones[j].zone->symbol.name));
        }
        if (first < i)
            continue;
        explain_line(explanation, 1, "On %s, over the season:", names.string);
        buffer_add_string(explanation->out, words[i]);
    }
}

void explain_correction(struct explanation *explanation, const struct choice_made *choice)
{
    struct page page = {.arena = explanation->arena};
    rates_choice_describe(&page, explanation->season, choice);
    page_text_print(explanation->out, &page);
    buffer_add_string(explanation->out, "\n");
    explain_line(explanation, 0, "How that comes about:");
    explain_zones(explanation, choice);
}

/* ---- a blend ---- */

static void explain_part(struct explanation *explanation, const struct blend_made *made, enum nutrient part)
{
    const struct nutrient_form *form = nutrient_trade_form(part);
    const struct blend *blend = made->blend;
    struct buffer text = {.arena = explanation->arena};
    double sum = 0;
    for (size_t i = 0; i < blend->products.count; i++) {
        const struct product *product = blend->products.items[i];
        double content = product_share(product, form);
        if (!(made->shares[i] * content > 0))
            continue;
        sum += made->shares[i] * content;
        buffer_format(&text, "%s%s of %s x %s (%s)", text.length ? " + " : "",
                      display_share(explanation->arena, made->shares[i]), name_string(product->symbol.name),
                      display_share(explanation->arena, content),
                      explain_place(explanation, product->content_place[part]));
    }
    if (text.length)
        explain_line(explanation, 1, "%s: %s = %s", form->name, text.string,
                     display_share(explanation->arena, sum));
}

void explain_blend(struct explanation *explanation, const struct blend_made *made)
{
    static const enum nutrient parts[3] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct page page = {.arena = explanation->arena};
    rates_blend_describe(&page, explanation->model, &explanation->notes, made);
    page_text_print(explanation->out, &page);
    if (!made->solved)
        return;
    buffer_add_string(explanation->out, "\n");
    explain_line(explanation, 0, "How that comes about, share x content of each material:");
    for (int i = 0; i < 3; i++)
        explain_part(explanation, made, parts[i]);
}
