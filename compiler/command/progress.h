/* A line on the terminal that shows that long work goes on: after a second, on standard error, gone when the
 * work ends. Only a terminal gets it: standard error as a file or a pipe stays empty. */
#ifndef PRILL_COMMAND_PROGRESS_H
#define PRILL_COMMAND_PROGRESS_H

#include "compiler/prill.h"

#include <pthread.h>
#include <stdatomic.h>

struct progress {
    atomic_int files_done; /* whoever works counts here */
    int files;
    atomic_int question, questions; /* about rates, of the one plan that is watched; 0 till it has some */
    bool running;
    bool shown;   /* the line is on the terminal; under the lock of standard error */
    int ended[2]; /* a pipe, closed when the work ends */
    pthread_t thread;
};

/* "3 of 40 files", or "question 3 of 12" once a plan that is watched has a question; before that, with 0
 * files, nothing. */
void progress_begin(struct progress *progress, int files);
void progress_end(struct progress *progress);

/* A plan compiled with these options counts its questions about rates here. */
void progress_watch(struct progress *progress, struct prill_options *options);

/* Around whatever else is written on standard error meanwhile: takes the line away, and lets it come back. */
void progress_pause(struct progress *progress);
void progress_resume(void);

#endif
