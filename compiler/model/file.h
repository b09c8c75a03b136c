/* Files of the system: opened within a folder, read whole, never beyond a limit. */
#ifndef PRILL_MODEL_FILE_H
#define PRILL_MODEL_FILE_H

#include "lexer/text.h"

#include <sys/stat.h>

enum { FILE_NAME_LIMIT = 255 }; /* bytes of a name in a folder that is looked at for a suggestion */

/* Opens for reading and tells what was opened, by the descriptor. A descriptor, or -1 with errno. */
int file_open(const char *path, struct stat *status);

/* The same for `within`, names parted by '/', below `folder` ("" for the current one). No name but those of
 * `folder` itself may be a symbolic link: then errno is ELOOP. Opening a pipe does not wait for its other
 * end. */
int file_open_within(const char *folder, const char *within, struct stat *status);

/* Reads to the end. NULL when read, with a NUL behind the last byte; otherwise why not, for a person. A text
 * longer than SOURCE_LIMIT is refused. Leaves the descriptor open, except when memory ends: then it is
 * closed, if `owned`, on the way out. */
const char *file_read(struct arena *arena, int descriptor, bool owned, const struct stat *status,
                      const unsigned char **bytes, uint32_t *length);

/* What an errno means for somebody who named a file. */
const char *file_reason(int error);

/* The name in `folder` that is nearest to a name that is not there; NULL when none is near. */
const char *file_nearest(struct arena *arena, const char *folder, struct text name);

#endif
