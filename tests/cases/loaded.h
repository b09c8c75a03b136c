/* A program that is loaded once and asked again and again (tests/served.c): most cases are small, and
 * starting the program for each takes ten times as long as the case. */
#ifndef PRILL_CASES_LOADED_H
#define PRILL_CASES_LOADED_H

#include "tests/cases/command.h"

#include <sys/types.h>

/* Belongs to one thread; all zero before the first call. Give back with loaded_end. */
struct loaded {
    pid_t process; /* 0: not loaded */
    int socket;
};

/* What is loaded, for all threads. */
struct loading {
    char *program;      /* its whole path */
    const char *folder; /* where the library that is laid under it lies */
    char **environment; /* as loading_environment makes it */
};

/* The caller's, and what lays `library`, by its name in its folder, under the program. */
char **loading_environment(const char *library);

struct question {
    const char *folder;
    const char *words; /* of the command line, the program's name first, between blanks */
    const struct bytes *input;
    bool merged; /* errors go where the output goes; else they are in the outcome only where the status is not
                    0, behind the output */
};

/* Calls the program, which is loaded first where it is not, or no longer. */
struct outcome loaded_run(struct loaded *loaded, const struct loading *loading,
                          const struct question *question, int limit_seconds);
void loaded_end(struct loaded *loaded);

#endif
