/* libprill: compiles a lawn's season plan. The command line is one client of it.
 *
 *     struct prill_options options = {.size = sizeof options, .day = "2027-04-17"};
 *     struct prill_compilation *compilation;
 *     size_t length;
 *     if (prill_compile("lawn.prill", &options, &compilation) == PRILL_FINE)
 *         fputs(prill_result(compilation, "calendar", "text", NULL, &length), stdout);
 *     prill_free(compilation);
 *
 * Threads: nothing is global. Several threads may compile at once; one compilation, and one document, is for
 * one thread at a time, and nothing stays behind when a thread ends.
 *
 * Memory: a compilation owns all that is returned from it until prill_free; nothing else is to be freed.
 * Every call takes a compilation of NULL for one that had no memory; `length` may be NULL. Texts are UTF-8,
 * ended by a NUL that `*length` does not count.
 *
 * Stable while the first two numbers of the version stay, and with them the library's soname: each name, type
 * and value here, the names of checks, results and forms, and the members of JSON outputs, to which others
 * may be added. Not stable: the wording of reports, of reasons and of text forms, which checks there are, and
 * the order of members. Structs of reports are made by the library only, and may grow at their end.
 */
#ifndef PRILL_H
#define PRILL_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The version of this header; prill_version gives that of the library that is linked. */
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
    PRILL_BAD_CALL = 2,        /* an option that does not fit the plan, an unknown form, an unknown name */
    PRILL_SYSTEM_FAILED = 3    /* a file, memory */
};

/* ---- compiling ---- */

/* Bytes that a plan's text may have, and each file that it uses. */
#define PRILL_TEXT_LIMIT (120 * 1024 * 1024)

/* The text of a file in the client's place, such as one that an editor has open and not saved; NULL to have
 * it read from the disk. `path` is the plan's own, or that of a file the plan names, below the plan's folder.
 * The text is copied before the next call. Called within prill_compile, prill_reads_file and
 * prill_document_compilation only, in their thread; it must return. */
typedef const char *prill_read_file(void *reader, const char *path, size_t *length);

/* Called as the `number`th of `count` questions that the plan leaves to the compiler is begun (a `correct`, a
 * `match` or a time of one, a `blend`): some take long. Called within prill_compile and
 * prill_document_compilation only, in their thread; it must return. */
typedef void prill_question(void *watcher, size_t number, size_t count);

/* What a plan is compiled with. Members of 0 and NULL are the usual: set `size`, and what differs. Nothing of
 * it needs to live on after prill_compile, but what `reader` and `watcher` point to. */
struct prill_options {
    size_t size; /* sizeof (struct prill_options): so a later library knows what yours knows */

    const char *text; /* the plan's text, `text_length` bytes, in place of what `path` holds */
    size_t text_length;
    const char *stdin_name; /* the path that standard input stands for: its folder is where `use` looks */
    prill_read_file *read_file;
    void *reader;    /* handed to `read_file` */
    bool sealed;     /* no file of a plan is read from the disk; those not given are missing */
    bool parse_only; /* reads the form of the plan's own text: enough for prill_format, blind to the rest */

    /* Another file in place of one that the plan uses: "FILE" for the only one, "OLD=FILE" for the one named
     * OLD, both as they are written between the quotes of the plan's `use`. */
    const char *use;

    /* A treatment ("spring-feed", or a time of it, "fall-feed:2") supposed to fall on a day ("2027-05-01"):
     * prill_late then says what moves. The plan may have errors then that it does not have without. */
    const char *late, *late_day;

    /* The day to look from, "2027-04-17": a calendar as text or JSON shows what is overdue then, due and
     * next. */
    const char *day;

    /* A file, the calendar of an earlier edition as JSON: events that are gone since are cancelled in a
     * calendar file, and listed in JSON. Where none of them is left in the plan, prill_reason says so: it may
     * be the calendar of another plan. */
    const char *earlier;

    /* When the plan was last revised, in seconds since 1970-01-01 UTC, 0 to 7258118399 (the end of the year
     * 2199), for a calendar file; without it the edition's day counts. */
    bool stamped;
    long long stamp;

    prill_question *question;
    void *watcher; /* handed to `question` */
};

/* Compiles the plan in the file `path` ("-": standard input; only a name where options give the text).
 * `options` may be NULL. Always sets `*compilation`, NULL only when memory ran out at the very start.
 * PRILL_BAD_CALL where an option does not fit: prill_reason says why, prill_option names it; there are no
 * results then. */
PRILL_API enum prill_status prill_compile(const char *path, const struct prill_options *options,
                                          struct prill_compilation **compilation);

PRILL_API void prill_free(struct prill_compilation *compilation);

/* Of the newest call: after prill_compile the plan's, after prill_result the call's. */
PRILL_API enum prill_status prill_status(const struct prill_compilation *compilation);

/* Why the system failed, or why a call was bad; "" otherwise. */
PRILL_API const char *prill_reason(const struct prill_compilation *compilation);

/* The member of struct prill_options that did not fit, "day"; NULL where it was none of them. */
PRILL_API const char *prill_option(const struct prill_compilation *compilation);

/* Whether the file of that name is the plan or one that it uses, or would use if none stood in for another:
 * nothing may be written there. True, too, where memory ran out before that was known. */
PRILL_API bool prill_reads_file(const struct prill_compilation *compilation, const char *path);

/* ---- reports ---- */

enum prill_severity { PRILL_NOTE, PRILL_WARNING, PRILL_ERROR };

struct prill_position {
    size_t byte;           /* from the start of the text, from 0 */
    unsigned line;         /* from 1 */
    unsigned column;       /* from 1, in cells of a terminal, as reports are printed */
    unsigned utf16_column; /* from 1, in UTF-16 units, as editors count */
};

/* A stretch of text from its first byte to the one behind its last. */
struct prill_place {
    const char *path; /* as reports print it; "library/..." for what prill knows itself; NULL: no place */
    struct prill_position from, to;
};

struct prill_label {
    struct prill_place place;
    const char *words;
};

struct prill_edit {
    struct prill_place place;
    const char *replacement;
};

struct prill_report {
    enum prill_severity severity;
    const char *check;    /* its name, as `allow` and `prill explain` take it */
    const char *sentence; /* what was found, with its figures; no full stop */
    struct prill_place place;
    const char *place_words;          /* beside the place; NULL without */
    const struct prill_label *labels; /* further places that take part */
    size_t label_count;
    const char *const *notes;
    size_t note_count;
    const char *help;               /* the nearest change that would pass; NULL without */
    const char *fix;                /* what the edits do together; NULL without */
    bool fix_safe;                  /* false: it changes a dose, a day or a meaning; a person must judge it */
    const struct prill_edit *edits; /* of the fix; none of them overlap */
    size_t edit_count;
    const char *allowed_because; /* the reason of the `allow` that silences it; NULL: it counts */
};

/* How many there are of a severity, those not kept (more than a thousand) included, those allowed not. */
PRILL_API size_t prill_count(const struct prill_compilation *compilation, enum prill_severity severity);

/* The reports in the order of the text: the first for NULL, then the one after `report`; NULL at the end. */
PRILL_API const struct prill_report *prill_report_after(struct prill_compilation *compilation,
                                                        const struct prill_report *report);

/* The reports of `count` compilations as one document, "text", "json" (lines) or "sarif", which lives as long
 * as the first of them. NULL for another form, and for none. */
PRILL_API const char *prill_reports(struct prill_compilation *const *compilations, size_t count,
                                    const char *form, bool colour, size_t *length);

/* ---- results ---- */

/* A result ("calendar", "needs", ...; "explain" of the name `subject`, "day" of the date) in one of its
 * forms. NULL after an error in the plan (nothing is answered then), for an unknown form or subject, and for
 * the calendar of a file that states no season; prill_status says which, prill_reason why. */
PRILL_API const char *prill_result(struct prill_compilation *compilation, const char *result,
                                   const char *form, const char *subject, size_t *length);

/* The names that prill_result takes, ended by NULL, and the forms of one of them or of "compare", the usual
 * one first. */
PRILL_API const char *prill_result_name(size_t index);
PRILL_API const char *prill_result_form(const char *result, size_t index);

/* What changes from one plan to another, in one of the forms of "compare". Lives as long as `later`; NULL
 * where either has errors. */
PRILL_API const char *prill_compare(struct prill_compilation *earlier, struct prill_compilation *later,
                                    const char *form, size_t *length);

/* What moves from the plan to the same plan compiled with `late`, as text, or why that day cannot be. Lives
 * as long as `late`; NULL where the plan has errors or the call was bad. */
PRILL_API const char *prill_late(struct prill_compilation *compilation, struct prill_compilation *late,
                                 size_t *length);

/* ---- a plan that is being written ---- */

/* A text that changes piece by piece, as under somebody's hands in an editor, and is compiled when it is
 * asked about. What compiling took stays for the next time, so that it takes a part of the time that
 * compiling the same text from nothing takes; the result is the same. */
struct prill_document;

/* Begins with `options->text`, or with nothing where that is NULL; `path` and the other options as for
 * prill_compile, for each time it is compiled. All is copied, but what `reader` and `watcher` point to,
 * which must live on. PRILL_BAD_CALL without a path, for options of an unknown size and for a text of more
 * than PRILL_TEXT_LIMIT, PRILL_SYSTEM_FAILED where memory ran out; `*document` is NULL then. */
PRILL_API enum prill_status prill_document_open(const char *path, const struct prill_options *options,
                                                struct prill_document **document);

/* Puts `length` bytes of `text` in place of the `removed` bytes from byte `offset` on; takes no longer than
 * moving what is behind them. PRILL_BAD_CALL where the text has no such bytes or would pass PRILL_TEXT_LIMIT,
 * PRILL_SYSTEM_FAILED where memory ran out: the text is as it was before. The compilation of the text before
 * is void, with all that came from it, unless the call was bad. */
PRILL_API enum prill_status prill_document_edit(struct prill_document *document, size_t offset,
                                                size_t removed, const char *text, size_t length);

/* The text as it is now, compiled at the first call behind an edit: for reports, results and prill_format. It
 * is the document's until the next edit or prill_document_close, and not to be freed. Files that the plan
 * uses are read anew each time it is compiled. NULL where memory ran out at the very start. */
PRILL_API struct prill_compilation *prill_document_compilation(struct prill_document *document);

/* A document of NULL may be closed, and has no compilation. */
PRILL_API void prill_document_close(struct prill_document *document);

/* ---- its text ---- */

/* The plan's text as it was read; NULL when it was not. */
PRILL_API const char *prill_text(const struct prill_compilation *compilation, size_t *length);

/* The plan's text in its canonical layout; NULL when it has syntax errors. */
PRILL_API const char *prill_format(struct prill_compilation *compilation, size_t *length);

/* "0.1.0" */
PRILL_API const char *prill_version(void);

#ifdef __cplusplus
}
#endif

#endif
