#include "tests/cases/loaded.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

/* Where the loaded program finds its end of the socket, and what else it is started with: memory that is kept
 * between calls. */
enum { SOCKET = 3 };
static char *const added[] = {"SERVED=3", "LD_BIND_NOW=1", "MALLOC_MMAP_THRESHOLD_=268435456",
                              "MALLOC_TRIM_THRESHOLD_=268435456"};
enum { ADDED = sizeof added / sizeof *added };

extern char **environ;

static _Noreturn void fail(const char *what)
{
    fprintf(stderr, "cases: %s\n", what);
    exit(3);
}

char **loading_environment(const char *library)
{
    size_t count = 0;
    while (environ[count])
        count++;
    char **environment = calloc(count + ADDED + 2, sizeof *environment);
    struct bytes preload = {0};
    const char *slash = strrchr(library, '/');
    bytes_format(&preload, "LD_PRELOAD=./%s", slash ? slash + 1 : library);
    if (!environment)
        fail("memory");
    memcpy(environment, environ, count * sizeof *environment);
    for (size_t i = 0; i < ADDED; i++)
        environment[count + i] = added[i];
    environment[count + ADDED] = preload.start;
    return environment;
}

static void load(struct loaded *loaded, const struct loading *loading)
{
    int ends[2];
    if (socketpair(AF_UNIX, SOCK_STREAM, 0, ends) != 0)
        fail("socketpair");
    fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    char *words[] = {loading->program, NULL};
    pid_t child = fork();
    if (child == 0) {
        /* Output without end is then an error of writing. */
        struct rlimit most = {OUTPUT_LIMIT, OUTPUT_LIMIT};
        setrlimit(RLIMIT_FSIZE, &most);
        /* A descriptor that is in its place already would keep its mark to be closed. */
        if (ends[1] == SOCKET ? fcntl(SOCKET, F_SETFD, 0) : dup2(ends[1], SOCKET) < 0)
            _exit(126);
        /* The library is named without its folder: the loader takes a blank in it for the end of a name. */
        if (chdir(loading->folder) != 0)
            _exit(126);
        execve(loading->program, words, loading->environment);
        _exit(127);
    }
    if (child < 0)
        fail("fork");
    close(ends[1]);
    *loaded = (struct loaded){.process = child, .socket = ends[0]};
}

/* The shell's number for how it ended. */
static int unload(struct loaded *loaded)
{
    int status = 0;
    close(loaded->socket);
    waitpid(loaded->process, &status, 0);
    loaded->process = 0;
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

void loaded_end(struct loaded *loaded)
{
    if (loaded->process)
        unload(loaded);
}

static bool put(int to, const void *bytes, size_t count)
{
    for (const char *next = bytes; count > 0;) {
        ssize_t sent = send(to, next, count, MSG_NOSIGNAL);
        if (sent <= 0)
            return false;
        next += sent;
        count -= (size_t)sent;
    }
    return true;
}

static long milliseconds_until(const struct timespec *deadline)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (long)(deadline->tv_sec - now.tv_sec) * 1000 + (deadline->tv_nsec - now.tv_nsec) / 1000000;
}

/* False when the other end has gone, or with `late` set the time has. */
static bool get(int from, void *bytes, size_t count, const struct timespec *deadline, bool *late)
{
    for (char *next = bytes; count > 0;) {
        long left = milliseconds_until(deadline);
        struct pollfd waiting = {.fd = from, .events = POLLIN};
        *late = left <= 0 || poll(&waiting, 1, (int)left) == 0;
        ssize_t got = *late ? 0 : read(from, next, count);
        if (got <= 0)
            return false;
        next += got;
        count -= (size_t)got;
    }
    return true;
}

static bool get_text(int from, struct bytes *text, size_t count, const struct timespec *deadline, bool *late)
{
    char *piece = malloc(count + 1);
    if (!piece)
        fail("memory");
    bool whole = get(from, piece, count, deadline, late);
    if (whole)
        bytes_add(text, piece, count);
    free(piece);
    return whole;
}

/* The request and the answer are as tests/served.c has them. A program that dies, or must be ended, takes
 * with it what it printed. */
struct outcome loaded_run(struct loaded *loaded, const struct loading *loading,
                          const struct question *question, int limit_seconds)
{
    struct outcome outcome = {.status = 0};
    struct timespec deadline;
    clock_gettime(CLOCK_MONOTONIC, &deadline);
    deadline.tv_sec += limit_seconds;
    if (!loaded->process)
        load(loaded, loading);
    struct bytes words = {0};
    bytes_add(&words, question->words, strlen(question->words) + 1);
    for (char *blank = words.start; (blank = strchr(blank, ' ')) != NULL;)
        *blank++ = '\0';
    uint32_t request[4] = {(uint32_t)words.length, (uint32_t)strlen(question->folder),
                           (uint32_t)question->input->length, question->merged};
    struct {
        int32_t status;
        uint32_t output, errors;
    } answer;
    struct bytes errors = {0};
    bytes_add(&outcome.output, "", 0);
    if (put(loaded->socket, request, sizeof request) && put(loaded->socket, words.start, words.length) &&
        put(loaded->socket, question->folder, request[1]) &&
        put(loaded->socket, question->input->start, question->input->length) &&
        get(loaded->socket, &answer, sizeof answer, &deadline, &outcome.late) &&
        get_text(loaded->socket, &outcome.output, answer.output, &deadline, &outcome.late) &&
        get_text(loaded->socket, &errors, answer.errors, &deadline, &outcome.late)) {
        outcome.status = answer.status;
        if (answer.status != 0)
            bytes_add(&outcome.output, errors.start, errors.length);
    } else {
        kill(loaded->process, SIGKILL);
        outcome.status = unload(loaded);
    }
    free(words.start);
    free(errors.start);
    return outcome;
}
