#include "compiler/command/progress.h"

#include <poll.h>
#include <stdio.h>
#include <unistd.h>

enum { SILENCE_MS = 1000, INTERVAL_MS = 200 };

/* The stream's lock keeps the line from coming back before `progress_resume`. */
void progress_pause(struct progress *progress)
{
    flockfile(stderr);
    if (progress->shown)
        fprintf(stderr, "\r%*s\r", 40, "");
    progress->shown = false;
}

void progress_resume(void)
{
    funlockfile(stderr);
}

/* Waiting for the end of a pipe needs no clock, and ends at once when the work does. */
static void *show(void *given)
{
    struct progress *progress = given;
    struct pollfd end = {.fd = progress->ended[0], .events = POLLIN};
    for (int wait = SILENCE_MS; poll(&end, 1, wait) == 0; wait = INTERVAL_MS) {
        flockfile(stderr);
        fprintf(stderr, "\r%d of %d %s", atomic_load(&progress->done), progress->total, progress->what);
        progress->shown = true;
        funlockfile(stderr);
    }
    progress_pause(progress);
    progress_resume();
    return NULL;
}

/* What the system refuses is left out: the work goes on unseen. */
void progress_begin(struct progress *progress, int total, const char *what)
{
    *progress = (struct progress){.total = total, .what = what};
    if (!isatty(STDERR_FILENO) || pipe(progress->ended) != 0)
        return;
    progress->running = pthread_create(&progress->thread, NULL, show, progress) == 0;
    if (!progress->running) {
        close(progress->ended[0]);
        close(progress->ended[1]);
    }
}

void progress_end(struct progress *progress)
{
    if (!progress->running)
        return;
    close(progress->ended[1]);
    pthread_join(progress->thread, NULL);
    close(progress->ended[0]);
}
