/* Cautions in a JSON document. */
#ifndef PRILL_RESULT_CAUTION_DATA_H
#define PRILL_RESULT_CAUTION_DATA_H

#include "compiler/result/caution.h"
#include "compiler/form/data.h"

/* As the array `key` of `root`: names, texts, what they are for, sources with their addresses. */
void data_cautions(struct data *root, const char *key, const struct caution_list *list);

#endif
