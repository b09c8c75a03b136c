/* libprill: compiles a lawn's season plan. The command line is one client of it.
 *
 * Nothing is global: a compilation owns its memory, and two threads may each have one. While the version
 * begins with 0, what is here may change with its second number, and the library's soname with it. */
#ifndef PRILL_H
#define PRILL_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The version of this header; prill_version tells that of the library that is linked. */
#define PRILL_VERSION_MAJOR 0
#define PRILL_VERSION_MINOR 1
#define PRILL_VERSION_PATCH 0

/* What the library shows to others: these names and no more. */
#if defined(__GNUC__)
#define PRILL_API __attribute__((visibility("default")))
#else
#define PRILL_API
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
PRILL_API enum prill_status prill_compile_file(const char *path, const char *stdin_name,
                                               struct prill_compilation **compilation);

/* The same with another file in place of one that the plan uses: `use` is "FILE" for the only one, "OLD=FILE"
 * for the one named OLD, both as they would stand between the quotes of the plan's `use`; NULL: none.
 * PRILL_BAD_CALL, with a reason, where the plan uses no such file or, for "FILE", several. */
PRILL_API enum prill_status prill_compile_file_using(const char *path, const char *stdin_name,
                                                     const char *use, struct prill_compilation **compilation);

/* Compiles text in memory; no file is opened when `sealed`. The text need not live on. */
PRILL_API enum prill_status prill_compile_text(const char *path, const char *text, size_t length, bool sealed,
                                               struct prill_compilation **compilation);

/* Only reads and parses the file: enough for prill_format, and blind to everything but its form. */
PRILL_API enum prill_status prill_parse_file(const char *path, const char *stdin_name,
                                             struct prill_compilation **compilation);

/* Of the newest call: after prill_compile_* the plan's, after prill_result the call's. */
PRILL_API enum prill_status prill_status(const struct prill_compilation *compilation);

/* Why the system failed, or why a call was bad; "" otherwise. Lives as long as the compilation. */
PRILL_API const char *prill_reason(const struct prill_compilation *compilation);

PRILL_API size_t prill_error_count(const struct prill_compilation *compilation);
PRILL_API size_t prill_warning_count(const struct prill_compilation *compilation);
PRILL_API size_t prill_note_count(const struct prill_compilation *compilation);

/* The reports as "text", "json" (lines) or "sarif", in the order of the text. What this and the calls below
 * return lives as long as the compilation. */
PRILL_API const char *prill_reports(struct prill_compilation *compilation, const char *form, bool colour,
                                    size_t *length);

/* The reports of several compilations as one document, which lives as long as the first; `count` is above 0.
 */
PRILL_API const char *prill_reports_of(struct prill_compilation *const *compilations, size_t count,
                                       const char *form, bool colour, size_t *length);

/* A result: "calendar", "needs", "shopping", "budget", "rates", "weather", "explain" (of `subject`) in a
 * form: "text", "ics", "csv", "json". NULL after an error in the plan (there is no answer then) or for an
 * unknown form; prill_status tells. */
PRILL_API const char *prill_result(struct prill_compilation *compilation, const char *result,
                                   const char *form, const char *subject, size_t *length);

/* The names that prill_result takes, ended by NULL, and the forms of one of them, the usual one first. */
PRILL_API const char *prill_result_name(size_t index);
PRILL_API const char *prill_result_form(const char *result, size_t index);

/* When the plan was last revised, in seconds since 1970-01-01 UTC, for a calendar file; without it the
 * edition's day counts. False, with nothing changed, outside 0 to 7258118399 (the end of the year 2199). */
PRILL_API bool prill_set_stamp(struct prill_compilation *compilation, long long seconds);

/* The day to tell of what is overdue, due and next, as "2027-04-17"; a calendar as text or JSON then does.
 * False where that is no day; prill_reason tells. */
PRILL_API bool prill_set_day(struct prill_compilation *compilation, const char *date);

/* The file of an earlier edition's calendar, as JSON: what is gone since is issued as cancelled in a calendar
 * file, and told in JSON. PRILL_BAD_CALL where it is none, or of no earlier edition, PRILL_SYSTEM_FAILED
 * where it cannot be read; prill_reason tells. Where it is taken and nothing of it is left in the plan,
 * prill_reason tells that too; it is empty otherwise. */
PRILL_API enum prill_status prill_set_earlier(struct prill_compilation *compilation, const char *path);

/* What changes from one plan to another, as "text" or "json". Lives as long as `later`; NULL where either has
 * errors.
 */
PRILL_API const char *prill_compare(struct prill_compilation *earlier, struct prill_compilation *later,
                                    const char *form, size_t *length);

/* Compiles the plan once more, as if a treatment ("spring-feed", or a time of it, "fall-feed:2") fell on a
 * day. It may then have errors that the plan has not. PRILL_BAD_CALL where there is no such treatment, time
 * or day. */
PRILL_API enum prill_status prill_compile_late(const struct prill_compilation *compilation, const char *what,
                                               const char *date, struct prill_compilation **late);

/* What moves then, as text, or why that day cannot be. Lives as long as `late`; NULL after a bad call. */
PRILL_API const char *prill_late(struct prill_compilation *compilation, struct prill_compilation *late,
                                 size_t *length);

/* The plan's text as it was read; NULL when it was not. */
PRILL_API const char *prill_text(const struct prill_compilation *compilation, size_t *length);

/* The plan's text in its canonical layout; NULL when it has syntax errors. */
PRILL_API const char *prill_format(struct prill_compilation *compilation, size_t *length);

/* Whether the file of that name is the plan or one that it uses, or would use if none stood in for another:
 * nothing may be written there. True, too, where memory ran out before that was known. */
PRILL_API bool prill_reads_file(const struct prill_compilation *compilation, const char *path);

PRILL_API void prill_free(struct prill_compilation *compilation);

PRILL_API const char *prill_version(void);

#ifdef __cplusplus
}
#endif

#endif
