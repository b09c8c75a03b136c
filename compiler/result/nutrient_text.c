#include "compiler/result/nutrient_text.h"

#include <string.h>

/* "0.75", or "0.737 to 0.759". */
static const char *number_range(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high)
{
    const char *first = display_number(arena, model, quantity, low);
    const char *last = display_number(arena, model, quantity, high);
    return strcmp(first, last) == 0 ? first : text_format(arena, "%s to %s", first, last);
}

const char *quantity_range_text(struct arena *arena, const struct model *model, enum quantity quantity,
                                double low, double high)
{
    return text_format(arena, "%s %s", number_range(arena, model, quantity, low, high),
                       display_unit(arena, model, quantity, high));
}

struct supply_list {
    struct buffer text;
    const struct model *model;
    const double *least, *most;
    const struct leeway *leeway;
    const char *mass, *per; /* "lb", " per 1000 sqft" */
};

static const char *form_range(struct supply_list *list, const struct nutrient_form *form)
{
    struct arena *arena = list->text.arena;
    double least = supplied_as(list->least, form), most = supplied_as(list->most, form);
    if (!list->leeway)
        return number_range(arena, list->model, QUANTITY_MASS_RATE, least, most);
    const char *from = display_number_within(arena, list->model, QUANTITY_MASS_RATE, least, *list->leeway);
    const char *to = display_number_within(arena, list->model, QUANTITY_MASS_RATE, most, *list->leeway);
    return strcmp(from, to) == 0 ? from : text_format(arena, "%s to %s", from, to);
}

static void form_add(struct supply_list *list, const struct nutrient_form *form)
{
    const struct nutrient_form *soluble = nutrient_part(form, false);
    if (!(supplied_as(list->most, form) > 0))
        return;
    buffer_format(&list->text, "%s%s %s %s", list->text.length ? ", " : "", form_range(list, form),
                  list->mass, form->name);
    if (soluble)
        buffer_format(&list->text, " (%s %s soluble)", form_range(list, soluble), list->mass);
}

const char *nutrients_text(struct arena *arena, const struct model *model, const double least[NUTRIENT_COUNT],
                           const double most[NUTRIENT_COUNT], const struct leeway *leeway)
{
    const char *unit = display_unit(arena, model, QUANTITY_MASS_RATE, 0);
    const char *per = strstr(unit, " per "); /* said once for all */
    size_t mass = per ? (size_t)(per - unit) : strlen(unit);
    struct supply_list list = {.text = {.arena = arena},
                               .model = model,
                               .least = least,
                               .most = most,
                               .leeway = leeway,
                               .mass = text_string(arena, (struct text){unit, mass}),
                               .per = unit + mass};
    for (enum nutrient n = NUTRIENT_N; n < NUTRIENT_SOLUBLE_N; n++)
        form_add(&list, nutrient_trade_form(n));
    form_add(&list, nutrient_trade_form(NUTRIENT_LIME));
    return list.text.length ? text_format(arena, "%s%s", list.text.string, list.per) : NULL;
}
