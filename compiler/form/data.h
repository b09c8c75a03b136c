/* A result described for a program: values put one behind the other into a JSON document (RFC 8259), each in
 * one shape wherever it appears. What is put is printed: nothing of a long document is held but its text.
 * All but ASCII is escaped, so that the text is safe on a terminal. */
#ifndef PRILL_FORM_DATA_H
#define PRILL_FORM_DATA_H

#include "compiler/model/display.h"
#include "compiler/model/model.h"

/* An object or a list that is being filled: that may go on until something else is put into what holds it.
 */
struct data {
    struct arena *arena; /* for the texts that its values take on the way, and what it holds */
    struct buffer *out;  /* NULL once it is filled */
    struct data *open;   /* what is being filled in it; NULL where nothing is */
    struct data *child;  /* what was filled last: its place is used again */
    uint32_t count;      /* of values in it */
    uint32_t between;    /* bytes that separate its values: of lines the deeper, the more (asserted) */
    bool list, lines;    /* each value has a line of its own */
};

/* A document is one object and a newline: on one line, or of lines that are indented by two. Its arena is
 * that of `out`. */
struct data *data_begin(struct buffer *out, bool indented);

/* Values of an indented list at `depth`, not 0, printed apart into `out`, which has nothing but those before
 * them: for data_printed. */
struct data *data_part_begin(struct arena *arena, struct buffer *out, uint32_t depth);

/* Ends either; a part gets neither bracket nor newline. */
void data_end(struct data *data);

/* Each puts a value under `key` (ASCII that JSON need not escape) of an object or, where `key` is NULL, at
 * the end of a list. Bytes of a text that are not UTF-8 become U+FFFD; a string or name of NULL becomes null.
 */
struct data *data_object(struct data *parent, const char *key);
struct data *data_list(struct data *parent, const char *key);
/* On one line, and all that is in it. */
struct data *data_row(struct data *parent, const char *key);
struct data *data_list_row(struct data *parent, const char *key);
void data_text(struct data *parent, const char *key, struct text text);
void data_string(struct data *parent, const char *key, const char *string);
void data_name(struct data *parent, const char *key, const struct name *name);
void data_integer(struct data *parent, const char *key, long long value);
void data_number(struct data *parent, const char *key,
                 double value); /* null where it is not finite: unknown */
void data_boolean(struct data *parent, const char *key, bool value);
void data_null(struct data *parent, const char *key);

/* A list whose values were printed apart; not NULL in it. */
void data_printed(struct data *parent, const char *key, struct text values);

/* {"title", "edition", "edition_date", "season_first", "season_last", "units"}: edition 0 and no edition_date
 * where the plan states none, the season only where it does. Returns the object, for what else a document
 * says of it. */
struct data *data_plan(struct data *parent, const char *key, const struct model *model);

/* "2027-04-17"; null for DAY_NONE and DAY_NEVER. */
void data_day(struct data *parent, const char *key, day_number day);

/* {"path": "plan.prill", "line": 12, "column": 5}, both counted from 1, the column in terminal cells; null
 * without a source. Returns the object, for what else there is to say of the place, or NULL. */
struct data *data_place(struct data *parent, const char *key, struct place place);

/* {"si": 0.0261, "unit": "kg/m2", "text": "5.357 lb per 1000 sqft"}, the text in the plan's units; null where
 * `si` is not finite: not known. In an indented document, on one line. */
void data_quantity(struct data *parent, const char *key, double si, const char *unit, const char *text);

/* An amount (kg or m3) or a rate (per m2) of a product, by volume where the plan measures it so. */
void data_amount(struct data *parent, const char *key, double si, bool volume, const char *text);
void data_rate(struct data *parent, const char *key, double si, bool volume, const char *text);

/* A mass, an area or the supply of a nutrient in the form it is traded in, and how the plan shows it: of
 * QUANTITY_MASS, QUANTITY_AREA or QUANTITY_MASS_RATE. Null where it is not known, as a mass is not of what is
 * measured by volume and has no density. */
void data_measure(struct data *parent, const char *key, const struct model *model, enum quantity quantity,
                  double si);

#endif
