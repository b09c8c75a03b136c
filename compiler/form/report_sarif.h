/* Reports as one log in the Static Analysis Results Interchange Format, SARIF 2.1.0 (OASIS Standard). */
#ifndef PRILL_FORM_REPORT_SARIF_H
#define PRILL_FORM_REPORT_SARIF_H

#include "lexer/report.h"

/* The log of the reports of many plans, none of which need live on once it is added. Allowed reports are
 * results with a suppression.
 * Only safe fixes become `fixes`: the format cannot say that a fix is for a person to judge, and a tool that
 * applies all it finds must not change a dose. The others are told in the message. Partial fingerprint
 * primaryLocationLineHash: rule, path and line without its blanks, then the count of its like. */
struct sarif_log {
    struct arena *arena;
    struct buffer results;             /* as they will stand in the log */
    VECTOR(const struct rule *) rules; /* those that occur, in the order of their first report */
    struct line_count {                /* of equal fingerprints; a table by hash, 0: free */
        uint64_t hash;
        size_t count;
    } * lines;
    size_t line_room, line_used; /* the room a power of two, at most half of it used */
    bool flooded;
};
/* `scratch` holds what is needed on the way; it may be rewound after. */
void sarif_log_add(struct sarif_log *log, struct arena *scratch, const struct reports *reports);
/* Appends the whole log. `version` is the program's. */
void sarif_log_print(struct buffer *out, const struct sarif_log *log, const char *version);

#endif
