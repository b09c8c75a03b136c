/* Values that JSON documents share, each in one shape: the plan, days, places in files, quantities. */
#ifndef PRILL_FORM_JSON_VALUES_H
#define PRILL_FORM_JSON_VALUES_H

#include "compiler/model/model.h"
#include "compiler/form/json.h"

/* {"title", "edition", "edition_date", "season_first", "season_last", "units"}: edition 0 and no edition_date
 * where the plan states none, the season only where it does. Returns the object, for what else a document
 * says of it. */
json_t *json_put_plan(struct json_writer *writer, json_t *parent, const char *key, const struct model *model);

/* "2027-04-17" */
void json_put_day(struct json_writer *writer, json_t *parent, const char *key, day_number day);

/* {"path": "plan.prill", "line": 12, "column": 5}, both counted from 1, the column in terminal cells; null
 * without a source. */
void json_put_place(struct json_writer *writer, json_t *parent, const char *key, struct place place);

/* The same three members, into an object that has more to say of the place; it has a source. */
void json_fill_place(struct json_writer *writer, json_t *object, struct place place);

/* {"si": 0.0261, "unit": "kg/m2", "text": "5.357 lb per 1000 sqft"}; `si` is finite, the text in the plan's
 * units. */
void json_put_quantity(struct json_writer *writer, json_t *parent, const char *key, double si,
                       const char *unit, const char *text);

/* An amount or a rate of a product, by volume where the plan measures it so. */
void json_put_amount(struct json_writer *writer, json_t *parent, const char *key, double si, bool volume,
                     const char *text);
void json_put_product_rate(struct json_writer *writer, json_t *parent, const char *key, double si,
                           bool volume, const char *text);

/* Null where it is not known: what is measured by volume may have no density. */
void json_put_mass(struct json_writer *writer, json_t *parent, const char *key, const struct model *model,
                   double kg);

/* kg/m2 of a nutrient in the form it is traded in; null where it is not known. */
void json_put_supply(struct json_writer *writer, json_t *parent, const char *key, const struct model *model,
                     double kg_per_m2);

void json_put_area(struct json_writer *writer, json_t *parent, const char *key, const struct model *model,
                   double m2);

#endif
