#include "compiler/result/nutrient_text.h"

#include <string.h>

/* "0.75", or "0.737 to 0.759". */
static const char *number_range(struct arena *arena, const char *first, const char *last)
{
    return strcmp(first, last) == 0 ? first : text_format(arena, "%s to %s", first, last);
}

const char *quantity_range_text(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high)
{
    return text_format(arena, "%s %s",
                       number_range(arena, display_number(arena, model, quantity, low),
                                    display_number(arena, model, quantity, high)),
                       display_unit(arena, model, quantity, high));
}

struct supply_list {
    struct buffer text;
    const struct model *model;
    const double *least, *most;
    const struct leeway *leeway;
    bool brief;
};

static const char *supply_number(struct supply_list *list, double value)
{
    struct arena *arena = list->text.arena;
    /* Nobody weighs a nutrient: two figures say enough, three where two could be off by more than a
     * twentieth. */
    const double most_lost = 0.05;
    int decimals = list->brief ? figure_decimals(value) : number_short_decimals(value);
    if (list->brief && decimals > 0 && pow(10, 1 - decimals) <= most_lost * value)
        decimals--;
    double figure =
        list->leeway ? figure_within(value, *list->leeway, &decimals) : number_nearest(value, decimals);
    return number_text(arena, figure, decimals);
}

static void form_add(struct supply_list *list, const struct nutrient_form *form)
{
    const struct nutrient_form *parts[] = {form, nutrient_part(form, false)}; /* as "(0.34 lb soluble)" */
    buffer_separate(&list->text, ", ");
    for (int i = 0; i < 2 && parts[i]; i++) {
        double least = supplied_as(list->least, parts[i]), most = supplied_as(list->most, parts[i]);
        struct display_parts high = display_parts(list->model, QUANTITY_MASS_RATE, most), low = high;
        if (least != most)
            low = display_parts(list->model, QUANTITY_MASS_RATE, least);
        const char *last = supply_number(list, high.value),
                   *first = least == most ? last : supply_number(list, low.value);
        const char *range = number_range(list->text.arena, first, last);
        buffer_format(&list->text, "%s%s %s %s", i ? " (" : "", range, high.unit,
                      i ? "soluble)" : form->name);
    }
}

/* Nutrients in the order of a label; NULL where it supplies none. */
const char *nutrients_text(struct arena *arena, const struct model *model, const double least[NUTRIENT_COUNT],
                           const double most[NUTRIENT_COUNT], const struct leeway *leeway, bool brief)
{
    struct supply_list list = {.text = {.arena = arena},
                               .model = model,
                               .least = least,
                               .most = most,
                               .leeway = leeway,
                               .brief = brief};
    for (enum nutrient n = NUTRIENT_N; n <= NUTRIENT_LIME; n++)
        if (most[n] > 0 && n != NUTRIENT_SOLUBLE_N && n != NUTRIENT_SLOW_N)
            form_add(&list, nutrient_trade_form(n));
    if (!list.text.length)
        return NULL;
    /* The area is said once for all. */
    return text_format(arena, "%s%s", list.text.string, display_parts(model, QUANTITY_MASS_RATE, 0).per);
}
