/* The words by which laboratories rate a result: `L`, `medium`, `VH`. */
#ifndef PRILL_MODEL_RATING_H
#define PRILL_MODEL_RATING_H

#include "lexer/text.h"

/* Whether medium is enough differs from laboratory to laboratory, so it contradicts nothing. */
enum rating { RATING_NONE, RATING_LOW, RATING_MEDIUM, RATING_ENOUGH };

/* RATING_NONE for a word that is not a rating; capitals and small letters are the same. */
enum rating rating_of(struct text word);

/* All the words, with commas between. */
const char *rating_words(struct arena *arena);

#endif
