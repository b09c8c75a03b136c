/* Rates, amounts and nutrients of one time a treatment occurs, each by its formula. */
#include "compiler/result/explanation.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/measure.h"

static const char *rate_text(struct explanation *explanation, const struct amount *amount)
{
    struct shown_rate rate = {amount->rate, amount->volume, amount->leeway, 1};
    if (amount->recorded)
        return display_product_rate(explanation->arena, explanation->model, amount->rate, amount->volume);
    return display_whole_rate(explanation->arena, explanation->model, &rate, NULL);
}

static const char *product_name(const struct amount *amount)
{
    return name_string(amount->product->symbol.name);
}

/* ---- the rate ---- */

static void explain_supply(struct explanation *explanation, const struct amount *amount)
{
    const struct dressing *dressing = amount->dressing;
    const struct product *product = amount->product;
    const struct nutrient_form *form = dressing->nutrient;
    struct arena *arena = explanation->arena;
    double share = product_share(product, form);
    const char *mass = display_rate(arena, explanation->model, amount->mass_rate);
    const char *by_volume = "";
    if (amount->volume)
        by_volume =
            text_format(arena, "; / density %s = %s",
                        display_of(arena, explanation->model, QUANTITY_DENSITY, product->density, NULL),
                        rate_text(explanation, amount));
    explain_line(explanation, 3, "rate = supply / share of %s in %s = %s / %s (%s) = %s%s", form->name,
                 product_name(amount),
                 display_of(arena, explanation->model, QUANTITY_MASS_RATE, dressing->rate, form->name),
                 display_share(arena, share),
                 explain_place(explanation, product->content_place[form->nutrient]), mass, by_volume);
}

static void explain_rate(struct explanation *explanation, const struct amount *amount)
{
    if (amount->recorded || !amount->dressing) {
        explain_line(explanation, 2, "%s as recorded, rate = amount / area:", product_name(amount));
        return;
    }
    explain_line(explanation, 2, "%s by %s:", product_name(amount),
                 explain_statement(explanation, amount->dressing->place));
    if (amount->dressing->by_supply)
        explain_supply(explanation, amount);
    else
        explain_line(explanation, 3, "rate = %s, %s", rate_text(explanation, amount),
                     amount->dressing->open ? "as the compiler chose it: `prill rates` tells why"
                                            : "as stated");
}

/* ---- amounts ---- */

static void explain_amount(struct explanation *explanation, const struct amount *amount, int passes)
{
    struct arena *arena = explanation->arena;
    const char *zone = name_string(amount->zone->symbol.name);
    const char *total =
        amount->recorded
            ? display_amount(arena, explanation->model, amount->total, amount->volume)
            : display_within(arena, explanation->model, amount->volume ? QUANTITY_VOLUME : QUANTITY_MASS,
                             amount->total, amount->leeway, NULL);
    const char *area = display_area(arena, explanation->model, amount->zone->area_m2);
    if (amount->recorded) {
        explain_line(explanation, 3, "%s: %s / %s = %s (%s)", zone, total, area,
                     rate_text(explanation, amount), explain_place(explanation, amount->place));
        return;
    }
    const struct unit *unit = measure_unit(arena, explanation->model, amount->total, amount->volume);
    int decimals;
    double each = measure_part(unit, amount->total / passes, amount->leeway, 0, &decimals);
    explain_line(explanation, 3, "%s: rate x area = %s x %s = %s; to measure out: %s", zone,
                 rate_text(explanation, amount), area, total,
                 measure_text(arena, unit, each * passes, decimals));
}

/* ---- nutrients ---- */

/* "5.357 lb per 1000 sqft x 14% (line 32) = 0.75 lb N per 1000 sqft" */
static void explain_brought(struct explanation *explanation, const struct amount *amount,
                            enum nutrient nutrient)
{
    const struct nutrient_form *form = nutrient_trade_form(nutrient);
    struct arena *arena = explanation->arena;
    double share = product_share(amount->product, form);
    bool part = nutrient == NUTRIENT_SOLUBLE_N || nutrient == NUTRIENT_SLOW_N;
    struct place place = part ? amount->product->slow_place : amount->product->content_place[nutrient];
    explain_line(explanation, 3, "%s: %s x %s%s = %s", form->name,
                 display_rate(arena, explanation->model, amount->mass_rate), display_share(arena, share),
                 place.source ? text_format(arena, " (%s)", explain_place(explanation, place)) : "",
                 display_of(arena, explanation->model, QUANTITY_MASS_RATE,
                            supplied_as(amount->supplied, form), form->name));
}

static void explain_nutrients(struct explanation *explanation, const struct amount *amount)
{
    struct arena *arena = explanation->arena;
    bool any = false; /* a wetting agent, say, brings nothing, and may state no density */
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_COUNT; n++)
        any = any || amount->supplied[n] > 0;
    if (!any)
        return;
    explain_line(explanation, 2, "It brings to %s, rate x content:",
                 amount->recorded ? name_string(amount->zone->symbol.name) : "each zone");
    if (amount->volume)
        explain_line(explanation, 3, "by mass: %s x density %s = %s", rate_text(explanation, amount),
                     display_of(arena, explanation->model, QUANTITY_DENSITY, amount->product->density, NULL),
                     display_rate(arena, explanation->model, amount->mass_rate));
    for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_LIME; n++)
        if (amount->supplied[n] > 0)
            explain_brought(explanation, amount, n);
}

/* What one statement puts down at one rate is told together; a record has a rate for each zone. */
static bool told_together(const struct amount *a, const struct amount *b)
{
    return a->dressing == b->dressing && a->product == b->product && a->recorded == b->recorded &&
           (a->recorded || !differs(a->rate, b->rate));
}

static bool told_before(const struct amount *amounts, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (told_together(&amounts[i], &amounts[at]))
            return true;
    return false;
}

static void explain_together(struct explanation *explanation, const struct amount *amounts, size_t count,
                             int passes)
{
    explain_rate(explanation, &amounts[0]);
    for (size_t i = 0; i < count; i++)
        if (told_together(&amounts[0], &amounts[i]))
            explain_amount(explanation, &amounts[i], passes);
    for (size_t i = 0; i < count; i++)
        if (i == 0 || (amounts[0].recorded && told_together(&amounts[0], &amounts[i])))
            explain_nutrients(explanation, &amounts[i]);
}

void explain_amounts(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct amount *amounts = occurrence->amounts.items;
    const struct machine *machine = occurrence->treatment->machine;
    int passes = machine && !machine->sprayer ? machine->passes : 1;
    size_t count = occurrence->amounts.count;
    for (size_t i = 0; i < count; i++)
        if (!told_before(amounts, i))
            explain_together(explanation, &amounts[i], count - i, passes);
}
