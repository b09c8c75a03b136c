/* Laid under the program (LD_PRELOAD), it calls the program's main once for each request instead of once: a
 * test that asks about hundreds of plans pays once for loading, which costs more than a small plan. What runs
 * is the program's own file. It keeps nothing from one call to the next (tests/reference/served.check
 * compares with processes started one by one); when it dies, so does the server, and the other end sees how.
 *
 * The environment variable SERVED names the descriptor of a connected socket. A request is a `struct request`
 * with its three texts behind it; the answer is a `struct answer` and what was printed.
 * tests/reference/served.py is the other end.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

struct request {
    uint32_t words;  /* bytes of the command line, each word with its NUL */
    uint32_t folder; /* bytes of the folder to run in */
    uint32_t input;  /* bytes on the standard input */
    uint32_t merged; /* not 0: errors go where the output goes */
};

struct answer {
    int32_t status; /* that main returned */
    uint32_t output, errors;
};

typedef int main_function(int, char **, char **);
typedef int start_function(main_function *, int, char **, void (*)(void), void (*)(void), void (*)(void),
                           void *);
start_function __libc_start_main;

static main_function *program;
enum { WORDS = 4096, UNSERVED = 97 };

static bool receive(int from, void *bytes, size_t count)
{
    for (char *next = bytes; count > 0;) {
        ssize_t got = read(from, next, count);
        if (got <= 0)
            return false;
        next += got;
        count -= (size_t)got;
    }
    return true;
}

static void deliver(int to, const void *bytes, size_t count)
{
    for (const char *next = bytes; count > 0;) {
        ssize_t put = write(to, next, count);
        if (put <= 0)
            _exit(UNSERVED);
        next += put;
        count -= (size_t)put;
    }
}

/* A text of the request, with a NUL behind it. */
static char *text_received(int from, size_t count)
{
    char *text = malloc(count + 1);
    if (!text || !receive(from, text, count))
        _exit(UNSERVED);
    text[count] = '\0';
    return text;
}

/* What was written to a file in memory, sent on. */
static void file_deliver(int to, int file, size_t count)
{
    void *bytes = count > 0 ? mmap(NULL, count, PROT_READ, MAP_SHARED, file, 0) : NULL;
    if (bytes == MAP_FAILED)
        _exit(UNSERVED);
    deliver(to, bytes, count);
    if (bytes)
        munmap(bytes, count);
}

/* The standard streams become files in memory and the program's main is called. */
static struct answer run(const struct request *request, char *words, const char *folder, const char *input,
                         char **environment)
{
    static char *arguments[WORDS + 1];
    int count = 0;
    for (char *word = words; word < words + request->words && count < WORDS; word += strlen(word) + 1)
        arguments[count++] = word;
    arguments[count] = NULL;
    int files[3] = {memfd_create("input", MFD_CLOEXEC), memfd_create("output", MFD_CLOEXEC), -1};
    files[2] = request->merged ? files[1] : memfd_create("errors", MFD_CLOEXEC);
    deliver(files[0], input, request->input);
    lseek(files[0], 0, SEEK_SET);
    for (int stream = 0; stream < 3; stream++)
        if (dup2(files[stream], stream) < 0)
            _exit(UNSERVED);
    for (int stream = 0; stream < (request->merged ? 2 : 3); stream++)
        close(files[stream]);
    if (chdir(folder) != 0)
        _exit(UNSERVED);
    clearerr(stdin);
    int status = program(count, arguments, environment);
    fflush(NULL);
    return (struct answer){
        .status = status & 0xff,
        .output = (uint32_t)lseek(STDOUT_FILENO, 0, SEEK_END),
        .errors = request->merged ? 0 : (uint32_t)lseek(STDERR_FILENO, 0, SEEK_END),
    };
}

static int serve(int argc, char **argv, char **environment)
{
    (void)argc, (void)argv;
    int socket = atoi(getenv("SERVED"));
    fcntl(socket, F_SETFD, FD_CLOEXEC);
    unsetenv("LD_PRELOAD");
    unsetenv("SERVED");
    struct request request;
    while (receive(socket, &request, sizeof request)) {
        char *words = text_received(socket, request.words), *folder = text_received(socket, request.folder);
        char *input = text_received(socket, request.input);
        struct answer answer = run(&request, words, folder, input, environment);
        deliver(socket, &answer, sizeof answer);
        file_deliver(socket, STDOUT_FILENO, answer.output);
        file_deliver(socket, STDERR_FILENO, answer.errors);
        free(words);
        free(folder);
        free(input);
    }
    _exit(0);
}

/* The C library starts every program by this; where there is nothing to serve, as it would have. */
int __libc_start_main(main_function *main, int argc, char **argv, void (*init)(void), void (*fini)(void),
                      void (*loader_fini)(void), void *stack_end)
{
    start_function *start;
    void *found = dlsym(RTLD_NEXT, "__libc_start_main");
    memcpy(&start, &found, sizeof start);
    program = main;
    return start(getenv("SERVED") ? serve : main, argc, argv, init, fini, loader_fini, stack_end);
}
