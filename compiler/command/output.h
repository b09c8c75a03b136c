/* Bytes that leave the program: all of them, or a message and status 3. */
#ifndef PRILL_COMMAND_OUTPUT_H
#define PRILL_COMMAND_OUTPUT_H

#include "compiler/prill.h"

/* On standard output. A reader that has gone away is no news to anybody: status 3 without a message. */
enum prill_status output_print(const char *text, size_t length);

/* Into a file, which afterwards holds either all of it or what it held before: written beside it, then
 * renamed. That holds even if the machine stops: the bytes are on the disk before the name is theirs. A
 * device or pipe is written as it is. Follows symbolic links; keeps the mode of a file that is there. */
enum prill_status output_write(const char *path, const char *text, size_t length);

/* Whether colour is wanted on a descriptor, by --color (NULL without) and the environment. */
bool output_coloured(int descriptor, const char *option);

/* The greater: the worst that happened. */
enum prill_status status_worst(enum prill_status a, enum prill_status b);

#endif
