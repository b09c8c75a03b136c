/* Inside the room: the files of a compilation as include.c keeps them and used_file.c adds to them. */
#ifndef PRILL_MODEL_SOURCE_FILES_H
#define PRILL_MODEL_SOURCE_FILES_H

#include "compiler/model/include.h"

#include <sys/stat.h>

struct file {
    struct source source; /* first: a source of a plan is a file */
    const char *within;   /* path below the plan's folder; NULL for the library */
    uint32_t depth;       /* of uses; 0 for the plan */
};

/* What the system calls a file. The plan can have two: standard input and the name it was given. */
struct identity {
    dev_t device;
    ino_t inode;
    const struct file *file;
};

struct sources {
    struct arena *arena;
    const char *folder; /* of the plan, with its last slash; "" for the current one */
    bool sealed;
    source_reader *read; /* NULL without */
    void *reader;
    VECTOR(struct file *) files;
    VECTOR(struct identity) identities;
    struct replacement replacement;
    size_t used;    /* how many files were used */
    uint64_t bytes; /* of the plan and the files it uses */
    struct file **library;
};

/* Adds a file with a copy of this source, whose bytes live as long as the arena; lines that are not known are
 * looked for. `within` is its path below the plan's folder; NULL for the library. */
struct file *file_add(struct sources *sources, const struct source *source, const char *within);

/* What the system calls a regular file is kept: of what was opened, or of what lies at its path (NULL), if
 * anything does. */
void file_identify(struct sources *sources, const struct file *file, const struct stat *opened);
/* The file found by that; NULL where it is a new one. */
const struct file *file_identified(const struct sources *sources, const struct stat *status);

/* Of "green/lawn.prill" the length of "green/". */
size_t path_folder_length(const char *path);

#endif
