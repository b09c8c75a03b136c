#include "compiler/form/data.h"

#include "compiler/form/plain_text.h"
#include "compiler/model/display.h"

#include <assert.h>
#include <math.h>

struct data *data_new(struct arena *arena)
{
    struct data *root = ARENA_ARRAY(arena, 1, struct data);
    *root = (struct data){.arena = arena, .kind = DATA_OBJECT};
    return root;
}

/* At the end, so that members keep the order of being put. */
static struct data *put(struct data *parent, const char *key, enum data_kind kind)
{
    assert(parent->kind == (key ? DATA_OBJECT : DATA_LIST));
    struct data *value = data_new(parent->arena);
    value->kind = kind;
    value->key = key;
    if (parent->last)
        parent->last->next = value;
    else
        parent->first = value;
    parent->last = value;
    parent->count++;
    return value;
}

struct data *data_object(struct data *parent, const char *key)
{
    return put(parent, key, DATA_OBJECT);
}

struct data *data_list(struct data *parent, const char *key)
{
    return put(parent, key, DATA_LIST);
}

void data_text(struct data *parent, const char *key, struct text text)
{
    put(parent, key, DATA_TEXT)->text = text_valid(parent->arena, text);
}

void data_string(struct data *parent, const char *key, const char *string)
{
    if (string)
        data_text(parent, key, text_of(string));
    else
        data_null(parent, key);
}

void data_name(struct data *parent, const char *key, const struct name *name)
{
    if (name)
        data_text(parent, key, name->text);
    else
        data_null(parent, key);
}

void data_integer(struct data *parent, const char *key, long long value)
{
    put(parent, key, DATA_INTEGER)->integer = value;
}

void data_number(struct data *parent, const char *key, double value)
{
    assert(isfinite(value));
    put(parent, key, DATA_NUMBER)->number = value;
}

void data_figure(struct data *parent, const char *key, double value)
{
    if (isfinite(value))
        data_number(parent, key, value);
    else
        data_null(parent, key);
}

void data_boolean(struct data *parent, const char *key, bool value)
{
    put(parent, key, DATA_BOOLEAN)->integer = value;
}

void data_null(struct data *parent, const char *key)
{
    put(parent, key, DATA_NULL);
}

void data_printed(struct data *parent, const char *key, struct text text)
{
    put(parent, key, DATA_PRINTED)->text = text;
}

/* ---- what documents share ---- */

/* One shape in every document, so that a reader of one can read the others. */
struct data *data_plan(struct data *parent, const char *key, const struct model *model)
{
    struct data *plan = data_object(parent, key);
    data_string(plan, "title", model->title);
    data_integer(plan, "edition", model->edition);
    if (model->edition > 0)
        data_day(plan, "edition_date", model->edition_day);
    else
        data_null(plan, "edition_date");
    if (model->has_season) {
        data_day(plan, "season_first", model->season_first);
        data_day(plan, "season_last", model->season_last);
    }
    data_string(plan, "units", model->metric ? "metric" : "us");
    return plan;
}

void data_day(struct data *parent, const char *key, day_number day)
{
    data_string(parent, key, day_text(parent->arena, day));
}

void data_place_members(struct data *object, struct place place)
{
    struct position position = source_position(place.source, place.start);
    data_string(object, "path", place.source->path);
    data_integer(object, "line", position.line);
    data_integer(object, "column", position.column);
}

void data_place(struct data *parent, const char *key, struct place place)
{
    if (place.source)
        data_place_members(data_object(parent, key), place);
    else
        data_null(parent, key);
}

void data_quantity(struct data *parent, const char *key, double si, const char *unit, const char *text)
{
    if (!isfinite(si)) {
        data_null(parent, key);
        return;
    }
    struct data *object = data_object(parent, key);
    data_number(object, "si", si);
    data_string(object, "unit", unit);
    data_string(object, "text", text);
}

void data_amount(struct data *parent, const char *key, double si, bool volume, const char *text)
{
    data_quantity(parent, key, si, volume ? "m3" : "kg", text);
}

void data_rate(struct data *parent, const char *key, double si, bool volume, const char *text)
{
    data_quantity(parent, key, si, volume ? "m3/m2" : "kg/m2", text);
}

void data_mass(struct data *parent, const char *key, const struct model *model, double kg)
{
    data_amount(parent, key, kg, false, isnan(kg) ? NULL : display_amount(parent->arena, model, kg, false));
}

void data_supply(struct data *parent, const char *key, const struct model *model, double kg_per_m2)
{
    data_rate(parent, key, kg_per_m2, false,
              isnan(kg_per_m2) ? NULL : display_rate(parent->arena, model, kg_per_m2));
}

void data_area(struct data *parent, const char *key, const struct model *model, double m2)
{
    data_quantity(parent, key, m2, "m2", display_area(parent->arena, model, m2));
}
