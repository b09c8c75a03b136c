/* Values of a plan in a JSON document: days, places in files. */
#ifndef PRILL_OUTPUT_JSON_PLAN_H
#define PRILL_OUTPUT_JSON_PLAN_H

#include "compiler/model/date.h"
#include "compiler/output/json.h"
#include "lexer/source.h"

/* "2027-04-17" */
void json_put_day(struct json_writer *writer, json_t *parent, const char *key, day_number day);

/* {"path": "plan.prill", "line": 12, "column": 5}, both counted from 1; null without a source. */
void json_put_place(struct json_writer *writer, json_t *parent, const char *key, struct place place);

#endif
