/* Runs a command several times and prints the median wall time in seconds, the largest resident memory in
 * KiB, and the exit status: `measure RUNS COMMAND [ARGUMENT...]`. Output of the command is dropped. */
#define _DEFAULT_SOURCE /* wait4: the usage of one child, not of all together */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + (double)time.tv_nsec * 1e-9;
}

static _Noreturn void become(char **command)
{
    int null = open("/dev/null", O_RDWR);
    if (null >= 0) {
        dup2(null, STDIN_FILENO);
        dup2(null, STDOUT_FILENO);
        dup2(null, STDERR_FILENO);
    }
    execvp(command[0], command);
    _exit(127);
}

/* From the fork to the end of the process. -1 when the system refuses. */
static int run_once(char **command, double *seconds, long *kib)
{
    struct rusage usage;
    int status;
    double start = now();
    pid_t child = fork();
    if (child < 0)
        return -1;
    if (child == 0)
        become(command);
    while (wait4(child, &status, 0, &usage) < 0)
        if (errno != EINTR)
            return -1;
    *seconds = now() - start;
    *kib = usage.ru_maxrss;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

static int by_size(const void *a, const void *b)
{
    double first = *(const double *)a, second = *(const double *)b;
    return (first > second) - (first < second);
}

enum { RUNS = 1000 };

int main(int count, char **arguments)
{
    int runs = count > 2 ? (int)strtol(arguments[1], NULL, 10) : 0;
    double seconds[RUNS];
    long most = 0;
    int status = 0;
    if (runs < 1 || runs > RUNS) {
        fputs("usage: measure RUNS COMMAND [ARGUMENT...]\n", stderr);
        return 2;
    }
    for (int i = 0; i < runs; i++) {
        long kib;
        status = run_once(arguments + 2, &seconds[i], &kib);
        if (status < 0 || status > 125)
            return 1;
        most = kib > most ? kib : most;
    }
    qsort(seconds, (size_t)runs, sizeof *seconds, by_size);
    printf("%.6f %ld %d\n", seconds[runs / 2], most, status);
    return 0;
}
