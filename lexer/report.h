/* What is wrong, where, by which rule, and what would mend it. */
#ifndef PRILL_LEXER_REPORT_H
#define PRILL_LEXER_REPORT_H

#include "lexer/source.h"

enum severity { SEVERITY_NOTE, SEVERITY_WARNING, SEVERITY_ERROR };
const char *
severity_name(enum severity severity); /* "note", "warning", "error", as people and SARIF call them */

/* What a report is an instance of. Rows of the rooms' rule tables; a name keeps its meaning for ever. */
struct rule {
    const char *name; /* what `allow`, `prill checks` and `prill explain` call it: "label-rate-high" */
    enum severity severity;
    const char *sentence;    /* what it watches over, one line */
    const char *explanation; /* why, and how to mend it */
    const char *source;      /* where the rule comes from; NULL for rules of the language itself */
};

/* A further place that takes part, with what it has to say ("the limit stands here"). */
struct label {
    struct place place;
    const char *text;
};

/* Bytes [place.start, place.end) become `replacement`; start == end inserts. */
struct edit {
    struct place place;
    const char *replacement;
};

/* A fix that is not `safe` changes a dose, a date or a meaning, and is for a person to judge. */
struct fix {
    const char *sentence;
    bool safe;
    size_t edit_count;
    struct edit edits[2];
};

struct report {
    const struct rule *rule;
    enum severity severity;
    const char *sentence; /* fact first: what was found, with numbers; no full stop */
    struct place place;
    const char *place_label; /* under the caret; may be NULL */
    VECTOR(struct label) labels;
    VECTOR(const char *) notes;  /* facts; printed as "note:" */
    const char *help;            /* the nearest change that would pass; NULL when there is none */
    struct fix *fix;             /* NULL when there is none */
    const char *allowed_because; /* set when an `allow` statement silences it */
    struct place allowed_at;
    uint32_t order; /* of being made; keeps sorting stable */
};

struct reports {
    struct arena *arena;
    VECTOR(struct report *) all;
    size_t errors, warnings, notes, allowed; /* kept by report_add and report_allow */
    bool flooded; /* more than REPORT_LIMIT of one severity: the rest was not kept (but was counted) */
    size_t kept[SEVERITY_ERROR + 1]; /* of each severity; notes never crowd out an error */
    struct report *scratch;          /* handed out in place of those not kept */
    VECTOR(struct place) allowing; /* the `allow` statements that covered a report, kept or not, each once */
};

enum { REPORT_LIMIT = 1000 }; /* of one severity */

void reports_init(struct reports *reports, struct arena *arena);

/* Adds a report and returns it for the caller to furnish with labels, notes, help and a fix.
 * Never NULL; after REPORT_LIMIT of its severity it returns one that is counted and not kept, the same every
 * time. */
struct report *report_vadd(struct reports *reports, const struct rule *rule, struct place place,
                           const char *format, va_list arguments) __attribute__((format(printf, 4, 0)));
struct report *report_add(struct reports *reports, const struct rule *rule, struct place place,
                          const char *format, ...) __attribute__((format(printf, 4, 5)));
void report_label(struct reports *reports, struct report *report, struct place place, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
void report_note(struct reports *reports, struct report *report, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void report_help(struct reports *reports, struct report *report, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* `replacement` and `sentence` are kept, not copied. A second call adds the second edit: the fix is safe when
 * both edits are, and the first sentence stands (the second may be NULL). */
void report_fix(struct reports *reports, struct report *report, bool safe, struct place place,
                const char *replacement, const char *sentence);

/* Silences a report: it leaves the count of its severity and joins `allowed`. `because` is kept, not copied;
 * the first `allow` stands. */
void report_allow(struct reports *reports, struct report *report, const char *because, struct place at);
/* Whether report_allow was called with this place, be it as the second of a report. */
bool reports_allowed_by(const struct reports *reports, struct place at);

/* Takes back the notes among those from index `first` of `all` on, kept or not, except those allowed. */
void reports_drop_notes(struct reports *reports, size_t first);

/* An error that the plan itself owns up to becomes a warning. Nothing else is softened. */
void report_soften(struct reports *reports, struct report *report);

/* By source, then start of the place, then order of being made; reports without a source come last. */
void reports_sort(struct reports *reports);

#endif
