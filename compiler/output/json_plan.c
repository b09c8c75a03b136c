#include "compiler/output/json_plan.h"

void json_put_day(struct json_writer *writer, json_t *parent, const char *key, day_number day)
{
    json_put_string(writer, parent, key, day_text(writer->arena, day));
}

void json_put_place(struct json_writer *writer, json_t *parent, const char *key, struct place place)
{
    if (!place.source) {
        json_put_null(writer, parent, key);
        return;
    }
    struct position position = source_position(place.source, place.start);
    json_t *object = json_put_object(writer, parent, key);
    json_put_string(writer, object, "path", place.source->path);
    json_put_integer(writer, object, "line", position.line);
    json_put_integer(writer, object, "column", position.column);
}
