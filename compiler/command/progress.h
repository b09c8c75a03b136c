/* A line on the terminal that shows that long work goes on: after a second, on standard error, gone when the
 * work ends. Only a terminal gets it: standard error as a file or a pipe stays empty. */
#ifndef PRILL_COMMAND_PROGRESS_H
#define PRILL_COMMAND_PROGRESS_H

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>

struct progress {
    atomic_int done; /* whoever works counts here */
    int total;
    const char *what; /* "files" */
    bool running;
    bool shown;   /* the line is on the terminal; under the lock of standard error */
    int ended[2]; /* a pipe, closed when the work ends */
    pthread_t thread;
};

void progress_begin(struct progress *progress, int total, const char *what);
void progress_end(struct progress *progress);

/* Around whatever else is written on standard error meanwhile: takes the line away, and lets it come back. */
void progress_pause(struct progress *progress);
void progress_resume(void);

#endif
