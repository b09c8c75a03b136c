/* What the soil tests say and the zones need: parts of the page. */
#ifndef PRILL_RESULT_NEEDS_H
#define PRILL_RESULT_NEEDS_H

#include "compiler/result/need_text.h"
#include "compiler/result/soil_figure.h"
#include "compiler/result/soil_change.h"

/* A soil test: its figures, what its scales say of each, what they ask of the zones, and what they do not
 * say. */
void soil_test_describe(struct page *page, const struct need_words *words, const struct season *season,
                        const struct soil_test *test);

/* The re-tests against the tests before them; nothing where no zone was tested twice. */
void soil_changes_describe(struct page *page, const struct need_words *words, const struct season *season);

/* "the change is smaller than the noise: 4 spots compared one by one changed by -2 to 5 ppm (19 times in
 * 20)" and so on; "" where the figures cannot be compared. */
const char *soil_change_noise(const struct need_words *words, const struct soil_change *change);

#endif
