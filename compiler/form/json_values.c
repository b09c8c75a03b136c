#include "compiler/form/json_values.h"

#include "compiler/model/display.h"

#include <math.h>

json_t *json_put_plan(struct json_writer *writer, json_t *parent, const char *key, const struct model *model)
{
    json_t *plan = json_put_object(writer, parent, key);
    json_put_string(writer, plan, "title", model->title);
    json_put_integer(writer, plan, "edition", model->edition);
    if (model->edition > 0)
        json_put_day(writer, plan, "edition_date", model->edition_day);
    else
        json_put_null(writer, plan, "edition_date");
    if (model->has_season) {
        json_put_day(writer, plan, "season_first", model->season_first);
        json_put_day(writer, plan, "season_last", model->season_last);
    }
    json_put_string(writer, plan, "units", model->metric ? "metric" : "us");
    return plan;
}

void json_put_day(struct json_writer *writer, json_t *parent, const char *key, day_number day)
{
    json_put_string(writer, parent, key, day_text(writer->arena, day));
}

void json_fill_place(struct json_writer *writer, json_t *object, struct place place)
{
    struct position position = source_position(place.source, place.start);
    json_put_string(writer, object, "path", place.source->path);
    json_put_integer(writer, object, "line", position.line);
    json_put_integer(writer, object, "column", position.column);
}

void json_put_place(struct json_writer *writer, json_t *parent, const char *key, struct place place)
{
    if (place.source)
        json_fill_place(writer, json_put_object(writer, parent, key), place);
    else
        json_put_null(writer, parent, key);
}

void json_put_quantity(struct json_writer *writer, json_t *parent, const char *key, double si,
                       const char *unit, const char *text)
{
    json_t *object = json_put_object(writer, parent, key);
    json_put_number(writer, object, "si", si);
    json_put_string(writer, object, "unit", unit);
    json_put_string(writer, object, "text", text);
}

void json_put_amount(struct json_writer *writer, json_t *parent, const char *key, double si, bool volume,
                     const char *text)
{
    json_put_quantity(writer, parent, key, si, volume ? "m3" : "kg", text);
}

void json_put_product_rate(struct json_writer *writer, json_t *parent, const char *key, double si,
                           bool volume, const char *text)
{
    json_put_quantity(writer, parent, key, si, volume ? "m3/m2" : "kg/m2", text);
}

void json_put_mass(struct json_writer *writer, json_t *parent, const char *key, const struct model *model,
                   double kg)
{
    if (isnan(kg))
        json_put_null(writer, parent, key);
    else
        json_put_amount(writer, parent, key, kg, false, display_amount(writer->arena, model, kg, false));
}

void json_put_supply(struct json_writer *writer, json_t *parent, const char *key, const struct model *model,
                     double kg_per_m2)
{
    if (isnan(kg_per_m2))
        json_put_null(writer, parent, key);
    else
        json_put_product_rate(writer, parent, key, kg_per_m2, false,
                              display_rate(writer->arena, model, kg_per_m2));
}

void json_put_area(struct json_writer *writer, json_t *parent, const char *key, const struct model *model,
                   double m2)
{
    json_put_quantity(writer, parent, key, m2, "m2", display_area(writer->arena, model, m2));
}
