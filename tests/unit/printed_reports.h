/* Reports as a person reads them, for the tests of how they are printed. */
#ifndef PRILL_TESTS_PRINTED_REPORTS_H
#define PRILL_TESTS_PRINTED_REPORTS_H

#include "tests/unit/made_reports.h"

const char *printed(const struct report *report); /* without colour */

/* What is printed of a report on the first `words` of `text`, a plan called p.prill. */
const char *printed_on(const char *text, const char *words);

/* The first line of it. */
#define HEAD(line, column) "p.prill:" #line ":" #column ": error: found [n-per-application]\n"

#endif
