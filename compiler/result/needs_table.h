/* What a year asks of each zone, as one table. */
#ifndef PRILL_RESULT_NEEDS_TABLE_H
#define PRILL_RESULT_NEEDS_TABLE_H

#include "compiler/season/season.h"

/* Zones as rows, nutrients and lime as columns, of which only those stand there that something is known of.
 * Nothing where no zone is. */
void needs_table_print(struct buffer *out, const struct season *season);

#endif
