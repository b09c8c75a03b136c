/* Sources and rules for the tests of what prints reports. All plans here are invented. */
#ifndef PRILL_TESTS_MADE_REPORTS_H
#define PRILL_TESTS_MADE_REPORTS_H

#include "lexer/report.h"

extern const struct rule made_error, made_warning, made_note;

/* The arena and the collection that the tests of one program share; made anew for each test. */
extern struct arena made_arena;
extern struct reports made_reports;
int made_setup(void **state);
int made_teardown(void **state);

struct source *made_source(const char *path, const char *text);
struct source *made_source_bytes(const char *path, const char *bytes, size_t length);

/* Where `words` stand first in the source; fails the test where they do not. */
struct place made_place(const struct source *source, const char *words);
struct place made_range(const struct source *source, uint32_t start, uint32_t end);

/* Numbers that look random and are the same in every run (xorshift). */
uint32_t made_number(uint32_t *state, uint32_t below);

#endif
