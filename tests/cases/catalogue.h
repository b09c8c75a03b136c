/* The cases that stand in the folders: which files there are, and what each is to be compared with. */
#ifndef PRILL_CASES_CATALOGUE_H
#define PRILL_CASES_CATALOGUE_H

#include <stddef.h>

/* How an expected file is compared. */
enum form {
    FORM_SESSION, /* commands, each followed by what it printed and its exit status */
    FORM_REPORT,  /* all that one command printed, then its exit status */
    FORM_OUTPUT   /* the standard output of one command that ends with status 0 */
};

struct kind {
    const char *name; /* the ending of the file, up to the first '-' */
    enum form form;
    const char
        *command; /* the program's words before the plan and, from the rest of the ending, the argument; the
                     plan comes on the standard input where the last word is "-". NULL for a session. */
};

/* One expected file. All strings are kept until the program ends. */
struct item {
    const char *folder; /* of the group */
    const char *label;  /* "GROUP/NAME.KIND", as it is spoken of */
    const char *name;
    const char *argument; /* "" when the ending has none */
    const struct kind *kind;
    const char *fault; /* what is wrong with the file itself; NULL for a case that can run */
};

struct catalogue {
    struct item *items;
    size_t count, capacity;
};

/* In byte order of group and name. Faults of the folders (no expectation, no plan, an unknown ending) are
 * items. */
struct catalogue catalogue_of(const char *cases_folder);

#endif
