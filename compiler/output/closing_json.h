/* The closing lines in a JSON document. */
#ifndef PRILL_OUTPUT_CLOSING_JSON_H
#define PRILL_OUTPUT_CLOSING_JSON_H

#include "compiler/output/closing.h"
#include "compiler/output/json.h"

/* As the array `closing` of `root`. */
void json_put_closing(struct json_writer *writer, json_t *root, const struct model *model);

#endif
