/* A re-test against the test before it, for a person. */
#ifndef PRILL_RESULT_FIX_TEXT_H
#define PRILL_RESULT_FIX_TEXT_H

#include "compiler/result/need_text.h"

/* Nothing where no zone was tested twice. */
void change_text_print(struct buffer *out, const struct need_words *words, const struct season *season);

/* "smaller than the noise: 4 spots compared one by one changed by -2 to 5 ppm (19 times in 20)" and so on; ""
 * where the figures cannot be compared. */
struct soil_change;
const char *change_noise(const struct need_words *words, const struct soil_change *change);

#endif
