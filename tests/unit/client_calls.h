/* What the tests of the library's door share: a small plan, compiled as a client does, and what it then
 * gives. */
#ifndef PRILL_TESTS_CLIENT_CALLS_H
#define PRILL_TESTS_CLIENT_CALLS_H

#include "compiler/prill.h"

/* Feeds the zone north on 2027-04-17. */
extern const char client_plan[];

/* A plan in memory, and no file. */
struct prill_options client_options(const char *text);

/* The text as "lawn.prill", with the status that it must have; the caller frees it. */
struct prill_compilation *client_compiled(const char *text, enum prill_status wanted);

/* A name for a result about one thing, a day for the page of a day. */
const char *client_subject(const char *result);

/* Fails unless the text is there, of that length, with the words in it. */
void assert_text(const char *text, size_t length, const char *words);

/* Fails unless the words are in the result, which is returned, or in the reports as text. */
const char *assert_result(struct prill_compilation *compilation, const char *result, const char *form,
                          const char *words);
void assert_reports(struct prill_compilation *compilation, const char *words);

#endif
