/* Products: what is in them, how their label binds them; and nutrients: who supplies them, what binds them.
 */
#include "compiler/result/caution.h"
#include "compiler/result/explanation.h"
#include "compiler/season/acid.h"

/* "20% P2O5 x 0.4364 = 8.728% P" where the bag states an oxide; then how much of the N is slow. */
static void explain_contents(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    explain_line(explanation, 1, "By mass:");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        const struct nutrient_form *trade = nutrient_trade_form(n);
        double content = product->content[n];
        if (!(content > 0))
            continue;
        const char *share = display_share(arena, content / trade->element_per_unit);
        const char *place = explain_place(explanation, product->content_place[n]);
        struct buffer line = {.arena = arena};
        buffer_format(&line, "%s %s (%s)", trade->name, share, place);
        if (trade->element_per_unit != 1)
            buffer_format(&line, "; x %s by atomic weights = %s of the element",
                          number_short(arena, trade->element_per_unit), display_share(arena, content));
        explain_line(explanation, 2, "%s", line.string);
        if (n == NUTRIENT_N && !product->slow_place.source)
            explain_line(explanation, 2, "no slow-release share is stated, so all N counts as soluble");
        if (n != NUTRIENT_N || !product->slow_place.source)
            continue;
        double slow = product->content[NUTRIENT_SLOW_N], soluble = product->content[NUTRIENT_SOLUBLE_N];
        struct buffer parts = {.arena = arena};
        buffer_format(&parts, "slow N %s of the product, %s of its N (%s)", display_share(arena, slow),
                      display_share(arena, slow / content), explain_place(explanation, product->slow_place));
        buffer_format(&parts, "; soluble N %s - %s = %s", share, display_share(arena, slow),
                      display_share(arena, soluble));
        explain_line(explanation, 2, "%s", parts.string);
    }
    if (!isnan(product->density))
        explain_line(explanation, 1, "Density %s.",
                     display_of(arena, explanation->model, QUANTITY_DENSITY, product->density, NULL));
}

/* "97.8, sodium nitrate being 100; 1.62 for each percent of N": by that, materials compare at equal feeding.
 * Of two nutrients the index has no part for each, so then only the index is shown. `mark`: of its source. */
static const char *salt_text(struct explanation *explanation, const struct product *product, double index,
                             const char *mark)
{
    static const enum nutrient graded[] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    struct buffer text = {.arena = explanation->arena};
    const char *name = "";
    double percent = 0;
    size_t count = 0;
    for (size_t i = 0; i < sizeof graded / sizeof *graded; i++) {
        const struct nutrient_form *trade = nutrient_trade_form(graded[i]);
        if (!(product->content[graded[i]] > 0))
            continue;
        percent = product->content[graded[i]] / trade->element_per_unit * 100;
        name = trade->name;
        count++;
    }
    buffer_format(&text, "%s, sodium nitrate being 100", number_short(explanation->arena, index));
    if (count == 1)
        buffer_format(&text, "; %s for each percent of %s",
                      number_text(explanation->arena, index / percent, 2), name);
    buffer_add_string(&text, mark);
    return text.string;
}

/* "Makes acid that takes 1680 lb of lime per ton [3] (library/materials.prill:120)." */
static void explain_acid(struct explanation *explanation, const struct product *product)
{
    struct acid_figure figure = product_acid(explanation->model, product);
    if (isnan(figure.amount) || !(fabs(figure.amount) > 0) || (!figure.material && isnan(product->acidity)))
        return;
    bool metric = explanation->model->metric;
    struct buffer line = {.arena = explanation->arena};
    buffer_format(&line, "%s %s %s of lime", figure.amount > 0 ? "Makes acid that takes" : "Limes like",
                  number_short(explanation->arena, fabs(figure.amount) * (metric ? 1000 : 2000)),
                  metric ? "kg" : "lb");
    buffer_add_string(&line, metric ? " per 1000 kg" : " per ton");
    if (figure.material)
        buffer_add_string(&line, footnote_mark(&explanation->notes, figure.material->source));
    explain_line(
        explanation, 1, "%s (%s).", line.string,
        explain_place(explanation, figure.material ? figure.material->place : product->acidity_place));
}

/* Each thing that the label binds, in the order of a label. */
static void explain_label(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    const struct product_label *label = &product->label;
    enum quantity rate = label->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    enum quantity year = label->year_volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (isnan(label->high) && !duration_any(label->interval) && !label->times_a_year &&
        isnan(label->year_most))
        return;
    explain_line(explanation, 1, "Label:");
    if (!isnan(label->high) && label->low > 0)
        explain_line(explanation, 2, "%s (%s)",
                     display_label_range(arena, model, rate, label->low, label->high),
                     explain_place(explanation, label->rate_place));
    else if (!isnan(label->high))
        explain_line(explanation, 2, "at most %s (%s)",
                     display_rounded(arena, model, rate, label->high, number_floor, NULL),
                     explain_place(explanation, label->rate_place));
    if (!isnan(label->high) && !isnan(label->water_low))
        explain_line(
            explanation, 2, "in %s of water",
            display_label_range(arena, model, QUANTITY_WATER_RATE, label->water_low, label->water_high));
    if (duration_any(label->interval))
        explain_line(explanation, 2, "at least %s apart (%s)", display_duration(arena, label->interval),
                     explain_place(explanation, label->interval_place));
    if (label->times_a_year)
        explain_line(explanation, 2, "at most %d times a year (%s)", label->times_a_year,
                     explain_place(explanation, label->times_place));
    if (!isnan(label->year_most))
        explain_line(explanation, 2, "at most %s a year (%s)",
                     display_rounded(arena, model, year, label->year_most, number_floor, NULL),
                     explain_place(explanation, label->year_place));
}

/* What the product needs of the day, and what it needs afterwards. */
static void explain_care(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    if (!isnan(product->heat_below))
        explain_line(explanation, 1, "Only on days that stay below %s (%s).",
                     display_of(arena, model, QUANTITY_TEMPERATURE, product->heat_below, NULL),
                     explain_place(explanation, product->heat_place));
    if (!isnan(product->cold_above))
        explain_line(explanation, 1, "Only on days that stay above %s (%s).",
                     display_of(arena, model, QUANTITY_TEMPERATURE, product->cold_above, NULL),
                     explain_place(explanation, product->cold_place));
    if (!isnan(product->water_in_m))
        explain_line(explanation, 1, "Water in with %s%s%s.",
                     display_depth(arena, model, product->water_in_m),
                     isnan(product->water_in_s) ? "" : " within ",
                     isnan(product->water_in_s) ? "" : display_hours(arena, product->water_in_s));
    if (!isnan(product->dry_s))
        explain_line(explanation, 1, "Keep dry for %s afterwards.", display_hours(arena, product->dry_s));
}

/* Everything that is known of it, then who uses it and what care it takes. */
void explain_product(struct explanation *explanation, const struct product *product)
{
    static const char *const forms[] = {[FORM_UNKNOWN] = "",
                                        [FORM_GRANULAR] = ", granular",
                                        [FORM_LIQUID] = ", liquid",
                                        [FORM_SOLUBLE] = ", soluble"};
    const struct model *model = explanation->model;
    explain_heading(explanation, 0, "Product %s%s (%s)", name_string(product->symbol.name),
                    forms[product->form], explain_place(explanation, product->symbol.place));
    explain_contents(explanation, product);
    /* The product's own figure, or else what is known of its kind, in each series. */
    if (!isnan(product->salt_index))
        explain_line(explanation, 1, "Salt index %s (%s).",
                     salt_text(explanation, product, product->salt_index, ""),
                     explain_place(explanation, product->salt_place));
    for (size_t k = 0; k < model->salt_indices.count && isnan(product->salt_index); k++) {
        const struct salt_index *salt = &model->salt_indices.items[k];
        bool same = product->symbol.name == salt->material;
        for (size_t m = 0; m < product->kinds.count; m++)
            same = same || product->kinds.items[m] == salt->material;
        if (same)
            explain_line(explanation, 1, "Salt index of %s in the series %s: %s (%s).",
                         name_string(salt->material), name_string(salt->series),
                         salt_text(explanation, product, salt->index,
                                   footnote_mark(&explanation->notes, salt->source)),
                         explain_place(explanation, salt->place));
    }
    explain_acid(explanation, product);
    if (product->size_number)
        explain_line(explanation, 1, "Particles: SGN %d, a median diameter of %s mm.", product->size_number,
                     number_text(explanation->arena, product->size_number / 100.0, 2));
    for (size_t i = 0; i < product->settings.count; i++)
        explain_line(explanation, 1, "Dial: %s.",
                     explain_statement(explanation, product->settings.items[i].place));
    explain_label(explanation, product);
    explain_care(explanation, product);
    for (size_t i = 0; i < model->treatments.count; i++) {
        const struct treatment *treatment = model->treatments.items[i];
        const struct dressing_list *dressings = &explanation->season->dressings[treatment->index];
        for (size_t j = 0; j < dressings->count; j++)
            if (dressings->items[j]->product == product)
                explain_line(explanation, 1, "Used in %s: %s.", name_string(treatment->symbol.name),
                             explain_statement(explanation, dressings->items[j]->place));
    }
    struct caution_list cautions = cautions_of(model, &product, 1, ~0U);
    explain_cautions(explanation, &cautions);
}

/* ---- nutrients ---- */

/* A limit on soluble or slow N is one on N. */
static bool limit_names(const struct limit *limit, enum nutrient nutrient)
{
    const enum nutrient parts[] = {nutrient, nutrient == NUTRIENT_N ? NUTRIENT_SOLUBLE_N : nutrient,
                                   nutrient == NUTRIENT_N ? NUTRIENT_SLOW_N : nutrient};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        if (limit->nutrient && limit->nutrient->nutrient == parts[i])
            return true;
        for (size_t j = 0; j < limit->nutrients.count; j++)
            if (limit->nutrients.items[j]->nutrient == parts[i])
                return true;
    }
    return limit->kind == LIMIT_SLOW_SHARE && nutrient == NUTRIENT_N;
}

/* What each zone gets of it in the season, which products have it, and the limits that bind it. */
void explain_nutrient(struct explanation *explanation, const struct nutrient_form *form)
{
    const struct model *model = explanation->model;
    struct arena *arena = explanation->arena;
    explain_heading(explanation, 0, "Nutrient %s", form->name);
    if (form->element_per_unit < 1)
        explain_line(explanation, 1, "%s of %s is the element, by atomic weights.",
                     display_share(arena, form->element_per_unit), form->name);
    explain_line(explanation, 1, "Supplied this season:");
    for (size_t i = 0; i < model->zones.count; i++) {
        const struct ledger *ledger = &explanation->season->ledgers[i];
        double sum = 0;
        for (size_t j = 0; j < ledger->applications.count; j++)
            sum += supplied_as(ledger->applications.items[j].supplied, form);
        explain_line(explanation, 2, "%s: %s", name_string(model->zones.items[i]->symbol.name),
                     display_of(arena, model, QUANTITY_MASS_RATE, sum, form->name));
    }
    for (size_t i = 0; i < model->products.count; i++) {
        const struct product *product = model->products.items[i];
        if (product->content[form->nutrient] > 0)
            explain_line(explanation, 1, "Product %s: %s (%s).", name_string(product->symbol.name),
                         display_share(arena, product_share(product, form)),
                         explain_place(explanation, product->content_place[form->nutrient]));
    }
    for (size_t i = 0; i < model->limits.count; i++) {
        const struct limit *limit = model->limits.items[i];
        if (limit->set->bound && limit_names(limit, form->nutrient))
            explain_line(explanation, 1, "Limit: %s%s.", explain_statement(explanation, limit->place),
                         limit->set->source ? footnote_mark(&explanation->notes, limit->set->source) : "");
    }
}
