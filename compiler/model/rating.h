/* The words by which laboratories rate a result: `L`, `medium`, `VH`. */
#ifndef PRILL_MODEL_RATING_H
#define PRILL_MODEL_RATING_H

#include "lexer/text.h"

/* Whether medium is enough differs from laboratory to laboratory, so it contradicts nothing. */
enum rating { RATING_NONE, RATING_LOW, RATING_MEDIUM, RATING_ENOUGH };

/* Sets the rating by its word; capitals and small letters are the same. NULL, or of a word that is none a
 * sentence that lists them. */
const char *rating_read(struct arena *arena, struct text word, enum rating *rating);

#endif
