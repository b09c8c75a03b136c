#include "compiler/result/budget_json.h"

#include "compiler/result/budget_words.h"
#include "compiler/result/closing_lines_json.h"
#include "compiler/form/json_values.h"
#include "compiler/result/work.h"

struct document {
    const struct season *season;
    struct budget budget;
};

static void put_nutrients(struct json_writer *writer, json_t *parent, const char *key,
                          const struct model *model, const double supplied[NUTRIENT_COUNT])
{
    json_t *object = json_put_object(writer, parent, key);
    for (size_t i = 0; i < budget_nutrient_count; i++) {
        const struct nutrient_form *form = nutrient_trade_form(budget_nutrients[i]);
        if (supplied[form->nutrient] > 0)
            json_put_supply(writer, object, form->name, model, supplied_as(supplied, form));
    }
}

static void put_month(struct json_writer *writer, json_t *months, const struct model *model,
                      const struct budget_month *month)
{
    json_t *object = json_put_object(writer, months, NULL);
    json_put_string(writer, object, "month", budget_month_text(writer->arena, month));
    put_nutrients(writer, object, "done", model, month->done);
    put_nutrients(writer, object, "planned", model, month->planned);
}

static void put_measure(struct json_writer *writer, json_t *measures, const struct need_words *words,
                        const struct budget_measure *measure)
{
    json_t *object = json_put_object(writer, measures, NULL);
    json_put_string(writer, object, "kind", budget_kind_name(measure->kind));
    json_put_string(writer, object, "nutrient", measure->form->name);
    if (measure->kind == BUDGET_LIMIT)
        json_put_integer(writer, object, "year", measure->year);
    if (measure->kind == BUDGET_RANGE || measure->kind == BUDGET_STATED) {
        json_put_string(writer, object, "first", day_text(writer->arena, measure->of_season.first));
        json_put_string(writer, object, "last", day_text(writer->arena, measure->of_season.last));
    }
    json_put_supply(writer, object, "done", words->model, measure->done);
    json_put_supply(writer, object, "planned", words->model, measure->planned);
    json_put_supply(writer, object, "least", words->model, measure->least);
    json_put_supply(writer, object, "most", words->model, measure->most);
    json_put_string(writer, object, "sentence", budget_sentence(words, measure));
}

static void put_zone(struct json_writer *writer, json_t *zones, const struct need_words *words,
                     const struct budget_zone *zone)
{
    json_t *object = json_put_object(writer, zones, NULL);
    json_put_string(writer, object, "lawn", name_string(zone->zone->lawn->symbol.name));
    json_put_string(writer, object, "zone", name_string(zone->zone->symbol.name));
    json_put_area(writer, object, "area", words->model, zone->zone->area_m2);
    json_t *months = json_put_array(writer, object, "months");
    for (size_t i = 0; i < zone->months.count; i++)
        put_month(writer, months, words->model, &zone->months.items[i]);
    put_nutrients(writer, object, "done", words->model, zone->total.done);
    put_nutrients(writer, object, "planned", words->model, zone->total.planned);
    json_t *measures = json_put_array(writer, object, "held_against");
    for (size_t i = 0; i < zone->measures.count; i++)
        put_measure(writer, measures, words, &zone->measures.items[i]);
}

static void fill(struct json_writer *writer, json_t *root, const void *subject)
{
    const struct document *document = subject;
    const struct model *model = document->season->model;
    const struct need_words words = {writer->arena, model, NULL};
    json_put_string(writer, root, "format", "prill budget 2");
    json_put_plan(writer, root, "plan", model);
    json_t *zones = json_put_array(writer, root, "zones");
    for (size_t i = 0; i < document->budget.zones.count; i++)
        put_zone(writer, zones, &words, &document->budget.zones.items[i]);
    json_put_closing(writer, root, model);
}

void budget_json_print(struct buffer *out, const struct season *season)
{
    struct document document = {season, budget_of(season)};
    json_print(out, true, fill, &document);
}
