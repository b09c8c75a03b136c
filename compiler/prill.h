/* libprill: compiles a lawn's season plan. The command line is one client of it.
 *
 * Nothing is global: a compilation owns its memory, and two threads may each have one. */
#ifndef PRILL_H
#define PRILL_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

struct prill_compilation;

enum prill_status {
    PRILL_FINE = 0,
    PRILL_PLAN_HAS_ERRORS = 1, /* there are reports of errors, and no result */
    PRILL_BAD_CALL = 2,        /* unknown form of output, unknown name to explain */
    PRILL_SYSTEM_FAILED = 3    /* a file, memory */
};

/* Compiles the plan in the file `path` ("-": standard input, which `stdin_name` gives a place; may be NULL).
 * Always sets `*compilation`, NULL only when memory ran out at the very start; give it to prill_free. */
enum prill_status prill_compile_file(const char *path, const char *stdin_name,
                                     struct prill_compilation **compilation);

/* Compiles text in memory; no file is opened when `sealed`. The text need not live on. */
enum prill_status prill_compile_text(const char *path, const char *text, size_t length, bool sealed,
                                     struct prill_compilation **compilation);

enum prill_status prill_status(const struct prill_compilation *compilation);

/* Why the system failed, or why a call was bad; "" otherwise. Lives as long as the compilation. */
const char *prill_reason(const struct prill_compilation *compilation);

size_t prill_error_count(const struct prill_compilation *compilation);
size_t prill_warning_count(const struct prill_compilation *compilation);
size_t prill_note_count(const struct prill_compilation *compilation);

/* The reports as "text", "json" (lines) or "sarif". */
const char *prill_reports(struct prill_compilation *compilation, const char *form, bool colour, size_t *length);

/* A result: "calendar", "needs", "explain" (of `subject`) in a form: "text", "ics", "csv", "json".
 * NULL after an error in the plan (there is no answer then) or for an unknown form; prill_status tells. */
const char *prill_result(struct prill_compilation *compilation, const char *result, const char *form,
                         const char *subject, size_t *length);

/* The plan's text in its canonical form; NULL when it has syntax errors. */
const char *prill_format(struct prill_compilation *compilation, size_t *length);

void prill_free(struct prill_compilation *compilation);

const char *prill_version(void);

#ifdef __cplusplus
}
#endif

#endif
