/* Products: what is in them, how their label binds them; and nutrients: who brings them, what binds them. */
#include "compiler/result/caution.h"
#include "compiler/result/explanation.h"
#include "compiler/result/nutrient_text.h"
#include "compiler/form/paragraph.h"
#include "compiler/season/acid.h"

/* ---- contents ---- */

/* "20% P2O5 x 0.4364 = 8.728% P" where the bag states an oxide. */
static void explain_content(struct explanation *explanation, const struct product *product,
                            enum nutrient nutrient)
{
    const struct nutrient_form *trade = nutrient_trade_form(nutrient);
    double content = product->content[nutrient];
    const char *place = explain_place(explanation, product->content_place[nutrient]);
    struct arena *arena = explanation->arena;
    if (trade->element_per_unit == 1)
        explain_line(explanation, 2, "%s %s (%s)", trade->name, display_share(arena, content), place);
    else
        explain_line(explanation, 2, "%s %s (%s); x %s by atomic weights = %s of the element", trade->name,
                     display_share(arena, content / trade->element_per_unit), place,
                     number_short(arena, trade->element_per_unit), display_share(arena, content));
}

static void explain_slow(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    double n = product->content[NUTRIENT_N], slow = product->content[NUTRIENT_SLOW_N];
    if (!(n > 0))
        return;
    if (product->slow_place.source)
        explain_line(explanation, 2, "slow N %s of the product, %s of its N (%s); soluble N %s - %s = %s",
                     display_share(arena, slow), display_share(arena, slow / n),
                     explain_place(explanation, product->slow_place), display_share(arena, n),
                     display_share(arena, slow), display_share(arena, product->content[NUTRIENT_SOLUBLE_N]));
    else
        explain_line(explanation, 2, "no share of it is stated as slow, so all of its N counts as soluble");
}

static void explain_contents(struct explanation *explanation, const struct product *product)
{
    explain_line(explanation, 1, "By mass:");
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++) {
        if (product->content[n] > 0)
            explain_content(explanation, product, n);
        if (n == NUTRIENT_N)
            explain_slow(explanation, product);
    }
    if (!isnan(product->density))
        explain_line(
            explanation, 1, "Density %s.",
            display_of(explanation->arena, explanation->model, QUANTITY_DENSITY, product->density, NULL));
}

/* ---- salt ---- */

/* Percent of N, P2O5 or K2O where the product has one of them only; NAN otherwise. Of two the index has no
 * part for each. */
static double only_nutrient(const struct product *product, const char **name)
{
    static const enum nutrient graded[] = {NUTRIENT_N, NUTRIENT_P, NUTRIENT_K};
    double percent = NAN;
    size_t count = 0;
    for (size_t i = 0; i < sizeof graded / sizeof *graded; i++) {
        const struct nutrient_form *trade = nutrient_trade_form(graded[i]);
        if (!(product->content[graded[i]] > 0))
            continue;
        percent = product->content[graded[i]] / trade->element_per_unit * 100;
        *name = trade->name;
        count++;
    }
    return count == 1 ? percent : (double)NAN;
}

/* "; 1.62 for each percent of N", by which materials compare at equal feeding. */
static const char *salt_of_nutrient(struct explanation *explanation, const struct product *product,
                                    double index)
{
    const char *name = "";
    double percent = only_nutrient(product, &name);
    return isnan(percent) ? ""
                          : text_format(explanation->arena, "; %s for each percent of %s",
                                        number_text(explanation->arena, index / percent, 2), name);
}

static bool product_is(const struct product *product, const struct name *kind)
{
    for (size_t i = 0; i < product->kinds.count; i++)
        if (product->kinds.items[i] == kind)
            return true;
    return product->symbol.name == kind;
}

/* The product's own figure, or else what is known of its kind, in each series. */
static void explain_salt(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    if (!isnan(product->salt_index)) {
        explain_line(explanation, 1, "Salt index %s, sodium nitrate being 100%s (%s).",
                     number_short(arena, product->salt_index),
                     salt_of_nutrient(explanation, product, product->salt_index),
                     explain_place(explanation, product->salt_place));
        return;
    }
    for (size_t i = 0; i < explanation->model->salt_indices.count; i++) {
        const struct salt_index *salt = &explanation->model->salt_indices.items[i];
        if (product_is(product, salt->material))
            explain_line(
                explanation, 1, "Salt index of %s in the series %s: %s, sodium nitrate being 100%s%s (%s).",
                name_string(salt->material), name_string(salt->series), number_short(arena, salt->index),
                salt_of_nutrient(explanation, product, salt->index),
                footnote_mark(&explanation->notes, salt->source), explain_place(explanation, salt->place));
    }
}

/* ---- acid ---- */

/* "Makes acid: 1680 lb of lime per ton neutralize it [3] (library/materials.prill:120)." */
static void explain_acid(struct explanation *explanation, const struct product *product)
{
    struct acid_figure figure = product_acid(explanation->model, product);
    if (isnan(figure.amount) || !(fabs(figure.amount) > 0) || (!figure.material && isnan(product->acidity)))
        return;
    bool metric = explanation->model->metric;
    explain_line(
        explanation, 1, "%s %s %s of lime%s%s (%s).",
        figure.amount > 0 ? "Makes acid that takes" : "Limes like",
        number_short(explanation->arena, fabs(figure.amount) * (metric ? 1000 : 2000)), metric ? "kg" : "lb",
        metric ? " per 1000 kg" : " per ton",
        figure.material ? footnote_mark(&explanation->notes, figure.material->source) : "",
        explain_place(explanation, figure.material ? figure.material->place : product->acidity_place));
}

/* ---- the label ---- */

static void explain_rates(struct explanation *explanation, const struct product_label *label)
{
    struct arena *arena = explanation->arena;
    const struct model *model = explanation->model;
    if (isnan(label->high))
        return;
    enum quantity quantity = label->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (label->low > 0)
        explain_line(explanation, 2, "%s (%s)",
                     display_label_range(arena, model, quantity, label->low, label->high),
                     explain_place(explanation, label->rate_place));
    else
        explain_line(explanation, 2, "at most %s (%s)",
                     display_floor(arena, model, quantity, label->high, NULL),
                     explain_place(explanation, label->rate_place));
    if (!isnan(label->water_low))
        explain_line(
            explanation, 2, "in %s of water",
            display_label_range(arena, model, QUANTITY_WATER_RATE, label->water_low, label->water_high));
}

static void explain_label(struct explanation *explanation, const struct product *product)
{
    const struct product_label *label = &product->label;
    if (isnan(label->high) && !duration_any(label->interval) && !label->times_a_year &&
        isnan(label->year_most))
        return;
    explain_line(explanation, 1, "Label:");
    explain_rates(explanation, label);
    if (duration_any(label->interval))
        explain_line(explanation, 2, "at least %s apart (%s)",
                     display_duration(explanation->arena, label->interval),
                     explain_place(explanation, label->interval_place));
    if (label->times_a_year)
        explain_line(explanation, 2, "at most %d times a year (%s)", label->times_a_year,
                     explain_place(explanation, label->times_place));
    if (!isnan(label->year_most))
        explain_line(explanation, 2, "at most %s a year (%s)",
                     display_floor(explanation->arena, explanation->model,
                                   label->year_volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE,
                                   label->year_most, NULL),
                     explain_place(explanation, label->year_place));
}

static void explain_weather(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    if (!isnan(product->heat_below))
        explain_line(explanation, 1, "Only on days that stay below %s (%s).",
                     display_temperature(arena, explanation->model, product->heat_below),
                     explain_place(explanation, product->heat_place));
    if (!isnan(product->cold_above))
        explain_line(explanation, 1, "Only on days that stay above %s (%s).",
                     display_temperature(arena, explanation->model, product->cold_above),
                     explain_place(explanation, product->cold_place));
}

static void explain_after_care(struct explanation *explanation, const struct product *product)
{
    struct arena *arena = explanation->arena;
    if (!isnan(product->water_in_m))
        explain_line(explanation, 1, "To be watered in with %s%s%s.",
                     display_depth(arena, explanation->model, product->water_in_m),
                     isnan(product->water_in_s) ? "" : " within ",
                     isnan(product->water_in_s) ? "" : display_hours(arena, product->water_in_s));
    if (!isnan(product->dry_s))
        explain_line(explanation, 1, "To be kept dry for %s.", display_hours(arena, product->dry_s));
}

static void explain_cautions(struct explanation *explanation, const struct product *product)
{
    const unsigned all = ~0U;
    struct caution_list cautions = cautions_of(explanation->model, &product, 1, all);
    if (cautions.count)
        explain_line(explanation, 1, "Take care:");
    for (size_t i = 0; i < cautions.count; i++)
        paragraph_add(explanation->out, "    - ",
                      caution_sentence(explanation->arena, cautions.items[i], &explanation->notes));
}

static void explain_users(struct explanation *explanation, const struct product *product)
{
    for (size_t i = 0; i < explanation->model->treatments.count; i++) {
        const struct treatment *treatment = explanation->model->treatments.items[i];
        const struct dressing_list *dressings = season_dressings(explanation->season, treatment);
        for (size_t j = 0; j < dressings->count; j++)
            if (dressings->items[j]->product == product)
                explain_line(explanation, 1, "Used in %s: %s.", name_string(treatment->symbol.name),
                             explain_statement(explanation, dressings->items[j]->place));
    }
}

void explain_product(struct explanation *explanation, const struct product *product)
{
    static const char *const forms[] = {[FORM_UNKNOWN] = "",
                                        [FORM_GRANULAR] = ", granular",
                                        [FORM_LIQUID] = ", liquid",
                                        [FORM_SOLUBLE] = ", soluble"};
    explain_line(explanation, 0, "Product %s%s (%s)", name_string(product->symbol.name), forms[product->form],
                 explain_place(explanation, product->symbol.place));
    explain_contents(explanation, product);
    explain_salt(explanation, product);
    explain_acid(explanation, product);
    explain_label(explanation, product);
    explain_weather(explanation, product);
    explain_after_care(explanation, product);
    explain_users(explanation, product);
    explain_cautions(explanation, product);
}

/* ---- nutrients ---- */

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

static void explain_received(struct explanation *explanation, const struct nutrient_form *form)
{
    for (size_t i = 0; i < explanation->model->zones.count; i++) {
        const struct ledger *ledger = &explanation->season->ledgers[i];
        double sum = 0;
        for (size_t j = 0; j < ledger->applications.count; j++)
            sum += supplied_as(ledger->applications.items[j].supplied, form);
        explain_line(explanation, 2, "%s: %s", name_string(explanation->model->zones.items[i]->symbol.name),
                     display_of(explanation->arena, explanation->model, QUANTITY_MASS_RATE, sum, form->name));
    }
}

void explain_nutrient(struct explanation *explanation, const struct nutrient_form *form)
{
    const struct model *model = explanation->model;
    explain_line(explanation, 0, "Nutrient %s", form->name);
    if (form->element_per_unit < 1)
        explain_line(explanation, 1, "%s of it is the element, by atomic weights.",
                     display_share(explanation->arena, form->element_per_unit));
    explain_line(explanation, 1, "The season brings to");
    explain_received(explanation, form);
    for (size_t i = 0; i < model->products.count; i++)
        if (model->products.items[i]->content[form->nutrient] > 0)
            explain_line(explanation, 1, "Product %s holds %s (%s).",
                         name_string(model->products.items[i]->symbol.name),
                         display_share(explanation->arena, model->products.items[i]->content[form->nutrient] /
                                                               form->element_per_unit),
                         explain_place(explanation, model->products.items[i]->content_place[form->nutrient]));
    for (size_t i = 0; i < model->limits.count; i++)
        if (model->limits.items[i]->set->bound && limit_names(model->limits.items[i], form->nutrient))
            explain_line(explanation, 1, "Limit: %s%s.",
                         explain_statement(explanation, model->limits.items[i]->place),
                         model->limits.items[i]->set->source
                             ? footnote_mark(&explanation->notes, model->limits.items[i]->set->source)
                             : "");
}
