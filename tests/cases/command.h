/* Runs one shell command of a case: what it printed and how it ended, within a time and a size. */
#ifndef PRILL_CASES_COMMAND_H
#define PRILL_CASES_COMMAND_H

#include <stdbool.h>
#include <stddef.h>

/* Owned bytes, ended by a NUL that is not counted; give back with free(bytes.start). */
struct bytes {
    char *start;
    size_t length, capacity;
};

void bytes_add(struct bytes *bytes, const char *start, size_t length);
void bytes_format(struct bytes *bytes, const char *format, ...) __attribute__((format(printf, 2, 3)));
bool bytes_equal(const struct bytes *a, const struct bytes *b);

/* False when there is no such file or it cannot be read. */
bool bytes_read(struct bytes *bytes, const char *path);
bool bytes_write(const struct bytes *bytes, const char *path);

struct outcome {
    struct bytes output; /* standard output and standard error, as they came */
    int status;          /* as the shell tells it: 128 + n after signal n */
    bool late;           /* ran out of time and was ended */
    bool flood;          /* printed more than OUTPUT_LIMIT and was ended */
};

enum { OUTPUT_LIMIT = 32 * 1024 * 1024 };

/* Runs `script` with sh in `folder`, standard input empty. May be called from several threads. */
struct outcome command_run(const char *folder, const char *script, int limit_seconds);

/* Why the outcome is a failure whatever was expected; NULL when it is not. */
const char *outcome_fault(const struct outcome *outcome);

#endif
