/* The closing lines in a JSON document. */
#ifndef PRILL_RESULT_CLOSING_LINES_JSON_H
#define PRILL_RESULT_CLOSING_LINES_JSON_H

#include "compiler/result/closing_lines.h"
#include "compiler/form/json.h"

/* As the array `closing` of `root`. */
void json_put_closing(struct json_writer *writer, json_t *root, const struct model *model);

#endif
