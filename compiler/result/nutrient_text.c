#include "compiler/result/nutrient_text.h"

#include <string.h>

/* "0.75", or "0.737 to 0.759" where the two read otherwise. */
static const char *range_of(struct arena *arena, const char *first, const char *last)
{
    return strcmp(first, last) == 0 ? first : text_format(arena, "%s to %s", first, last);
}

const char *quantity_range_text(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high)
{
    const char *range = range_of(arena, display_number(arena, model, quantity, low),
                                 display_number(arena, model, quantity, high));
    return text_format(arena, "%s %s", range, display_unit(arena, model, quantity, high));
}

struct supply_list {
    struct buffer text;
    const struct model *model;
    const double *least, *most;
    const struct leeway *leeway;
};

static const char *form_range(struct supply_list *list, const struct nutrient_form *form)
{
    struct arena *arena = list->text.arena;
    const double ends[2] = {supplied_as(list->least, form), supplied_as(list->most, form)};
    const char *numbers[2];
    for (int i = 0; i < 2; i++)
        numbers[i] = list->leeway ? display_number_within(arena, list->model, QUANTITY_MASS_RATE, ends[i],
                                                          *list->leeway)
                                  : display_number(arena, list->model, QUANTITY_MASS_RATE, ends[i]);
    return range_of(arena, numbers[0], numbers[1]);
}

static void form_add(struct supply_list *list, const struct nutrient_form *form)
{
    const char *mass = display_unit_of(list->model, QUANTITY_MASS_RATE);
    const struct nutrient_form *soluble = nutrient_part(form, false);
    if (!(supplied_as(list->most, form) > 0))
        return;
    buffer_separate(&list->text, ", ");
    buffer_format(&list->text, "%s %s %s", form_range(list, form), mass, form->name);
    if (soluble)
        buffer_format(&list->text, " (%s %s soluble)", form_range(list, soluble), mass);
}

const char *nutrients_text(struct arena *arena, const struct model *model, const double least[NUTRIENT_COUNT],
                           const double most[NUTRIENT_COUNT], const struct leeway *leeway)
{
    struct supply_list list = {
        .text = {.arena = arena}, .model = model, .least = least, .most = most, .leeway = leeway};
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        form_add(&list, nutrient_trade_form(n));
    form_add(&list, nutrient_trade_form(NUTRIENT_LIME));
    if (!list.text.length)
        return NULL;
    /* The area is said once for all. */
    return text_format(arena, "%s%s", list.text.string, display_unit_per(model, QUANTITY_MASS_RATE));
}
