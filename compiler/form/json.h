/* Data as a JSON document (RFC 8259). */
#ifndef PRILL_FORM_JSON_H
#define PRILL_FORM_JSON_H

#include "compiler/form/data.h"

/* Appends one document and a newline: on one line, or indented by two where `indent` is set. All but ASCII is
 * escaped, so that the text is safe on a terminal. */
void json_print(struct buffer *out, bool indent, const struct data *root);

/* Appends a value to what such a document holds at `depth`, the root being at 0: `out` has nothing but
 * those before it, so all but the first follow a comma. For data_printed. */
void json_part_print(struct buffer *out, bool indent, size_t depth, const struct data *value);

#endif
