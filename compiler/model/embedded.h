/* The library's plan files, built into the program. The build writes the definitions from plans/library/. */
#ifndef PRILL_MODEL_EMBEDDED_H
#define PRILL_MODEL_EMBEDDED_H

#include <stddef.h>

/* A statement that begins a line of its file: "grass tall-fescue", "acidity of urea". */
struct embedded_entry {
    const char *word, *name; /* the name is "" where none follows */
    size_t file;
    size_t start, end; /* in the file: of its line, and of the line of the next entry */
};

struct embedded_file {
    const char *path;           /* "library/NAME.prill" */
    const unsigned char *bytes; /* followed by one NUL that is not counted */
    size_t length;
};

/* In byte order of the names, and entries as they follow each other. The counts may be 0; what is behind the
 * last is all zero. */
extern const struct embedded_file embedded_files[];
extern const size_t embedded_file_count;
extern const struct embedded_entry embedded_entries[];
extern const size_t embedded_entry_count;

#endif
