/* Results of a soil test out of a laboratory's CSV file, by the columns that the plan names. */
#ifndef PRILL_MODEL_SOIL_FILE_H
#define PRILL_MODEL_SOIL_FILE_H

#include "compiler/model/model.h"

/* What a soil test may have a column of, nutrients apart; ended by a NULL name. */
extern const struct column_form soil_columns[];

/* Reads the block and the file it describes into the same table that rows in the plan make. False after a
 * report. */
bool soil_file_results(const struct stated *stated, struct table *table);

#endif
