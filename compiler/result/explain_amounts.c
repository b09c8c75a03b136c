/* Rates, amounts and nutrients of one time a treatment occurs, each by its formula. */
#include "compiler/result/explanation.h"

#include "compiler/model/tolerance.h"
#include "compiler/model/measure.h"
#include "compiler/model/product.h"

static const char *rate_text(struct explanation *explanation, const struct amount *amount)
{
    enum quantity quantity = amount->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (amount->recorded)
        return display_of(explanation->arena, explanation->model, quantity, amount->rate, NULL);
    return display_within(explanation->arena, explanation->model, quantity, amount->rate, amount->leeway,
                          NULL);
}

static const char *density_text(struct explanation *explanation, const struct product *product)
{
    return display_of(explanation->arena, explanation->model, QUANTITY_DENSITY, product->density, NULL);
}

/* Whose rate it is, and how it came about: recorded, stated, chosen, or from the nutrient to be supplied. */
static void explain_rate(struct explanation *explanation, const struct amount *amount)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    const struct dressing *dressing = amount->dressing;
    const char *product = name_string(amount->product->symbol.name);
    if (amount->recorded || !dressing) {
        explain_line(explanation, 2, "%s as recorded, rate = amount / area:", product);
        return;
    }
    explain_line(explanation, 2, "%s by %s:", product, explain_statement(explanation, dressing->place));
    if (dressing->live_rate > 0) {
        struct buffer line = {.arena = arena};
        buffer_format(&line, "rate = live seed / share that lives = %s",
                      display_rate(arena, model, dressing->live_rate));
        buffer_format(&line, " / %s = %s", display_share(arena, amount->product->live),
                      rate_text(explanation, amount));
        explain_line(explanation, 3, "%s", line.string);
        return;
    }
    if (dressing->laid_m > 0) {
        struct buffer line = {.arena = arena};
        buffer_format(&line, "rate = depth x density = %s",
                      display_depth(arena, model, layer_loose_m(amount->product, dressing->laid_m)));
        buffer_format(&line, "%s x %s", isnan(amount->product->settles) ? "" : " (loose)",
                      density_text(explanation, amount->product));
        buffer_format(&line, " = %s", rate_text(explanation, amount));
        explain_line(explanation, 3, "%s", line.string);
        return;
    }
    if (!dressing->by_supply) {
        explain_line(explanation, 3, "rate = %s, %s", rate_text(explanation, amount),
                     dressing->open ? "chosen by prill: `prill rates` shows why" : "as stated");
        return;
    }
    const struct nutrient_form *form = dressing->nutrient;
    double share = product_share(amount->product, form);
    struct buffer line = {.arena = arena};
    buffer_format(&line, "rate = supply / share of %s in %s", form->name, product);
    buffer_format(&line, " = %s", display_of(arena, model, QUANTITY_MASS_RATE, dressing->rate, form->name));
    buffer_format(&line, " / %s (%s)", display_share(arena, share),
                  explain_place(explanation, amount->product->content_place[form->nutrient]));
    buffer_format(&line, " = %s", display_rate(arena, model, amount->mass_rate));
    if (amount->volume)
        buffer_format(&line, "; / density %s = %s", density_text(explanation, amount->product),
                      rate_text(explanation, amount));
    explain_line(explanation, 3, "%s", line.string);
}

/* What one zone takes: of a record the rate follows from the amount, of the plan the amount from the rate,
 * and what is measured out is so many times what a pass takes. `passes` 0: measured out by the tank. */
static void explain_amount(struct explanation *explanation, const struct amount *amount, int passes)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    const char *rate = rate_text(explanation, amount);
    const char *area = display_area(arena, model, amount->zone->area_m2);
    struct buffer line = {.arena = arena};
    buffer_format(&line, "%s: ", name_string(amount->zone->symbol.name));
    if (amount->recorded) {
        buffer_format(&line, "%s / %s", display_amount(arena, model, amount->total, amount->volume), area);
        buffer_format(&line, " = %s (%s)", rate, explain_place(explanation, amount->place));
    } else {
        enum quantity quantity = amount->volume ? QUANTITY_VOLUME : QUANTITY_MASS;
        const struct unit *unit = portion_unit(model, amount->total, amount->volume);
        int decimals;
        double each =
            measure_portion(model, unit, amount->total / (passes ? passes : 1), amount->leeway, &decimals);
        buffer_format(&line, "rate x area = %s x %s", rate, area);
        buffer_format(&line, " = %s",
                      display_within(arena, model, quantity, amount->total, amount->leeway, NULL));
        if (passes)
            buffer_format(&line, "; to measure out: %s", measure_text(arena, unit, each * passes, decimals));
    }
    explain_line(explanation, 3, "%s", line.string);
}

/* "N: 5.357 lb per 1000 sqft x 14% (line 32) = 0.75 lb N per 1000 sqft", of each nutrient it has. A wetting
 * agent, say, has none, and may state no density. */
static void explain_nutrients(struct explanation *explanation, const struct amount *amount)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    const struct product *product = amount->product;
    bool any = false;
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_COUNT; n++)
        any = any || amount->supplied[n] > 0;
    if (!any)
        return;
    explain_line(explanation, 2, "Supplied to %s, rate x content:",
                 amount->recorded ? name_string(amount->zone->symbol.name) : "each zone");
    const char *rate = display_rate(arena, model, amount->mass_rate);
    if (amount->volume)
        explain_line(explanation, 3, "by mass: %s x density %s = %s", rate_text(explanation, amount),
                     density_text(explanation, product), rate);
    for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_LIME; n++) {
        const struct nutrient_form *form = nutrient_trade_form(n);
        bool by_slow = n == NUTRIENT_SOLUBLE_N || n == NUTRIENT_SLOW_N;
        struct place place = by_slow ? product->slow_place : product->content_place[n];
        if (!(amount->supplied[n] > 0))
            continue;
        struct buffer line = {.arena = arena};
        buffer_format(&line, "%s: %s x %s", form->name, rate,
                      display_share(arena, product_share(product, form)));
        if (place.source)
            buffer_format(&line, " (%s)", explain_place(explanation, place));
        explain_line(
            explanation, 3, "%s = %s", line.string,
            display_of(arena, model, QUANTITY_MASS_RATE, supplied_as(amount->supplied, form), form->name));
    }
}

/* What one statement puts down at one rate is one group; a record has a rate for each zone. */
static bool same_rate(const struct amount *a, const struct amount *b)
{
    return a->dressing == b->dressing && a->product == b->product && a->recorded == b->recorded &&
           (a->recorded || !differs(a->rate, b->rate));
}

/* Each group of amounts at its first: the rate, what each zone takes, what that supplies. Of a record each
 * zone has its own. */
void explain_amounts(struct explanation *explanation, const struct occurrence *occurrence)
{
    const struct amount *amounts = occurrence->amounts.items;
    const struct machine *machine = occurrence->treatment->machine;
    bool tanks = machine && machine->sprayer && machine->output > 0;
    int passes = tanks ? 0 : machine && !machine->sprayer ? machine->passes : 1;
    size_t count = occurrence->amounts.count;
    for (size_t i = 0; i < count; i++) {
        size_t first = 0;
        while (!same_rate(&amounts[first], &amounts[i]))
            first++;
        if (first < i)
            continue;
        explain_rate(explanation, &amounts[i]);
        for (size_t j = i; j < count; j++)
            if (same_rate(&amounts[i], &amounts[j]))
                explain_amount(explanation, &amounts[j], passes);
        for (size_t j = i; j < count; j++)
            if (j == i || (amounts[i].recorded && same_rate(&amounts[i], &amounts[j])))
                explain_nutrients(explanation, &amounts[j]);
    }
}
