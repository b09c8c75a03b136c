/* Cautions in a JSON document. */
#ifndef PRILL_RESULT_CAUTION_JSON_H
#define PRILL_RESULT_CAUTION_JSON_H

#include "compiler/result/caution.h"
#include "compiler/form/json.h"

/* As the array `key` of `root`: names, texts, what they are for, sources with their addresses. */
void json_put_cautions(struct json_writer *writer, json_t *root, const char *key,
                       const struct caution_list *list);

#endif
