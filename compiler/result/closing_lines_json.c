#include "compiler/result/closing_lines_json.h"

void json_put_closing(struct json_writer *writer, json_t *root, const struct model *model)
{
    struct closing closing = closing_of(model);
    json_t *lines = json_put_array(writer, root, "closing");
    for (size_t i = 0; i < closing.count; i++)
        json_put_string(writer, lines, NULL, closing.lines[i]);
}
