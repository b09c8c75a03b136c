/* A soil test in words: its figures, what its scales say of each, what they ask of the zones, and what they
 * do not say. */
#ifndef PRILL_RESULT_SOIL_TEXT_H
#define PRILL_RESULT_SOIL_TEXT_H

#include "compiler/result/need_text.h"

void soil_text_print(struct buffer *out, const struct need_words *words, const struct season *season,
                     const struct soil_test *test);

#endif
