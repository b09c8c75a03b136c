/* The library's plan files, built into the program. The build writes the definitions from plans/library/. */
#ifndef PRILL_MODEL_EMBEDDED_H
#define PRILL_MODEL_EMBEDDED_H

#include <stddef.h>

/* A statement that begins a line of its file: "grass tall-fescue". */
struct embedded_entry {
    const char *word, *name; /* the name is "" where none follows */
};

struct embedded_file {
    const char *path;           /* "library/NAME.prill" */
    const unsigned char *bytes; /* followed by one NUL that is not counted */
    size_t length;
    const struct embedded_entry *entries;
    size_t entry_count;
};

/* In byte order of the names. The count may be 0; the entry after the last is all zero. */
extern const struct embedded_file embedded_files[];
extern const size_t embedded_file_count;

#endif
