#include "compiler/result/need_once.h"

#include "compiler/model/display.h"

/* N, P and K that come along, for 1 of the nutrient: grass that wants iron is not to be fed for it. Where
 * they are what is wanted they do not count. */
static double comes_along(const struct product *product, enum nutrient nutrient)
{
    double sum = 0;
    for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_K; n++)
        sum += n == nutrient ? 0 : product->content[n];
    return sum / product->content[nutrient];
}

/* Only where nobody states an amount: what else is missing, such as the depth, the plan's author can
 * state. */
struct need_once need_once_of(const struct need_words *words, const struct zone_need *need)
{
    /* What else is lacking, such as the depth, the plan's author can state. */
    bool nobody_says = need->lack == LACK_AMOUNT || (need->read && need->reading.by_rating);
    struct need_once once = {.advised = need->low && isnan(need->kg_per_m2) && nobody_says &&
                                        need->nutrient != NUTRIENT_N};
    const struct model *model = words->model;
    for (size_t i = 0; i < model->products.count && once.advised; i++) {
        const struct product *product = model->products.items[i];
        /* Lime goes by the pH, and not by the calcium or magnesium in it. */
        if (product->symbol.broken || !(product->content[need->nutrient] > 0) ||
            !isnan(product->neutralizing))
            continue;
        const struct product *other = product;
        if (!once.product ||
            comes_along(product, need->nutrient) < comes_along(once.product, need->nutrient)) {
            other = once.product;
            once.product = product;
        }
        if (other)
            VECTOR_PUSH(words->arena, &once.others, other);
    }
    return once;
}

static const char *const verbs[] = {
    [FORM_UNKNOWN] = "apply", [FORM_GRANULAR] = "spread", [FORM_LIQUID] = "spray", [FORM_SOLUBLE] = "spray"};

static const char *label_text(const struct need_words *words, const struct product *product)
{
    const struct product_label *label = &product->label;
    enum quantity quantity = label->volume ? QUANTITY_VOLUME_RATE : QUANTITY_MASS_RATE;
    if (isnan(label->high))
        return ", which this plan does not state (`label`)";
    if (label->low > 0)
        return text_format(
            words->arena, ", %s",
            display_label_range(words->arena, words->model, quantity, label->low, label->high));
    return text_format(
        words->arena, ", at most %s",
        display_rounded(words->arena, words->model, quantity, label->high, number_floor, NULL));
}

/* Once, then test again: without an amount there is nothing to divide or repeat. */
const char *need_once_text(const struct need_words *words, const struct zone_need *need)
{
    struct need_once once = need_once_of(words, need);
    const char *name = nutrient_element(need->nutrient);
    struct arena *arena = words->arena;
    if (!once.advised)
        return "";
    if (need->given > 0)
        return text_format(arena,
                           "the plan already applies %s after this test: test again before applying more",
                           need_rate_text(words, need->given, need->nutrient));
    if (!once.product)
        return text_format(arena, "no product of this plan supplies %s", name);
    struct buffer others = {.arena = arena};
    for (size_t i = 0; i < once.others.count; i++) {
        buffer_separate(&others, ", ");
        buffer_add_string(&others, name_string(once.others.items[i]->symbol.name));
    }
    struct buffer text = {.arena = arena};
    buffer_format(&text, "%s %s once at its label's rate%s, then test again", verbs[once.product->form],
                  name_string(once.product->symbol.name), label_text(words, once.product));
    if (others.length)
        buffer_format(&text, " (other products with %s: %s)", name, others.string);
    return text.string;
}
