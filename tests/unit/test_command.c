/* The program as a whole, where the system lets it down: streams, files, memory. $PRILL names the program. */
#include <errno.h>
#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

/* Nothing is reported of it. */
static const char plan_text[] = "plan \"Test\"\n"
                                "edition 1 on 2027-02-20\n"
                                "season 2027-03-01 to 2027-11-20\n"
                                "lawn green { zone north area 100 sqft }\n"
                                "task mow {\n"
                                "    to north\n"
                                "    when on Apr 2\n"
                                "}\n";

static const char bad_plan_text[] = "plan \"Test\"\nseason 2027-03-01 to 2027-11-20\nlawm green { }\n";

/* What a run of the program left. */
struct run {
    int status; /* 128 + n after signal n */
    char output[1 << 16], error[1 << 14];
};

/* How the program finds its streams. A descriptor of -1: the usual one; -2: closed. */
enum { USUAL = -1, CLOSED = -2 };
struct surroundings {
    int input, output;
    rlim_t memory, file_size; /* 0: no limit */
};
static const struct surroundings ordinary = {USUAL, USUAL, 0, 0};

/* By its full path: the tests change folders. */
static const char *program(void)
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

static int setup(void **state)
{
    static char folder[64];
    program();
    strcpy(folder, "/tmp/prill-command.XXXXXX");
    *state = folder;
    unsetenv("SOURCE_DATE_EPOCH");
    setenv("TERM", "dumb", 1);
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static int teardown(void **state)
{
    char command[160];
    snprintf(command, sizeof command, "rm -rf %s", (const char *)*state);
    return chdir("/") == 0 ? system(command) : -1;
}

static void write_file(const char *path, const char *bytes)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    fputs(bytes, file);
    assert_int_equal(fclose(file), 0);
}

static void read_all(int descriptor, char *bytes, size_t size)
{
    size_t length = 0;
    ssize_t count;
    while (length + 1 < size && (count = read(descriptor, bytes + length, size - 1 - length)) > 0)
        length += (size_t)count;
    bytes[length] = '\0';
    close(descriptor);
}

static void assert_file(const char *path, const char *bytes)
{
    char found[1 << 14];
    int descriptor = open(path, O_RDONLY);
    assert_true(descriptor >= 0);
    read_all(descriptor, found, sizeof found);
    assert_string_equal(found, bytes);
}

/* Nothing beside what the test put there: no draft of a file is left. */
static void assert_files(int wanted)
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
static void run_words(struct run *run, const struct surroundings *surroundings, const char *const *words)
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

enum { WORDS = 24 };

static void run_in(struct run *run, const struct surroundings *surroundings, const char *first, ...)
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

#define RUN(run, ...) run_in((run), &ordinary, __VA_ARGS__, (const char *)NULL)
#define RUN_IN(run, surroundings, ...) run_in((run), (surroundings), __VA_ARGS__, (const char *)NULL)

static void assert_said(const struct run *run, int status, const char *words)
{
    if (run->status != status || !strstr(run->error, words))
        fail_msg("status %d, wanted %d; \"%s\" wanted in: %s", run->status, status, words, run->error);
}

/* ---- standard streams ---- */

/* One call of each command that prints. */
static const char *const printing[][4] = {
    {"check", "bad.prill"},
    {"calendar", "plan.prill"},
    {"needs", "plan.prill"},
    {"shopping", "plan.prill"},
    {"budget", "plan.prill"},
    {"rates", "plan.prill"},
    {"weather", "plan.prill"},
    {"explain", "use-missing"},
    {"format", "--check", "loose.prill"},
    {"checks"},
    {"help"},
    {"help", "check"},
    {"--version"},
    {"--help"},
};
enum { PRINTING = sizeof printing / sizeof *printing };

static void write_plans(void)
{
    write_file("plan.prill", plan_text);
    write_file("bad.prill", bad_plan_text);
    write_file("loose.prill", "plan    \"Test\"   \n");
}

static void run_printing(struct run *run, int output, size_t index)
{
    const char *words[6] = {program()};
    struct surroundings surroundings = {USUAL, output, 0, 0};
    for (size_t i = 0; i < 4; i++)
        words[i + 1] = printing[index][i];
    run_words(run, &surroundings, words);
}

static void test_full_disk(void **state)
{
    struct run run;
    write_plans();
    for (size_t i = 0; i < PRINTING; i++) {
        int full = open("/dev/full", O_WRONLY);
        run_printing(&run, full, i);
        close(full);
        assert_said(&run, 3, "prill: standard output: the disk is full");
    }
}

/* No message: whoever closed the pipe knows. And no death by a signal. */
static void test_closed_pipe(void **state)
{
    struct run run;
    write_plans();
    for (size_t i = 0; i < PRINTING; i++) {
        int ends[2];
        assert_int_equal(pipe(ends), 0);
        close(ends[0]);
        run_printing(&run, ends[1], i);
        close(ends[1]);
        assert_int_equal(run.status, 3);
        assert_null(strstr(run.error, "standard output"));
    }
}

static void test_closed_output(void **state)
{
    struct run run;
    write_plans();
    for (size_t i = 0; i < PRINTING; i++) {
        run_printing(&run, CLOSED, i);
        assert_said(&run, 3, "prill: standard output: it is closed");
    }
    assert_file("plan.prill", plan_text);
}

static void test_closed_input(void **state)
{
    struct run run;
    struct surroundings surroundings = {CLOSED, USUAL, 0, 0};
    RUN_IN(&run, &surroundings, "check", "-");
    assert_said(&run, 3, "prill: standard input: it is closed");
}

static void test_quiet_when_fine(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    RUN(&run, "check", "plan.prill");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, "");
    assert_string_equal(run.error, "");
}

/* ---- reading ---- */

static void test_failed_read(void **state)
{
    struct run run;
    const char *const commands[] = {"check", "calendar", "needs", "format"};
    for (size_t i = 0; i < 4; i++) {
        RUN(&run, commands[i], "/proc/self/mem");
        assert_said(&run, 3, "prill: /proc/self/mem: the disk or device failed");
        assert_string_equal(run.output, "");
    }
}

static void test_missing_plans(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    mkdir("folder", 0700);
    RUN(&run, "check", "folder");
    assert_said(&run, 3, "prill: folder: it is a folder, not a file");
    RUN(&run, "calendar", "plan.pril");
    assert_said(&run, 3, "prill: plan.pril: there is no such file; the nearest is plan.prill");
    assert_string_equal(run.output, "");
    if (geteuid() != 0) {
        chmod("plan.prill", 0);
        RUN(&run, "check", "plan.prill");
        assert_said(&run, 3, "prill: plan.prill: the system does not permit it");
    }
}

static void test_control_characters_in_names(void **state)
{
    struct run run;
    RUN(&run, "check", "\x1b[31mred\n.prill");
    assert_said(&run, 3, "there is no such file");
    assert_null(strchr(run.error, '\x1b'));
    assert_ptr_equal(strchr(run.error, '\n'), run.error + strlen(run.error) - 1);
}

/* The worst counts, and what can be told is told. */
static void test_several_plans(void **state)
{
    struct run run;
    write_plans();
    RUN(&run, "check", "plan.prill", "plan.prill");
    assert_int_equal(run.status, 0);
    RUN(&run, "check", "plan.prill", "bad.prill", "plan.prill");
    assert_int_equal(run.status, 1);
    RUN(&run, "check", "nowhere.prill", "bad.prill");
    assert_said(&run, 3, "nowhere.prill");
    assert_non_null(strstr(run.output, "bad.prill:3:1: error"));
    RUN(&run, "check", "--as", "sarif", "bad.prill", "bad.prill");
    assert_int_equal(run.status, 1);
    char *log = strstr(run.output, "\"runs\"");
    assert_non_null(log);
    assert_null(strstr(log + 1, "\"runs\""));
    RUN(&run, "check", "-", "-");
    assert_said(&run, 2, "once only");
}

/* A plan piped in finds what it uses beside the name it was given. */
static void test_stdin_name(void **state)
{
    struct run run;
    mkdir("green", 0700);
    write_file("green/shop.prill", "product starter { grade 14-20-10 granular }\n");
    write_file("piped",
               "plan \"Test\"\nuse \"shop.prill\"\nseason 2027-03-01 to 2027-11-20\n"
               "lawn green { zone north area 100 sqft }\ntask mow { when on Apr 2 }\nuse \"none.prill\"\n");
    struct surroundings surroundings = {open("piped", O_RDONLY), USUAL, 0, 0};
    RUN_IN(&run, &surroundings, "check", "-", "--stdin-name", "green/lawn.prill");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.output, "green/lawn.prill:6:"));
    assert_null(strstr(run.output, "green/lawn.prill:2:"));
    close(surroundings.input);
}

/* ---- files written ---- */

static const char calendar_start[] = "BEGIN:VCALENDAR";

static void assert_calendar(const char *path)
{
    char found[sizeof calendar_start];
    int descriptor = open(path, O_RDONLY);
    read_all(descriptor, found, sizeof found);
    assert_string_equal(found, calendar_start);
}

static mode_t mode_of(const char *path)
{
    struct stat status;
    assert_int_equal(lstat(path, &status), 0);
    return status.st_mode & 07777;
}

static void test_output_file(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    umask(027);
    RUN(&run, "calendar", "plan.prill", "-o", "new.ics");
    umask(022);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, "");
    assert_calendar("new.ics");
    assert_int_equal(mode_of("new.ics"), 0640);
    assert_files(2);
}

static void test_output_replaces(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    mkdir("there", 0700);
    write_file("there/old.ics", "old");
    chmod("there/old.ics", 0604);
    assert_int_equal(symlink("there/old.ics", "link.ics"), 0);
    assert_int_equal(symlink("link.ics", "further.ics"), 0);
    RUN(&run, "calendar", "plan.prill", "--output=further.ics");
    assert_int_equal(run.status, 0);
    assert_calendar("there/old.ics");
    assert_int_equal(mode_of("there/old.ics"), 0604);
    assert_int_equal(mode_of("link.ics"), 0777); /* still a link */
    assert_files(4);
}

static void test_output_is_no_input(void **state)
{
    struct run run;
    write_file("plan.prill", "use \"shop.prill\"\nplan \"Test\"\nseason 2027-03-01 to 2027-11-20\n"
                             "lawn green { zone north area 100 sqft }\ntask mow { when on Apr 2 }\n");
    write_file("shop.prill", "product starter { grade 14-20-10 granular }\n");
    assert_int_equal(link("plan.prill", "hard.prill"), 0);
    assert_int_equal(symlink("shop.prill", "soft.prill"), 0);
    const char *const names[] = {"plan.prill", "./plan.prill", "hard.prill", "shop.prill", "soft.prill"};
    for (size_t i = 0; i < 5; i++) {
        RUN(&run, "calendar", "plan.prill", "--as", "ics", "-o", names[i]);
        assert_said(&run, 2, "it is a part of the plan");
    }
    assert_file("shop.prill", "product starter { grade 14-20-10 granular }\n");
}

static void test_output_refused(void **state)
{
    struct run run;
    write_file("plan.prill", plan_text);
    mkdir("folder.ics", 0700);
    assert_int_equal(symlink("ring.ics", "ring.ics"), 0);
    RUN(&run, "calendar", "plan.prill", "-o", "folder.ics");
    assert_said(&run, 3, "folder.ics: not written: it is a folder");
    RUN(&run, "calendar", "plan.prill", "-o", "nowhere/new.ics");
    assert_said(&run, 3, "nowhere/new.ics: not written: there is no such folder");
    RUN(&run, "calendar", "plan.prill", "-o", "ring.ics");
    assert_said(&run, 3, "ring.ics: not written: ");
    RUN(&run, "calendar", "plan.prill", "-o", "new.pdf");
    assert_said(&run, 2, "new.pdf: its ending");
    RUN(&run, "calendar", "plan.prill", "--as", "text", "-o", "/dev/full");
    assert_said(&run, 3, "/dev/full: not written: the disk is full");
    RUN(&run, "calendar", "plan.prill", "--as", "text", "-o", "/dev/null");
    assert_int_equal(run.status, 0);
    assert_files(3);
}

/* After an error nothing new, and what was there stays. */
static void test_no_output_after_an_error(void **state)
{
    struct run run;
    write_file("bad.prill", bad_plan_text);
    write_file("old.ics", "old");
    RUN(&run, "calendar", "bad.prill", "-o", "old.ics");
    assert_said(&run, 1, "bad.prill:3:1: error");
    assert_file("old.ics", "old");
    RUN(&run, "calendar", "bad.prill", "-o", "new.ics");
    assert_int_equal(run.status, 1);
    assert_files(2);
    RUN(&run, "calendar", "bad.prill");
    assert_string_equal(run.output, "");
}

/* A limit on the size of files: the draft goes, the old file stays. */
static void test_file_size_limit(void **state)
{
    struct run run;
    struct surroundings surroundings = {USUAL, USUAL, 0, 128};
    write_file("plan.prill", plan_text);
    write_file("old.ics", "old");
    RUN_IN(&run, &surroundings, "calendar", "plan.prill", "-o", "old.ics");
    assert_said(&run, 3, "old.ics: not written");
    assert_file("old.ics", "old");
    assert_files(2);
}

static bool strace_works(void)
{
    return system("strace -o /dev/null true >/dev/null 2>&1") == 0;
}

/* `prill calendar plan.prill [-o old.ics]` with one fault of the system, in calls about `path` only unless
 * that is NULL. Leaks cannot be looked for under strace. */
static void run_with_fault(struct run *run, const char *fault, const char *path, bool to_file)
{
    char inject[64];
    const char *words[WORDS] = {"strace", "-o", "/dev/null", "-E", "ASAN_OPTIONS=detect_leaks=0:exitcode=99",
                                "-e"};
    int count = 6;
    snprintf(inject, sizeof inject, "inject=%s", fault);
    words[count++] = inject;
    if (path) {
        words[count++] = "-P";
        words[count++] = path;
    }
    words[count++] = program();
    words[count++] = "calendar";
    words[count++] = "plan.prill";
    if (to_file) {
        words[count++] = "-o";
        words[count++] = "old.ics";
    }
    run_words(run, &ordinary, words);
}

/* Each step of writing a file made to fail in turn. */
static void test_faults_of_the_system(void **state)
{
    static const char *const faults[] = {
        "write:error=ENOSPC:when=1", "write:error=EIO:when=1",    "fsync:error=EIO:when=1",
        "fchmod:error=EPERM:when=1", "rename:error=EXDEV:when=1",
    };
    struct run run;
    if (!strace_works())
        skip();
    write_file("plan.prill", plan_text);
    write_file("old.ics", "old");
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
        run_with_fault(&run, faults[i], NULL, true);
        if (run.status != 3 || !strstr(run.error, "prill: old.ics: not written: "))
            fail_msg("%s: status %d, %s", faults[i], run.status, run.error);
        assert_file("old.ics", "old");
        assert_files(2);
    }
}

/* A call that a signal interrupts is made again. */
static void test_interrupted_calls(void **state)
{
    struct run whole, run;
    if (!strace_works())
        skip();
    write_file("plan.prill", plan_text);
    RUN(&whole, "calendar", "plan.prill");
    assert_int_equal(whole.status, 0);
    run_with_fault(&run, "read:error=EINTR:when=1+2", "plan.prill", false);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, whole.output);
    run_with_fault(&run, "write:error=EINTR:when=1", NULL, false);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, whole.output);
}

/* The reads of the plan, each made to fail, the one that would have met the end too: never an empty plan. */
static void test_faults_of_reading(void **state)
{
    static const char *const faults[] = {"read:error=EIO:when=1", "read:error=EIO:when=2"};
    struct run run;
    if (!strace_works())
        skip();
    write_file("plan.prill", plan_text);
    for (size_t i = 0; i < 2; i++) {
        run_with_fault(&run, faults[i], "plan.prill", false);
        assert_said(&run, 3, "plan.prill: the disk or device failed");
        assert_string_equal(run.output, "");
    }
}

/* ---- layout in place ---- */

static void test_format_in_place(void **state)
{
    struct run run;
    struct stat before, after;
    write_file("loose.prill", "plan    \"Test\"   # c\r\n");
    chmod("loose.prill", 0604);
    RUN(&run, "format", "--check", "loose.prill");
    assert_int_equal(run.status, 1);
    assert_string_equal(run.output, "loose.prill\n");
    assert_file("loose.prill", "plan    \"Test\"   # c\r\n");
    RUN(&run, "format", "loose.prill");
    assert_int_equal(run.status, 0);
    assert_file("loose.prill", "plan \"Test\"                                 # c\n");
    assert_int_equal(mode_of("loose.prill"), 0604);
    stat("loose.prill", &before);
    RUN(&run, "format", "loose.prill");
    RUN(&run, "format", "--check", "loose.prill");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.output, "");
    stat("loose.prill", &after);
    assert_int_equal(before.st_ino, after.st_ino); /* not written again */
    assert_files(1);
}

static void test_format_leaves_errors_alone(void **state)
{
    struct run run;
    write_file("bad.prill", "lawn   x {\n");
    write_file("loose.prill", "plan    \"Test\"\n");
    RUN(&run, "format", "bad.prill", "loose.prill");
    assert_said(&run, 1, "bad.prill: left as it is");
    assert_file("bad.prill", "lawn   x {\n");
    assert_file("loose.prill", "plan \"Test\"\n");
    RUN(&run, "format", "/dev/null");
    assert_int_equal(run.status, 0);
}

/* ---- memory ---- */

/* The least memory, in steps of 64 KiB, under which the program can be loaded; 0 when none of these is
 * enough, as for an instrumented program. */
static rlim_t least_memory(void)
{
    struct run run;
    for (rlim_t megabytes = 2; megabytes <= 128; megabytes++) {
        struct surroundings surroundings = {USUAL, USUAL, megabytes * 1024 * 1024, 0};
        RUN_IN(&run, &surroundings, "--version");
        if (run.status == 0)
            return (megabytes - 1) * 1024 * 1024;
    }
    return 0;
}

/* Under every limit the program can be loaded and does its work, or says that it cannot. */
static void test_little_memory(void **state)
{
    static const char *const forms[] = {"text", "csv",
                                        "json"}; /* libical, behind ics, looks at no allocation */
    struct run run;
    rlim_t least = least_memory();
    int refused = 0, done = 0;
    if (!least)
        skip();
    write_file("plan.prill", plan_text);
    for (rlim_t step = 0; step < 64; step++) {
        struct surroundings surroundings = {USUAL, USUAL, least + step * 64 * 1024, 0};
        RUN_IN(&run, &surroundings, "--version");
        if (run.status != 0)
            continue;
        RUN_IN(&run, &surroundings, "calendar", "plan.prill", "--as", forms[step % 3]);
        if (run.status != 0)
            assert_said(&run, 3, "memory");
        refused += run.status == 3;
        done += run.status == 0;
    }
    assert_true(refused > 0 && done > 0);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_full_disk),
        TEST(test_closed_pipe),
        TEST(test_closed_output),
        TEST(test_closed_input),
        TEST(test_quiet_when_fine),
        TEST(test_failed_read),
        TEST(test_missing_plans),
        TEST(test_control_characters_in_names),
        TEST(test_several_plans),
        TEST(test_stdin_name),
        TEST(test_output_file),
        TEST(test_output_replaces),
        TEST(test_output_is_no_input),
        TEST(test_output_refused),
        TEST(test_no_output_after_an_error),
        TEST(test_file_size_limit),
        TEST(test_faults_of_the_system),
        TEST(test_interrupted_calls),
        TEST(test_faults_of_reading),
        TEST(test_format_in_place),
        TEST(test_format_leaves_errors_alone),
        TEST(test_little_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
