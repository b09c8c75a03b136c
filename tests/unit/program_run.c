#include "tests/unit/program_run.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

const char plan_text[] = "plan \"Test\"\n"
                         "edition 1 on 2027-02-20\n"
                         "season 2027-03-01 to 2027-11-20\n"
                         "lawn green { zone north area 100 sqft }\n"
                         "task mow {\n"
                         "    to north\n"
                         "    when on Apr 2\n"
                         "}\n";

const char bad_plan_text[] = "plan \"Test\"\nseason 2027-03-01 to 2027-11-20\nlawm green { }\n";

const struct surroundings ordinary = {USUAL, USUAL, 0, 0};

const char *program(void)
{
    static char path[4096];
    const char *given = getenv("PRILL") ? getenv("PRILL") : "build/prill";
    if (!*path && given[0] != '/' && getcwd(path, sizeof path / 2))
        strcat(path, "/");
    if (!strstr(path, given))
        strncat(path, given, sizeof path / 2 - 1);
    if (access(path, X_OK) != 0)
        fail_msg("%s is not built", path);
    return path;
}

/* ---- a folder for each test ---- */

int folder_setup(void **state)
{
    static char folder[64];
    program();
    strcpy(folder, "/tmp/prill-command.XXXXXX");
    *state = folder;
    unsetenv("SOURCE_DATE_EPOCH");
    setenv("TERM", "dumb", 1);
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

int folder_teardown(void **state)
{
    char command[160];
    snprintf(command, sizeof command, "rm -rf %s", (const char *)*state);
    return chdir("/") == 0 ? system(command) : -1;
}

void read_all(int descriptor, char *bytes, size_t size)
{
    size_t length = 0;
    ssize_t count;
    while (length + 1 < size && (count = read(descriptor, bytes + length, size - 1 - length)) > 0)
        length += (size_t)count;
    bytes[length] = '\0';
    close(descriptor);
}

void assert_file(const char *path, const char *bytes)
{
    char found[1 << 14];
    int descriptor = open(path, O_RDONLY);
    assert_true(descriptor >= 0);
    read_all(descriptor, found, sizeof found);
    assert_string_equal(found, bytes);
}

void assert_files(int wanted)
{
    FILE *list = popen("ls -A | wc -l", "r");
    int count = -1;
    assert_int_equal(fscanf(list, "%d", &count), 1);
    pclose(list);
    assert_int_equal(count, wanted);
}

/* ---- running ---- */

static void take_place(int descriptor, int wanted, int usual)
{
    if (wanted == CLOSED)
        close(descriptor);
    else
        dup2(wanted == USUAL ? usual : wanted, descriptor);
}

static void limit(int resource, rlim_t most)
{
    if (most)
        setrlimit(resource, &(struct rlimit){most, most});
}

static _Noreturn void become(const char *const *words, const struct surroundings *surroundings, int output,
                             int error)
{
    take_place(STDIN_FILENO, surroundings->input, open("/dev/null", O_RDONLY));
    take_place(STDOUT_FILENO, surroundings->output, output);
    dup2(error, STDERR_FILENO);
    for (int descriptor = 3; descriptor < 64; descriptor++)
        close(descriptor);
    limit(RLIMIT_AS, surroundings->memory);
    limit(RLIMIT_FSIZE, surroundings->file_size);
    execvp(words[0], (char *const *)words);
    _exit(127);
}

/* Standard error goes to a file, so that a full pipe cannot hold the program up while its output is read. */
void run_words(struct run *run, const struct surroundings *surroundings, const char *const *words)
{
    int ends[2], status;
    char error_path[] = "/tmp/prill-error.XXXXXX";
    int error = mkstemp(error_path);
    unlink(error_path);
    assert_int_equal(pipe(ends), 0);
    fflush(NULL);
    pid_t child = fork();
    if (child == 0)
        become(words, surroundings, ends[1], error);
    close(ends[1]);
    read_all(ends[0], run->output, sizeof run->output);
    assert_int_equal(waitpid(child, &status, 0), child);
    lseek(error, 0, SEEK_SET);
    read_all(error, run->error, sizeof run->error);
    run->status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

void run_in(struct run *run, const struct surroundings *surroundings, const char *first, ...)
{
    const char *words[WORDS] = {program()};
    int count = 1;
    va_list arguments;
    va_start(arguments, first);
    for (const char *word = first; word && count < WORDS - 1; word = va_arg(arguments, const char *))
        words[count++] = word;
    va_end(arguments);
    run_words(run, surroundings, words);
}

void assert_said(const struct run *run, int status, const char *words)
{
    if (run->status != status || !strstr(run->error, words))
        fail_msg("status %d, wanted %d; \"%s\" wanted in: %s", run->status, status, words, run->error);
}
