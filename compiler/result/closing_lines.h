/* The last lines of every output for a person. */
#ifndef PRILL_RESULT_CLOSING_LINES_H
#define PRILL_RESULT_CLOSING_LINES_H

#include "compiler/model/model.h"

enum { CLOSING_LINES = 4 };

/* First what is known to lack in the limits that the plan follows. Then they defer to the label, the rules of
 * the place and licensed practice, in the library's words (its caution `closing`). Where a plan has put
 * its own words there, the program's stand beside them: no plan takes this away. */
struct closing_text {
    const char *lines[CLOSING_LINES];
    size_t count;
    size_t deferring; /* how many of the first are enough where room is short: without what a plan rests on */
};

struct closing_text closing_text_of(const struct model *model);

#endif
