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
        int questions = atomic_load(&progress->questions);
        if (!questions && !progress->files)
            continue;
        progress_pause(progress);
        if (questions)
            fprintf(stderr, "\rquestion %d of %d", atomic_load(&progress->question), questions);
        else
            fprintf(stderr, "\r%d of %d files", atomic_load(&progress->files_done), progress->files);
        progress->shown = true;
        progress_resume();
    }
    progress_pause(progress);
    progress_resume();
    return NULL;
}

/* What the system refuses is left out: the work goes on unseen. */
void progress_begin(struct progress *progress, int files)
{
    *progress = (struct progress){.files = files};
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

static void count_question(void *watcher, size_t question, size_t questions)
{
    struct progress *progress = watcher;
    atomic_store(&progress->question, (int)question);
    atomic_store(&progress->questions, (int)questions);
}

void progress_watch(struct progress *progress, struct prill_options *options)
{
    options->question = count_question;
    options->watcher = progress;
}
