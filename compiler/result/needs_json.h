/* What each zone needs, as one JSON document, for other programs; docs/needs.schema.json describes it.
 *
 * Exact amounts are SI numbers (kg/m2 of the element, lime as calcium carbonate); null where nothing is
 * known. */
#ifndef PRILL_RESULT_NEEDS_JSON_H
#define PRILL_RESULT_NEEDS_JSON_H

#include "compiler/season/season.h"

void needs_json_print(struct buffer *out, const struct season *season);

#endif
