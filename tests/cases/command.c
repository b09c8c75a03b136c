#include "tests/cases/command.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

/* The program's own statuses end here (0 fine, 1 the plan, 2 the call, 3 the system): beyond is a crash, a
 * sanitizer's or valgrind's word (99), or the shell's about a missing program (126, 127) or a signal. */
enum { LARGEST_STATUS = 3 };

static _Noreturn void fail(const char *what)
{
    fprintf(stderr, "cases: %s: %s\n", what, strerror(errno));
    exit(3);
}

static void bytes_reserve(struct bytes *bytes, size_t more)
{
    size_t wanted = bytes->length + more + 1;
    if (wanted <= bytes->capacity)
        return;
    size_t capacity = wanted < 4096 ? 4096 : wanted * 2;
    char *start = realloc(bytes->start, capacity);
    if (!start)
        fail("memory");
    bytes->start = start;
    bytes->capacity = capacity;
}

void bytes_add(struct bytes *bytes, const char *start, size_t length)
{
    bytes_reserve(bytes, length);
    memcpy(bytes->start + bytes->length, start, length);
    bytes->length += length;
    bytes->start[bytes->length] = '\0';
}

void bytes_format(struct bytes *bytes, const char *format, ...)
{
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    if (length < 0)
        fail("format");
    bytes_reserve(bytes, (size_t)length);
    vsnprintf(bytes->start + bytes->length, (size_t)length + 1, format, arguments);
    va_end(arguments);
    bytes->length += (size_t)length;
}

bool bytes_equal(const struct bytes *a, const struct bytes *b)
{
    return a->length == b->length && (a->length == 0 || memcmp(a->start, b->start, a->length) == 0);
}

bool bytes_read(struct bytes *bytes, const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return false;
    char piece[16384];
    size_t got;
    while ((got = fread(piece, 1, sizeof piece, file)) > 0)
        bytes_add(bytes, piece, got);
    bool read = !ferror(file);
    fclose(file);
    return read;
}

bool bytes_write(const struct bytes *bytes, const char *path)
{
    FILE *file = fopen(path, "wb");
    if (!file)
        return false;
    bool written = bytes->length == 0 || fwrite(bytes->start, 1, bytes->length, file) == bytes->length;
    return fclose(file) == 0 && written;
}

static _Noreturn void become_shell(const char *folder, const char *script, int output)
{
    setpgid(0, 0);
    int empty = open("/dev/null", O_RDONLY);
    if (empty < 0 || dup2(empty, 0) < 0 || dup2(output, 1) < 0 || dup2(output, 2) < 0 || chdir(folder) != 0)
        _exit(126);
    close(empty);
    execl("/bin/sh", "sh", "-c", script, (char *)NULL);
    _exit(127);
}

/* Returns the child; `output` is the end to read from. */
static pid_t start_shell(const char *folder, const char *script, int *output)
{
    /* One at a time: a child started by another thread between pipe() and fcntl() would hold the pipe open.
     */
    static pthread_mutex_t starting = PTHREAD_MUTEX_INITIALIZER;
    int ends[2];
    pthread_mutex_lock(&starting);
    if (pipe(ends) != 0)
        fail("pipe");
    fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    pid_t child = fork();
    if (child == 0)
        become_shell(folder, script, ends[1]);
    if (child < 0)
        fail("fork");
    close(ends[1]);
    pthread_mutex_unlock(&starting);
    *output = ends[0];
    return child;
}

static long milliseconds_now(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (long)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static void collect(struct outcome *outcome, int output, long deadline)
{
    char piece[16384];
    while (!outcome->late && !outcome->flood) {
        long left = deadline - milliseconds_now();
        struct pollfd waiting = {.fd = output, .events = POLLIN};
        if (left <= 0 || poll(&waiting, 1, (int)left) == 0) {
            outcome->late = true;
            return;
        }
        ssize_t got = read(output, piece, sizeof piece);
        if (got == 0)
            return;
        if (got > 0)
            bytes_add(&outcome->output, piece, (size_t)got);
        else if (errno != EINTR)
            fail("read");
        outcome->flood = outcome->output.length > OUTPUT_LIMIT;
    }
}

/* A shell that closed its output may still run: it gets the rest of its time. It is only looked at, so that
 * its number stays taken until its whole group has been ended. */
static void await(struct outcome *outcome, pid_t child, long deadline)
{
    siginfo_t ended = {.si_pid = 0};
    while (!outcome->late && !outcome->flood) {
        if (waitid(P_PID, (id_t)child, &ended, WEXITED | WNOHANG | WNOWAIT) == 0 && ended.si_pid == child)
            break;
        nanosleep(&(struct timespec){.tv_nsec = 200000}, NULL);
        outcome->late = milliseconds_now() > deadline;
    }
    int status = 0;
    kill(-child, SIGKILL);
    waitpid(child, &status, 0);
    outcome->status = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

struct outcome command_run(const char *folder, const char *script, int limit_seconds)
{
    struct outcome outcome = {.status = 0};
    int output;
    long deadline = milliseconds_now() + limit_seconds * 1000L;
    pid_t child = start_shell(folder, script, &output);
    bytes_add(&outcome.output, "", 0);
    collect(&outcome, output, deadline);
    await(&outcome, child, deadline);
    close(output);
    return outcome;
}

const char *outcome_fault(const struct outcome *outcome)
{
    if (outcome->late)
        return "ran out of time";
    if (outcome->flood)
        return "printed without end";
    if (outcome->status > LARGEST_STATUS)
        return "crashed, or ended with a status above 3";
    return NULL;
}
